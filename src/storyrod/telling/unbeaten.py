"""The variants of a study that nothing beats: none is cheaper, quicker and with less waste at once."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from storyrod.model.study import Column, Row

MEASURES: Final = {"price": 1, "minutes": 1, "yield": -1}
"""The columns that are weighed against each other; 1 where less is better, -1 where more is."""


def measures_in(columns: Sequence[Column]) -> tuple[str, ...]:
    """Return which of the measures a study asks for; there is something to weigh from two on."""
    return tuple(c.name for c in columns if c.name in MEASURES)


def unbeaten(columns: Sequence[Column], rows: Iterable[Row]) -> tuple[Row, ...]:
    """Return the rows that no other beats, by their numbers.

    A row beats another where it is no worse in any measure and better in one. Rows with a fault, or that do not keep a
    condition, are left out; of rows that are equal in all measures the first is kept.
    """
    at = [(n, MEASURES[c.name]) for n, c in enumerate(columns) if c.name in MEASURES]
    front: dict[tuple[float, ...], Row] = {}
    for row in rows:
        if row.rank is None:
            continue
        figures = [row.cells[n] for n, _ in at]
        known = [float(f) * way for f, (_, way) in zip(figures, at, strict=True) if isinstance(f, int | float)]
        place = tuple(known)
        if len(place) < len(at) or any(_no_worse(held, place) for held in front):
            continue
        front = {held: r for held, r in front.items() if not _no_worse(place, held)}
        front[place] = row
    return tuple(sorted(front.values(), key=lambda r: r.number))


def _no_worse(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    return all(a <= b for a, b in zip(one, other, strict=True))
