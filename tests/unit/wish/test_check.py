"""The checker finds what does not fit in a planned job, whatever the search says."""

from __future__ import annotations

from dataclasses import replace

import pytest

from storyrod.adapters.files import job_from_text
from storyrod.model.carcass import BuiltCase
from storyrod.model.wish import Goods, Misfit, Wish, Zone
from storyrod.planning import Plan, misfits_of
from storyrod.wish import check_fit, check_room, things_in
from tests.unit.wish import wishes


def told(goods: tuple[Goods, ...] | None = None, wish: Wish | None = None) -> set[str]:
    """Codes of what the checker says of the planned proposal, with other things or another wish."""
    file, proposal = wishes.mixed(), wishes.proposal()
    cases = proposal.plan.carcass.cases
    found = check_fit(cases, goods or file.goods, proposal.stands, wish or file.wish)
    return {m.code for m in found}


def other(number: int, **change: object) -> tuple[Goods, ...]:
    goods = list(wishes.mixed().goods)
    goods[number] = replace(goods[number], **change)  # type: ignore[arg-type]
    return tuple(goods)


def test_the_proposal_holds_it_all() -> None:
    assert told() == set()


@pytest.mark.parametrize(
    ("number", "change", "code"),
    [
        (0, {"height": 400.0}, "size"),
        (0, {"depth": 420.0}, "size"),
        (0, {"width": 480.0}, "size"),
        (0, {"count": 200}, "count"),
        (1, {"height": 200.0}, "size"),
        (1, {"width": 700.0, "depth": 700.0}, "size"),
        (2, {"height": 500.0}, "size"),
    ],
)
def test_larger_things_do_not_fit(number: int, change: dict[str, float], code: str) -> None:
    assert code in told(other(number, **change))


def test_things_out_of_reach_or_not_low_are_told() -> None:
    wish = wishes.mixed().wish

    assert "zone" in told(other(0, zone=Zone.LOW)) | told(other(0, zone=Zone.NEAR))
    assert told(other(1, zone=Zone.NEAR)) == {"zone"}
    assert told(wish=wish) == set()


def test_another_way_of_reaching_is_told() -> None:
    goods = wishes.mixed().goods

    assert told(other(0, reach=goods[1].reach)) == {"reach"}
    assert told(other(2, reach=goods[0].reach)) == {"reach"}


def test_a_hand_has_room_over_what_stands_on_a_shelf() -> None:
    """Of an opening so high, things may take 20 mm less."""
    proposal = wishes.proposal()
    stand = next(s for s in proposal.stands if s.goods == 0)

    assert "size" not in told(other(0, height=stand.height - 20.0))
    assert "size" in told(other(0, height=stand.height - 19.0))


LOOSE = """
[boards.ply]
kind = "plywood"
thickness = 18
[[cases]]
code = "A"
width = 500
height = 736
depth = 300
back = { kind = "applied", board = "ply" }
inside = { loose_shelves = 1 }
"""


@pytest.mark.parametrize(("height", "count"), [(316, 10), (317, 5), (325, 5), (326, 0)])
def test_things_stand_between_loose_shelves_as_they_lie(height: float, count: int) -> None:
    """18 to 718 clear, the shelf on the pins from 354.5 to 372.5: rooms of 336.5 and 345.5, less 20 for the hand.

    464 wide holds five of 90 in each.
    """
    job = job_from_text(LOOSE, name="loose.toml")
    case = Plan(job.job, job.workshop).carcass.cases[0]
    things = f"[[things]]\nname='a'\nwidth=90\nheight={height}\ndepth=200\ncount=20"
    file = wishes.read(things, "width = 500\nheight = 800\ndepth = 400")

    assert [m.found for m in check_room((case,), file.goods, file.wish)] == [count]


def test_a_place_that_is_too_small_is_told() -> None:
    wish = wishes.mixed().wish
    for size in ("width", "height", "depth"):
        small = replace(wish, place=replace(wish.place, **{size: 250.0}))  # type: ignore[arg-type]
        assert "place" in told(wish=small), size


def test_fronts_count_in_the_depth_of_the_place() -> None:
    proposal, wish = wishes.proposal(), wishes.mixed().wish
    deep = proposal.job.cases[0].depth

    assert told(wish=replace(wish, place=replace(wish.place, depth=deep + 18.0))) == set()
    assert told(wish=replace(wish, place=replace(wish.place, depth=deep + 17.0))) == {"place"}


def test_a_board_in_the_way_is_met() -> None:
    """A loose board stood in the middle of an opening, of which the opening itself says nothing."""
    proposal, file = wishes.proposal(), wishes.mixed()
    case = proposal.plan.carcass.cases[0]
    stand = next(s for s in proposal.stands if s.goods == 0)
    opening = next(o for o in case.openings if o.cause == stand.opening)
    board = replace(case.panels[0], box=opening.box)
    blocked: BuiltCase = replace(case, panels=(*case.panels, board))

    found = check_fit((blocked,), file.goods, proposal.stands, file.wish)
    assert "collision" in {m.code for m in found}


def test_what_is_drawn_is_what_was_packed() -> None:
    proposal, file = wishes.proposal(), wishes.mixed()
    (case,) = proposal.plan.carcass.cases

    for stand in proposal.stands:
        boxes = things_in(case, file.goods[stand.goods], stand)
        assert len(boxes) == stand.count
        assert not any(a.intersects(b) for n, a in enumerate(boxes) for b in boxes[:n])


def test_wherever_they_are_put_the_room_is_shared_out() -> None:
    proposal, file = wishes.proposal(), wishes.mixed()
    cases = proposal.plan.carcass.cases

    assert check_room(cases, file.goods, file.wish) == ()
    (misfit,) = check_room(cases, other(0, count=500), file.wish)
    assert isinstance(misfit, Misfit)
    assert (misfit.code, misfit.goods, misfit.wanted) == ("count", 0, 500)
    assert 6 <= misfit.found < 500


def test_a_brief_made_lower_says_what_no_longer_goes_in() -> None:
    proposal, file = wishes.proposal(), wishes.mixed()
    case = proposal.job.cases[0]
    lower = replace(proposal.job, cases=(replace(case, width=case.width - 150),))

    found = misfits_of(Plan(lower, file.workshop), file.wish, file.goods)
    assert "count" in {m.code for m in found}
