"""A panel in its place: sizes, frame, faces, grain and edging."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import NewType

from storyrod.measure.space import Box, Frame, PanelAxis, Point

PanelId = NewType("PanelId", str)


class Role(StrEnum):
    """What a panel is in its case."""

    SIDE_LEFT = "side left"
    SIDE_RIGHT = "side right"
    TOP = "top"
    BASE = "base"
    PLINTH = "plinth"
    BACK = "back"
    DIVIDER = "divider"
    SHELF = "shelf"
    LOOSE_SHELF = "loose shelf"
    DRAWER_FRONT = "drawer front"
    DRAWER_SIDE = "drawer side"
    DRAWER_BACK = "drawer back"
    DRAWER_BOX_FRONT = "drawer box front"
    DRAWER_BOTTOM = "drawer bottom"
    DOOR = "door"
    RAIL = "rail"
    HANGING_RAIL = "hanging rail"
    WALL_CLEAT = "wall cleat"
    WORKTOP = "worktop"
    PLINTH_BOARD = "plinth board"
    FILLER = "filler"


class Surface(StrEnum):
    """The six surfaces of a panel."""

    FACE = "face side"
    FAR_FACE = "far face"
    FACE_EDGE = "face edge"
    FAR_EDGE = "far edge"
    DATUM_END = "datum end"
    FAR_END = "far end"

    @property
    def axis(self) -> PanelAxis:
        """The panel axis that the surface stands across."""
        return _SURFACE_AXIS[self][0]

    @property
    def is_far(self) -> bool:
        """Whether it lies at the far end of that axis."""
        return _SURFACE_AXIS[self][1]

    @property
    def opposite(self) -> Surface:
        """The surface on the other side of the panel."""
        return surface_at(self.axis, far=not self.is_far)


_SURFACE_AXIS: dict[Surface, tuple[PanelAxis, bool]] = {
    Surface.FACE: (PanelAxis.W, False),
    Surface.FAR_FACE: (PanelAxis.W, True),
    Surface.FACE_EDGE: (PanelAxis.V, False),
    Surface.FAR_EDGE: (PanelAxis.V, True),
    Surface.DATUM_END: (PanelAxis.U, False),
    Surface.FAR_END: (PanelAxis.U, True),
}


def surface_at(axis: PanelAxis, *, far: bool) -> Surface:
    """Return the surface across `axis` at its near or far end."""
    return next(s for s, (a, f) in _SURFACE_AXIS.items() if a is axis and f is far)


class Grain(StrEnum):
    """How the board's grain lies in a panel: along its length, across it, or free."""

    ALONG = "along"
    ACROSS = "across"
    FREE = "free"


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeStrip:
    """Edging on one edge of a panel."""

    surface: Surface
    edging: str
    thickness: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Bevel:
    """A long edge sawn at 45 degrees: on the face `short` the panel is narrower there by its thickness."""

    edge: Surface
    short: Surface


@dataclass(frozen=True, slots=True, kw_only=True)
class Scribed:
    """A long edge that is scribed to a wall: so much of the panel's width (mm) is there to come off."""

    edge: Surface
    allowance: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """One panel of a case, finished size, in its place.

    Attributes:
        id: unique in the job, as `A.side-left`.
        mark: short label for board and drawing, as `A1`.
        name: what the packet calls it, unique in its case, as `left side` or `shelf 2`.
        body: what it is joined into: `carcass`, a drawer's id, or its own id when it is not jointed at all.
        box: its place in the case frame, finished.
        edged: edging that is part of the finished size.
        sums: how length and width came about, as `600 - 2 x 17.7`, for the maker to check.
        cause: path of the field of the job that made it.
        opening: id of the opening it belongs to, if any.
        twin: id of its mirrored twin, if any.
        bevel: the edge that is sawn at 45 degrees, if any; its box is that of the wider face.
        scribed: the edge that is scribed to a wall, if any; its box and sizes are those before that is done.
    """

    id: PanelId
    case: str
    mark: str
    role: Role
    name: str
    body: str
    board: str
    box: Box
    frame: Frame
    grain: Grain
    edged: tuple[EdgeStrip, ...] = ()
    sums: tuple[str, str] = ("", "")
    cause: str = ""
    opening: str = ""
    twin: PanelId | None = None
    strip: str = ""
    bevel: Bevel | None = None
    scribed: Scribed | None = None

    @property
    def scribed_box(self) -> Box:
        """Its place once all that is to be scribed has come off."""
        if self.scribed is None:
            return self.box
        way = self.frame.v if self.scribed.edge.is_far else self.frame.v.reverse
        low, high = self.box.span(way.axis)
        by = self.scribed.allowance
        return self.box.with_span(way.axis, low + (by if way.sign < 0 else 0.0), high - (by if way.sign > 0 else 0.0))

    @property
    def volume(self) -> float:
        """Of the panel before anything is cut in it (mm3): its box, less what a bevel takes off."""
        return self.box.volume - (self.thickness**2 / 2 * self.length if self.bevel is not None else 0.0)

    @property
    def length(self) -> float:
        """Finished length, along u."""
        return self.extent(PanelAxis.U)

    @property
    def width(self) -> float:
        """Finished width, along v."""
        return self.extent(PanelAxis.V)

    @property
    def thickness(self) -> float:
        """Measured thickness, along w."""
        return self.extent(PanelAxis.W)

    def extent(self, axis: PanelAxis) -> float:
        """Return its size along a panel axis, free of the float dust of a difference."""
        # Asked for at every cut and mark: without the detour by the case's axis.
        nth, low, high = self.frame.direction(axis).nth, self.box.low, self.box.high
        return round(high.x - low.x if nth == 0 else high.y - low.y if nth == 1 else high.z - low.z, 9)

    def edging_on(self, surface: Surface) -> float:
        """Return the thickness of edging on a surface, 0 where there is none."""
        return sum(e.thickness for e in self.edged if e.surface is surface)

    @property
    def cut_length(self) -> float:
        """Length at the saw: finished length less the edging on its ends."""
        return self.length - self.edging_on(Surface.DATUM_END) - self.edging_on(Surface.FAR_END)

    @property
    def cut_width(self) -> float:
        """Width at the saw: finished width less the edging on its long edges."""
        return self.width - self.edging_on(Surface.FACE_EDGE) - self.edging_on(Surface.FAR_EDGE)

    def with_box(self, box: Box) -> Panel:
        """Return the panel in another box, its frame's origin moved to the box's corner."""
        from dataclasses import replace

        return replace(self, box=box, frame=frame_in(box, self.frame))

    def surface_toward(self, direction: str) -> Surface:
        """Return the surface that looks in a case direction, given as its value (`+x`)."""
        for axis in PanelAxis:
            way = self.frame.direction(axis)
            if way.value == direction:
                return surface_at(axis, far=True)
            if way.reverse.value == direction:
                return surface_at(axis, far=False)
        raise ValueError(direction)


def frame_in(box: Box, like: Frame) -> Frame:
    """Return the frame with the directions of `like` whose origin is the right corner of `box`."""
    origin = Point(0.0, 0.0, 0.0)
    for way in (like.u, like.v, like.into):
        low, high = box.span(way.axis)
        origin = origin.with_(way.axis, low if way.sign > 0 else high)
    return Frame(origin, like.u, like.v, like.into)
