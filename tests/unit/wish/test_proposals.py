"""What the plan refuses is mended where that is known how, and told; proposals are weighed as their plans say."""

from __future__ import annotations

from dataclasses import replace

from storyrod.faults import Fault
from storyrod.model.wish import Broken, Look
from storyrod.planning import Dropped, Proposal, Proposing, weigh
from storyrod.telling.wish import figure_lines, why_lines
from storyrod.wish import Kind
from tests.unit.wish import wishes

KEYHOLES = """
[methods]
corner = "one-part keyhole connector"
mid_panel = "one-part keyhole connector"
plinth = "one-part keyhole connector"
"""


def first(asking: Proposing) -> Proposal | Dropped:
    return next(iter(asking.each()))


def test_a_plinth_that_is_shut_out_is_held_by_something_else_and_that_is_told() -> None:
    file = wishes.read(wishes.SHELVES, more=f"[look]\ncolumns = 1\n{KEYHOLES}")
    found = first(wishes.proposing(file))

    assert isinstance(found, Proposal)
    assert found.plinth_by == found.job.methods.plinth == "pocket screws"
    assert found.job.methods.corner == "one-part keyhole connector"
    assert any("pocket screws hold the plinth" in line for line in figure_lines(found, "EUR"))


def test_a_limit_that_no_proposal_keeps_is_what_quarrels() -> None:
    file = wishes.read(wishes.SHELVES, more="[look]\ncolumns = 1\n[limits]\nmoney = 1")
    asking = wishes.proposing(file)
    found = first(asking)

    assert isinstance(found, Dropped)
    why = asking.why_not([found])
    (quarrel,) = why.quarrels
    assert (quarrel.what, quarrel.asked, quarrel.helps) == (Broken.MONEY, 100, True)
    assert quarrel.enough is not None
    assert quarrel.enough > 1000
    told = "\n".join(why_lines(why, file.goods, file.base.lengths, "EUR"))
    assert f"allow {quarrel.enough / 100:.2f} EUR" in told


def test_one_that_is_worse_in_all_is_beaten_and_look_counts_only_where_it_is_weighed() -> None:
    own = wishes.proposal()
    calm = Look(lines=1, sizes=1, progression=1, symmetry=1)
    dear = replace(own, number=2, money_cents=own.money_cents + 1, look=calm)

    by_look = {p.number: p.unbeaten for p in weigh([own, dear], look=True)}
    without = {p.number: p.unbeaten for p in weigh([own, dear], look=False)}
    assert own.look.total < 1
    assert by_look == {1: True, 2: True}
    assert without == {1: True, 2: False}


def test_after_four_that_the_plan_refuses_the_rest_is_not_tried() -> None:
    file = wishes.mixed()
    refused = [Dropped(kind=Kind(columns=1), faults=(_fault(),))] * 4

    assert not Proposing.is_hopeless([], refused[:3])
    assert Proposing.is_hopeless([], refused)
    assert not Proposing.is_hopeless([wishes.proposal()], refused)
    assert wishes.proposing(file).why_not(refused).quarrels == ()


def _fault() -> Fault:
    return Fault(code="x", field="cases[0]", found="a", allowed="b", do="c")
