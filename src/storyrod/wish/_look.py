"""How calm a planned front looks, in four plain measures of its openings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from storyrod.measure.space import Axis
from storyrod.model.carcass import BuiltCase
from storyrod.model.wish import Look

ALIKE: Final = 1.0
"""Sizes and lines this near to one another (mm) look alike; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Field:
    """One opening as it is seen from the front."""

    left: float
    right: float
    low: float
    high: float
    holds: str
    case: int


def look_of(cases: Sequence[BuiltCase]) -> Look:
    """Return the measures of look of cases that stand side by side."""
    fields, start = [], 0.0
    for number, case in enumerate(cases):
        for opening in case.openings:
            if not opening.children:
                (left, right), (low, high) = opening.box.span(Axis.X), opening.box.span(Axis.Z)
                fields.append(
                    _Field(
                        left=start + left,
                        right=start + right,
                        low=low,
                        high=high,
                        holds=opening.holds.value,
                        case=number,
                    )
                )
        start += case.case.width
    return Look(
        lines=_lines(fields), sizes=_sizes(fields), progression=_progression(fields), symmetry=_symmetry(fields, start)
    )


def _lines(fields: Sequence[_Field]) -> float:
    """Return the share of shelf lines at each side of a divider that run on beyond it; 1 where there is none."""
    floor, top = min(f.low for f in fields), max(f.high for f in fields)
    met = total = 0
    for one in fields:
        beside = [f for f in fields if f.left > one.right - ALIKE and _next(one, f, fields)]
        beside += [f for f in fields if f.right < one.left + ALIKE and _next(f, one, fields)]
        if not beside or one.low - floor <= ALIKE:
            continue
        total += 1
        met += any(abs(f.low - one.low) <= ALIKE for f in beside)
    return met / total if total and top > floor else 1.0


def _next(left: _Field, right: _Field, fields: Sequence[_Field]) -> bool:
    """Return whether nothing lies between two fields, the one to the left of the other."""
    gap = right.left - left.right
    return gap >= -ALIKE and not any(
        left.right - ALIKE <= f.left and f.right <= right.left + ALIKE for f in fields if f not in {left, right}
    )


def _sizes(fields: Sequence[_Field]) -> float:
    sizes: list[tuple[float, float]] = []
    for f in fields:
        own = (f.right - f.left, f.high - f.low)
        if not any(abs(own[0] - s[0]) <= ALIKE and abs(own[1] - s[1]) <= ALIKE for s in sizes):
            sizes.append(own)
    return (len(fields) - len(sizes)) / (len(fields) - 1) if len(fields) > 1 else 1.0


def _progression(fields: Sequence[_Field]) -> float:
    """Return the share of neighbours over each other of which the lower is at least as high."""
    kept = total = 0
    for over in fields:
        under = [
            f
            for f in fields
            if abs(f.left - over.left) <= ALIKE and abs(f.right - over.right) <= ALIKE and f.high <= over.low
        ]
        if under:
            nearest = max(under, key=lambda f: f.high)
            total += 1
            kept += nearest.high - nearest.low >= over.high - over.low - ALIKE
    return kept / total if total else 1.0


def _symmetry(fields: Sequence[_Field], width: float) -> float:
    def mirrored(a: _Field) -> bool:
        return any(
            abs(width - a.right - b.left) <= ALIKE
            and abs(width - a.left - b.right) <= ALIKE
            and abs(a.low - b.low) <= ALIKE
            and abs(a.high - b.high) <= ALIKE
            and a.holds == b.holds
            for b in fields
        )

    return sum(mirrored(f) for f in fields) / len(fields) if fields else 1.0
