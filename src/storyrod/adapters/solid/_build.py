"""Machined panels as solids: the board's block less what every feature takes away.

A panel is built in a right-handed frame of its own: u, v and their cross product. Where `into` runs against
that product, depths count negative. So a mirrored panel is made mirrored, feature by feature, and only turned
and moved into its place: no solid is ever turned inside out.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from storyrod.adapters.solid._profile import (
    POLYGON_SHARE,
    Pair,
    Profile,
    disc_segment,
    rectangle,
    round_ended,
    signed_area,
)
from storyrod.measure.space import PANEL_AXES, PanelAxis, PanelPoint
from storyrod.model.carcass import RailPlace
from storyrod.model.detail import DetailedCase
from storyrod.model.feature import Feature
from storyrod.model.feet import FootPlace
from storyrod.model.panel import Panel, PanelId
from storyrod.model.removal import Bar, Capsule, Cone, Cylinder, Primitive, Segment, Slant, removed

if TYPE_CHECKING:
    import numpy as np
    from manifold3d import Manifold
    from numpy.typing import NDArray

Made = tuple["Manifold", float]
"""A solid, and the volume that its flat sides leave out (mm3)."""

SNAP: Final = 1e-6
"""A cut that ends this near to a surface of its panel ends on it: float dust must leave no film of board."""


@dataclass(frozen=True, slots=True)
class Piece:
    """One solid to be taken away, in the panel's right-handed frame; `left_out` by its flat sides, in mm3.

    `bounds` is the box round it in the panel's frame (u, v, w).
    """

    solid: Manifold
    left_out: float
    bounds: Bar


def panel_solid(panel: Panel, features: Iterable[Feature]) -> Manifold:
    """Return a panel less its features, in the panel's own right-handed frame (u, v, u x v), in mm."""
    return less_pieces(panel, [p for f in features for p in pieces_of(panel, f)])


def less_pieces(panel: Panel, pieces: Sequence[Piece]) -> Manifold:
    """Return a panel less pieces that are made already."""
    from manifold3d import Manifold, OpType

    solids = [_block(panel), *(p.solid for p in pieces)]
    return Manifold.batch_boolean(solids, OpType.Subtract) if pieces else solids[0]


def placed(solid: Manifold, panel: Panel) -> Manifold:
    """Return a panel's solid turned and moved into its place in the case."""
    u, v = panel.frame.u, panel.frame.v
    columns = [_unit(u.value), _unit(v.value)]
    columns.append(_cross(columns[0], columns[1]))
    origin = panel.frame.origin
    rows = [[c[i] for c in columns] + [(origin.x, origin.y, origin.z)[i]] for i in range(3)]
    return solid.transform(_array(rows))


def case_solids(case: DetailedCase) -> dict[PanelId, Manifold]:
    """Return every machined panel of a case in its place, in the case frame (mm)."""
    return {p.id: placed(panel_solid(p, case.on(p.id)), p) for p in case.panels}


def tube_solid(rail: RailPlace) -> Manifold:
    """Return a clothes rail's tube as a solid rod in its place, in the case frame (mm): what is in it is no wood's."""
    from manifold3d import CrossSection, Manifold

    low, centre = rail.box.low, rail.box.centre
    outline = round_ended((0.0, 0.0), (0.0, 0.0), rail.diameter / 2).points
    rod = Manifold.extrude(CrossSection([_array(outline)]), rail.length)
    turned = [[0.0, 0.0, 1.0, low.x], [1.0, 0.0, 0.0, centre.y], [0.0, 1.0, 0.0, centre.z]]
    return rod.transform(_array(turned))


def foot_solid(foot: FootPlace, raised: float) -> Manifold:
    """Return a levelling foot in its place, in the case frame (mm): its plate under the base, a stem to the floor.

    Its shape is for the eye: a plate a sixteenth of its height thick, a stem two fifths as wide as that, a wider sole.
    """
    from manifold3d import CrossSection, Manifold

    plate, thick = foot.plate, raised / 16
    top = Manifold.cube((plate, plate, thick)).translate((foot.x - plate / 2, foot.y - plate / 2, raised - thick))
    for radius, high in ((plate / 5, raised - thick), (plate / 3, thick)):
        outline = round_ended((foot.x, foot.y), (foot.x, foot.y), radius).points
        top += Manifold.extrude(CrossSection([_array(outline)]), high)
    return top


