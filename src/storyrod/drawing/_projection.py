"""A case seen from the front, right and above: parallel projection, and which box stands before which.

Order by painter's algorithm on a graph of axis-aligned boxes: of two boxes whose pictures overlap, one lies wholly
before the other along an axis, which settles it for every ray; boxes let into each other (a housing) are ordered by the
axis along which they overlap least. A ring of boxes, each before the next, is broken by cutting one of them.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from storyrod.drawing._types import Place
from storyrod.measure.space import AXES, Axis, Box, Point

_TOUCH = 1e-6
_NEARER_WHEN_HIGHER = {Axis.X: True, Axis.Y: False, Axis.Z: True}


@dataclass(frozen=True, slots=True)
class View:
    """The direction of looking: turned `turn_deg` to see the right side, tilted `tilt_deg` to see the top."""

    turn_deg: float = 28.0
    tilt_deg: float = 22.0
    _parts: tuple[float, float, float, float] = field(init=False, repr=False, default=(1.0, 0.0, 1.0, 0.0))

    def __post_init__(self) -> None:
        turn, tilt = math.radians(self.turn_deg), math.radians(self.tilt_deg)
        object.__setattr__(self, "_parts", (math.cos(turn), math.sin(turn), math.cos(tilt), math.sin(tilt)))

    def on(self, p: Point) -> Place:
        """Return where a place in the case lies in the picture (mm of the picture plane)."""
        return self.seen(p.x, p.y, p.z)

    def seen(self, x: float, y: float, z: float) -> Place:
        """Return where a place in the case lies in the picture, by its coordinates."""
        ca, sa, ce, se = self._parts
        return x * ca + y * sa, z * ce + (y * ca - x * sa) * se

    def spans(self, box: Box) -> tuple[tuple[float, float], ...]:
        """Return the box's extent across each of the three directions of its picture's edges.

        The picture of a box is a hexagon with edges in these directions: two pictures overlap exactly where all three
        extents do.
        """
        lo, hi = box.low, box.high
        corners = [self.seen(x, y, z) for x in (lo.x, hi.x) for y in (lo.y, hi.y) for z in (lo.z, hi.z)]
        out = []
        for ex, ey in (self.seen(1.0, 0.0, 0.0), self.seen(0.0, 1.0, 0.0), self.seen(0.0, 0.0, 1.0)):
            across = [x * ey - y * ex for x, y in corners]
            out.append((min(across), max(across)))
        return tuple(out)


def corners_of(box: Box) -> tuple[Point, ...]:
    """Return the eight corners of a box."""
    lo, hi = box.low, box.high
    return tuple(Point(x, y, z) for x in (lo.x, hi.x) for y in (lo.y, hi.y) for z in (lo.z, hi.z))


@dataclass(frozen=True, slots=True)
class Piece:
    """A box to be painted for the thing numbered `thing`; `seams` are faces made by cutting, not to be outlined."""

    thing: int
    box: Box
    seams: frozenset[tuple[Axis, bool]] = frozenset()


def painted(boxes: Sequence[Box], view: View) -> tuple[Piece, ...]:
    """Return the boxes, cut where they must be, from the farthest to the nearest."""
    pieces = [Piece(n, box) for n, box in enumerate(boxes)]
    for _ in range(4 * len(boxes) + 4):
        before, stuck = _ordered(pieces, view)
        if not stuck:
            return tuple(pieces[n] for n in before)
        cut = _cut(pieces, stuck)
        if cut is None:
            break
        pieces = cut
    return tuple(sorted(pieces, key=lambda p: _nearness(p.box)))


def _ordered(pieces: Sequence[Piece], view: View) -> tuple[list[int], list[int]]:
    """Return the order from far to near, and the pieces left in rings."""
    spans = [view.spans(p.box) for p in pieces]
    nearer: list[list[int]] = [[] for _ in pieces]
    waits = [0] * len(pieces)
    for a in range(len(pieces)):
        for b in range(a + 1, len(pieces)):
            if _overlap(spans[a], spans[b]):
                far, near = (a, b) if _is_behind(pieces[a].box, pieces[b].box) else (b, a)
                nearer[far].append(near)
                waits[near] += 1
    ready = [(_nearness(pieces[n].box), n) for n, w in enumerate(waits) if not w]
    heapq.heapify(ready)
    order: list[int] = []
    while ready:
        _, n = heapq.heappop(ready)
        order.append(n)
        for m in nearer[n]:
            waits[m] -= 1
            if not waits[m]:
                heapq.heappush(ready, (_nearness(pieces[m].box), m))
    done = set(order)
    return order, [n for n in range(len(pieces)) if n not in done]


def _overlap(a: tuple[tuple[float, float], ...], b: tuple[tuple[float, float], ...]) -> bool:
    return all(lo1 < hi2 - _TOUCH and lo2 < hi1 - _TOUCH for (lo1, hi1), (lo2, hi2) in zip(a, b, strict=True))


def _is_behind(a: Box, b: Box) -> bool:
    """Whether `a` is painted before `b`: by the axis along which they stand farthest apart, or overlap least."""
    best, behind = -math.inf, True
    for axis in AXES:
        (alo, ahi), (blo, bhi) = a.span(axis), b.span(axis)
        up, down = blo - ahi, alo - bhi  # `a` below `b`, `a` above `b`
        higher_is_nearer = _NEARER_WHEN_HIGHER[axis]
        if up > best:
            best, behind = up, higher_is_nearer
        if down > best:
            best, behind = down, not higher_is_nearer
    return behind


def _nearness(box: Box) -> float:
    c = box.centre
    return c.x - c.y + c.z


def _cut(pieces: list[Piece], stuck: list[int]) -> list[Piece] | None:
    """Cut the largest piece of a ring at a face of another; None where no face runs through any of them."""
    for n in sorted(stuck, key=lambda n: -pieces[n].box.volume):
        piece = pieces[n]
        for m in stuck:
            for axis in AXES:
                low, high = piece.box.span(axis)
                for at in pieces[m].box.span(axis):
                    if m != n and low + 1e-3 < at < high - 1e-3:
                        first = replace(
                            piece, box=piece.box.with_span(axis, low, at), seams=piece.seams | {(axis, True)}
                        )
                        second = replace(
                            piece, box=piece.box.with_span(axis, at, high), seams=piece.seams | {(axis, False)}
                        )
                        return [*pieces[:n], first, second, *pieces[n + 1 :]]
    return None
