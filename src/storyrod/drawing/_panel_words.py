"""Marks written on the panels of a case, where they can be seen."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache

from storyrod.drawing._labels import Taken
from storyrod.drawing._pens import HEIGHTS, Fill, Role, Tint
from storyrod.drawing._projection import Piece, View
from storyrod.drawing._symbols import rectangle
from storyrod.drawing._types import Bounds, Entity, Place, Text, text_box
from storyrod.measure.space import AXES, Axis, Box, Point
from storyrod.model.panel import Panel

Spans = tuple[tuple[float, float], ...]

_DUST = 1e-6  # mm

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
        text = taken.first_free(_texts(panel.mark, sights(n, pieces, spans, view), unit), unit, 0.4 * unit)
        if text is None:
            hidden.append(f"{panel.mark} {panel.name}")
            continue
        box = text_box(text, unit).grown(0.3 * unit)
        items.append(rectangle((box.left, box.bottom), (box.right, box.top), fill=Fill(Tint.PAPER)))
        items.append(text)
    return items, hidden


def _texts(mark: str, seen: Iterator[Sight], unit: float) -> Iterator[Text]:
    """Yield a mark at every place in sight, first where it lies wholly on its own panel."""
    partly = []
    for sight in seen:
        for at in sight.places():
            text = mark_at(at, mark)
            box = text_box(text, unit)
            if sight.has_room(box) and sight.holds(box):
                yield text
            partly.append(text)
    yield from partly


def mark_at(at: Place, mark: str) -> Text:
    """Return a panel's mark as it is written in a picture."""
    return Text(at=at, text=mark, height=HEIGHTS[Role.NAME], bold=True, role=Role.NAME)


def sights(thing: int, pieces: Sequence[Piece], spans: Sequence[Spans], view: View) -> Iterator[Sight]:
    """Yield what can be seen of each piece of a panel; `spans` are the pictures of all pieces, from far to near."""
    for k, piece in enumerate(pieces):
        if piece.thing == thing:
            yield Sight(piece.box, spans[k], spans[k + 1 :], view)


class Sight:
    """One piece of a panel as it lies in the picture, and the pictures of nearer pieces that lie over its own.

    It is asked about thousands of places: whatever they share is worked out once.
    """

    def __init__(self, box: Box, own: Spans, nearer: Sequence[Spans], view: View) -> None:
        self._box = box
        self._own = own
        self._over = [s for s in nearer if _overlap(s, own)]
        self._view = view
        self._ways = ways_of(view)

    def places(self) -> Iterator[Place]:
        """Yield the places in sight on the faces that look at the viewer, the middle of the largest first."""
        faces = sorted(((Axis.Y, False), (Axis.Z, True), (Axis.X, True)), key=lambda f: -_area(self._box, f[0]))
        over, ways = self._over, self._ways
        for axis, high in faces:
            for at in self._grid(axis, high=high):
                if not is_covered(at, over, ways):
                    yield at

    def has_room(self, box: Bounds) -> bool:
        """Whether a label as large as this could lie wholly on the piece, wherever it stood."""
        for (x, y), (low, high) in zip(self._ways, self._own, strict=True):
            if abs(y) * box.width + abs(x) * box.height > high - low + _DUST:
                return False
        return True

    def holds(self, box: Bounds) -> bool:
        """Whether a label lies wholly on its own panel, clear of every nearer one."""
        own, over, ways = (self._own,), self._over, self._ways
        for at in ((x, y) for x in (box.left, box.right) for y in (box.bottom, box.top)):
            if not is_covered(at, own, ways) or is_covered(at, over, ways):
                return False
        return True

    def _grid(self, axis: Axis, *, high: bool) -> Iterator[Place]:
        """Yield places on a face as they lie in the picture, its middle first: worked out there, for they are many."""
        box = self._box
        a, b = (other for other in AXES if other is not axis)
        corner = Point(0.0, 0.0, 0.0).with_(axis, box.span(axis)[1 if high else 0])
        x, y = self._view.on(corner.with_(a, box.span(a)[0]).with_(b, box.span(b)[0]))
        ways = dict(zip(AXES, self._ways, strict=True))
        (ax, ay), (bx, by) = ((way[0] * box.size(n), way[1] * box.size(n)) for n, way in ((a, ways[a]), (b, ways[b])))
        for s, t in _SPOTS:
            yield (x + s * ax + t * bx, y + s * ay + t * by)


def _area(box: Box, axis: Axis) -> float:
    a, b = (other for other in AXES if other is not axis)
    return box.size(a) * box.size(b)


def _overlap(one: Spans, other: Spans) -> bool:
    """Whether the pictures of two boxes share a place."""
    return all(a0 < b1 and b0 < a1 for (a0, a1), (b0, b1) in zip(one, other, strict=True))


def is_covered(at: Place, pictures: Sequence[Spans], ways: Sequence[Place]) -> bool:
    """Whether any of the pictures holds the place; `ways` are those of the view (`ways_of`)."""
    (ax, ay), (bx, by), (cx, cy) = ways
    x, y = at
    a, b, c = x * ay - y * ax, x * by - y * bx, x * cy - y * cx
    for (a0, a1), (b0, b1), (c0, c1) in pictures:  # noqa: SIM110  # asked tens of thousands of times: twice as quick as any()
        if a0 < a < a1 and b0 < b < b1 and c0 < c < c1:
            return True
    return False


@lru_cache(maxsize=16)
def ways_of(view: View) -> tuple[Place, ...]:
    """Return where a step along each axis goes in the picture."""
    return tuple(view.on(Point(0.0, 0.0, 0.0).with_(axis, 1.0)) for axis in AXES)