def pieces_of(panel: Panel, feature: Feature) -> tuple[Piece, ...]:
    """Return what a feature takes away as solids in the panel's right-handed frame."""
    maker = _Maker(panel)
    return tuple(Piece(*maker.piece(primitive), primitive.bounds) for primitive in removed(feature))


def sense_of(panel: Panel) -> int:
    """Return +1 where depth below the face side runs along u x v, -1 where it runs against it."""
    return -1 if panel.frame.is_mirrored else 1


def _block(panel: Panel) -> Manifold:
    from manifold3d import Manifold

    block = Manifold.cube((panel.length, panel.width, panel.thickness))
    sense = sense_of(panel)
    if sense < 0:
        block = block.translate((0.0, 0.0, -panel.thickness))
    corners = [(u, v, sense * w) for u, v, w in wedge(panel)]
    return block - _hull(corners) if corners else block


def wedge(panel: Panel) -> list[tuple[float, float, float]]:
    """Return the corners of what a bevel takes off, in the panel's frame with w into the board; none without one."""
    bevel, t = panel.bevel, panel.thickness
    if bevel is None:
        return []
    edge, inward = (panel.width, -1.0) if bevel.edge.is_far else (0.0, 1.0)
    short, below = (t, -1.0) if bevel.short.is_far else (0.0, 1.0)
    corners = ((edge, short), (edge + inward * t, short), (edge, short + below * t))
    return [(u, v, w) for u in (0.0, panel.length) for v, w in corners]


