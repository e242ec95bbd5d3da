"""What screws, nails and dowels hold by published formulas and tests: averages of tests, with their spread.

Wood screws, nails and lag screws, withdrawal from side grain: Wood Handbook, FPL-GTR-190, chapter 8, forms from the
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


def screw_allowable_lbf_per_inch(gravity: float, diameter_in: float) -> float:
    """Return the allowable withdrawal load per inch of thread, `2850 G^2 D` (a civil-engineering formula handbook)."""
    return 2850 * gravity * gravity * diameter_in


def nail_withdrawal_n(gravity: float, diameter: float, length: float) -> float:
    """Return the ultimate withdrawal load (N) of a bright nail: `54.12 G^2.5 D L`, in mm."""
    return 54.12 * math.pow(gravity, 2.5) * diameter * length


def lag_screw_withdrawal_n(gravity: float, diameter: float, length: float) -> float:
    """Return the ultimate withdrawal load (N) of a lag screw: `125.4 G^1.5 D^0.75 L`, in mm."""
    return 125.4 * math.pow(gravity, 1.5) * math.pow(diameter, 0.75) * length


def dowel_withdrawal_n(shear_n_mm2: float, diameter: float, glued: float, tensile_n_mm2: float | None = None) -> float:
    """Return what pulls a glued dowel out (N): `tau pi D L`, or what tears the dowel itself where that is less."""
    glue = shear_n_mm2 * math.pi * diameter * glued
    if tensile_n_mm2 is None:
        return glue
    return min(glue, tensile_n_mm2 * math.pi * diameter**2 / 4)


def dowel_side_grain_lbf(
    diameter_in: float, length_in: float, member_psi: float, dowel_psi: float, glue: float = 1.0, fit: float = 1.0
) -> float:
    """Return the furniture-research figure for side grain, `0.834 D L^0.89 (0.95 S1 + S2) a b` (from memory)."""
    return 0.834 * diameter_in * math.pow(length_in, 0.89) * (0.95 * member_psi + dowel_psi) * glue * fit


def particleboard_screw_lbf(diameter_in: float, length_in: float, gravity: float, *, face: bool) -> float:
    """Return the withdrawal load of a screw in chipboard by research of the 1970s: from memory, uncertain."""
    factor = 2655 if face else 2055
    return factor * math.sqrt(diameter_in) * math.pow(length_in - diameter_in / 3, 1.25) * gravity * gravity


DOWEL_IN_WOOD: Final = (3.0, 4.9, 8.6)
"""tau in N/mm2, least, usual, most: hardwood dowels in solid wood (Podlena et al. 2018 and 2020)."""

DOWEL_IN_BOARD: Final = (2.82, 4.9, 7.47)
"""The same in chipboard edges (least) and MDF faces (most), Uysal; the usual one borrowed from solid wood."""

DOWEL_TENSILE_N_MM2: Final = 60.0
"""Beyond this a hardwood dowel itself tears; common practice, no source: well below the strength along the grain."""

CORNER_MOMENT_NM: Final = (5.0, 200.0)
"""A moment for a corner beyond these is flagged. Screwed L-corners of MDF and chipboard: 78.7 to 181.7 N m (Atar and
Ozcifci, Materials & Design 29(2), 2008)."""

SCREWED_CORNER_NM: Final = (78.7, 79.5, 181.7)


def moment_is_plausible(moment_nm: float) -> bool:
    """Return whether a moment capacity lies within what tests of case corners have given."""
    low, high = CORNER_MOMENT_NM
    return low <= moment_nm <= high
