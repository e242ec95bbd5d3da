"""The errors of each joint as the ways of working give them."""

from __future__ import annotations

from collections.abc import Iterable

from storyrod.model.joint import JointId
from storyrod.model.machining import ExpectedStep as PlannedStep
from storyrod.model.soundness import JointErrors


def errors_of_ways(planned: Iterable[PlannedStep]) -> dict[JointId, JointErrors]:
    """Return the errors of every joint that the work plan knows, for `examine(..., errors=...)`."""
    found: dict[JointId, JointErrors] = {}
    for step in planned:
        face = "both halves placed from the same face" if step.same_face else "placed from centre lines"
        errors = JointErrors(
            across=step.across.terms,
            along=step.along.terms,
            why=f"{face}: {' and '.join(dict.fromkeys(step.ways))}",
        )
        found.update(dict.fromkeys(step.joints, errors))
    return found
