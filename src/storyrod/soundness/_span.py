"""The sag of one plank on two supports by formula, and the greatest span that keeps it within a limit.

`sag = k_b W L^3 / EI + k_s W L / GA'` (Structural Analysis Equations, Wood Handbook, FPL-GTR-190, chapter 9), with
W the whole load, A' five sixths of a rectangle. The constants are those of the usual cases (beam tables).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum
from typing import Final


@dataclass(frozen=True, slots=True)
class Constants:
    """Constants for bending and shear."""

    bending: float
    shear: float


class Held(Enum):
    """How a plank is held and loaded."""

    EVEN_SIMPLE = Constants(5 / 384, 1 / 8)
    MIDDLE_SIMPLE = Constants(1 / 48, 1 / 4)
    EVEN_FIXED = Constants(1 / 384, 1 / 8)
    MIDDLE_FIXED = Constants(1 / 192, 1 / 4)
    EVEN_CANTILEVER = Constants(1 / 8, 1 / 2)
    END_CANTILEVER = Constants(1 / 3, 1.0)


LONGEST: Final = 6000.0
"""No span is looked for beyond this (mm)."""


def sag(
    load_n: float, span: float, rigidity_n_mm2: float, shear_n: float = math.inf, held: Held = Held.EVEN_SIMPLE
) -> float:
    """Return the sag in mm under a whole load in N."""
    k = held.value
    return k.bending * load_n * span**3 / rigidity_n_mm2 + k.shear * load_n * span / shear_n


def greatest_span(n_per_mm: float, rigidity_n_mm2: float, share: float, shear_n: float = math.inf) -> float:
    """Return the longest span (mm) on two supports at which an even load sags no more than span / `share`.

    Without shear this is `(384 EI / (5 share w))^(1/3)`; with it, the root is closed in on. 0 where even the shortest
    gives in shear, `LONGEST` where nothing bends it.
    """
    if n_per_mm <= 0:
        return LONGEST
    longest = math.cbrt(384 * rigidity_n_mm2 / (5 * share * n_per_mm))
    if math.isinf(shear_n):
        return min(longest, LONGEST)
    low, high = 0.0, min(longest, LONGEST)
    for _ in range(60):
        middle = (low + high) / 2
        if sag(n_per_mm * middle, middle, rigidity_n_mm2, shear_n) <= middle / share:
            low = middle
        else:
            high = middle
    return low
