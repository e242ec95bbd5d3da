"""Sizes in which sheets of board are sold."""

from __future__ import annotations

from typing import Final

from storyrod.measure.length import MM_PER_INCH, Unit

_INCHES: Final = ((96, 48), (97, 49), (120, 48), (120, 60), (144, 60))

SOLD: Final = {
    Unit.MM: ((2440.0, 1220.0), (2500.0, 1250.0), (3050.0, 1220.0), (3050.0, 1525.0), (2800.0, 2070.0)),
    Unit.INCH: tuple((a * MM_PER_INCH, b * MM_PER_INCH) for a, b in _INCHES),
}
"""Length and width (mm) of the sheets commonly sold, by unit, the commonest first; common practice, no source."""


def commonest(unit: Unit) -> tuple[float, float]:
    """Return the length and width (mm) of the sheet that stands where nothing says which is bought."""
    return SOLD[unit][0]
