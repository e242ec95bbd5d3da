"""What a step shows in a moving picture: the same panels and the same way of lying as in its drawing."""

from __future__ import annotations

from functools import cache

from storyrod.adapters.files import read_job
from storyrod.drawing import assembly_step, step_shown
from storyrod.model.assembly import StepKind
from storyrod.planning import Plan
from tests.places import EXAMPLES
from tests.unit.drawing.checks import groups_of


@cache
def plan() -> Plan:
    """Return the example with drawers, doors, shelves and turns."""
    told = read_job(EXAMPLES / "low-units.toml")
    return Plan(told.job, told.workshop)


def test_the_same_panels_stand_as_in_the_drawing() -> None:
    case, told = plan().details.cases[0], plan().assembly.cases[0]
    for n, step in enumerate(told.steps):
        shown = step_shown(case, step, told.steps[:n])
        drawn = {g.id for g in groups_of(assembly_step(case, step, told.steps[:n]).items, "panel")}
        if step.kind is not StepKind.TURN:
            assert shown.standing == drawn, step.number
            assert {p for p, _ in shown.opened} == set(step.open_first)


def test_a_turn_goes_from_how_it_lay_to_how_it_lies() -> None:
    turns = [(c, s) for c in plan().assembly.cases for s in c.steps if s.kind is StepKind.TURN]
    assert turns
    for told, step in turns:
        case = next(c for c in plan().details.cases if c.built.case.code == told.case)
        shown = step_shown(case, step, told.steps[: step.number - 1])
        assert shown.before.up.reverse is step.was_down
        assert shown.lying.up.reverse is step.down


def test_what_is_brought_never_comes_from_behind_the_work() -> None:
    for told in plan().assembly.cases:
        case = next(c for c in plan().details.cases if c.built.case.code == told.case)
        for step in told.steps:
            for leg in step.legs[:1]:
                assert step_shown(case, step).lying.place(leg.vector).y >= -1e-6
