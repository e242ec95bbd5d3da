"""The lines of a step stand as the hand does them, on paper and at the bench: lay, fit, glue, lower, clamp, drive."""

from __future__ import annotations

import pytest

from storyrod.model.assembly import Step, StepKind
from storyrod.telling.assembly_steps import StepWords
from storyrod.telling.blocks import Bullets
from storyrod.telling.shown import Shown
from storyrod.telling.step_notes import StepNotes
from tests.kept import example_plan

EXAMPLES = ("rehearsal-room", "percussion-chest", "low-units")


@pytest.mark.parametrize("name", EXAMPLES)
def test_on_paper_what_comes_before_a_move_stands_before_it(name: str) -> None:
    plan = example_plan(name)
    glued = fitted = laid = 0
    for case, told in zip(plan.details.cases, plan.assembly.cases, strict=True):
        words = StepWords(case, Shown.of(plan.job))
        for step in (s for s in told.steps if s.kind is StepKind.JOIN):
            items = [item for block in words.blocks(step) if isinstance(block, Bullets) for item in block.items]
            done, *after = items

            assert done == " ".join([*in_order(StepNotes(case), step), step.text])
            assert not step.clamps or any("Clamp across" in item for item in after)
            assert all(one.text in after for one in step.by_hand)
            laid, fitted, glued = laid + bool(step.lay_first), fitted + bool(step.fit_first), glued + bool(step.glue)
    assert laid
    assert fitted
    assert glued


def in_order(notes: StepNotes, step: Step) -> list[str]:
    """Return what comes before the move, by itself."""
    lines = [step.lay_first] if step.lay_first else []
    lines += [f"Fit {notes.fitted(step.fit_first)}."] if step.fit_first else []
    glue = [line for line in notes.beforehand(step) if line.startswith("Glue ")]
    assert len(glue) == bool(step.glue)
    return lines + glue
