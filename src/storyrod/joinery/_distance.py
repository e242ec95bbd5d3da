"""How far two cuts are apart: exact for the solids that they take away, not only for the boxes round them.

Each solid is convex and knows the point of it that is nearest to a given one. Going to and fro between two solids
closes in on their distance from above (W. Cheney and A. Goldstein, Proximity maps for convex sets, Proceedings of the
American Mathematical Society 10, 1959).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Final

from storyrod.joinery._slab import PANEL_AXIS, Vec
from storyrod.measure.space import PanelAxis, PanelPoint
from storyrod.model.removal import Bar, Capsule, Cone, Cylinder, Primitive, Segment, Slant

ROUNDS: Final = 200
STILL: Final = 1e-9
"""Two steps that gain less than this have arrived (mm)."""

Nearest = Callable[[Vec], Vec]


class Solid:
    """A convex solid: the box round it, its middle, and the point of it nearest to any other."""

    __slots__ = ("bounds", "middle", "nearest")

    def __init__(self, primitive: Primitive) -> None:
        self.nearest = nearest_in(primitive)
        self.bounds = primitive.bounds
        low, high = self.bounds.low, self.bounds.high
        self.middle: Vec = ((low.u + high.u) / 2, (low.v + high.v) / 2, (low.w + high.w) / 2)


def are_closer(one: Sequence[Solid], other: Sequence[Solid], room: float) -> bool:
    """Return whether any solid of one cut comes closer than `room` mm to any of the other."""
    many = len(one) + len(other) > 2
    return any(_gap(a, b, room) < room - 1e-6 for a in one for b in other if not many or a.bounds.meets(b.bounds, room))


def gap_between(one: Primitive, other: Primitive) -> float:
    """Return the distance between two solids in mm, 0 where they meet."""
    return _gap(Solid(one), Solid(other), 0.0)


def _gap(one: Solid, other: Solid, enough: float) -> float:
    """Return the distance, or any figure below `enough` as soon as it is known to be less than that."""
    here, to_one, to_other = one.middle, one.nearest, other.nearest
    known = math.inf
    for _ in range(ROUNDS):
        there = to_other(here)
        here = to_one(there)
        gap = math.dist(here, there)
        if gap < enough - 1e-6 or known - gap < STILL:
            return gap
        known = gap
    return known


def nearest_in(solid: Primitive) -> Nearest:
    """Return the function that finds the point of a solid nearest to a given point."""
    match solid:
        case Bar():
            return _in_bar(_numbers(solid.low), _numbers(solid.high))
        case Cylinder():
            return _in_capsule(solid.axis, solid.low, solid.high, (solid.centre, solid.centre), solid.radius)
        case Capsule():
            return _in_capsule(solid.axis, solid.low, solid.high, (solid.start, solid.end), solid.radius)
        case Cone():
            return _in_cone(solid)
        case Segment():
            return _in_segment(solid)
        case Slant():
            return _in_slant(solid)


def _numbers(at: PanelPoint) -> Vec:
    return at.u, at.v, at.w


def _others(axis: PanelAxis) -> tuple[int, int, int]:
    i = PANEL_AXIS.index(axis)
    return i, (i + 1) % 3, (i + 2) % 3


def _within(value: float, low: float, high: float) -> float:
    return low if value < low else min(value, high)


def _in_bar(low: Vec, high: Vec) -> Nearest:
    def nearest(p: Vec) -> Vec:
        return _within(p[0], low[0], high[0]), _within(p[1], low[1], high[1]), _within(p[2], low[2], high[2])

    return nearest


def _in_capsule(
    axis: PanelAxis, low: float, high: float, ends: tuple[PanelPoint, PanelPoint], radius: float
) -> Nearest:
    i, j, k = _others(axis)
    a, b = _numbers(ends[0]), _numbers(ends[1])
    run = (b[j] - a[j], b[k] - a[k])
    square = run[0] ** 2 + run[1] ** 2

    def nearest(p: Vec) -> Vec:
        share = _within(((p[j] - a[j]) * run[0] + (p[k] - a[k]) * run[1]) / square, 0.0, 1.0) if square else 0.0
        on = (a[j] + share * run[0], a[k] + share * run[1])
        found = [0.0, 0.0, 0.0]
        found[i] = _within(p[i], low, high)
        found[j], found[k] = _toward(on, (p[j], p[k]), radius)
        return found[0], found[1], found[2]

    return nearest


def _toward(centre: tuple[float, float], p: tuple[float, float], radius: float) -> tuple[float, float]:
    """Return the point of a disc nearest to `p`."""
    away = math.dist(centre, p)
    if away <= radius:
        return p
    share = radius / away
    return centre[0] + (p[0] - centre[0]) * share, centre[1] + (p[1] - centre[1]) * share


def _in_cone(solid: Cone) -> Nearest:
    i, j, k = _others(solid.axis)
    c = _numbers(solid.centre)

    def nearest(p: Vec) -> Vec:
        away = math.hypot(p[j] - c[j], p[k] - c[k])
        radial, deep = _in_trapezium(away, solid.sign * (p[i] - c[i]), solid)
        share = radial / away if away > 0 else 0.0
        found = [0.0, 0.0, 0.0]
        found[i] = c[i] + solid.sign * deep
        found[j], found[k] = c[j] + (p[j] - c[j]) * share, c[k] + (p[k] - c[k]) * share
        return found[0], found[1], found[2]

    return nearest


def _in_trapezium(radial: float, deep: float, solid: Cone) -> tuple[float, float]:
    """Return the nearest point of the cone's half section: radius `wide` at depth 0, `narrow` at `depth`."""
    level = _within(deep, 0.0, solid.depth)
    limit = solid.wide + (solid.narrow - solid.wide) * (level / solid.depth if solid.depth else 0.0)
    if level == deep and radial <= limit:
        return radial, deep
    flats = [(_within(radial, 0.0, solid.wide), 0.0), (_within(radial, 0.0, solid.narrow), solid.depth)]
    dr, dd = solid.narrow - solid.wide, solid.depth
    square = dr * dr + dd * dd
    share = _within(((radial - solid.wide) * dr + deep * dd) / square, 0.0, 1.0) if square else 0.0
    flats.append((solid.wide + share * dr, share * dd))
    return min(flats, key=lambda q: math.dist(q, (radial, deep)))


