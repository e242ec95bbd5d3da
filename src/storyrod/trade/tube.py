"""Tubes and rods of clothes rails: their section, and how stiff and strong what they are made of is.

Second moment of a ring `pi (D^4 - d^4) / 64`: any table of sections. Steel 210,000 N/mm2 (EN 1993-1-1) and aluminium
70,000 (EN 1999-1-1), yield 235 (S235) and 140 N/mm2 (6060 T6, thin walls); hardwood D30 of EN 338, bent at 30 N/mm2:
all from memory. Factors of safety 1.5 on loads, 1.0 and 1.1 on steel and aluminium: the same codes, from memory.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from storyrod.model.fitting import RailMaterial


@dataclass(frozen=True, slots=True)
class Material:
    """What a tube is made of: modulus and strength in N/mm2, density in kg/m3.

    Attributes:
        strength_n_mm2: stress at which it yields, or breaks where it is wood.
        usable: share of that which may be used day by day.
    """

    stiffness_n_mm2: float
    strength_n_mm2: float
    density_kg_m3: float
    usable: float


MATERIALS: Final[dict[RailMaterial, Material]] = {
    RailMaterial.STEEL: Material(210_000, 235, 7850, 1 / 1.5),
    RailMaterial.ALUMINIUM: Material(70_000, 140, 2700, 1 / 1.65),
    RailMaterial.HARDWOOD: Material(10_000, 30, 700, 1 / 3),
}


def _inner(diameter: float, wall: float | None) -> float:
    return 0.0 if wall is None else max(0.0, diameter - 2 * wall)


def inertia_mm4(diameter: float, wall: float | None) -> float:
    """Return the second moment of area of a tube, or of a solid rod where `wall` is None."""
    return math.pi * (diameter**4 - _inner(diameter, wall) ** 4) / 64


def area_mm2(diameter: float, wall: float | None) -> float:
    """Return the area of its section."""
    return math.pi * (diameter**2 - _inner(diameter, wall) ** 2) / 4


def bending_n_mm2(moment_nmm: float, diameter: float, wall: float | None) -> float:
    """Return the stress in the outermost fibre under a moment."""
    return moment_nmm * diameter / 2 / inertia_mm4(diameter, wall)
