"""Written sums, so that the maker can check how a size came about: `600 - 2 x 17.7`."""

from __future__ import annotations

from typing import NamedTuple

from storyrod.measure.length import FINEST, Unit
from storyrod.measure.tolerance import EXACT
from storyrod.measure.writing import LengthWriter


class Term(NamedTuple):
    """One step of a sum: `times` (below 0 where it is taken away) of a length `each` in mm."""

    times: int
    each: float


def figure(value: float, unit: Unit) -> str:
    """Return a length as a bare figure, as it stands on every page: `17.7`, or `23/32`."""
    return LengthWriter(unit, FINEST).bare(value)


def told(unit: Unit, start: float, *terms: Term) -> str:
    """Return the sum `start` and `terms` in words; nothing is said of a length of 0, and like terms are one."""
    parts = [figure(start, unit)]
    for times, each in _merged(terms):
        many = f"{abs(times)} x " if abs(times) != 1 else ""
        parts.append(f"{'-' if times < 0 else '+'} {many}{figure(each, unit)}")
    return " ".join(parts)


def share_told(unit: Unit, start: float, terms: tuple[Term, ...], part: float, parts: float) -> str:
    """Return in words the share `part` of `parts` of what the sum leaves."""
    rest = told(unit, start, *terms)
    if abs(part - parts) < EXACT:
        return rest
    rest = f"({rest})" if " " in rest else rest
    if abs(part - 1) < EXACT:
        return f"{rest} / {parts:g}"
    return f"{rest} x {part:g} / {parts:g}"


def _merged(terms: tuple[Term, ...]) -> list[Term]:
    merged: list[Term] = []
    for times, length in terms:
        if abs(length) < EXACT or not times:
            continue
        step = Term(times if length > 0 else -times, abs(length))
        if merged and abs(merged[-1].each - step.each) < EXACT and merged[-1].times * step.times > 0:
            merged[-1] = Term(merged[-1].times + step.times, step.each)
        else:
            merged.append(step)
    return merged
