"""How much more a board sags in the long run.

`u_fin = u_inst (1 + k_def)` for what always lies on it, `u_inst (1 + psi k_def)` for what comes and goes: EN 1995-1-1,
2.2.3, from memory. Factors of table 3.2: solid timber as three open-source programs have it, the rest from memory.
Furniture boards (chipboard P2, plain MDF) have no factor of their own: those of P4 and MDF.LA are borrowed.
"""

from __future__ import annotations

from typing import Final

from storyrod.model.job import BoardKind, Climate

_BOARD: Final = {Climate.DRY: 2.25}
_FACTORS: Final[dict[BoardKind, dict[Climate, float]]] = {
    BoardKind.SOLID: {Climate.DRY: 0.6, Climate.HUMID: 0.8, Climate.WET: 2.0},
    BoardKind.PLYWOOD: {Climate.DRY: 0.8, Climate.HUMID: 1.0, Climate.WET: 2.5},
    BoardKind.BLOCKBOARD: {Climate.DRY: 0.8, Climate.HUMID: 1.0},
    BoardKind.CHIPBOARD: _BOARD,
    BoardKind.FACED_CHIPBOARD: _BOARD,
    BoardKind.MDF: _BOARD,
    BoardKind.HARDBOARD: _BOARD,
    BoardKind.OTHER: _BOARD,
}

_BORROWED: Final = {
    BoardKind.CHIPBOARD: "the factor of chipboard P4 is borrowed",
    BoardKind.FACED_CHIPBOARD: "the factor of chipboard P4 is borrowed",
    BoardKind.MDF: "the factor of MDF.LA is borrowed",
    BoardKind.HARDBOARD: "the factor of hardboard HB.LA",
    BoardKind.BLOCKBOARD: "the factor of plywood is borrowed",
    BoardKind.OTHER: "the factor of chipboard P4 is borrowed, as the board has none of its own",
}


def creep_factor(kind: BoardKind, climate: Climate) -> float | None:
    """Return k_def, or None where none is given for this board in this climate."""
    return _FACTORS[kind].get(climate)


def creep_words(kind: BoardKind) -> str:
    """Return where the factor comes from, for printing."""
    return f"EN 1995-1-1, table 3.2: {_BORROWED.get(kind, 'its own factor')}"


def long_run(kind: BoardKind, climate: Climate, lasting: float) -> float | None:
    """Return sag in the long run over sag at once, `1 + share k_def`, where `lasting` is the share that lies for good.

    None where no factor is given for such a board in such a climate: it is not for damp places.
    """
    factor = creep_factor(kind, climate)
    return None if factor is None else 1 + lasting * factor
