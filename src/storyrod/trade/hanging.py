"""What a wood screw in a timber stud is allowed to carry, pulled out of it and across it behind a lining.

EN 1995-1-1 for timber structures, from memory: withdrawal of screws (8.7.2), embedment and yield moment (8.3.1.1, with
the effective diameter of 8.7.1), both at once (8.3.3), design values (2.4.3). The yield of a screw across a gap
that bears nothing is the mode of Johansen with a hinge in either part, worked out from statics. Forces are newtons,
lengths mm, densities kg/m³.
"""

from __future__ import annotations

import math
from typing import Final

STUD_KG_M3: Final = 310.0
"""Characteristic density of softwood of class C16, EN 338, from memory: no stud is taken to be better."""

SCREW_STEEL_N_MM2: Final = 400.0
"""Tensile strength that a plain wood screw is taken to have; common practice, no source: most are better."""

ROOT: Final = 2 / 3
"""The root of a wood screw's thread over its shank, a general-reference article."""

K_MOD: Final = 0.6
"""For a load that stays, service classes 1 and 2: EN 1995-1-1 table 3.1, from memory."""

GAMMA_M: Final = 1.3
"""Partial factor of connections, EN 1995-1-1 table 2.3, from memory."""

GAMMA_G: Final = 1.35
"""Partial factor of a load that stays, EN 1990, from memory."""

BITE_IN_D: Final = 7.0
"""A screw across its axis goes so many diameters into the stud: Wood Handbook, FPL-GTR-190, chapter 8, from memory."""


def withdrawal_n(diameter: float, bite: float, density: float = STUD_KG_M3) -> float:
    """Return the characteristic withdrawal load: `0.52 d^-0.5 l^-0.1 rho^0.8 d l k_d`, with `k_d = min(d / 8, 1)`."""
    strength = 0.52 * math.pow(diameter, -0.5) * math.pow(bite, -0.1) * math.pow(density, 0.8)
    return strength * diameter * bite * min(diameter / 8, 1.0)


def across_n(diameter: float, gap: float, density: float = STUD_KG_M3) -> float:
    """Return the characteristic load across a screw whose head is held in one board and its tip in another.

    Between the two is a `gap` of lining that bears nothing: `F = f d / 2 (sqrt(g^2 + 8 M / (f d)) - g)`, with
    `f = 0.082 rho d^-0.3` and `M = 0.3 f_u d^2.6`, `d` the effective diameter `1.1 x root`.
    """
    effective = 1.1 * ROOT * diameter
    bearing = 0.082 * density * math.pow(effective, 0.7)
    hinge = 0.3 * SCREW_STEEL_N_MM2 * math.pow(effective, 2.6)
    return bearing / 2 * (math.sqrt(gap**2 + 8 * hinge / bearing) - gap)


def allowed_n(characteristic_n: float) -> float:
    """Return what may be asked for in use: the design value, over the factor of the load."""
    return characteristic_n * K_MOD / GAMMA_M / GAMMA_G


def used(pull_n: float, across: float, may_pull_n: float, may_across_n: float) -> float:
    """Return how much of a screw is used by a pull and a force across it at once: the sum of the squared shares."""
    return (pull_n / may_pull_n) ** 2 + (across / may_across_n) ** 2
