"""Frames of four panels and their diagonals: when to check a carcass or drawer for square, and with what figures."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from storyrod.assembly._bits import bits
from storyrod.assembly._body import Body
from storyrod.model.assembly import Diagonals
from storyrod.trade.square import diagonal_difference

ALLOWED_FOR_DRAWERS: Final = 1.0
ALLOWED_FOR_SHELVES: Final = 2.0
"""Greatest difference of the diagonals, in mm: common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ring:
    """Two pairs of panels joined into a frame; `axes` are the two directions in which the pairs face each other."""

    panels: int
    axes: tuple[int, int]


def find_rings(body: Body) -> tuple[Ring, ...]:
    """Return the outermost frame in each plane that has one."""
    thin = [_thin(body, i) for i in range(len(body.panels))]
    joined = [0] * len(body.panels)
    for tie in body.ties:
        joined[tie.entering] |= 1 << tie.receiving
        joined[tie.receiving] |= 1 << tie.entering
    found = []
    for a, b in ((0, 2), (0, 1), (1, 2)):
        ring = _outermost(body, thin, joined, a, b)
        if ring is not None:
            found.append(ring)
    return tuple(found)


def _outermost(body: Body, thin: list[int], joined: list[int], a: int, b: int) -> Ring | None:
    best, size = None, 0.0
    across = [i for i, axis in enumerate(thin) if axis == a]
    along = [i for i, axis in enumerate(thin) if axis == b]
    for i, one in enumerate(across):
        for other in across[:i]:
            both = [p for p in along if joined[p] >> one & 1 and joined[p] >> other & 1]
            if len(both) < 2:
                continue
            low = min(both, key=lambda p: body.blocks[p][b])
            high = max(both, key=lambda p: body.blocks[p][b])
            ring = Ring(panels=sum(1 << p for p in (one, other, low, high)), axes=(a, b))
            span = _extent(body, ring.panels, a) * _extent(body, ring.panels, b)
            if low != high and span > size:
                best, size = ring, span
    return best


def diagonals_of(body: Body, ring: Ring, allowed: float) -> Diagonals:
    """Return what to measure on a ring, over its outer corners."""
    width, height = (_extent(body, ring.panels, axis) for axis in ring.axes)
    return Diagonals(
        across=width,
        along=height,
        length=math.hypot(width, height),
        per_mm=diagonal_difference(width, height, 1.0),
        allowed=allowed,
        panels=body.ids(ring.panels),
    )


def _extent(body: Body, group: int, axis: int) -> float:
    blocks = [body.blocks[i] for i in bits(group)]
    return max(block[axis + 3] for block in blocks) - min(block[axis] for block in blocks)


def _thin(body: Body, panel: int) -> int:
    block = body.blocks[panel]
    return min(range(3), key=lambda axis: block[axis + 3] - block[axis])
