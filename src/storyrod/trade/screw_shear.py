"""What a screw through a thin metal plate holds across itself in the face of a board: EN 1995-1-1, section 8.

All values from memory. A thin steel plate in single shear (8.2.3): `min(0.4 f_h t d, 1.15 sqrt(2 M_y f_h d))`, the rope
effect left out. `d` of a screw is 1.1 times its core (8.7.1), `t` how deep it goes in. Embedment (8.3.1): chipboard
`65 d^-0.7 t^0.1` with the board's thickness, plywood `0.11 rho d^-0.3`, hardboard `30 d^-0.3 t^0.6`, wood
`0.082 rho d^-0.3`. Yield moment (8.3.1.1): `0.3 f_u d^2.6`. The code wants a screw deeper than a socket's screws go, so
this is an estimate beyond its bounds.
"""

from __future__ import annotations

import math
from typing import Final

from storyrod.model.board import BoardKind

SCREW_STEEL_N_MM2: Final = 600.0
"""Tensile strength of a screw's steel: from memory, the least of common wood screws."""

CORE_SHARE: Final = 2 / 3
"""A screw's core to its outside, where nobody measured it; common practice, no source."""

CHARACTERISTIC: Final = 0.85
"""Density that 19 boards in 20 have, to the mean; from memory."""

ON_LOADS: Final = 1.5
"""Partial factor of a load that comes and goes: EN 1990, from memory."""

_CHIPBOARD: Final = frozenset({BoardKind.CHIPBOARD, BoardKind.FACED_CHIPBOARD, BoardKind.MDF})

# k_mod of long-term loads, storage, in a dry room (table 3.1), over gamma_M (table 2.3): both from memory.
_DESIGN: Final[dict[BoardKind, float]] = {
    BoardKind.CHIPBOARD: 0.45 / 1.3,
    BoardKind.FACED_CHIPBOARD: 0.45 / 1.3,
    BoardKind.MDF: 0.40 / 1.3,
    BoardKind.HARDBOARD: 0.45 / 1.3,
    BoardKind.PLYWOOD: 0.70 / 1.2,
    BoardKind.BLOCKBOARD: 0.70 / 1.3,
    BoardKind.SOLID: 0.70 / 1.3,
}

_BORROWED: Final = {
    BoardKind.MDF: "the embedment of chipboard is borrowed for MDF",
    BoardKind.BLOCKBOARD: "the embedment of plywood is borrowed for blockboard",
}


def effective_diameter(outside: float, core: float | None) -> float:
    """Return the diameter that a screw is reckoned with (mm): 1.1 times its core."""
    return 1.1 * (outside * CORE_SHARE if core is None else core)


def embedment_n_mm2(kind: BoardKind, diameter: float, thickness: float, density_kg_m3: float) -> float | None:
    """Return how hard a board's face bears a fastener at the side, or None where no formula covers its kind."""
    if kind in _CHIPBOARD:
        return 65 * math.pow(diameter, -0.7) * math.pow(thickness, 0.1)
    if kind is BoardKind.HARDBOARD:
        return 30 * math.pow(diameter, -0.3) * math.pow(thickness, 0.6)
    if kind in {BoardKind.PLYWOOD, BoardKind.BLOCKBOARD}:
        return 0.11 * CHARACTERISTIC * density_kg_m3 * math.pow(diameter, -0.3)
    if kind is BoardKind.SOLID:
        return 0.082 * CHARACTERISTIC * density_kg_m3 * math.pow(diameter, -0.3)
    return None


def screw_shear_n(embedment: float, diameter: float, bite: float) -> float:
    """Return what one screw under a thin plate holds across itself (N, characteristic): board or screw yields first."""
    moment = 0.3 * SCREW_STEEL_N_MM2 * diameter**2.6
    return min(0.4 * embedment * bite * diameter, 1.15 * math.sqrt(2 * moment * embedment * diameter))


def usable_n(kind: BoardKind, characteristic_n: float) -> float | None:
    """Return the load that one screw may carry for good (N): by the board's k_mod and gamma_M, and 1.5 on the load."""
    share = _DESIGN.get(kind)
    return None if share is None else characteristic_n * share / ON_LOADS


def shear_words(kind: BoardKind) -> str:
    """Return where the figure comes from, for printing."""
    borrowed = _BORROWED.get(kind)
    return "EN 1995-1-1, 8.2.3, from memory" + (f"; {borrowed}" if borrowed else "")
