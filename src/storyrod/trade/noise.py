"""Noise at the ear over a day: levels added by their energy, spread over eight hours.

`L = L_eq + 10 log10(T / 8 h)`, several spells added as energies. Action values for what an ear gets in a day, Great
Britain: Noise at woodworking machines, information sheet WIS13, Health and Safety Executive. Other countries have
others; look up those where you work.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Final

DAY_MIN: Final = 480.0
"""The working day that levels are spread over (minutes)."""

LOWER_ACTION: Final = 80.0
UPPER_ACTION: Final = 85.0
DAILY_LIMIT: Final = 87.0
"""dB(A) over a day: from the first on protection must be at hand, from the second on it must be worn; the third must
not be passed, counted under the protection."""


def daily_level(spells: Iterable[tuple[float, float]]) -> float:
    """Return the level of a day (dB(A)) from its spells: each a level (dB(A)) and how long (minutes)."""
    energy = math.fsum(minutes / DAY_MIN * 10 ** (level / 10) for level, minutes in spells)
    if energy <= 0:
        raise ValueError("a day without a spell of noise has no level")
    return 10 * math.log10(energy)
