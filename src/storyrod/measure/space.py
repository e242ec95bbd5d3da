"""Points, directions, boxes and frames.

Each frame of coordinates has its own point type, so that a point on a panel cannot be taken for one in the
case. `docs/conventions.md` draws both.

- Case frame: x left to right, y front to back, z up; origin at the front, left, bottom corner of the
  carcass's outside.
- Panel frame: u along the length from the datum end, v from the face edge, w into the board from the face
  side (0 at the face side, the board's thickness at the far face).
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from storyrod.measure.tolerance import TOUCH


class Axis(StrEnum):
    """An axis of the case frame."""

    X = "x"
    Y = "y"
    Z = "z"


AXES = (Axis.X, Axis.Y, Axis.Z)


class Direction(StrEnum):
    """A direction along an axis of the case frame.

    Attributes:
        sign: +1 or -1 along its axis.
        nth: place of its axis among x, y and z.
    """

    sign: int
    nth: int

    LEFT = "-x"
    RIGHT = "+x"
    FORWARD = "-y"
    BACKWARD = "+y"
    DOWN = "-z"
    UP = "+z"

    def __init__(self, value: str) -> None:
        # Worked out once for each of the six: every change of frame reads these.
        self.sign = 1 if value[0] == "+" else -1
        self.nth = "xyz".index(value[1])

    @property
    def axis(self) -> Axis:
        """The axis it runs along."""
        return AXES[self.nth]

    @property
    def reverse(self) -> Direction:
        """The opposite direction."""
        return Direction(("-" if self.sign > 0 else "+") + self.value[1])

    @property
    def word(self) -> str:
        """The maker's word: left, right, forward, back, down, up."""
        return {"-x": "left", "+x": "right", "-y": "forward", "+y": "back", "-z": "down", "+z": "up"}[self.value]

    @property
    def side(self) -> str:
        """The side of a case that lies that way: left, right, front, back, bottom, top."""
        return {"-y": "front", "-z": "bottom", "+z": "top"}.get(self.value, self.word)


@dataclass(frozen=True, slots=True)
class Point:
    """A place, or a vector, in the case frame (mm)."""

    x: float
    y: float
    z: float

    def along(self, axis: Axis) -> float:
        """Return the coordinate along `axis`."""
        return self.x if axis is Axis.X else self.y if axis is Axis.Y else self.z

    def moved(self, axis: Axis, by: float) -> Point:
        """Return the point moved `by` mm along `axis`."""
        return self.with_(axis, self.along(axis) + by)

    def with_(self, axis: Axis, value: float) -> Point:
        """Return the point with its coordinate along `axis` set to `value`."""
        if axis is Axis.X:
            return Point(value, self.y, self.z)
        if axis is Axis.Y:
            return Point(self.x, value, self.z)
        return Point(self.x, self.y, value)

    def __add__(self, other: Point) -> Point:
        return Point(self.x + other.x, self.y + other.y, self.z + other.z)

    def __sub__(self, other: Point) -> Point:
        return Point(self.x - other.x, self.y - other.y, self.z - other.z)

    def distance(self, other: Point) -> float:
        """Return how far apart the two points are."""
        d = self - other
        return float((d.x * d.x + d.y * d.y + d.z * d.z) ** 0.5)


@dataclass(frozen=True, slots=True)
class Box:
    """An upright box in the case frame, from its lowest to its highest corner."""

    low: Point
    high: Point

    def span(self, axis: Axis) -> tuple[float, float]:
        """Return where it starts and ends along `axis`."""
        return self.low.along(axis), self.high.along(axis)

    def size(self, axis: Axis) -> float:
        """Return its extent along `axis`."""
        return self.high.along(axis) - self.low.along(axis)

    def with_span(self, axis: Axis, low: float, high: float) -> Box:
        """Return the box with its extent along `axis` set."""
        return Box(self.low.with_(axis, low), self.high.with_(axis, high))

    def moved(self, by: Point) -> Box:
        """Return the box moved by a vector."""
        return Box(self.low + by, self.high + by)

    @property
    def centre(self) -> Point:
        """The middle of the box."""
        lo, hi = self.low, self.high
        return Point((lo.x + hi.x) / 2, (lo.y + hi.y) / 2, (lo.z + hi.z) / 2)

    @property
    def volume(self) -> float:
        """Its volume in cubic mm."""
        return self.size(Axis.X) * self.size(Axis.Y) * self.size(Axis.Z)

    def overlap(self, other: Box) -> Box | None:
        """Return the common box, which may be flat, or None where they do not even touch."""
        low = Point(*(max(self.low.along(a), other.low.along(a)) for a in AXES))
        high = Point(*(min(self.high.along(a), other.high.along(a)) for a in AXES))
        if any(high.along(a) < low.along(a) - TOUCH for a in AXES):
            return None
        return Box(low, Point(*(max(low.along(a), high.along(a)) for a in AXES)))

    def intersects(self, other: Box, tolerance: float = TOUCH) -> bool:
        """Return whether the two share more than `tolerance` along every axis."""
        return all(
            min(self.high.along(a), other.high.along(a)) - max(self.low.along(a), other.low.along(a)) > tolerance
            for a in AXES
        )


