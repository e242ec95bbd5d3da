"""The checker finds what is wrong with a plan: each test breaks a sound one in one way."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from storyrod.assembly import check_plan, plan_assembly
from storyrod.measure.space import Direction
from storyrod.model.assembly import AssemblyPlan, Leg, Step, StepKind
from storyrod.model.detail import Choices, Joined
from tests.unit.assembly.pieces import (
    DOWELS,
    KEYHOLES,
    LEFT,
    RIGHT,
    SCREWS,
    SLIDES,
    STOPPED,
    D,
    H,
    T,
    W,
    across,
    both_sides,
    box,
    joined,
    shop,
)

PANELS = {"left": LEFT, "right": RIGHT, "base": across(0), "top": across(H - T), "shelf": across(300)}


def dowelled() -> Joined:
    backed = {**PANELS, "back": box((0, W), (D, D + 6), (0, H))}
    joints = [j for name in ("base", "top", "shelf") for j in both_sides(name, DOWELS)]
    return joined(backed, [*joints, *((n, "back", SCREWS) for n in PANELS)])


def slid() -> Joined:
    return joined(PANELS, [j for name in ("base", "top", "shelf") for j in both_sides(name, KEYHOLES)])


def faults(made: Joined, change: Callable[[tuple[Step, ...]], tuple[Step, ...]]) -> str:
    """Return what the checker says of the plan with its steps changed."""
    plan = plan_assembly(made, shop())
    assert check_plan(made, plan)[0].faults == ()
    case = plan.cases[0]
    broken = replace(plan, cases=(replace(case, steps=change(case.steps)),))
    (replay,) = check_plan(made, broken)
    assert not replay.passed
    return " | ".join(replay.lines())


def on(steps: tuple[Step, ...], number: int, **changes: object) -> tuple[Step, ...]:
    return tuple(replace(s, **changes) if s.number == number else s for s in steps)  # type: ignore[arg-type]


def joins(steps: tuple[Step, ...]) -> list[Step]:
    return [s for s in steps if s.kind is StepKind.JOIN]


def test_a_step_left_out() -> None:
    assert "not together" in faults(dowelled(), lambda steps: steps[1:])


def test_a_panel_left_out() -> None:
    told = faults(dowelled(), lambda steps: tuple(s for s in steps if s is not joins(steps)[-1]))

    assert "the carcass is not together in the end" in told
    assert "never close" in told


def test_two_steps_exchanged() -> None:
    assert "not together" in faults(dowelled(), lambda s: (s[1], s[0], *s[2:]))


def test_a_side_brought_through_the_others() -> None:
    def through(steps: tuple[Step, ...]) -> tuple[Step, ...]:
        side = next(s for s in joins(steps) if s.moving in {("A.left",), ("A.right",)})
        return on(steps, side.number, legs=(replace(side.legs[0], way=side.legs[0].way.reverse),))

    told = faults(dowelled(), through)
    assert "meets" in told
    assert "not brought straight home" in told


def test_dowels_slid_over_sideways() -> None:
    """It would pass by boxes alone: only the dowels forbid it."""

    def sideways(steps: tuple[Step, ...]) -> tuple[Step, ...]:
        first = joins(steps)[0]
        return on(steps, first.number, legs=(Leg(way=Direction.BACKWARD, distance=120.0),))

    told = faults(dowelled(), sideways)
    assert "not brought straight home as far as it reaches in" in told
    assert "meets" not in told


@pytest.mark.parametrize(
    ("legs", "said"),
    [
        (lambda legs: legs[:1], "is not slid its travel"),
        (lambda legs: (legs[0], replace(legs[1], distance=10.0)), "is not slid its travel"),
        (lambda legs: (legs[0], replace(legs[1], way=legs[1].way.reverse)), "is not slid its travel"),
    ],
)
def test_a_keyhole_closed_wrongly(legs: Callable[[tuple[Leg, ...]], tuple[Leg, ...]], said: str) -> None:
    def wrongly(steps: tuple[Step, ...]) -> tuple[Step, ...]:
        return on(steps, 1, legs=legs(steps[0].legs))

    assert said in faults(slid(), wrongly)


def test_joints_that_are_not_told() -> None:
    assert "do not match" in faults(dowelled(), lambda s: on(s, joins(s)[-1].number, joints=()))


def test_turns_left_out() -> None:
    def turned(steps: tuple[Step, ...]) -> tuple[Step, ...]:
        return tuple(s for s in steps if s.kind is not StepKind.TURN)

    assert "does not stand upright in the end" in faults(dowelled(), turned)


def test_work_that_does_not_lie_as_supposed() -> None:
    def twisted(steps: tuple[Step, ...]) -> tuple[Step, ...]:
        return on(steps, joins(steps)[1].number, down=Direction.FORWARD)

    assert "a part does not lie as the step supposes" in faults(dowelled(), twisted)


def test_locks_that_are_not_told() -> None:
    made = slid()
    plan = plan_assembly(made, shop())
    case = replace(plan.cases[0], choices=Choices())

    (replay,) = check_plan(made, AssemblyPlan(cases=(case,), choices=Choices()))

    assert "it is not told which way" in replay.lines()[0]


def test_a_run_that_is_not_slid_to_its_end() -> None:
    """Half of the joint's length is not enough for a run along the whole of it."""
    made = joined(PANELS, [*both_sides("base", DOWELS), *both_sides("top", DOWELS), *both_sides("shelf", SLIDES)])

    def half(steps: tuple[Step, ...]) -> tuple[Step, ...]:
        first = next(s for s in joins(steps) if {"A.J5", "A.J6"} & set(s.joints))
        home = Leg(way=first.legs[-1].way, distance=D / 2)
        return on(steps, first.number, legs=(Leg(way=Direction.UP, distance=120.0), home))

    assert "is not slid along its whole length" in faults(made, half)


def test_a_stopped_housing_entered_from_its_stopped_end() -> None:
    panels = {**PANELS, "shelf": across(300, enters=6)}
    made = joined(panels, [*both_sides("base", DOWELS), *both_sides("top", DOWELS), *both_sides("shelf", STOPPED)])

    def from_the_front(steps: tuple[Step, ...]) -> tuple[Step, ...]:
        step = next(s for s in joins(steps) if {"A.J5", "A.J6"} & set(s.joints))
        # The shelf goes back from the front; a side that moves goes forward past it.
        way = Direction.BACKWARD if step.moving == ("A.shelf",) else Direction.FORWARD
        return on(steps, step.number, legs=(Leg(way=way, distance=120.0),))

    assert "from the stopped end of its housing" in faults(made, from_the_front)
