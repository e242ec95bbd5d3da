"""The one measure of the sheets: whole units of a millimetre's part, fine enough that the kerf is exact."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

HUNDREDTHS: Final = 100
"""Parts, sheets and trims go by hundredths of a mm: finer than any saw, coarse enough that equal stays equal."""

FINEST: Final = 10_000
"""Most units to a mm. A kerf that no such unit measures exactly is taken up to the next one, which no rule shows."""


@dataclass(frozen=True, slots=True)
class Grid:
    """How many units make a millimetre, and how many units the kerf is."""

    per_mm: int
    kerf: int

    def up(self, mm: float) -> int:
        """Return the least whole hundredths of a mm that are not less than the length, in units."""
        return math.ceil(_exact(mm) * HUNDREDTHS) * (self.per_mm // HUNDREDTHS)

    def down(self, mm: float) -> int:
        """Return the most whole hundredths of a mm that are not more than the length, in units."""
        return math.floor(_exact(mm) * HUNDREDTHS) * (self.per_mm // HUNDREDTHS)

    def mm(self, units: int) -> float:
        """Return the length in mm, the float nearest to the exact decimal."""
        return units / self.per_mm


def grid_of(kerf: float) -> Grid:
    """Return the measure for a kerf in mm: hundredths where they do, else the coarsest unit that is part of both.

    A sixty-fourth of an inch is 127/320 mm, so every kerf in such fractions is a whole number of 1/1600 mm.
    """
    exact = _exact(kerf)
    per_mm = min(math.lcm(HUNDREDTHS, exact.denominator), FINEST)
    return Grid(per_mm, math.ceil(exact * per_mm))


def _exact(mm: float) -> Fraction:
    return Fraction(repr(float(mm)))