@dataclass(frozen=True, slots=True)
class PanelPoint:
    """A place in a panel: u from the datum end, v from the face edge, w below the face side (mm)."""

    u: float
    v: float
    w: float

    def along(self, axis: PanelAxis) -> float:
        """Return the coordinate along `axis`."""
        return self.u if axis is PanelAxis.U else self.v if axis is PanelAxis.V else self.w

    def with_(self, axis: PanelAxis, value: float) -> PanelPoint:
        """Return the point with its coordinate along `axis` set to `value`."""
        if axis is PanelAxis.U:
            return PanelPoint(value, self.v, self.w)
        if axis is PanelAxis.V:
            return PanelPoint(self.u, value, self.w)
        return PanelPoint(self.u, self.v, value)

    def moved(self, axis: PanelAxis, by: float) -> PanelPoint:
        """Return the point moved `by` mm along `axis`."""
        return self.with_(axis, self.along(axis) + by)


class PanelAxis(StrEnum):
    """An axis of a panel's frame: u along the length, v across the width, w through the thickness."""

    U = "u"
    V = "v"
    W = "w"


PANEL_AXES = (PanelAxis.U, PanelAxis.V, PanelAxis.W)


@dataclass(frozen=True, slots=True)
class Frame:
    """Where a panel's frame stands in the case.

    The frame (u, v, w') with w' = u x v is right-handed; `into` is the direction into the board from the
    face side, which is w' for a left-handed panel of a mirrored pair and its reverse for the other.

    Attributes:
        origin: the corner of datum end, face edge and face side, in the case frame.
        u: direction from the datum end along the length.
        v: direction from the face edge across the width.
        into: direction from the face side into the board (w).
    """

    origin: Point
    u: Direction
    v: Direction
    into: Direction

    def direction(self, axis: PanelAxis) -> Direction:
        """Return the case direction in which the panel axis grows."""
        return self.u if axis is PanelAxis.U else self.v if axis is PanelAxis.V else self.into

    def panel_axis(self, axis: Axis) -> PanelAxis:
        """Return the panel axis that runs along a case axis."""
        if self.u.axis is axis:
            return PanelAxis.U
        return PanelAxis.V if self.v.axis is axis else PanelAxis.W

    def to_case(self, at: PanelPoint) -> Point:
        """Return the place in the case of a place in the panel."""
        place = [self.origin.x, self.origin.y, self.origin.z]
        place[self.u.nth] += self.u.sign * at.u
        place[self.v.nth] += self.v.sign * at.v
        place[self.into.nth] += self.into.sign * at.w
        return Point(place[0], place[1], place[2])

    def to_panel(self, at: Point) -> PanelPoint:
        """Return the place in the panel of a place in the case."""
        rel = (at.x - self.origin.x, at.y - self.origin.y, at.z - self.origin.z)
        return PanelPoint(
            self.u.sign * rel[self.u.nth], self.v.sign * rel[self.v.nth], self.into.sign * rel[self.into.nth]
        )

    @property
    def is_mirrored(self) -> bool:
        """Whether (u, v, into) is left-handed: true for all panels but those handed like a left side."""
        crossed = {
            ("x", "y"): "z", ("y", "z"): "x", ("z", "x"): "y",
            ("y", "x"): "-z", ("z", "y"): "-x", ("x", "z"): "-y",
        }[(self.u.axis.value, self.v.axis.value)]  # fmt: skip
        sign = self.u.sign * self.v.sign * (-1 if crossed.startswith("-") else 1)
        return sign != self.into.sign
