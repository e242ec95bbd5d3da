"""A clothes rail in the steps: sockets on panels that lie flat, the tube last, laid in past nothing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pytest

from storyrod.adapters.files import packaged_workshop
from storyrod.assembly import check_plan
from storyrod.measure.space import Direction
from storyrod.model.assembly import HandAct, Leg, Step, StepKind
from storyrod.model.job import ClothesRail
from storyrod.planning import Plan
from storyrod.telling.assembly_steps import StepWords
from storyrod.telling.blocks import Bullets
from storyrod.telling.shown import Shown
from tests import builders


@cache
def wardrobe() -> Plan:
    """A rail behind a pair of doors, under a row for hats."""
    inside = builders.doors(
        split=builders.rows().split, inside=(builders.opening(200.0), builders.opening(clothes_rail=ClothesRail()))
    )
    return Plan(
        builders.job(builders.case(width=800.0, height=1400.0, depth=600.0, inside=inside)), packaged_workshop()
    )


def steps() -> tuple[Step, ...]:
    return wardrobe().assembly.cases[0].steps


def faults(change: Callable[[tuple[Step, ...]], tuple[Step, ...]]) -> str:
    plan = wardrobe()
    (case,) = plan.assembly.cases
    broken = replace(plan.assembly, cases=(replace(case, steps=change(case.steps)),))
    return " | ".join(f.found for f in check_plan(plan.joined, broken)[0].faults)


def test_sockets_go_on_while_the_sides_lie_flat_and_the_tube_goes_in_last() -> None:
    fits = [s for s in steps() if any(b.act is HandAct.SOCKET for b in s.by_hand)]
    last = steps()[-1]

    assert [s.onto for s in fits] == [("A.side-left",), ("A.side-right",)]
    assert {s.kind for s in fits} == {StepKind.FIT}
    assert (last.kind, last.body, last.onto) == (StepKind.RAIL, "A.clothes-rail-1", ("A.side-left", "A.side-right"))
    assert last.text == (
        "With door 1 and door 2 open, bring the tube of clothes rail 1 in from the front, level and 15 mm over its "
        "sockets, and let it down into both."
    )
    assert [leg.way for leg in last.legs] == [Direction.BACKWARD, Direction.DOWN]
    assert last.open_first == ("A.door-1", "A.door-2")


def test_the_step_cuts_the_tube_and_uses_it_up() -> None:
    (one,) = steps()[-1].by_hand

    assert one.text.startswith("First cut the tube of clothes rail 1 to 760 mm;")  # 800 - 2 x 18 - 2 x 2
    assert {u.item: u.count for u in one.uses} == {"rail 25": 1}


def test_the_steps_as_planned_pass() -> None:
    assert faults(lambda s: s) == ""


def late(done: tuple[Step, ...]) -> tuple[Step, ...]:
    """Lay the tube in before the case stands."""
    tube = done[-1]
    return (*done[:2], replace(tube, number=3), *(replace(s, number=s.number + 1) for s in done[2:-1]))


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (lambda s: s[:-1], "left out: the tube of clothes rail 1"),
        (lambda s: (*s, replace(s[-1], number=len(s) + 1)), "clothes rail 1 is in already"),
        (late, "the uprights of clothes rail 1 do not stand yet"),
        (lambda s: (*s[:-1], replace(s[-1], open_first=())), "the tube of clothes rail 1 meets door 1 on its way"),
        (
            lambda s: (*s[:-1], replace(s[-1], legs=(s[-1].legs[0], Leg(way=Direction.DOWN, distance=5.0)))),
            "the tube of clothes rail 1 is not let down by as much as its sockets ask",
        ),
        (
            lambda s: (*s[:-1], replace(s[-1], legs=(s[-1].legs[0], Leg(way=Direction.DOWN, distance=60.0)))),
            "the tube of clothes rail 1 meets shelf 1 on its way",
        ),
        (
            lambda s: (replace(s[0], by_hand=tuple(b for b in s[0].by_hand if b.act is not HandAct.SOCKET)), *s[1:]),
            "rail-socket: A.clothes-rail-1 is fixed or set 1 times in the steps, and 2 are wanted",
        ),
    ],
)
def test_the_checker_finds(change: Callable[[tuple[Step, ...]], tuple[Step, ...]], told: str) -> None:
    assert told in faults(change)


def test_it_comes_apart_again() -> None:
    first = wardrobe().assembly.cases[0].parting[0]

    assert first.text == "Lift the tube of clothes rail 1 out of its sockets and slide it out."


def test_on_paper_the_tube_is_cut_before_it_is_laid_in_and_each_row_of_a_table_says_which_and_how_long() -> None:
    """Rows "lay the tube in" said neither; read from the top down, the tube went in before it was cut."""
    (case,) = wardrobe().details.cases
    told = StepWords(case, Shown.of(wardrobe().job))
    step = steps()[-1]
    words = [item for block in told.blocks(step) if isinstance(block, Bullets) for item in block.items]

    assert [w.split(" ")[0] for w in words[:2]] == ["First", "With"]
    assert told.twin_cells(step)[0] == "cut the tube of clothes rail 1 to 760 mm and lay it in"
