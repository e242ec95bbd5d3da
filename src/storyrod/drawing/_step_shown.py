"""What one step of putting a case together shows, for a view that moves: what stands, moves, bears, and how it lies."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from storyrod.drawing._assembly_step import _standing, opened_box
from storyrod.drawing._lying import Lying, lying_for, lying_on
from storyrod.measure.space import Box
from storyrod.model.assembly import Step, StepKind
from storyrod.model.detail import DetailedCase
from storyrod.model.panel import PanelId


@dataclass(frozen=True, slots=True, kw_only=True)
class StepShown:
    """One step, as a moving picture shows it.

    Attributes:
        standing: panels that are there already and stay; for a turn, none.
        opened: doors that stand open meanwhile, with their boxes.
        lying: how the work lies while the step is done, or after a turn.
        before: how it lay before a turn; the same as `lying` for all other steps.
    """

    standing: frozenset[PanelId]
    opened: tuple[tuple[PanelId, Box], ...]
    lying: Lying
    before: Lying


def step_shown(case: DetailedCase, step: Step, earlier: Sequence[Step] = ()) -> StepShown:
    """Return what a step shows; a movement that would go on behind the work is seen from the other side."""
    lying = lying_for(step)
    if step.kind is StepKind.TURN:
        return StepShown(standing=frozenset(), opened=(), lying=lying, before=lying_on(step.was_down or step.down))
    doors = {d.panel: d for d in case.built.doors}
    opened = tuple((p, opened_box(case.panel(p).box, doors[p])) for p in step.open_first)
    return StepShown(standing=_standing(case, step, earlier), opened=opened, lying=lying, before=lying)
