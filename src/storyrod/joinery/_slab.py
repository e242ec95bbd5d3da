"""A panel as plain numbers: the joinery's inner loops read these instead of boxes, frames and directions."""

from __future__ import annotations

from typing import Final

from storyrod.measure.space import Box, Direction, PanelAxis, Point
from storyrod.model.panel import Panel, Surface

Vec = tuple[float, float, float]

DIRECTIONS: Final[tuple[tuple[Direction, Direction], ...]] = (
    (Direction.LEFT, Direction.RIGHT),
    (Direction.FORWARD, Direction.BACKWARD),
    (Direction.DOWN, Direction.UP),
)
"""By case axis (x, y, z): the directions of falling and of growing figures."""

PANEL_AXIS: Final = (PanelAxis.U, PanelAxis.V, PanelAxis.W)
SURFACES: Final[tuple[tuple[Surface, Surface], ...]] = (
    (Surface.DATUM_END, Surface.FAR_END),
    (Surface.FACE_EDGE, Surface.FAR_EDGE),
    (Surface.FACE, Surface.FAR_FACE),
)
"""By panel axis (u, v, w): the near surface and the far one."""

SURFACE_AT: Final = {surface: (i, far) for i, pair in enumerate(SURFACES) for far, surface in enumerate(pair)}
_WAY: Final = {way: (i, 1 if grows else -1) for i, pair in enumerate(DIRECTIONS) for grows, way in enumerate(pair)}


def way_of(direction: Direction) -> tuple[int, int]:
    """Return a direction as the number of its case axis and its sign."""
    return _WAY[direction]


class Slab:
    """One panel.

    Attributes:
        low, high: its box in the case frame (x, y, z).
        axes: for u, v and w, the number of the case axis along which it runs.
        signs: for u, v and w, whether it grows (+1) or falls (-1) along that axis.
        key: its place in every list, whatever the order in which the panels came.
    """

    __slots__ = ("axes", "high", "key", "low", "origin", "panel", "signs", "size")

    def __init__(self, panel: Panel) -> None:
        self.panel = panel
        frame = panel.frame
        ways = (_WAY[frame.u], _WAY[frame.v], _WAY[frame.into])
        self.axes: tuple[int, int, int] = (ways[0][0], ways[1][0], ways[2][0])
        self.signs: tuple[int, int, int] = (ways[0][1], ways[1][1], ways[2][1])
        self.key = (len(panel.mark), panel.mark, panel.id)
        low, high, origin = panel.box.low, panel.box.high, frame.origin
        self.place((low.x, low.y, low.z), (high.x, high.y, high.z))
        self.origin: Vec = (origin.x, origin.y, origin.z)

    def place(self, low: Vec, high: Vec) -> None:
        """Put the panel into another box."""
        self.low = low
        self.high = high
        iu, iv, iw = self.axes
        self.size: Vec = (high[iu] - low[iu], high[iv] - low[iv], high[iw] - low[iw])
        origin = [0.0, 0.0, 0.0]
        for axis, sign in zip(self.axes, self.signs, strict=True):
            origin[axis] = low[axis] if sign > 0 else high[axis]
        self.origin = (origin[0], origin[1], origin[2])

    @property
    def thickness(self) -> float:
        """Measured thickness."""
        return self.size[2]

    @property
    def thick_axis(self) -> int:
        """The case axis through its thickness."""
        return self.axes[2]

    def surface_toward(self, axis: int, sign: int) -> Surface:
        """Return the surface that looks along a case axis, in the sense of `sign`."""
        i = self.axes.index(axis)
        return SURFACES[i][1 if self.signs[i] == sign else 0]

    def uvw(self, at: Vec) -> Vec:
        """Return a place of the case in the panel's frame."""
        (iu, iv, iw), (su, sv, sw), o = self.axes, self.signs, self.origin
        return su * (at[iu] - o[iu]), sv * (at[iv] - o[iv]), sw * (at[iw] - o[iw])


def point(at: Vec) -> Point:
    """Return three numbers as a place in the case."""
    return Point(at[0], at[1], at[2])


def box_of(low: Vec, high: Vec) -> Box:
    """Return a box of the case frame from two corners."""
    return Box(point(low), point(high))


def vector(at: Point) -> Vec:
    """Return a place in the case as three numbers."""
    return at.x, at.y, at.z
