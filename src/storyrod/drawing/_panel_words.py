"""Marks written on the panels of a case, where they can be seen."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from storyrod.drawing._labels import Taken
from storyrod.drawing._pens import HEIGHTS, Fill, Role, Tint
from storyrod.drawing._projection import Piece, View
from storyrod.drawing._symbols import rectangle
from storyrod.drawing._types import Bounds, Entity, Place, Text, text_box
from storyrod.measure.space import AXES, Axis, Box, Point
from storyrod.model.panel import Panel

Spans = tuple[tuple[float, float], ...]

_SHARES = (0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9)


def marks_on(
    panels: Sequence[Panel], pieces: Sequence[Piece], view: View, unit: float
) -> tuple[list[Entity], list[str]]:
    """Return each panel's mark on a face of it that is in sight, and the marks of panels wholly out of sight."""
    spans = [view.spans(p.box) for p in pieces]
    sight = _Sight(spans, view)
    taken = Taken(unit)
    items: list[Entity] = []
    hidden: list[str] = []
    for n, panel in enumerate(panels):
        text = taken.first_free(_words(panel, _places(n, pieces, view), sight, unit), unit, 0.4 * unit)
        if text is None:
            hidden.append(f"{panel.mark} {panel.name}")
            continue
        box = text_box(text, unit).grown(0.3 * unit)
        items.append(rectangle((box.left, box.bottom), (box.right, box.top), fill=Fill(Tint.PAPER)))
        items.append(text)
    return items, hidden


def _words(panel: Panel, places: Iterable[tuple[Place, int]], sight: _Sight, unit: float) -> Iterator[Text]:
    """Yield the panel's mark at every place in sight, first where it lies wholly on the panel."""
    partly = []
    for at, k in places:
        if not sight.is_covered(at, k):
            text = Text(at=at, text=panel.mark, height=HEIGHTS[Role.NAME], bold=True, role=Role.NAME)
            if sight.is_whole(text_box(text, unit), k):
                yield text
            partly.append(text)
    yield from partly


def _places(thing: int, pieces: Sequence[Piece], view: View) -> Iterator[tuple[Place, int]]:
    """Places on the faces of a panel that look at the viewer, the middle of the largest first."""
    for k, piece in enumerate(pieces):
        if piece.thing == thing:
            faces = sorted(((Axis.Y, False), (Axis.Z, True), (Axis.X, True)), key=lambda f: -_area(piece.box, f[0]))
            for axis, high in faces:
                for at in _grid(piece.box, axis, high=high):
                    yield view.on(at), k


def _area(box: Box, axis: Axis) -> float:
    a, b = (other for other in AXES if other is not axis)
    return box.size(a) * box.size(b)


def _grid(box: Box, axis: Axis, *, high: bool) -> Iterator[Point]:
    a, b = (other for other in AXES if other is not axis)
    start = Point(0.0, 0.0, 0.0).with_(axis, box.span(axis)[1 if high else 0])
    spots = sorted(((s, t) for s in _SHARES for t in _SHARES), key=lambda st: abs(st[0] - 0.5) + abs(st[1] - 0.5))
    for s, t in spots:
        yield start.with_(a, box.span(a)[0] + s * box.size(a)).with_(b, box.span(b)[0] + t * box.size(b))


class _Sight:
    """What can be seen of boxes painted one over another, the nearest last."""

    def __init__(self, spans: Sequence[Spans], view: View) -> None:
        self._spans = spans
        self._ways = [view.on(Point(0.0, 0.0, 0.0).with_(axis, 1.0)) for axis in AXES]

    def is_covered(self, at: Place, number: int) -> bool:
        """Return whether the picture of any box nearer than this one holds the place."""
        across = self._across(at)
        return any(_holds(spans, across) for spans in self._spans[number + 1 :])

    def is_whole(self, label: Bounds, number: int) -> bool:
        """Return whether a label lies wholly on its own box, clear of every nearer one."""
        corners = [(x, y) for x in (label.left, label.right) for y in (label.bottom, label.top)]
        own = self._spans[number]
        return all(_holds(own, self._across(at)) and not self.is_covered(at, number) for at in corners)

    def _across(self, at: Place) -> tuple[float, float, float]:
        """Return where a place lies across the lines along each axis: there a box's picture is three spans."""
        (ax, ay), (bx, by), (cx, cy) = self._ways
        x, y = at
        return x * ay - y * ax, x * by - y * bx, x * cy - y * cx


def _holds(spans: Spans, across: tuple[float, float, float]) -> bool:
    (a0, a1), (b0, b1), (c0, c1) = spans
    a, b, c = across
    return a0 < a < a1 and b0 < b < b1 and c0 < c < c1
