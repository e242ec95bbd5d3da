"""The cards of the bench: everything that can be ticked stands on one card, and its minutes are those of the run."""

from __future__ import annotations

from functools import cache

import pytest

from storyrod.adapters.files import read_job, workshop_from_text
from storyrod.adapters.log.acts import acts_of, share_out
from storyrod.planning import Plan
from storyrod.telling.cards import Card, CardKind, cards_of, things_of, things_on
from storyrod.telling.things import things_made
from tests.places import EXAMPLES

JOBS = ("first-box", "percussion-chest", "low-units", "robe-cupboard")


@cache
def planned(name: str) -> tuple[Plan, tuple[Card, ...]]:
    read = read_job(EXAMPLES / f"{name}.toml")
    plan = Plan(read.job, read.workshop)
    return plan, cards_of(plan)


def everything(card: Card) -> list[tuple[str, int]]:
    return [(r.thing.id, copy + 1) for g in card.groups for r in g.rows for copy in range(g.copies)]


@pytest.mark.parametrize("name", JOBS)
def test_everything_stands_on_one_card(name: str) -> None:
    plan, cards = planned(name)
    ids = [t.id for t in things_on(cards)]

    assert len(ids) == len(set(ids))
    assert {t.id for t in things_made(plan)} <= set(ids)
    assert [t.id for t in things_of(plan)] == ids
    assert not [c for c in cards if c.kind is CardKind.REST]


@pytest.mark.parametrize("name", JOBS)
def test_cards_come_in_the_order_of_the_work(name: str) -> None:
    plan, cards = planned(name)

    assert [c.id for c in cards if c.set_up] == [s.set_up for s in plan.machining.run.steps]
    kinds = [c.kind for c in cards]
    assert kinds == sorted(kinds, key=[CardKind.SET_UP, CardKind.ASSEMBLY].index)
    assert cards[0].rows[0].thing.id.startswith("panel ")


@pytest.mark.parametrize("name", JOBS)
def test_the_acts_of_a_whole_card_take_the_minutes_of_the_run(name: str) -> None:
    plan, cards = planned(name)

    for card in cards:
        if card.set_up is not None:
            wanted = sum(o.minutes for o in card.set_up.operations)
            assert sum(d.minutes for d in acts_of(plan, card, everything(card))) == pytest.approx(wanted)


def test_holes_through_a_jig_are_holes_and_placings() -> None:
    plan, cards = planned("percussion-chest")
    card = next(c for c in cards if c.title == "holes 8, 13 deep, in faces, from a line")
    group = card.groups[0]
    done = acts_of(plan, card, [(r.thing.id, 1) for r in group.rows])

    assert {(d.act, d.count) for d in done} == {("drill a hole", len(group.rows)), ("clamp the jig", 1)}
    assert len({d.method for d in done}) == 1


def test_measured_minutes_are_shared_by_what_is_written() -> None:
    plan, cards = planned("percussion-chest")
    card = next(c for c in cards if c.set_up and c.set_up.title.startswith("holes 8, 13 deep"))
    shared = share_out(10.0, acts_of(plan, card, everything(card)))

    assert len(shared) > 1
    assert sum(minutes for _, minutes in shared) == pytest.approx(10.0)
    assert len({round(minutes / done.minutes, 9) for done, minutes in shared}) == 1
    assert share_out(10.0, ()) == ()


def test_steps_without_a_tick_are_told_all_the_same() -> None:
    plan, cards = planned("low-units")
    card = next(c for c in cards if c.id == "case-D")

    assert [g.title for g in card.groups] == [f"step {s.number}" for s in plan.assembly.case("D").steps]
    assert any(not g.rows and g.placed for g in card.groups)


@pytest.mark.parametrize("name", JOBS)
def test_each_step_of_assembly_says_who_and_what_to_heed(name: str) -> None:
    plan, cards = planned(name)
    for card, case in zip([c for c in cards if c.kind is CardKind.ASSEMBLY], plan.assembly.cases, strict=True):
        for group, step in zip(card.groups, case.steps, strict=True):
            assert group.hands == step.hands
            assert len(group.cautions) == len(step.cautions)
            assert all(c.text in told for c, told in zip(step.cautions, group.cautions, strict=True))


def test_ticks_of_before_fittings_had_steps_still_have_their_things() -> None:
    """Ids as logs of before hold them: cuts, joints, connectors, and what is hung, put in, fixed and laid in."""
    _, cards = planned("rehearsal-room")
    ids = {r.thing.id for c in cards for r in c.rows}

    assert {
        "panel A.side-left",
        "edge A.side-left",
        "mark A.side-left",
        "joint A.J1",
        "joint A.J10",
        "fit A.J1 dowel 8 x 35",
        "cut A.side-left.drawer-1-runner-1",
        "cut A.door-1.cup-1",
        "place A.drawer-1",
        "place A.drawer-1.front",
        "place A.door-1",
        "place A.loose-shelf-1",
    } <= ids


def test_a_workshop_file_of_before_still_opens_with_its_prices_and_times() -> None:
    shop = workshop_from_text(
        '[prices]\n"runner screw" = { pack = 200, price = 4.20 }\n'
        '[times]\n"hang a door" = { low = 5, usual = 9, high = 15 }\n'
        '[runners.mine]\nmount = "side"\nlengths = [350]\n',
        name="shed.toml",
    )

    assert shop.minutes("hang a door") == 9
    assert "runner screw" in {p.item for p in shop.prices}
    mine = shop.runner("mine")
    assert mine is not None
    assert shop.screw(mine.fixed_with) is not None
