"""Tints of the boards: one for each board of a job, by its kind and its place among the boards of that kind."""

from __future__ import annotations

from typing import Final

from storyrod.model.job import BoardKind, Job

Tint = tuple[float, float, float]

_TINTS: Final[dict[BoardKind, Tint]] = {
    BoardKind.CHIPBOARD: (0.62, 0.50, 0.34),
    BoardKind.FACED_CHIPBOARD: (0.80, 0.78, 0.72),
    BoardKind.MDF: (0.55, 0.42, 0.28),
    BoardKind.PLYWOOD: (0.78, 0.63, 0.42),
    BoardKind.BLOCKBOARD: (0.72, 0.58, 0.40),
    BoardKind.HARDBOARD: (0.38, 0.26, 0.17),
    BoardKind.SOLID: (0.60, 0.40, 0.22),
    BoardKind.OTHER: (0.60, 0.62, 0.64),
}


def board_tints(job: Job) -> dict[str, Tint]:
    """Return a tint (linear red, green, blue) for each board; boards of one kind get darker one after another."""
    seen: dict[BoardKind, int] = {}
    tints: dict[str, Tint] = {}
    for board in job.boards:
        nth = seen.get(board.kind, 0)
        seen[board.kind] = nth + 1
        r, g, b = _TINTS[board.kind]
        share = 0.82**nth
        tints[board.code] = (round(r * share, 4), round(g * share, 4), round(b * share, 4))
    return tints
