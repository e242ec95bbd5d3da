"""Whether a drawing can be read: what lies over its words, how large they are, how far apart its marks are.

It shares no code with what places words and breaks lines: it looks at the finished lines in the order of painting.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from storyrod.drawing import (
    CAP,
    STROKES,
    Anchor,
    Arc,
    Bounds,
    Circle,
    Drawing,
    Fill,
    Group,
    Hatch,
    Path,
    Place,
    Role,
    Text,
    Tint,
    bounds_of,
    text_box,
    width_of,
)
from storyrod.drawing import Entity as DrawnEntity

LEAST_FIGURE = 12.0
"""Points of the face in which the smallest figure is set."""

LEAST_WORD = 10.5
"""Points of the face in which the smallest word is set."""

LEAST_APART = 1.0
"""mm on paper from the middle of one mark to that of the next."""

_PT = 72 / 25.4
_SKIN = 0.12  # mm on paper at the rim of a word in which a line does no harm
_SHORTEST = 0.3  # mm on paper of a line within a word that harms it
_PIECES = 24  # of a circle's chords

Shape = Path | Circle | Arc
Chord = tuple[Place, Place]


@dataclass(frozen=True, slots=True)
class Fault:
    """Something that keeps a word from being read."""

    kind: str
    text: str
    by: str


def faults_of(drawing: Drawing) -> tuple[Fault, ...]:
    """Return each word that a line strikes, an area covers, another word lies over, or that stands on a hatch."""
    flat = list(drawing.flat())
    shapes = [(n, i, bounds_of((i,), drawing.unit)) for n, i in enumerate(flat) if not isinstance(i, Text)]
    words = [(n, i) for n, i in enumerate(flat) if isinstance(i, Text) and i.text.strip()]
    found = [fault for n, text in words for fault in _Word(text, n, drawing.unit).faults(shapes)]
    boxes = [(t.text, text_box(t, drawing.unit).grown(-0.05 * drawing.unit)) for _, t in words]
    for n, (text, box) in enumerate(boxes):
        found += [Fault("words", text, other) for other, own in boxes[n + 1 :] if own.meets(box)]
    return tuple(found)


def too_small(drawing: Drawing, times: float = 1.0) -> tuple[str, ...]:
    """Return the words and figures under their least size, of a drawing printed `times` its own size."""
    texts = (item for item in drawing.flat() if isinstance(item, Text))
    return tuple(f"{t.text} {_points(t) * times:.1f} pt" for t in texts if _points(t) * times < _least(t))


def _points(text: Text) -> float:
    return text.height / CAP * _PT


def _least(text: Text) -> float:
    return LEAST_FIGURE if text.role in {Role.FIGURE, Role.NUMBER} else LEAST_WORD


def marks_too_near(drawing: Drawing) -> tuple[str, ...]:
    """Return the pairs of marks whose middles are nearer than they can be told apart."""
    middles = [(g.name, _middle(bounds_of(g.items, drawing.unit))) for g in _groups(drawing.items, "mark")]
    return tuple(
        f"{name} and {other}"
        for n, (name, at) in enumerate(middles)
        for other, to in middles[n + 1 :]
        if 1e-6 < math.dist(at, to) / drawing.unit < LEAST_APART
    )


def _middle(box: Bounds) -> Place:
    return (box.left + box.right) / 2, (box.bottom + box.top) / 2


def _groups(items: Sequence[DrawnEntity], kind: str) -> Iterator[Group]:
    for item in items:
        if isinstance(item, Group):
            if item.kind == kind:
                yield item
            yield from _groups(item.items, kind)


class _Word:
    """One word with what is painted before and after it."""

    def __init__(self, text: Text, place: int, unit: float) -> None:
        self.text, self.place, self.unit = text, place, unit
        high = text.height * unit
        wide = width_of(text.text, high, bold=text.bold)
        left = {Anchor.START: 0.0, Anchor.MIDDLE: -wide / 2, Anchor.END: -wide}[text.anchor]
        skin = _SKIN * unit
        self.own = Bounds(left=left + skin, right=left + wide - skin, bottom=skin - high / 2, top=high / 2 - skin)
        angle = math.radians(text.angle_deg)
        self.cos, self.sin = math.cos(angle), math.sin(angle)

    def faults(self, shapes: Sequence[tuple[int, Shape, Bounds]]) -> Iterator[Fault]:
        box = text_box(self.text, self.unit)
        near = [(n, item) for n, item, own in shapes if own.grown(0.6 * self.unit).meets(box)]
        areas = [
            (n, i, i.fill)
            for n, i in near
            if not isinstance(i, Arc) and i.fill is not None and i.fill.tint is not Tint.CLEAR
        ]
        yield from (Fault("line", self.text.text, pen) for pen in sorted(self._struck(near, areas)))
        over = [fill for n, i, fill in areas if n > self.place and any(_holds(i, at) for at in self._spots())]
        yield from (Fault("covered", self.text.text, str(fill.tint)) for fill in over[:1])
        grounds = {self._ground(at, areas) for at in self._spots()}
        yield from (Fault("ground", self.text.text, g) for g in sorted(grounds - {""}))

    def _struck(
        self, near: Sequence[tuple[int, Shape]], areas: Sequence[tuple[int, Path | Circle, Fill]]
    ) -> Iterator[str]:
        for n, item in near:
            if item.pen is None:
                continue
            frame = self.own.grown(STROKES[item.pen].width * self.unit / 2)
            within = (part for chord in _chords(item) if (part := self._within(chord, frame)) is not None)
            between = [i for m, i, _ in areas if n < m < self.place]
            if any(not any(_holds(i, middle) for i in between) for middle in within):
                yield str(item.pen)

    def _within(self, chord: Chord, frame: Bounds) -> Place | None:
        """Return the middle of the part of a chord that lies in the word's frame, where that is long enough."""
        part = _clipped(self._turned(chord[0]), self._turned(chord[1]), frame)
        if part is None or math.dist(*part) < _SHORTEST * self.unit:
            return None
        (x0, y0), (x1, y1) = part
        return self._placed(((x0 + x1) / 2, (y0 + y1) / 2))

    def _turned(self, at: Place) -> Place:
        dx, dy = at[0] - self.text.at[0], at[1] - self.text.at[1]
        return dx * self.cos + dy * self.sin, dy * self.cos - dx * self.sin

    def _placed(self, at: Place) -> Place:
        x, y = self.text.at
        return x + at[0] * self.cos - at[1] * self.sin, y + at[0] * self.sin + at[1] * self.cos

    def _spots(self) -> Iterator[Place]:
        own = self.own
        for n in range(7):
            for y in (own.bottom, (own.bottom + own.top) / 2, own.top):
                yield self._placed((own.left + n * own.width / 6, y))

    def _ground(self, at: Place, areas: Sequence[tuple[int, Path | Circle, Fill]]) -> str:
        """Return what makes the ground of a place hard to read on; nothing where it is clear."""
        below = [fill for n, i, fill in areas if n < self.place and _holds(i, at)]
        if not below:
            return ""
        top = below[-1]
        return str(top.hatch) if top.hatch is not Hatch.NONE else "ink" if top.tint is Tint.INK else ""