def _in_segment(solid: Segment) -> Nearest:
    i = PANEL_AXIS.index(solid.axis)
    inward = PANEL_AXIS.index(solid.inward)
    run = 3 - i - inward
    c = _numbers(solid.centre)
    half = math.sqrt(max(0.0, 2 * solid.radius * solid.depth - solid.depth**2))

    def nearest(p: Vec) -> Vec:
        on_disc = _toward((c[run], c[inward]), (p[run], p[inward]), solid.radius)
        if solid.sign * (on_disc[1] - solid.surface_at) < 0:
            on_disc = (_within(p[run], c[run] - half, c[run] + half), solid.surface_at)
        found = [0.0, 0.0, 0.0]
        found[i] = _within(p[i], solid.low, solid.high)
        found[run], found[inward] = on_disc
        return found[0], found[1], found[2]

    return nearest


def _in_slant(solid: Slant) -> Nearest:
    a, b = _numbers(solid.start), _numbers(solid.end)
    length = math.dist(a, b) or 1.0
    du, dv, dw = (b[0] - a[0]) / length, (b[1] - a[1]) / length, (b[2] - a[2]) / length
    radius = solid.radius

    def nearest(p: Vec) -> Vec:
        u, v, w = p[0] - a[0], p[1] - a[1], p[2] - a[2]
        along = u * du + v * dv + w * dw
        kept = _within(along, 0.0, length)
        u, v, w = u - along * du, v - along * dv, w - along * dw
        off = math.sqrt(u * u + v * v + w * w)
        share = radius / off if off > radius else 1.0
        return a[0] + kept * du + share * u, a[1] + kept * dv + share * v, a[2] + kept * dw + share * w

    return nearest
