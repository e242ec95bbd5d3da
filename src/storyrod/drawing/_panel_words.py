"""Marks written on the panels of a case, where they can be seen."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache

from storyrod.drawing._labels import Taken
from storyrod.drawing._pens import HEIGHTS, Fill, Role, Tint
from storyrod.drawing._projection import Piece, View
from storyrod.drawing._symbols import rectangle
from storyrod.drawing._types import Bounds, Entity, Place, Text, text_box
from storyrod.measure.space import AXES, Axis, Box, Point
from storyrod.model.panel import Panel

Spans = tuple[tuple[float, float], ...]

_SHARES = (0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9)
_SPOTS = sorted(((s, t) for s in _SHARES for t in _SHARES), key=lambda st: abs(st[0] - 0.5) + abs(st[1] - 0.5))


def marks_on(
    panels: Sequence[Panel], pieces: Sequence[Piece], view: View, unit: float
) -> tuple[list[Entity], list[str]]:
    """Return each panel's mark on a face of it that is in sight, and the marks of panels wholly out of sight."""
    spans = [view.spans(p.box) for p in pieces]
    taken = Taken(unit)
    items: list[Entity] = []
    hidden: list[str] = []
    for n, panel in enumerate(panels):
        texts = _texts(panel.mark, _places(n, pieces, view), spans, view, unit)
        text = taken.first_free(texts, unit, 0.4 * unit)
        if text is None:
            hidden.append(f"{panel.mark} {panel.name}")
            continue
        box = text_box(text, unit).grown(0.3 * unit)
        items.append(rectangle((box.left, box.bottom), (box.right, box.top), fill=Fill(Tint.PAPER)))
        items.append(text)
    return items, hidden


def _texts(
    mark: str, places: Iterable[tuple[Place, int]], spans: Sequence[Spans], view: View, unit: float
) -> Iterator[Text]:
    """Yield a mark at every place in sight, first where it lies wholly on its own panel."""
    partly = []
    for at, k in places:
        if not _is_covered(at, spans[k + 1 :], view):
            text = Text(at=at, text=mark, height=HEIGHTS[Role.NAME], bold=True, role=Role.NAME)
            if _is_whole(text_box(text, unit), spans[k], spans[k + 1 :], view):
                yield text
            partly.append(text)
    yield from partly


def _places(thing: int, pieces: Sequence[Piece], view: View) -> Iterator[tuple[Place, int]]:
    """Places on the faces of a panel that look at the viewer, the middle of the largest first."""
    for k, piece in enumerate(pieces):
        if piece.thing == thing:
            faces = sorted(((Axis.Y, False), (Axis.Z, True), (Axis.X, True)), key=lambda f: -_area(piece.box, f[0]))
            for axis, high in faces:
                for at in _grid(piece.box, axis, view, high=high):
                    yield at, k


def _area(box: Box, axis: Axis) -> float:
    a, b = (other for other in AXES if other is not axis)
    return box.size(a) * box.size(b)


def _grid(box: Box, axis: Axis, view: View, *, high: bool) -> Iterator[Place]:
    """Yield places on a face as they lie in the picture, its middle first: worked out there, for they are many."""
    a, b = (other for other in AXES if other is not axis)
    corner = Point(0.0, 0.0, 0.0).with_(axis, box.span(axis)[1 if high else 0])
    x, y = view.on(corner.with_(a, box.span(a)[0]).with_(b, box.span(b)[0]))
    ways = dict(zip(AXES, _ways(view), strict=True))
    (ax, ay), (bx, by) = ((way[0] * box.size(n), way[1] * box.size(n)) for n, way in ((a, ways[a]), (b, ways[b])))
    for s, t in _SPOTS:
        yield (x + s * ax + t * bx, y + s * ay + t * by)


def _is_whole(box: Bounds, own: Spans, nearer: Sequence[Spans], view: View) -> bool:
    """Whether a label lies wholly on its own panel, clear of every nearer one."""
    corners = [(x, y) for x in (box.left, box.right) for y in (box.bottom, box.top)]
    return all(_is_covered(at, (own,), view) and not _is_covered(at, nearer, view) for at in corners)


def _is_covered(at: Place, nearer: Sequence[Spans], view: View) -> bool:
    """Whether the picture of any nearer box holds the place."""
    (ax, ay), (bx, by), (cx, cy) = _ways(view)
    x, y = at
    a, b, c = x * ay - y * ax, x * by - y * bx, x * cy - y * cx
    for (a0, a1), (b0, b1), (c0, c1) in nearer:  # noqa: SIM110  # asked tens of thousands of times: twice as quick as any()
        if a0 < a < a1 and b0 < b < b1 and c0 < c < c1:
            return True
    return False


@lru_cache(maxsize=16)
def _ways(view: View) -> tuple[Place, ...]:
    """Where a step along each axis goes in the picture; asked for at thousands of places of one view."""
    return tuple(view.on(Point(0.0, 0.0, 0.0).with_(axis, 1.0)) for axis in AXES)