class _Maker:
    """Makes the pieces of one panel."""

    def __init__(self, panel: Panel) -> None:
        self.sense = sense_of(panel)
        self.planes = {axis: (0.0, panel.extent(axis)) for axis in PANEL_AXES}

    def piece(self, primitive: Primitive) -> Made:
        """Return one primitive as a solid."""
        match primitive:
            case Bar():
                low, high = self._point(primitive.low), self._point(primitive.high)
                return self._prism(PanelAxis.W, rectangle((low.u, low.v), (high.u, high.v)), low.w, high.w)
            case Cylinder():
                centre = _flat(primitive.centre, primitive.axis)
                return self._round(primitive.axis, centre, centre, primitive.radius, (primitive.low, primitive.high))
            case Capsule():
                ends = _flat(primitive.start, primitive.axis), _flat(primitive.end, primitive.axis)
                return self._round(primitive.axis, *ends, primitive.radius, (primitive.low, primitive.high))
            case Segment():
                return self._segment(primitive)
            case Cone():
                return self._cone(primitive)
            case Slant():
                return self._slant(primitive)

    def _point(self, at: PanelPoint) -> PanelPoint:
        return PanelPoint(*(self._snapped(a, at.along(a)) for a in PANEL_AXES))

    def _snapped(self, axis: PanelAxis, value: float) -> float:
        return next((p for p in self.planes[axis] if abs(p - value) < SNAP), value)

    def _round(self, axis: PanelAxis, start: Pair, end: Pair, radius: float, span: Pair) -> Made:
        low, high = (self._snapped(axis, x) for x in span)
        return self._prism(axis, round_ended(start, end, radius), low, high)

    def _segment(self, primitive: Segment) -> Made:
        """Return a disc's segment: its outline lies across the disc's own axis."""
        axis = primitive.axis
        run = next(a for a in PANEL_AXES if a not in {axis, primitive.inward})
        shape = disc_segment(primitive.radius, primitive.depth)
        level = self._snapped(primitive.inward, primitive.surface_at)
        middle = primitive.centre.along(run)
        first = _plane_of(axis)[0]
        placed_points = []
        for along, down in shape.points:
            deep = level + primitive.sign * down
            placed_points.append((middle + along, deep) if first is run else (deep, middle + along))
        profile = Profile(tuple(placed_points), shape.true_area)
        return self._prism(axis, profile, primitive.low, primitive.high)

    def _cone(self, primitive: Cone) -> Made:
        start = self._snapped(primitive.axis, primitive.centre.along(primitive.axis))
        end = start + primitive.sign * primitive.depth
        ends = [(start, primitive.wide), (end, primitive.narrow)]
        centre = _flat(primitive.centre, primitive.axis)
        wide, narrow = primitive.wide, primitive.narrow
        true = math.pi * primitive.depth * (wide**2 + wide * narrow + narrow**2) / 3
        rings = [
            self._lifted(primitive.axis, at, p)
            for at, radius in ends
            for p in round_ended(centre, centre, radius).points
        ]
        return (_hull(rings), true * (1 - POLYGON_SHARE))

    def _slant(self, primitive: Slant) -> Made:
        """Return a sloped bore, drawn back beyond the face until all of its mouth is open."""
        start, end = primitive.start, primitive.end
        way = (end.u - start.u, end.v - start.v, end.w - start.w)
        length = math.hypot(*way)
        axis = (way[0] / length, way[1] / length, way[2] / length)
        slope = abs(axis[2])
        back = primitive.radius * math.sqrt(max(0.0, 1 - slope**2)) / slope
        across = _cross(axis, (0.0, 0.0, 1.0))
        norm = math.hypot(*across)
        side = (across[0] / norm, across[1] / norm, across[2] / norm)
        other = _cross(axis, side)
        rings = []
        for base, by in ((start, -back), (end, 0.0)):
            for x, y in round_ended((0.0, 0.0), (0.0, 0.0), primitive.radius).points:
                u, v, w = (
                    b + by * a + x * s + y * o
                    for b, a, s, o in zip((base.u, base.v, base.w), axis, side, other, strict=True)
                )
                rings.append((u, v, self.sense * w))
        area = math.pi * primitive.radius**2
        return (_hull(rings), area * (1 - POLYGON_SHARE) * (length + back))

    def _prism(self, axis: PanelAxis, profile: Profile, low: float, high: float) -> Made:
        """Return a profile in the plane across `axis` swept from `low` to `high`."""
        from manifold3d import CrossSection, Manifold

        points = profile.points if signed_area(profile.points) > 0 else profile.points[::-1]
        left_out = Profile(points, profile.true_area).left_out * (high - low)
        if axis is PanelAxis.W and self.sense < 0:
            low, high = -high, -low
        elif self.sense < 0:
            # The outline holds w as one of its two figures: mirror it there, and keep it counter-clockwise.
            flip = _plane_of(axis).index(PanelAxis.W)
            points = tuple((-p[0], p[1]) if flip == 0 else (p[0], -p[1]) for p in reversed(points))
        swept = Manifold.extrude(CrossSection([_array(points)]), high - low)
        columns = [_unit("uvw".index(a.value)) for a in (*_plane_of(axis), axis)]
        start = [low * c for c in columns[2]]
        rows = [[c[i] for c in columns] + [start[i]] for i in range(3)]
        return (swept.transform(_array(rows)), left_out)

    def _lifted(self, axis: PanelAxis, at: float, point: Pair) -> tuple[float, float, float]:
        first, second = _plane_of(axis)
        places = {axis: at, first: point[0], second: point[1]}
        return places[PanelAxis.U], places[PanelAxis.V], self.sense * places[PanelAxis.W]


def _plane_of(axis: PanelAxis) -> tuple[PanelAxis, PanelAxis]:
    """Return the two axes across `axis`, in the order that makes a right-handed three with it."""
    return {
        PanelAxis.U: (PanelAxis.V, PanelAxis.W),
        PanelAxis.V: (PanelAxis.W, PanelAxis.U),
        PanelAxis.W: (PanelAxis.U, PanelAxis.V),
    }[axis]


def _flat(at: PanelPoint, axis: PanelAxis) -> Pair:
    first, second = _plane_of(axis)
    return at.along(first), at.along(second)


def _unit(way: str | int) -> tuple[float, float, float]:
    """Return the unit vector of a case direction (`-x`) or of an axis by its number."""
    if isinstance(way, int):
        return (float(way == 0), float(way == 1), float(way == 2))
    sign = 1.0 if way[0] == "+" else -1.0
    return (sign * (way[1] == "x"), sign * (way[1] == "y"), sign * (way[1] == "z"))


def _cross(a: tuple[float, float, float], b: tuple[float, float, float]) -> tuple[float, float, float]:
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]


def _hull(points: Sequence[tuple[float, float, float]]) -> Manifold:
    from manifold3d import Manifold

    return Manifold.hull_points(_array(points))


def _array(rows: Sequence[Sequence[float]]) -> NDArray[np.float64]:
    import numpy as np

    return np.array(rows, dtype=np.float64)
