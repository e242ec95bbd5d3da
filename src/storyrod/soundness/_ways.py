"""The errors of each joint as the ways of working give them."""

from __future__ import annotations

from collections.abc import Iterable

from storyrod.model.joint import JointId
from storyrod.model.machining import Contribution
from storyrod.model.machining import ExpectedStep as PlannedStep
from storyrod.model.simulation import ErrorShape, ErrorTerm
from storyrod.model.soundness import JointErrors
from storyrod.soundness._steps import THICKNESS


def errors_of_ways(planned: Iterable[PlannedStep]) -> dict[JointId, JointErrors]:
    """Return the errors of every joint that the work plan knows, for `examine(..., errors=...)`.

    The thickness of a board is even within its spread, every other error is heaped about its middle.
    """
    found: dict[JointId, JointErrors] = {}
    for step in planned:
        face = "both halves placed from the same face" if step.same_face else "placed from centre lines"
        errors = JointErrors(
            across=_terms(step.across.contributions),
            along=_terms(step.along.contributions),
            why=f"{face}: {' and '.join(dict.fromkeys(step.ways))}",
        )
        found.update(dict.fromkeys(step.joints, errors))
    return found


def _terms(contributions: Iterable[Contribution]) -> tuple[ErrorTerm, ...]:
    return tuple(
        ErrorTerm(
            name=c.name,
            tolerance=c.tolerance,
            coefficient=c.factor,
            shape=ErrorShape.EVEN if c.name.startswith(THICKNESS) else ErrorShape.NORMAL,
        )
        for c in contributions
    )
