"""What screws, nails and dowels hold by published formulas and tests: averages of tests, with their spread.

Wood screws, withdrawal from side grain: Wood Handbook, FPL-GTR-190, chapter 8, forms from the
source, constants from memory (metric and inch agree). Dowels: `F = tau pi D L`, tau from Podlena et al., BioResources
13(3), 2018, and 15(1), 2020, and Uysal, Wood and Fiber Science. None of these is an allowable load.
"""

from __future__ import annotations

import math
from typing import Final

END_GRAIN: Final = 0.75
"""Screws in end grain hold about this share of side grain; from memory (Wood Handbook). Nails hold too little there."""

OVEN_DRY: Final = 1 / 1.12
"""Specific gravity on oven-dry mass from density at 12 % moisture; from memory."""


def screw_withdrawal_n(gravity: float, diameter: float, threaded: float) -> float:
    """Return the ultimate withdrawal load (N) of a wood screw: `108.25 G^2 D L`, in mm."""
    return 108.25 * gravity * gravity * diameter * threaded


def dowel_withdrawal_n(shear_n_mm2: float, diameter: float, glued: float, tensile_n_mm2: float | None = None) -> float:
    """Return what pulls a glued dowel out (N): `tau pi D L`, or what tears the dowel itself where that is less."""
    glue = shear_n_mm2 * math.pi * diameter * glued
    if tensile_n_mm2 is None:
        return glue
    return min(glue, tensile_n_mm2 * math.pi * diameter**2 / 4)


DOWEL_IN_WOOD: Final = (3.0, 4.9, 8.6)
"""tau in N/mm2, least, usual, most: hardwood dowels in solid wood (Podlena et al. 2018 and 2020)."""

DOWEL_IN_BOARD: Final = (2.82, 4.9, 7.47)
"""The same in chipboard edges (least) and MDF faces (most), Uysal; the usual one borrowed from solid wood."""

DOWEL_TENSILE_N_MM2: Final = 60.0
"""Beyond this a hardwood dowel itself tears; common practice, no source: well below the strength along the grain."""

SCREWED_CORNER_NM: Final = (78.7, 181.7)
"""Moments that broke screwed L-corners of MDF and chipboard, least and most (Atar and Ozcifci, Materials & Design
29(2), 2008)."""
