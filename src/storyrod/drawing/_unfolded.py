"""Where places on a panel lie on its set-out drawing: the face as it lies on the bench, its edges folded out.

The face worked looks up at the maker, its face edge toward them (the bottom of the drawing). A board cannot be
mirrored: seen so, the datum end of a panel with a left-handed frame is at the left of its face side, that of its
mirrored twin at the right; on the far face it is the other way about. x = 0 is the datum end and y = 0 the face edge in
either case, so that a panel with its datum at the right lies in negative x.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from storyrod.drawing._layers import AXES
from storyrod.drawing._outlines import Outline, outlines_of, run_of
from storyrod.drawing._pens import Pen
from storyrod.drawing._types import Circle, Path, Place
from storyrod.measure.space import PANEL_AXES, PanelAxis, PanelPoint
from storyrod.model.feature import CutOut, Feature
from storyrod.model.panel import Panel, Surface

FACES = (Surface.FACE, Surface.FAR_FACE)
EDGES = (Surface.FACE_EDGE, Surface.FAR_EDGE, Surface.DATUM_END, Surface.FAR_END)


@dataclass(frozen=True, slots=True, kw_only=True)
class Unfolded:
    """A panel's surfaces laid out in the plane.

    Attributes:
        face: which face looks up.
        gap: between the face and the edges folded out.
        stretch: how many times thicker than true the edges are drawn, so that bores in them can be read.
        way: +1 where the datum end lies at the left and x grows along the panel, -1 where it lies at the right.
    """

    panel: Panel
    face: Surface
    gap: float
    stretch: float
    way: int = field(init=False, default=1)

    def __post_init__(self) -> None:
        upright = self.panel.frame.is_mirrored == (self.face is Surface.FACE)
        object.__setattr__(self, "way", 1 if upright else -1)

    @property
    def strip(self) -> float:
        """How thick the edges are drawn."""
        return self.panel.thickness * self.stretch

    def on(self, surface: Surface, at: PanelPoint) -> Place:
        """Return where a place on a surface lies on the drawing."""
        down = at.w if self.face is Surface.FACE else self.panel.thickness - at.w
        out = self.gap + down * self.stretch
        x, y = self.way * at.u, at.v
        match surface:
            case Surface.FACE_EDGE:
                return x, -out
            case Surface.FAR_EDGE:
                return x, self.panel.width + out
            case Surface.DATUM_END:
                return -self.way * out, y
            case Surface.FAR_END:
                return self.way * (self.panel.length + out), y
            case _:
                return x, y

    def axis(self, surface: Surface, axis: PanelAxis) -> Place:
        """Return the direction on the drawing, of length 1, in which a panel axis grows on a surface."""
        if axis is PanelAxis.U:
            return float(self.way), 0.0
        if axis is PanelAxis.V:
            return 0.0, 1.0
        down = 1.0 if self.face is Surface.FACE else -1.0
        return {
            Surface.FACE_EDGE: (0.0, -down),
            Surface.FAR_EDGE: (0.0, down),
            Surface.DATUM_END: (-self.way * down, 0.0),
            Surface.FAR_END: (self.way * down, 0.0),
        }[surface]

    def rectangle(self, surface: Surface) -> tuple[Place, Place, Place, Place]:
        """Return the corners of a surface, counter-clockwise from the lower left."""
        panel = self.panel
        near = PanelPoint(0.0, 0.0, 0.0)
        far = PanelPoint(panel.length, panel.width, panel.thickness)
        (x0, y0), (x1, y1) = self.on(surface, near), self.on(surface, far)
        left, right, low, high = min(x0, x1), max(x0, x1), min(y0, y1), max(y0, y1)
        return (left, low), (right, low), (right, high), (left, high)

    def drawn(
        self, feature: Feature, surface: Surface, *, pen: Pen, times: Place = (1.0, 1.0), layer: str = ""
    ) -> tuple[Path | Circle, ...]:
        """Return the lines of a cut as seen on `surface`, drawn `times` its size about its middle (along, across)."""
        run = run_of(feature)
        across = next(a for a in PANEL_AXES if a not in {feature.surface.axis, run})
        (px, py), (qx, qy) = self.axis(surface, run), self.axis(surface, across)
        turn = 1.0 if px * qy - py * qx > 0 else -1.0
        x0, y0 = self.on(surface, feature.at)

        def placed(point: Place) -> Place:
            p, q = point
            return x0 + times[0] * p * px + times[1] * q * qx, y0 + times[0] * p * py + times[1] * q * qy

        lines = outlines_of(feature, inward=self._inward(feature, across))
        return tuple(_line(line, placed, turn=turn, times=times[0], pen=pen, layer=layer) for line in lines)

    def _inward(self, feature: Feature, across: PanelAxis) -> int:
        """Which way along `across` the board lies from a cut that is open at an edge."""
        if not isinstance(feature.shape, CutOut):
            return 1
        return 1 if feature.at.along(across) < self.panel.extent(across) / 2 else -1


def _line(
    line: Outline, placed: Callable[[Place], Place], *, turn: float, times: float, pen: Pen, layer: str
) -> Path | Circle:
    below = pen if pen in {Pen.HIDDEN, Pen.HIDDEN_SMALL} else Pen.HIDDEN_SMALL
    seen = Pen.CENTRE if line.centre else below if line.below else pen
    if layer and (line.below or line.centre):
        layer = AXES if line.centre else f"{layer} UNDERCUT"
    if line.radius is not None:
        return Circle(centre=placed(line.points[0]), radius=line.radius * times, pen=seen, layer=layer)
    points = tuple(placed(p) for p in line.points)
    bulges = tuple(b * turn for b in line.bulges)
    return Path(points=points, pen=seen, bulges=bulges, closed=line.closed, layer=layer)
