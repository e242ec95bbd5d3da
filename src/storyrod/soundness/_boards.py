"""How stiff and strong a panel's board is in the direction in which it bends, and where that figure comes from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from storyrod.model.job import Board, BoardKind, Edging
from storyrod.model.panel import Grain, Panel
from storyrod.trade.boards import PLYWOOD_ACROSS, least_strength_n_mm2
from storyrod.trade.woods import SPECIES, UNNAMED_WOOD_N_MM2, speaks_of

ASK: Final = "not known: give it"
GIVEN: Final = "given for this board"


@dataclass(frozen=True, slots=True)
class Stiffness:
    """Bending modulus along and across the panel's length (N/mm2), or None where it is not known; and where from."""

    along: float | None
    across: float | None
    source: str


def stiffness_of(panel: Panel, board: Board) -> Stiffness:
    """Return how stiff a panel is along its length and across it, by the way its grain lies."""
    with_grain, against = board.stiffness_n_mm2, board.stiffness_across_n_mm2
    if with_grain is None:
        named = wood_named(board.name)
        if board.kind is not BoardKind.SOLID or named is None:
            return Stiffness(None, None, ASK)
        # Solid wood across the grain is a twentieth as stiff as along it, about: it must not be relied on.
        return _laid(panel.grain, named[1], named[1] / 20, f"mean of {named[0]}, Wood Handbook")
    given = "stiffness_n_mm2" not in board.named_figures
    if not board.grain and (against is None or (given and "stiffness_across_n_mm2" in board.named_figures)):
        # A board without grain is as stiff both ways: the maker's figure serves for both.
        return _laid(panel.grain, with_grain, with_grain, GIVEN if given else _source(panel.grain, board))
    return _laid(panel.grain, with_grain, against, _source(panel.grain, board))


def _laid(grain: Grain, with_grain: float, against: float | None, source: str) -> Stiffness:
    if grain is Grain.ACROSS:
        return Stiffness(against, with_grain, source)
    if grain is Grain.FREE and against is not None:
        least = min(with_grain, against)
        return Stiffness(least, least, source)
    return Stiffness(with_grain, against, source)


def _source(grain: Grain, board: Board) -> str:
    named = "stiffness_n_mm2" in board.named_figures
    across = "stiffness_across_n_mm2" in board.named_figures
    if (across if grain is Grain.ACROSS else named) or (grain is Grain.FREE and (named or across)):
        return f"usual figure for {board.kind.value}, not this board's own"
    return GIVEN


def strength_of(panel: Panel, board: Board) -> float | None:
    """Return the least bending strength of boards of its kind (N/mm2), a species' mean, or None where none is known."""
    if board.kind is BoardKind.SOLID:
        named = wood_named(board.name) if panel.grain is not Grain.ACROSS else None
        return named[2] if named else None
    least = least_strength_n_mm2(board.kind, board.thickness)
    across = board.kind is BoardKind.PLYWOOD and panel.grain is Grain.ACROSS
    return least * PLYWOOD_ACROSS if least is not None and across else least


def wood_named(words: str) -> tuple[str, float, float] | None:
    """Return name, bending modulus and strength of the species that a name speaks of, the softest that fits."""
    fits = [
        (sum(speaks_of(words, p) for p in s.name.split(",")[1:]), -s.stiffness_n_mm2, s)
        for s in SPECIES
        if speaks_of(words, s.name.split(",")[0])
    ]
    if not fits:
        return None
    best = max(fits, key=lambda f: f[:2])[2]
    return best.name, best.stiffness_n_mm2, best.strength_n_mm2


def lipping_stiffness(edging: Edging) -> float:
    """Return the bending modulus of a solid lipping: of the species its name speaks of, else the least of the list."""
    named = wood_named(edging.name)
    return named[1] if named else UNNAMED_WOOD_N_MM2
