"""How much more a board sags in the long run.

`u_fin = u_inst (1 + k_def)` for what always lies on it, `u_inst (1 + psi k_def)` for what comes and goes: EN 1995-1-1,
2.2.3, from memory. Factors of table 3.2: solid timber as three open-source programs have it, the rest from memory.
Furniture boards (chipboard P2, plain MDF) have no factor of their own: those of P4 and MDF.LA are borrowed.
"""

from __future__ import annotations

from typing import Final

from storyrod.faults import Fault, JobError
from storyrod.model.job import BoardKind, Climate

LASTING: Final = 1.0
STORED_GOODS: Final = 0.8
"""psi 2 of stored goods: EN 1990, from memory."""

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
    BoardKind.OTHER: "the factor of chipboard P4 is borrowed, for want of the board's own",
}


def creep_factor(kind: BoardKind, climate: Climate) -> float | None:
    """Return k_def, or None where none is given for this board in this climate."""
    return _FACTORS[kind].get(climate)


def creep_words(kind: BoardKind) -> str:
    """Return where the factor comes from, for printing."""
    return f"EN 1995-1-1, table 3.2: {_BORROWED.get(kind, 'its own factor')}"


def in_the_long_run(at_once: float, kind: BoardKind, climate: Climate, share: float = LASTING) -> float:
    """Return the sag in the long run, of which `share` lies there for good.

    Raises:
        JobError: no factor is given for such a board in such a climate.
    """
    factor = creep_factor(kind, climate)
    if factor is None:
        raise JobError(
            Fault(
                code="climate",
                field="use.climate",
                found=f'"{climate.value}" with a board of kind "{kind.value}"',
                allowed=", ".join(f'"{c.value}"' for c in _FACTORS[kind]),
                do="Use another board there: no creep factor is given for this one, because it is not for damp places.",
            )
        )
    return at_once * (1 + share * factor)
