"""Arrows of a step: the way a part is brought, with a bend for a slide after entry, and the sweep of a turn."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from storyrod.drawing._panel_words import Spans, is_covered, ways_of
from storyrod.drawing._pens import HEIGHTS, Fill, Pen, Role, Tint
from storyrod.drawing._projection import View
from storyrod.drawing._symbols import rectangle
from storyrod.drawing._types import Bounds, Entity, Group, Path, Place, Text, text_box
from storyrod.measure.space import AXES, Axis, Box, Point

_HALF: Final = 0.7
_HEAD: Final = (4.2, 2.0)
_CASING: Final = 0.6
"""On paper: half the shaft's width, length and half width of the head, and the white rim that frees it of hatching."""

LEAST_LEG: Final = 9.0
"""On paper: each straight piece of an arrow is so long at least, a slide's too."""

_SPOTS: Final = (0.5, 0.3, 0.7, 0.15, 0.85)
_NEAR_IS_HIGH: Final = {Axis.X: True, Axis.Y: False, Axis.Z: True}


@dataclass(frozen=True, slots=True, kw_only=True)
class StepArrow:
    """A movement as it lies: the hull of what moves in its place, and the vectors by which it comes home.

    `before` are the pictures of what stands nearer to the maker than what moves, by `View.spans`.
    """

    hull: Box
    legs: tuple[Point, ...]
    before: tuple[Spans, ...] = ()

    @property
    def apart(self) -> Point:
        """From home to where what moves is drawn."""
        total = Point(0.0, 0.0, 0.0)
        for leg in self.legs:
            total -= leg
        return total

    def starts(self) -> Iterator[Point]:
        """Yield places, at home, from which the arrow may be drawn.

        They are on the near edges of the face that goes ahead, the middles first and those along a slide before the
        others, and on those of the face that follows.
        """
        first = self.legs[0]
        ahead = _main_axis(first)
        b, c = (a for a in AXES if a is not ahead)
        edges = [(c, b), (b, c)]
        if len(self.legs) > 1:
            edges.sort(key=lambda edge: edge[1] is not _main_axis(self.legs[1]))
        high = first.along(ahead) > 0
        # Into an opening: the edge that follows ends where it can be seen.
        for at_high in (not high, high) if ahead is Axis.Y else (high, not high):
            face = self.hull.span(ahead)[1 if at_high else 0]
            for near, other in edges:
                edge = self.hull.span(near)[1 if _NEAR_IS_HIGH[near] else 0]
                for spot in _SPOTS:
                    along = self.hull.span(other)[0] + spot * self.hull.size(other)
                    yield Point(0.0, 0.0, 0.0).with_(ahead, face).with_(near, edge).with_(other, along)

    def way(self, home: Point, view: View, unit: float) -> tuple[Place, ...]:
        """Return the arrow's corners in the picture for a place that ends at `home`; a slide shows its bend."""
        legs = [at_least(leg, LEAST_LEG * unit, view) for leg in self.legs]
        corners = [home]
        for leg in reversed(legs):
            corners.insert(0, corners[0] - leg)
        return tuple(view.on(corner) for corner in corners)


@dataclass(frozen=True, slots=True)
class Sweep:
    """The arrow of a turn: a chain of points along an arc in the picture."""

    points: tuple[Place, ...]

    def drawn(self, unit: float) -> tuple[Entity, ...]:
        """Return the arrow at a scale."""
        return (solid_arrow(self.points, unit),)


def arrow_of(arrow: StepArrow, view: View, unit: float, words: str) -> tuple[Entity, ...]:
    """Return the arrow of a movement, from where its start is in sight, with `words` at its bend if there are any."""
    if not arrow.legs:
        return ()
    tried = (arrow.way(home, view, unit) for home in arrow.starts())
    first = next(tried)
    clear = (w for w in itertools.chain((first,), tried) if not is_covered(w[0], arrow.before, ways_of(view)))
    way = next(clear, first)
    items: list[Entity] = [solid_arrow(way, unit)]
    if words and len(way) > 2:
        items += _bend_words(way, words, unit)
    return tuple(items)


def covered_by(arrows: Sequence[Entity], unit: float) -> list[Bounds]:
    """Return where arrows and their words leave no room for a mark."""
    found: list[Bounds] = []
    for item in arrows:
        if isinstance(item, Text):
            found.append(text_box(item, unit))
        elif isinstance(item, Group):
            found += [
                box for piece in item.items if isinstance(piece, Path) and piece.pen for box in _along(piece, unit)
            ]
    return found


def _along(path: Path, unit: float) -> Iterator[Bounds]:
    """Yield small squares along an arrow."""
    half = _HEAD[1] * 0.7 * unit
    for (x0, y0), (x1, y1) in pairwise(path.points):
        count = max(2, math.ceil(math.dist((x0, y0), (x1, y1)) / unit))
        for n in range(count + 1):
            x, y = x0 + (x1 - x0) * n / count, y0 + (y1 - y0) * n / count
            yield Bounds(left=x - half, bottom=y - half, right=x + half, top=y + half)


