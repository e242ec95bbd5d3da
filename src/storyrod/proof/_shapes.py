"""Convex pieces of wood taken away, and the exact distance between two of them.

A piece knows its bounds and, for any direction, the point of it that lies farthest that way (its support).
Two upright prisms with one axis have a distance in closed form. Any other two convex pieces have it by the
method of Gilbert, Johnson and Keerthi (1988), which closes in from both sides: it gives a distance that is
reached and one that is surely kept, and stops when the two are the same to 1e-7 mm, or no nearer corner is left.
What is given is the distance surely kept; on curved pieces float sums leave it up to 1e-5 mm short.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import combinations
from typing import Final

Vec = tuple[float, float, float]
Pair = tuple[float, float]

CLOSE: Final = 1e-7
"""The reached and the kept distance agree to this (mm)."""

ROUNDS: Final = 400
"""Curved pieces that nearly touch need some dozens; beyond this the kept distance is used as it is."""


@dataclass(frozen=True, slots=True)
class Bounds:
    """The upright box round a piece, in the panel's frame (u, v, w)."""

    low: Vec
    high: Vec

    def gap(self, other: Bounds) -> float:
        """Return the distance between the two boxes, never more than that of what they hold."""
        square = 0.0
        for i in (0, 1, 2):
            apart = max(self.low[i] - other.high[i], other.low[i] - self.high[i], 0.0)
            square += apart * apart
        return math.sqrt(square)


@dataclass(frozen=True, slots=True)
class Prism:
    """A round-cornered rectangle swept along an axis: a round hole, a slot, a groove.

    `core_low`..`core_high` is the rectangle in the two other axes (in their order), widened by `radius` all
    round; a round hole's core is a point, a slot's a line.
    """

    axis: int
    low: float
    high: float
    core_low: Pair
    core_high: Pair
    radius: float

    @property
    def bounds(self) -> Bounds:
        """The box round it."""
        r = self.radius
        low = _lift(self.axis, self.low, (self.core_low[0] - r, self.core_low[1] - r))
        high = _lift(self.axis, self.high, (self.core_high[0] + r, self.core_high[1] + r))
        return Bounds(low, high)

    def support(self, way: Vec) -> Vec:
        """Return the point farthest along `way`."""
        x, y = _others(self.axis, way)
        norm = math.hypot(x, y)
        r = self.radius / norm if norm > 0 else 0.0
        corner = (
            (self.core_high[0] if x > 0 else self.core_low[0]) + r * x,
            (self.core_high[1] if y > 0 else self.core_low[1]) + r * y,
        )
        return _lift(self.axis, self.high if way[self.axis] > 0 else self.low, corner)


@dataclass(frozen=True, slots=True)
class Cone:
    """A round hole that narrows: a countersink, a drill's point. Radius `radius_low` at `low`."""

    axis: int
    low: float
    high: float
    centre: Pair
    radius_low: float
    radius_high: float

    @property
    def bounds(self) -> Bounds:
        """The box round it."""
        r = max(self.radius_low, self.radius_high)
        low = _lift(self.axis, self.low, (self.centre[0] - r, self.centre[1] - r))
        high = _lift(self.axis, self.high, (self.centre[0] + r, self.centre[1] + r))
        return Bounds(low, high)

    def support(self, way: Vec) -> Vec:
        """Return the point farthest along `way`."""
        x, y = _others(self.axis, way)
        norm = math.hypot(x, y)
        best, where = -math.inf, (0.0, 0.0, 0.0)
        for at, radius in ((self.low, self.radius_low), (self.high, self.radius_high)):
            r = radius / norm if norm > 0 else 0.0
            point = _lift(self.axis, at, (self.centre[0] + r * x, self.centre[1] + r * y))
            reach = _dot(point, way)
            if reach > best:
                best, where = reach, point
        return where


@dataclass(frozen=True, slots=True)
class Segment:
    """What a disc cutter takes in one plunge: a segment of a circle along `run`, `width` thick along `cross`.

    The chord lies at `chord_at` along `axis`; the wood goes away from there in the sense of `inward`.
    """

    axis: int
    run: int
    cross: int
    chord_at: float
    inward: int
    middle: float
    across: float
    width: float
    radius: float
    depth: float

    @property
    def half_chord(self) -> float:
        """Half the length on the surface (chord theorem)."""
        return math.sqrt(max(0.0, self.depth * (2 * self.radius - self.depth)))

    @property
    def bounds(self) -> Bounds:
        """The box round it."""
        reach = self.half_chord if self.depth <= self.radius else self.radius
        ends = sorted((self.chord_at, self.chord_at + self.inward * self.depth))
        return Bounds(
            self._point(ends[0], self.middle - reach, self.across - self.width / 2),
            self._point(ends[1], self.middle + reach, self.across + self.width / 2),
        )

    def support(self, way: Vec) -> Vec:
        """Return the point farthest along `way`."""
        across = self.across + (self.width / 2 if way[self.cross] > 0 else -self.width / 2)
        down, along = way[self.axis] * self.inward, way[self.run]
        norm = math.hypot(down, along)
        centre_down = self.depth - self.radius
        if norm > 0:
            deep = centre_down + self.radius * down / norm
            if deep > 0:
                end = self.middle + self.radius * along / norm
                return self._point(self.chord_at + self.inward * deep, end, across)
        end = self.middle + (self.half_chord if along > 0 else -self.half_chord)
        return self._point(self.chord_at, end, across)

    def _point(self, axis: float, run: float, cross: float) -> Vec:
        point = [0.0, 0.0, 0.0]
        point[self.axis], point[self.run], point[self.cross] = axis, run, cross
        return (point[0], point[1], point[2])