def _chords(item: Shape) -> Iterator[Chord]:
    if not isinstance(item, Path):
        whole = isinstance(item, Circle)
        start, turn = (0.0, 360.0) if isinstance(item, Circle) else (item.start_deg, item.end_deg - item.start_deg)
        points = _arc(item.centre, item.radius, start, turn if whole else turn % 360.0)
        yield from pairwise(points)
        return
    ends = item.points[1:] + (item.points[:1] if item.closed else ())
    bulges = item.bulges or (0.0,) * len(item.points)
    for a, b, bulge in zip(item.points, ends, bulges, strict=False):
        points = _bulged(a, b, bulge) if bulge and a != b else [a, b]
        yield from pairwise(points)


def _arc(centre: Place, radius: float, start_deg: float, turn_deg: float) -> list[Place]:
    angles = (math.radians(start_deg + turn_deg * n / _PIECES) for n in range(_PIECES + 1))
    return [(centre[0] + radius * math.cos(a), centre[1] + radius * math.sin(a)) for a in angles]


def _bulged(a: Place, b: Place, bulge: float) -> list[Place]:
    """Return places along an arc whose bulge is the tangent of a quarter of its angle."""
    chord = math.dist(a, b)
    radius = chord * (1 + bulge * bulge) / (4 * abs(bulge))
    off = chord / 2 * (1 - bulge * bulge) / (2 * bulge)
    centre = (a[0] + b[0]) / 2 - off * (b[1] - a[1]) / chord, (a[1] + b[1]) / 2 + off * (b[0] - a[0]) / chord
    start = math.degrees(math.atan2(a[1] - centre[1], a[0] - centre[0]))
    return _arc(centre, radius, start, math.degrees(4 * math.atan(bulge)))


def _clipped(a: Place, b: Place, box: Bounds) -> Chord | None:
    """Return the part of a line within an upright rectangle (Liang and Barsky, 1984)."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    first, last = 0.0, 1.0
    for step, room in ((-dx, a[0] - box.left), (dx, box.right - a[0]), (-dy, a[1] - box.bottom), (dy, box.top - a[1])):
        if abs(step) < 1e-12:
            if room < 0:
                return None
        elif step < 0:
            first = max(first, room / step)
        else:
            last = min(last, room / step)
    if first > last:
        return None
    return (a[0] + dx * first, a[1] + dy * first), (a[0] + dx * last, a[1] + dy * last)


def _holds(item: Path | Circle, at: Place) -> bool:
    """Whether a place lies in an area, by counting the lines that a ray from it crosses."""
    if isinstance(item, Circle):
        return math.dist(at, item.centre) <= item.radius
    x, y = at
    closed = Path(points=item.points, bulges=item.bulges, closed=True)
    crossed = (
        (ay > y) != (by > y) and x < (bx - ax) * (y - ay) / (by - ay) + ax for (ax, ay), (bx, by) in _chords(closed)
    )
    return sum(crossed) % 2 == 1
