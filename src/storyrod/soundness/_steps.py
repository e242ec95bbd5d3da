"""The step to be expected at every joint: worst case, root of the sum of squares, and a simulation with a seed.

A step across a joint comes from where the two halves were really cut, and from the board's thickness: with both halves
placed from the same face it cancels (coefficient 0), from centre lines half of its variation stays (1/2). Until the
ways of working are known, the method's own usual error and centre lines are taken.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Final

from storyrod.faults import Caution
from storyrod.measure.writing import LengthWriter
from storyrod.model.detail import DetailedCase, Details
from storyrod.model.joint import Joint, JointId, JointKind
from storyrod.model.panel import Role
from storyrod.model.simulation import THICKNESS, ErrorShape, ErrorTerm, Throws
from storyrod.model.soundness import ExpectedStep, JointErrors
from storyrod.model.thresholds import Thresholds
from storyrod.trade.stack import deviation, root_sum_square, worst_case

_UNTIL: Final = "the method's usual error; placed from centre lines, until the way of working is known"


def is_seen(case: DetailedCase, joint: Joint) -> bool:
    """Return whether a step at a joint can be seen: not at backs, nor where a drawer's bottom is held."""
    roles = {case.panel(i).role for i in (joint.receiving, joint.entering)}
    return joint.kind is not JointKind.BACK and Role.DRAWER_BOTTOM not in roles


def usual_errors(case: DetailedCase, joint: Joint, details: Details) -> JointErrors:
    """Return the errors that are taken until the way of working is known."""
    method = details.method(joint.method)
    board = details.job.board(case.panel(joint.entering).board)
    thickness = ErrorTerm(
        name=f"thickness of the board ({board.name})",
        tolerance=board.spread,
        coefficient=0.5,
        shape=ErrorShape.EVEN,
        cause=THICKNESS,
    )
    across = ErrorTerm(name=f"placing and cutting ({method.name})", tolerance=method.step_mm)
    along = ErrorTerm(name=f"along the joint ({method.name})", tolerance=method.along_mm)
    return JointErrors(across=(across, thickness), along=(along,), why=_UNTIL)


class Steps:
    """Finds the expected steps of a whole job; joints whose errors are alike are simulated once."""

    def __init__(
        self,
        details: Details,
        errors: Mapping[JointId, JointErrors],
        thresholds: Thresholds,
        *,
        trials: int,
        seed: int,
    ) -> None:
        self._details = details
        self._errors = errors
        self._lengths = thresholds.lengths
        self._throws = Throws(trials=trials, seed=seed, shows=thresholds.step_shows)

    def of(self, case: DetailedCase) -> tuple[ExpectedStep, ...]:
        """Return the expected step of every joint of a case at which one can be seen."""
        return tuple(self._one(case, j) for j in case.joints if is_seen(case, j))

    def _one(self, case: DetailedCase, joint: Joint) -> ExpectedStep:
        errors = self._errors.get(joint.id) or usual_errors(case, joint, self._details)
        return ExpectedStep(
            joint=joint.id,
            number=joint.number,
            about=f"{case.panel(joint.entering).name} to {case.panel(joint.receiving).name}",
            worst=worst_case(errors.across),
            rss=root_sum_square(errors.across),
            along=root_sum_square(errors.along),
            terms=errors.across,
            throws=self._throws,
            halved_by=halved_by(errors.across, self._lengths),
            why=errors.why,
        )


def halved_by(terms: tuple[ErrorTerm, ...], lengths: LengthWriter) -> str:
    """Say what would halve the root of the sum of squares: the greatest error made so small, if that is enough."""
    whole = root_sum_square(terms)
    if whole <= 0:
        return "nothing is left to improve"
    greatest = max(terms, key=lambda t: t.reach)
    rest = math.sqrt(max(0.0, whole**2 - greatest.reach**2))
    if greatest.cause == THICKNESS and rest <= whole / 2:
        return "placing both halves from the same face: the board's thickness then cancels"
    if rest < whole / 2:
        wanted = math.sqrt((whole / 2) ** 2 - rest**2) / abs(greatest.coefficient)
        return f"{greatest.name}: to ±{lengths.told(wanted)} from ±{lengths.told(greatest.tolerance)}"
    return f"no single error: {greatest.name} is the greatest, at ±{lengths.told(greatest.reach)}"


def may_show(step: ExpectedStep, thresholds: Thresholds) -> bool:
    """Return whether the chance that a step shows may come up to what is told, so that it is worth simulating.

    Gauss's inequality for a sum with one peak in the middle: beyond `s` lies at most 4/9 of (deviation / s) squared,
    where `s` is at least 2 / sqrt(3) deviations. Errors that are cut off at their tolerance spread still less.
    """
    shows = thresholds.step_shows
    if step.worst <= shows:
        return False
    spread = deviation(step.terms) / shows
    return spread > math.sqrt(3) / 2 or 4 / 9 * spread**2 >= thresholds.step_chance


def step_cautions(
    case_name: str, case: DetailedCase, steps: tuple[ExpectedStep, ...], thresholds: Thresholds
) -> Iterator[Caution]:
    """Return one caution for a case: the joint most likely to show a step, where that is likely enough."""
    corners = {j.id for j in case.joints if j.kind in {JointKind.CORNER, JointKind.MID_PANEL, JointKind.PLINTH}}
    seen = [s for s in steps if s.joint in corners and may_show(s, thresholds)]
    worst = max(seen, key=lambda s: (s.chance, s.rss), default=None)
    if worst is None or worst.chance < thresholds.step_chance:
        return
    others = sum(s.chance >= thresholds.step_chance for s in seen) - 1
    shows = thresholds.lengths.told(thresholds.step_shows)
    where = "1 other joint" if others == 1 else f"{others} other joints"
    more = f" The same at {where}." if others else ""
    yield Caution(
        code="step-shows",
        about=f"{case_name}, {worst.number} {worst.about}",
        text=f"Expect a step of more than {shows} in {worst.chance:.0%} of such joints.{more}",
        do=f"To halve it: {worst.halved_by}. An estimate.",
        ids=(str(worst.joint),),
    )