def _main_axis(vector: Point) -> Axis:
    return max(AXES, key=lambda a: abs(vector.along(a)))


def at_least(leg: Point, least: float, view: View) -> Point:
    """Return a vector drawn out so that it is `least` long in the picture."""
    length = math.hypot(*view.on(leg))
    times = max(1.0, least / length) if length else 1.0
    return Point(leg.x * times, leg.y * times, leg.z * times)


def _bend_words(way: tuple[Place, ...], words: str, unit: float) -> list[Entity]:
    """The length of the slide, under its part of the arrow."""
    (x0, y0), (x1, y1) = way[-2:]
    height = HEIGHTS[Role.FIGURE]
    off = (_HEAD[1] + 1.0 + height / 2) * unit
    text = Text(at=((x0 + x1) / 2, min(y0, y1) - off), text=words, height=height, bold=True, role=Role.FIGURE)
    box = text_box(text, unit).grown(0.3 * unit)
    return [rectangle((box.left, box.bottom), (box.right, box.top), fill=Fill(Tint.PAPER)), text]


def turn_arrow(picture: Bounds, rises: Point, view: View) -> Sweep:
    """Return the sweep round a picture by which the side toward `rises` comes up."""
    x, y = view.on(rises)
    start = -60.0 if rises.z < -0.5 else math.degrees(math.atan2(y, x))
    start = start + 360.0 if start < -90.0 else start
    end = 90.0
    lead = 0.12 * (end - start)
    start, end = start + lead, end - lead
    room = 0.07 * max(picture.width, picture.height)
    a, b = picture.width / 2 + room, picture.height / 2 + room
    cx, cy = (picture.left + picture.right) / 2, (picture.bottom + picture.top) / 2
    turns = [math.radians(start + (end - start) * n / 24) for n in range(25)]
    return Sweep(tuple((cx + a * _drawn_out(math.cos(t)), cy + b * _drawn_out(math.sin(t))) for t in turns))


def _drawn_out(part: float) -> float:
    """Return a cosine or sine drawn out toward the corner, so that the sweep goes round the picture, not over it."""
    return math.copysign(abs(part) ** 0.7, part)


def solid_arrow(points: Sequence[Place], unit: float) -> Group:
    """Return a solid arrow through `points`, with a white rim; its head ends in the last of them."""
    (x0, y0), (x1, y1) = _last_leg(points, _HEAD[0] * unit)
    length = math.hypot(x1 - x0, y1 - y0) or 1.0
    dx, dy = (x1 - x0) / length, (y1 - y0) / length
    neck = x1 - dx * _HEAD[0] * unit, y1 - dy * _HEAD[0] * unit
    shaft = (*_until(points, _HEAD[0] * unit), neck)
    items: list[Entity] = []
    for rim, tint in ((_CASING, Tint.PAPER), (0.0, Tint.INK)):
        fill = Fill(tint)
        half = (_HALF + rim) * unit
        items += [Path(points=_bar(a, b, half), closed=True, fill=fill) for a, b in pairwise(shaft)]
        wide, back, tip = (_HEAD[1] + 1.6 * rim) * unit, rim * unit, 1.8 * rim * unit
        base = neck[0] - dx * back, neck[1] - dy * back
        head = (
            (base[0] - dy * wide, base[1] + dx * wide),
            (x1 + dx * tip, y1 + dy * tip),
            (base[0] + dy * wide, base[1] - dx * wide),
        )
        items.append(Path(points=head, closed=True, fill=fill))
    items.append(Path(points=(*shaft, points[-1]), pen=Pen.MOVE))
    return Group(items=tuple(items), kind="move", name="moves this way")


def _last_leg(points: Sequence[Place], head: float) -> tuple[Place, Place]:
    """Return the direction of the head: from the last point that lies at least a head's length before the tip."""
    tip = points[-1]
    far = [p for p in points[:-1] if math.dist(p, tip) >= head * 0.99]
    return (far[-1] if far else points[-2]), tip


def _until(points: Sequence[Place], head: float) -> tuple[Place, ...]:
    """Return the corners that come before the head."""
    tip = points[-1]
    kept = list(points[:-1])
    while len(kept) > 1 and math.dist(kept[-1], tip) < head * 0.99:
        kept.pop()
    return tuple(kept)


def _bar(a: Place, b: Place, half: float) -> tuple[Place, ...]:
    """Return the strip about the line from `a` to `b`, drawn out a little so that a bend has no notch."""
    length = math.dist(a, b) or 1.0
    dx, dy = (b[0] - a[0]) / length * half, (b[1] - a[1]) / length * half
    return (
        (a[0] - dx - dy, a[1] - dy + dx),
        (b[0] + dx - dy, b[1] + dy + dx),
        (b[0] + dx + dy, b[1] + dy - dx),
        (a[0] - dx + dy, a[1] - dy - dx),
    )
