"""Usual figures of each kind of board, taken where the maker gives none, and named as such in the packet.

Sources: Wood Handbook, FPL-GTR-190, USDA Forest Service, 2010; EN 312 and EN 622-5 as printed on data sheets of
European board makers; EN 315 as printed by plywood makers. All are in `docs/assumptions.md` with their effect.
"""

from __future__ import annotations

import math
from typing import Final

from storyrod.model.job import BoardKind

# Up to this thickness (mm): the figure.
_Steps = tuple[tuple[float, float], ...]

# Density of a European particleboard maker's technical data (EN 312, type P2), kg/m3.
_CHIPBOARD_DENSITY: Final[_Steps] = (
    (12.5, 690),
    (15.5, 670),
    (17, 660),
    (20, 650),
    (26, 640),
    (32, 620),
    (math.inf, 605),
)

# EN 312 type P2 (2003 edition), least stiffness as printed on specification sheets, N/mm2; the last from memory.
_CHIPBOARD_STIFFNESS: Final[_Steps] = ((13, 1800), (20, 1600), (25.5, 1500), (32.5, 1350), (math.inf, 1200))

# EN 622-5 type MDF, least bending stiffness as printed on a maker's data sheet, N/mm2.
_MDF_STIFFNESS: Final[_Steps] = ((9, 2700), (12, 2500), (19, 2200), (30, 2100), (math.inf, 1900))

# Common practice, no source: thin MDF is pressed denser. 18 mm: 730 kg/m3.
_MDF_DENSITY: Final[_Steps] = ((9, 780), (math.inf, 730))

# Birch plywood, from memory of makers' tables: 680 kg/m3; shop default for unnamed hardwood plywood 8000 N/mm2.
_PLYWOOD_DENSITY: Final = 680.0
_PLYWOOD_STIFFNESS: Final = 8000.0
# Across the face grain 0.63 to 0.74 of it in 12 and 18 mm birch plywood (from memory of makers' tables).
PLYWOOD_ACROSS: Final = 0.65

# Wood Handbook (2010), table 12-1, from memory: hardboard of SG 0.9 to 1.0, 3.10 to 5.52 GPa; the low end.
_HARDBOARD_DENSITY: Final = 950.0
_HARDBOARD_STIFFNESS: Final = 3100.0

# Common practice, no source.
_BLOCKBOARD_DENSITY: Final = 550.0

# EN 312 type P2 (2010 edition), technical data of a European particleboard maker; EN 622-5 type MDF, data sheet of a
# European MDF maker: least bending strengths, N/mm2.
_CHIPBOARD_STRENGTH: Final[_Steps] = ((20, 11.0), (25, 10.5), (32, 9.5), (math.inf, 8.5))
_MDF_STRENGTH: Final[_Steps] = ((9, 23.0), (12, 22.0), (19, 20.0), (30, 18.0), (math.inf, 17.0))

# Low ends of the handbook's ranges (Wood Handbook, FPL-GTR-190, table 12-1), from memory.
_PLYWOOD_STRENGTH: Final = 33.7
_HARDBOARD_STRENGTH: Final = 31.0

GRAINED: Final = frozenset({BoardKind.PLYWOOD, BoardKind.BLOCKBOARD, BoardKind.SOLID})
"""Kinds whose faces have a grain that matters, unless the maker says otherwise."""


def _step(steps: _Steps, thickness: float) -> float:
    return next(value for limit, value in steps if thickness <= limit)


def usual_density_kg_m3(kind: BoardKind, thickness: float) -> float | None:
    """Return the usual density of a kind of board, or None where it must be asked for (solid wood, other boards)."""
    if kind in {BoardKind.CHIPBOARD, BoardKind.FACED_CHIPBOARD}:
        return _step(_CHIPBOARD_DENSITY, thickness)
    return {
        BoardKind.MDF: _step(_MDF_DENSITY, thickness),
        BoardKind.PLYWOOD: _PLYWOOD_DENSITY,
        BoardKind.BLOCKBOARD: _BLOCKBOARD_DENSITY,
        BoardKind.HARDBOARD: _HARDBOARD_DENSITY,
    }.get(kind)


def usual_stiffness_n_mm2(kind: BoardKind, thickness: float) -> tuple[float | None, float | None]:
    """Return a cautious bending stiffness along and across the grain, or None where it must be asked for."""
    if kind in {BoardKind.CHIPBOARD, BoardKind.FACED_CHIPBOARD}:
        value = _step(_CHIPBOARD_STIFFNESS, thickness)
        return value, value
    if kind is BoardKind.MDF:
        value = _step(_MDF_STIFFNESS, thickness)
        return value, value
    if kind is BoardKind.PLYWOOD:
        return _PLYWOOD_STIFFNESS, _PLYWOOD_STIFFNESS * PLYWOOD_ACROSS
    if kind is BoardKind.HARDBOARD:
        return _HARDBOARD_STIFFNESS, _HARDBOARD_STIFFNESS
    return None, None


def least_strength_n_mm2(kind: BoardKind, thickness: float) -> float | None:
    """Return the least bending strength of a kind of board (of plywood along the grain), or None where not known."""
    if kind in {BoardKind.CHIPBOARD, BoardKind.FACED_CHIPBOARD}:
        return _step(_CHIPBOARD_STRENGTH, thickness)
    return {
        BoardKind.MDF: _step(_MDF_STRENGTH, thickness),
        BoardKind.PLYWOOD: _PLYWOOD_STRENGTH,
        BoardKind.HARDBOARD: _HARDBOARD_STRENGTH,
    }.get(kind)


def thickness_limits(kind: BoardKind, thickness: float) -> tuple[float, float]:
    """Return how far a sheet may lie under and over its nominal thickness (mm, both above 0).

    Plywood, sanded: 0.4 + 0.03 t under, 0.2 + 0.03 t over (EN 315). Chipboard: 0.3 either way, faced 0.5 over (EN 312).
    MDF: 0.2 either way to 19 mm, 0.3 above (EN 622-1, from memory). Others: 0.3, common practice, no source.
    """
    if kind in {BoardKind.PLYWOOD, BoardKind.BLOCKBOARD}:
        return round(0.4 + 0.03 * thickness, 3), round(0.2 + 0.03 * thickness, 3)
    if kind is BoardKind.FACED_CHIPBOARD:
        return 0.3, 0.5
    if kind is BoardKind.MDF:
        return (0.2, 0.2) if thickness <= 19 else (0.3, 0.3)
    return 0.3, 0.3


def usual_spread(kind: BoardKind, thickness: float, *, measured: bool) -> float:
    """Return half the range of thickness to reckon with: within the sheets measured, or else of the whole trade.

    Measured: 0.3, as plywood varies by 0.6 mm within a panel (size tables of two birch-plywood sellers); MDF as its
    limits. Not measured: the wider of both limits.
    """
    if measured and kind is not BoardKind.MDF:
        return 0.3
    return max(thickness_limits(kind, thickness))
