"""The steps of assembly as the page tells them: the packet's words, in blocks that a template can lay out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from storyrod.measure.space import Direction
from storyrod.model.assembly import CasePlan, Step, StepKind
from storyrod.model.detail import DetailedCase

if TYPE_CHECKING:
    from storyrod.drawing import Lying
    from storyrod.model.hung import Hanging
    from storyrod.model.job import Job
    from storyrod.model.soundness import Tipping
    from storyrod.telling.blocks import Block


@dataclass(frozen=True, slots=True, kw_only=True)
class StepTold:
    """One step: its heading and its words, as (kind of block, block); how the work lies, and whether it is turned."""

    step: Step
    title: str
    blocks: tuple[tuple[str, Block], ...]
    lies: str
    is_turn: bool


def steps_told(job: Job, case: DetailedCase, told: CasePlan) -> tuple[StepTold, ...]:
    """Return every step of a case in words, each with its cautions in full: the page shows one at a time."""
    from storyrod.drawing import step_shown
    from storyrod.telling.assembly_steps import StepWords
    from storyrod.telling.shown import Shown

    words = StepWords(case, Shown.of(job))
    return tuple(
        StepTold(
            step=step,
            title=words.title(step),
            blocks=tuple((_kind(block), block) for block in words.blocks(step)),
            lies=_lies(step, step_shown(case, step).lying),
            is_turn=step.kind is StepKind.TURN,
        )
        for step in told.steps
    )


def wall_told(job: Job, case: DetailedCase, tipping: Tipping | Hanging) -> tuple[tuple[str, Block], ...]:
    """Return how a case is fixed to the wall, as (kind of block, block); nothing where it stands by itself."""
    from storyrod.telling.shown import Shown
    from storyrod.telling.wall import wall_blocks

    return tuple((_kind(block), block) for block in wall_blocks(case, tipping, Shown.of(job)))


def _lies(step: Step, lying: Lying) -> str:
    """Return how the work lies; a panel that gets its fittings lies flat by itself."""
    return lying.flat_words if step.kind is StepKind.FIT and step.down is not Direction.DOWN else lying.words


def _kind(block: Block) -> str:
    from storyrod.telling.blocks import Bullets, Table, Warning_

    kinds = ((Bullets, "bullets"), (Table, "table"), (Warning_, "warning"))
    return next((name for cls, name in kinds if isinstance(block, cls)), "words")


def introduction(told: CasePlan) -> str:
    """Return how many steps there are, and how sure it is that no easier order exists."""
    best = told.easiest
    text = f"{len(told.steps)} step{'s' * (len(told.steps) != 1)}. {best}"
    clamps = _clamps(told)
    if clamps:
        text += f" Have {clamps} clamp{'s' * (clamps != 1)} at hand: they stay on until the glue has set."
    if told.count > 1:
        text += f" {told.count} of this case are made: do a step on all {told.count} before the next."
    return text


def _clamps(told: CasePlan) -> int:
    """Return how many clamps are on at once at the most: all that one body is given, until its glue has set."""
    bodies = {s.body for s in told.steps}
    return max((sum(s.clamp_count for s in told.steps if s.body == b) for b in bodies), default=0)


def earlier_than(steps: Sequence[Step], step: Step) -> Sequence[Step]:
    """Return the steps that come before one."""
    return [s for s in steps if s.number < step.number]
