"""What volume a feature takes out of its panel, as plain solids in the panel's frame.

Collision checks, the solid witness and the drawings all read these, so that there is one answer to the question
where the board is gone. A feature's solids may overlap each other; `volume` counts the common part once.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from storyrod.measure.space import PANEL_AXES, PanelAxis, PanelPoint
from storyrod.model.feature import (
    AngledPocket,
    Channel,
    CutOut,
    Feature,
    Hole,
    Keyhole,
    SegmentPocket,
    Shape,
    Slot,
    UndercutSlot,
)
from storyrod.model.panel import Panel, Surface


@dataclass(frozen=True, slots=True)
class Bar:
    """A square-edged block from its lowest to its highest corner (u, v, w)."""

    low: PanelPoint
    high: PanelPoint

    @property
    def bounds(self) -> Bar:
        """The block itself."""
        return self

    def span(self, axis: PanelAxis) -> tuple[float, float]:
        """Return where it starts and ends along `axis`."""
        return self.low.along(axis), self.high.along(axis)

    def meets(self, other: Bar, room: float = 0.0) -> bool:
        """Return whether the two come closer than `room` along every axis."""
        return all(
            self.low.along(a) - room < other.high.along(a) and other.low.along(a) - room < self.high.along(a)
            for a in PANEL_AXES
        )


@dataclass(frozen=True, slots=True)
class Cylinder:
    """A cylinder round `centre`, along `axis` from `low` to `high`."""

    centre: PanelPoint
    axis: PanelAxis
    low: float
    high: float
    radius: float

    @property
    def bounds(self) -> Bar:
        """The block round it."""
        return _around(self.centre, self.centre, self.axis, self.low, self.high, self.radius)


@dataclass(frozen=True, slots=True)
class Capsule:
    """A round-ended slot: all within `radius` of the line from `start` to `end`, along `axis` from `low` to `high`."""

    start: PanelPoint
    end: PanelPoint
    axis: PanelAxis
    low: float
    high: float
    radius: float

    @property
    def bounds(self) -> Bar:
        """The block round it."""
        return _around(self.start, self.end, self.axis, self.low, self.high, self.radius)


@dataclass(frozen=True, slots=True)
class Segment:
    """A slice of a disc: the disc of `radius` round `centre`, its axis along `axis` from `low` to `high`, of which only
    the part beyond `surface_at` along `inward` (in the sense of `sign`) lies in the board.
    """

    centre: PanelPoint
    axis: PanelAxis
    low: float
    high: float
    radius: float
    inward: PanelAxis
    sign: int
    surface_at: float

    @property
    def depth(self) -> float:
        """How deep the disc goes below the surface."""
        return self.radius - abs(self.surface_at - self.centre.along(self.inward))

    @property
    def bounds(self) -> Bar:
        """The block round the part that lies in the board."""
        half = math.sqrt(max(0.0, 2 * self.radius * self.depth - self.depth**2))
        run = next(a for a in PANEL_AXES if a not in (self.axis, self.inward))
        bottom = self.surface_at + self.sign * self.depth
        spans = {
            self.axis: (self.low, self.high),
            self.inward: (min(self.surface_at, bottom), max(self.surface_at, bottom)),
            run: (self.centre.along(run) - half, self.centre.along(run) + half),
        }
        return Bar(PanelPoint(*(spans[a][0] for a in PANEL_AXES)), PanelPoint(*(spans[a][1] for a in PANEL_AXES)))


@dataclass(frozen=True, slots=True)
class Cone:
    """A countersink: radius `wide` at the surface, `narrow` at `depth` along `axis` in the sense of `sign`."""

    centre: PanelPoint
    axis: PanelAxis
    sign: int
    depth: float
    wide: float
    narrow: float

    @property
    def bounds(self) -> Bar:
        """The block round it."""
        at = self.centre.along(self.axis)
        other = at + self.sign * self.depth
        return _around(self.centre, self.centre, self.axis, min(at, other), max(at, other), self.wide)


@dataclass(frozen=True, slots=True)
class Slant:
    """A round bore along a slope, from `start` (on the surface) to `end` on its axis."""

    start: PanelPoint
    end: PanelPoint
    radius: float

    @property
    def bounds(self) -> Bar:
        """The block round it, with flat ends taken into account on the safe side."""
        low = PanelPoint(*(min(self.start.along(a), self.end.along(a)) - self._reach(a) for a in PANEL_AXES))
        high = PanelPoint(*(max(self.start.along(a), self.end.along(a)) + self._reach(a) for a in PANEL_AXES))
        return Bar(low, high)

    def _reach(self, axis: PanelAxis) -> float:
        run = math.dist((self.start.u, self.start.v, self.start.w), (self.end.u, self.end.v, self.end.w))
        share = abs(self.end.along(axis) - self.start.along(axis)) / run if run else 0.0
        return self.radius * math.sqrt(max(0.0, 1 - share * share))


Primitive = Bar | Cylinder | Capsule | Segment | Cone | Slant


def _around(a: PanelPoint, b: PanelPoint, axis: PanelAxis, low: float, high: float, radius: float) -> Bar:
    lo = PanelPoint(*(min(a.along(x), b.along(x)) - radius for x in PANEL_AXES)).with_(axis, low)
    hi = PanelPoint(*(max(a.along(x), b.along(x)) + radius for x in PANEL_AXES)).with_(axis, high)
    return Bar(lo, hi)


def inward(surface: Surface) -> int:
    """Return +1 where depth below a surface grows with its axis, -1 where it falls."""
    return -1 if surface.is_far else 1


def surface_level(surface: Surface, panel: Panel) -> float:
    """Return the coordinate of a surface along its axis."""
    return panel.extent(surface.axis) if surface.is_far else 0.0


def removed(feature: Feature) -> tuple[Primitive, ...]:
    """Return the solids that `feature` takes out of its panel, in the panel's frame (mm).

    Parts of them may lie outside the board (the side of a rebate that runs off the edge does not: it ends flush).
    """
    axis = feature.surface.axis
    return _removed(feature.shape, feature.at, _Face(axis, inward(feature.surface), feature.at.along(axis)))


@dataclass(frozen=True, slots=True)
class _Face:
    """The surface a feature is worked from: its axis, the sense of depth, and the level of the feature on it."""

    axis: PanelAxis
    sign: int
    level: float

    def span(self, top: float, bottom: float) -> tuple[float, float]:
        """Return the coordinates, low to high, of depths `top` to `bottom`."""
        a, b = self.level + self.sign * top, self.level + self.sign * bottom
        return (a, b) if a <= b else (b, a)

    def across(self, run: PanelAxis) -> PanelAxis:
        """Return the third axis, beside depth and `run`."""
        return next(a for a in PANEL_AXES if a not in (self.axis, run))


def _removed(shape: Shape, at: PanelPoint, face: _Face) -> tuple[Primitive, ...]:
    match shape:
        case Hole():
            return _hole(shape, at, face)
        case Slot():
            return (_capsule(at, shape.run, shape.length, shape.width, face, 0, shape.depth),)
        case Keyhole():
            return _keyhole(shape, at, face)
        case SegmentPocket():
            return (_segment(shape, at, face),)
        case UndercutSlot():
            wide = shape.length - shape.width + shape.undercut_width
            return (
                _capsule(at, shape.run, shape.length, shape.width, face, 0, shape.lip),
                _capsule(at, shape.run, wide, shape.undercut_width, face, shape.lip, shape.depth),
            )
        case Channel():
            return (_bar(at, shape.run, shape.length, shape.width, face, 0, shape.depth),)
        case CutOut():
            return _cut_out(shape, at, face)
        case AngledPocket():
            run = shape.length * math.cos(math.radians(shape.angle_deg))
            end = at.moved(shape.run, shape.sign * run).moved(face.axis, face.sign * shape.depth)
            return (Slant(at, end, shape.diameter / 2),)


def _hole(shape: Hole, at: PanelPoint, face: _Face) -> tuple[Primitive, ...]:
    bore = Cylinder(at, face.axis, *face.span(0, shape.depth), shape.diameter / 2)
    if shape.countersink is None:
        return (bore,)
    depth = (shape.countersink - shape.diameter) / 2  # a 90 degree cone
    return (bore, Cone(at, face.axis, face.sign, depth, shape.countersink / 2, shape.diameter / 2))


def _keyhole(shape: Keyhole, at: PanelPoint, face: _Face) -> tuple[Primitive, ...]:
    entry = shape.entry(at)
    return (
        Cylinder(entry, face.axis, *face.span(0, shape.depth), shape.entry_diameter / 2),
        Capsule(entry, at, face.axis, *face.span(0, shape.lip), shape.slot_width / 2),
        Capsule(entry, at, face.axis, *face.span(shape.lip, shape.depth), shape.undercut_width / 2),
    )


def _segment(shape: SegmentPocket, at: PanelPoint, face: _Face) -> Segment:
    across, radius, half = face.across(shape.run), shape.disc / 2, shape.width / 2
    centre = at.moved(face.axis, -face.sign * (radius - shape.depth))
    middle = at.along(across)
    return Segment(centre, across, middle - half, middle + half, radius, face.axis, face.sign, face.level)


def _capsule(
    at: PanelPoint, run: PanelAxis, length: float, width: float, face: _Face, top: float, bottom: float
) -> Capsule:
    half = max(0.0, length - width) / 2
    return Capsule(at.moved(run, -half), at.moved(run, half), face.axis, *face.span(top, bottom), width / 2)


def _bar(at: PanelPoint, run: PanelAxis, length: float, width: float, face: _Face, top: float, bottom: float) -> Bar:
    across = face.across(run)
    ends = face.span(top, bottom)
    low = at.moved(run, -length / 2).moved(across, -width / 2).with_(face.axis, ends[0])
    high = at.moved(run, length / 2).moved(across, width / 2).with_(face.axis, ends[1])
    return Bar(low, high)


def _cut_out(shape: CutOut, at: PanelPoint, face: _Face) -> tuple[Primitive, ...]:
    """A scoop is worked from a face but open at the edge that `at` lies on: it grows away from that edge."""
    match shape.outline:
        case "round":
            return (Cylinder(at, face.axis, *face.span(0, shape.depth), shape.length / 2),)
        case "slot":
            return (_capsule(at, shape.run, shape.length, shape.height, face, 0, shape.depth),)
        case "scoop" | "notch":
            return _open_cut(shape, at, face)
    raise ValueError(shape.outline)


def _open_cut(shape: CutOut, at: PanelPoint, face: _Face) -> tuple[Primitive, ...]:
    across = face.across(shape.run)
    grows = -1 if at.along(across) > 0 else 1  # from the far edge inward, or from the near edge
    edge, bottom = at.along(across), at.along(across) + grows * shape.height
    ends = face.span(0, shape.depth)

    def bar(half: float, to: float) -> Bar:
        low = at.moved(shape.run, -half).with_(across, min(edge, to)).with_(face.axis, ends[0])
        high = at.moved(shape.run, half).with_(across, max(edge, to)).with_(face.axis, ends[1])
        return Bar(low, high)

    corner = shape.corner if shape.outline == "scoop" else 0.0
    if corner <= 0:
        return (bar(shape.length / 2, bottom),)
    centre = bottom - grows * corner
    middles = (at.moved(shape.run, s * (shape.length / 2 - corner)).with_(across, centre) for s in (-1, 1))
    rounds = tuple(Cylinder(m, face.axis, *ends, corner) for m in middles)
    return (bar(shape.length / 2, centre), bar(shape.length / 2 - corner, bottom), *rounds)


def volume(feature: Feature) -> float:
    """Return the volume in cubic mm that one feature takes out of its panel, exactly.

    Raises:
        ValueError: for an angled pocket, whose ends leave the board at a slope; the solids tell that one.
    """
    shape = feature.shape
    match shape:
        case Hole():
            return _hole_volume(shape)
        case Slot():
            return _stadium(shape.length, shape.width) * shape.depth
        case Keyhole():
            return _keyhole_volume(shape)
        case SegmentPocket():
            return _segment_area(shape.disc / 2, shape.depth) * shape.width
        case UndercutSlot():
            wide = shape.length - shape.width + shape.undercut_width
            under = _stadium(wide, shape.undercut_width) * (shape.depth - shape.lip)
            return _stadium(shape.length, shape.width) * shape.lip + under
        case Channel():
            return shape.length * shape.width * shape.depth
        case CutOut():
            return _cut_out_area(shape) * shape.depth
        case AngledPocket():
            raise ValueError("the volume of an angled pocket is told by the solids")


def _stadium(length: float, width: float) -> float:
    return (length - width) * width + math.pi * width * width / 4


def _segment_area(radius: float, depth: float) -> float:
    rest = radius - depth
    return radius**2 * math.acos(rest / radius) - rest * math.sqrt(radius**2 - rest**2)


def _hole_volume(shape: Hole) -> float:
    bore = math.pi * shape.diameter**2 / 4 * shape.depth
    if shape.countersink is None:
        return bore
    wide, narrow = shape.countersink / 2, shape.diameter / 2
    height = wide - narrow
    cone = math.pi * height * (wide**2 + wide * narrow + narrow**2) / 3
    return bore + cone - math.pi * narrow**2 * height


def _keyhole_volume(shape: Keyhole) -> float:
    entry = math.pi * shape.entry_diameter**2 / 4 * shape.depth
    neck = _run_beyond_entry(shape.entry_diameter / 2, shape.slot_width / 2, shape.travel) * shape.lip
    under = _run_beyond_entry(shape.entry_diameter / 2, shape.undercut_width / 2, shape.travel)
    return entry + neck + under * (shape.depth - shape.lip)


def _run_beyond_entry(entry: float, half: float, travel: float) -> float:
    """Return the area of a round-ended run of half width `half`, from the centre of a disc of radius `entry` to
    `travel` away, less what already lies in the disc (half <= entry, and the run ends outside the disc).
    """
    ahead = half * travel + math.pi * half * half / 4  # one quarter side: doubled below
    reach = math.sqrt(entry * entry - half * half)
    inside = (half * reach + entry * entry * math.asin(half / entry)) / 2
    return 2 * (ahead - inside)


def _cut_out_area(shape: CutOut) -> float:
    match shape.outline:
        case "round":
            return math.pi * shape.length**2 / 4
        case "slot":
            return _stadium(shape.length, shape.height)
        case "scoop":
            return shape.length * shape.height - 2 * (1 - math.pi / 4) * shape.corner**2
    return shape.length * shape.height
