"""Boards held along all four edges: drawer bottoms, and bases on plinths.

Navier's series for a thin plate whose edges rest and may turn, bending unlike along and across the grain (the
twisting stiffness taken as the geometric mean, Huber). Source: any text on plates; the constant 0.00406 q a^4 / D of
the square is in all of them, from memory, and the series reproduces it. Membrane action is left out, which a sag
beyond half the thickness would bring: the figure is then too large.
"""

from __future__ import annotations

import math
from typing import Final

POISSON: Final = 0.3
"""Poisson's ratio of boards; common practice, no source."""

_TERMS: Final = 15  # odd terms each way; more changes less than 0.01 %


def plate_sag(
    along: float, across: float, thickness: float, n_per_mm2: float, e_along_n_mm2: float, e_across_n_mm2: float
) -> float:
    """Return the sag in the middle (mm) of a plate `along` x `across`, evenly loaded, its four edges at rest.

    `e_along_n_mm2` is the bending modulus for bending along the first size.
    """
    d1, d2 = (e * thickness**3 / 12 / (1 - POISSON**2) for e in (e_along_n_mm2, e_across_n_mm2))
    twist = math.sqrt(d1 * d2)
    total = 0.0
    for m in range(1, 2 * _TERMS, 2):
        for n in range(1, 2 * _TERMS, 2):
            a, b = (m / along) ** 2, (n / across) ** 2
            stiff = d1 * a * a + 2 * twist * a * b + d2 * b * b
            sign = -1.0 if ((m - 1) // 2 + (n - 1) // 2) % 2 else 1.0
            total += sign / (m * n * stiff)
    return 16 * n_per_mm2 / math.pi**6 * total