@dataclass(frozen=True, slots=True)
class SlopedBore:
    """A flat-ended round bore on a slope, from `start` to `end`."""

    start: Vec
    end: Vec
    radius: float

    @property
    def bounds(self) -> Bounds:
        """The box round it."""
        low = tuple(self.support(_minus(w))[i] for i, w in enumerate(_UNITS))
        high = tuple(self.support(w)[i] for i, w in enumerate(_UNITS))
        return Bounds((low[0], low[1], low[2]), (high[0], high[1], high[2]))

    def support(self, way: Vec) -> Vec:
        """Return the point farthest along `way`."""
        axis = _less(self.end, self.start)
        length = math.sqrt(_dot(axis, axis))
        share = _dot(way, axis) / (length * length)
        flat = (way[0] - share * axis[0], way[1] - share * axis[1], way[2] - share * axis[2])
        norm = math.sqrt(_dot(flat, flat))
        r = self.radius / norm if norm > 1e-12 else 0.0
        end = self.end if share > 0 else self.start
        return (end[0] + r * flat[0], end[1] + r * flat[1], end[2] + r * flat[2])


Piece = Prism | Cone | Segment | SlopedBore

_UNITS: Final[tuple[Vec, ...]] = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))


def gap_between(one: Piece, other: Piece) -> float:
    """Return the distance between two pieces in mm, 0 where they touch or share wood.

    Exact in closed form for prisms of one axis; else a distance surely kept, within 1e-5 of the true one.
    """
    if isinstance(one, Prism) and isinstance(other, Prism) and one.axis == other.axis:
        return _gap_of_prisms(one, other)
    return _gap_of_convex(one, other)


def _gap_of_prisms(one: Prism, other: Prism) -> float:
    sides = (max(one.core_low[i] - other.core_high[i], other.core_low[i] - one.core_high[i], 0.0) for i in (0, 1))
    flat = max(0.0, math.hypot(*sides) - one.radius - other.radius)
    return math.hypot(flat, max(one.low - other.high, other.low - one.high, 0.0))


def _gap_of_convex(one: Piece, other: Piece) -> float:
    simplex: list[Vec] = [_between(one, other, (1.0, 0.0, 0.0))]
    near = simplex[0]
    kept = 0.0
    for _ in range(ROUNDS):
        reached = math.sqrt(_dot(near, near))
        if reached <= CLOSE:
            return 0.0
        farthest = _between(one, other, _minus(near))
        kept = max(kept, _dot(near, farthest) / reached)
        if reached - kept <= CLOSE or farthest in simplex:
            return kept
        near, simplex = _nearest([*simplex, farthest])
    return kept


def _between(one: Piece, other: Piece, way: Vec) -> Vec:
    """Return the point of `one` less `other` that lies farthest along `way`."""
    return _less(one.support(way), other.support(_minus(way)))


def _nearest(points: list[Vec]) -> tuple[Vec, list[Vec]]:
    """Return the point nearest to the origin in the hull of up to four points, and the corners it rests on."""
    best = math.inf
    found: tuple[Vec, list[Vec]] = (points[-1], [points[-1]])
    for count in range(1, len(points) + 1):
        for corners in combinations(points, count):
            weights = _weights(corners)
            if weights is None:
                continue
            at = tuple(sum(k * c[i] for k, c in zip(weights, corners, strict=True)) for i in (0, 1, 2))
            near: Vec = (at[0], at[1], at[2])
            square = _dot(near, near)
            if square < best:
                best, found = square, (near, list(corners))
    return found


def _weights(corners: tuple[Vec, ...]) -> tuple[float, ...] | None:
    """Return the shares of the corners that make the point of their plane nearest to the origin.

    None where that point lies outside them or they do not span a plane.
    """
    base = corners[0]
    sides = [_less(c, base) for c in corners[1:]]
    if not sides:
        return (1.0,)
    solved = _solve([[_dot(a, b) for b in sides] for a in sides], [-_dot(a, base) for a in sides])
    if solved is None:
        return None
    weights = (1.0 - sum(solved), *solved)
    return weights if all(w >= 0.0 for w in weights) else None


def _solve(rows: list[list[float]], right: list[float]) -> list[float] | None:
    """Return the solution of up to three linear equations (elimination with pivots), or None."""
    n = len(right)
    table = [[*row, r] for row, r in zip(rows, right, strict=True)]
    scale = max(abs(x) for row in rows for x in row)
    for i in range(n):
        pivot = max(range(i, n), key=lambda k: abs(table[k][i]))
        if abs(table[pivot][i]) <= 1e-14 * scale:
            return None
        table[i], table[pivot] = table[pivot], table[i]
        for k in range(i + 1, n):
            share = table[k][i] / table[i][i]
            table[k] = [a - share * b for a, b in zip(table[k], table[i], strict=True)]
    answer = [0.0] * n
    for i in reversed(range(n)):
        rest = sum(table[i][k] * answer[k] for k in range(i + 1, n))
        answer[i] = (table[i][n] - rest) / table[i][i]
    return answer


def _others(axis: int, point: Vec) -> Pair:
    if axis == 0:
        return point[1], point[2]
    return (point[0], point[2]) if axis == 1 else (point[0], point[1])


def _lift(axis: int, at: float, rest: Pair) -> Vec:
    if axis == 0:
        return at, rest[0], rest[1]
    return (rest[0], at, rest[1]) if axis == 1 else (rest[0], rest[1], at)


def _dot(a: Vec, b: Vec) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _less(a: Vec, b: Vec) -> Vec:
    return a[0] - b[0], a[1] - b[1], a[2] - b[2]


def _minus(a: Vec) -> Vec:
    return -a[0], -a[1], -a[2]
