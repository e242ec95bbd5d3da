"""What is to be minded in a step of the assembly, in sentences: the same in print and at the bench."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from storyrod.measure.writing import LengthWriter
from storyrod.model.assembly import Connectors, Step, StepKind
from storyrod.model.detail import DetailedCase
from storyrod.model.joint import JointId

_GOES: Final = ("first", "second", "third", "fourth")


class StepNotes:
    """Tells what one case's steps want: what is fitted before, glued, held and clamped."""

    def __init__(self, case: DetailedCase) -> None:
        self._marks = {p.id: p.mark for p in case.panels}
        self._numbers = {j.id: j.number for j in case.joints}

    def beforehand(self, step: Step) -> Iterator[str]:
        """Yield what is done before anything moves: a panel laid down, connectors fitted, then glue spread."""
        if step.lay_first:
            yield step.lay_first
        if step.fit_first:
            yield f"Fit {self.fitted(step.fit_first)}."
        if step.glue:
            go = f", in the {_GOES[step.go - 1]} go" if step.go else ""
            yield f"Glue {self.joints(step.glue)}: about {_minutes(step.glue_min)} to spread and close{go}."

    def heeded(self, step: Step) -> Iterator[str]:
        """Yield that there is no glue, what is held, and where clamps go."""
        if step.kind is StepKind.JOIN and not step.glue:
            yield "No glue."
        yield from step.hold
        if step.clamps:
            yield f"Clamp across {self.joints(step.clamps)}: {_counted(step.clamp_count, 'clamp')}."

    def square(self, step: Step, lengths: LengthWriter) -> str:
        """Return which diagonals are checked, their length and by how much they may differ; "" where none are."""
        check = step.diagonals
        if check is None:
            return ""
        corners = joined([self._marks[p] for p in check.panels])
        return (
            f"Check for square: both diagonals over the corners of {corners} "
            f"({lengths.n(check.across)} \u00d7 {lengths.n(check.along)}) are {lengths.n(check.length)}, and differ "
            f"by {lengths.n(check.allowed)} at most."
        )

    def fitted(self, fitted: Sequence[Connectors]) -> str:
        """Return connectors by item, then by panel: `2 x dowel in A3 (J1) and A4 (J2)`."""
        items: dict[str, list[Connectors]] = {}
        for one in fitted:
            items.setdefault(one.item, []).append(one)
        told = []
        for item, ones in items.items():
            where = joined([f"{self._marks[c.panel]} ({self._numbers[c.joint]})" for c in ones])
            counts = [c.count for c in ones]
            each = " each" if len(counts) > 1 else ""
            if len(set(counts)) > 1:
                where = joined([f"{c.count} in {self._marks[c.panel]} ({self._numbers[c.joint]})" for c in ones])
                told.append(f"{sum(counts)} \u00d7 {item}, {where}")
            else:
                told.append(f"{counts[0]} \u00d7 {item}{each} in {where}")
        return "; ".join(told)

    def joints(self, joints: Sequence[JointId]) -> str:
        """Return joints by number, as a list in a sentence."""
        return joined([self._numbers[j] for j in joints])


def joined(names: Sequence[str]) -> str:
    """Return names as a list in a sentence: `a, b and c`."""
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


def _counted(count: int, what: str) -> str:
    return f"{count} {what}" + ("" if count == 1 else "s")


def _minutes(minutes: float) -> str:
    """Return minutes rounded up to halves: a rule of thumb has no tenths."""
    halves = -(-minutes * 2 // 1) / 2
    return f"{halves:g} min"
