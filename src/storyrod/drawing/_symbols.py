"""Signs of the trade: face mark, edge mark, grain arrow, datum bar, centre cross, caution, arrows."""

from __future__ import annotations

import math

from storyrod.drawing._pens import Fill, Pen, Role, Tint
from storyrod.drawing._types import Anchor, Circle, Entity, Path, Place, Text

LOOP_HEIGHT = 9.0
"""How far the face mark's loop reaches from the edge, on paper."""


def line(*points: Place, pen: Pen, layer: str = "") -> Path:
    """Return an open chain of straight lines."""
    return Path(points=points, pen=pen, layer=layer)


def rectangle(a: Place, b: Place, *, pen: Pen | None = None, fill: Fill | None = None, layer: str = "") -> Path:
    """Return the upright rectangle between two opposite corners."""
    (x0, y0), (x1, y1) = a, b
    return Path(points=((x0, y0), (x1, y0), (x1, y1), (x0, y1)), closed=True, pen=pen, fill=fill, layer=layer)


def face_mark(at: Place, unit: float, layer: str = "") -> Path:
    """Return the loop that marks the face side; its tail ends at `at`, on the face edge."""
    x, y = at
    points = []
    for n in range(33):
        # A loop that crosses itself above its two tails, of which the left one runs on to the edge.
        angle = math.pi * (1.07 - 1.212 * n / 32)
        points.append((x + (2.0 + 2.6 * math.sin(2 * angle)) * unit, y + (2.6 + 6.0 * math.sin(angle)) * unit))
    return Path(points=tuple(points), pen=Pen.MARK, layer=layer)


def edge_mark(apex: Place, out: Place, depth: float, unit: float, layer: str = "") -> Path:
    """Return the V that marks the face edge: its point at `apex`, on the arris of the face side, opening `out`ward."""
    (x, y), (ox, oy) = apex, out
    half = 2.4 * unit
    left = x + ox * depth - oy * half, y + oy * depth + ox * half
    right = x + ox * depth + oy * half, y + oy * depth - ox * half
    return Path(points=(left, apex, right), pen=Pen.MARK, layer=layer)


def arrow_head(tip: Place, way: Place, unit: float, pen: Pen, size: float = 2.4, layer: str = "") -> Path:
    """Return the two strokes of an arrow's head; `way` is the direction it points, of length 1."""
    (x, y), (dx, dy), s = tip, way, size * unit
    back = x - dx * s, y - dy * s
    side = 0.35 * s
    ends = (back[0] - dy * side, back[1] + dx * side), tip, (back[0] + dy * side, back[1] - dx * side)
    return Path(points=ends, pen=pen, layer=layer)


def grain_arrow(middle: Place, half: float, unit: float, *, along_x: bool) -> tuple[Path, ...]:
    """Return the long double-ended arrow that shows the grain."""
    dx, dy = (1.0, 0.0) if along_x else (0.0, 1.0)
    (x, y) = middle
    a, b = (x - dx * half, y - dy * half), (x + dx * half, y + dy * half)
    return (
        line(a, b, pen=Pen.GRAIN),
        arrow_head(b, (dx, dy), unit, Pen.GRAIN, 3.5),
        arrow_head(a, (-dx, -dy), unit, Pen.GRAIN, 3.5),
    )


def centre_cross(at: Place, reach: float, layer: str = "") -> tuple[Path, Path]:
    """Return the two short lines through the middle of a bore."""
    x, y = at
    return (
        line((x - reach, y), (x + reach, y), pen=Pen.THIN, layer=layer),
        line((x, y - reach), (x, y + reach), pen=Pen.THIN, layer=layer),
    )


def sheet_cross(at: Place, reach: float) -> tuple[Entity, ...]:
    """Return the cross at which two printed tiles are laid over each other."""
    return (*centre_cross(at, reach), Circle(centre=at, radius=reach * 0.45, pen=Pen.THIN))


def caution_sign(at: Place, word: str, unit: float, height: float = 3.5) -> tuple[Entity, ...]:
    """Return the triangle with the word that stands where the hand will be; `at` is the triangle's foot, middle."""
    (x, y), s = at, height * 1.9 * unit
    top = s * math.sqrt(3) / 2
    triangle = ((x - s / 2, y), (x + s / 2, y), (x, y + top))
    stem = line((x, y + top * 0.62), (x, y + top * 0.3), pen=Pen.CAUTION)
    dot = Circle(centre=(x, y + top * 0.14), radius=0.35 * unit, pen=Pen.CAUTION)
    words = Text(
        at=(x + s / 2 + 1.5 * unit, y + top * 0.4),
        text=word,
        height=height,
        anchor=Anchor.START,
        bold=True,
        role=Role.NAME,
    )
    return Path(points=triangle, closed=True, pen=Pen.CAUTION, fill=Fill(Tint.CAUTION)), stem, dot, words


def move_arrow(points: tuple[Place, ...], unit: float) -> tuple[Path, Path]:
    """Return the solid arrow of a movement; more than two points give a slide after entry, an arrow with a bend."""
    (x0, y0), (x1, y1) = points[-2:]
    length = math.hypot(x1 - x0, y1 - y0) or 1.0
    way = (x1 - x0) / length, (y1 - y0) / length
    return line(*points, pen=Pen.MOVE), arrow_head(points[-1], way, unit, Pen.MOVE, 3.0)
