"""Dimensions drawn out into plain lines and words, after ISO 129-1."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache
from typing import Final

from storyrod.drawing._lettering import width_of
from storyrod.drawing._pens import Pen, Role
from storyrod.drawing._types import Anchor, Circle, Dimension, Path, Place, Running, Stop, Text

JOG: Final = 3.5
"""From a running dimension's line to where its figures start, in mm on paper; leaders bend in it."""

_TICK = 1.1  # half the length of an oblique stroke
_OVER = 1.0  # how far an extension line goes past the dimension line
_AIR = 0.7  # between a figure and the next line
_ORIGIN = 1.2  # radius of the open circle at the datum


@lru_cache(maxsize=1024)
def parts_of(item: Running | Dimension, unit: float) -> tuple[Path | Circle | Text, ...]:
    """Return the lines, circle and words of a dimension; `unit` is mm of the thing for one on paper.

    Each is measured several times before it is written.
    """
    return tuple(_running(item, unit) if isinstance(item, Running) else _single(item, unit))


def _running(run: Running, unit: float) -> Iterator[Path | Circle | Text]:
    def place(along: float, across: float) -> Place:
        return (along, across) if run.along_x else (across, along)

    first, _ = run.origin if run.along_x else run.origin[::-1]
    line = run.line_at
    ends = [first, *(s.at for s in run.stops)]
    far = max(ends, key=lambda at: abs(at - first))
    near = min((s.at for s in run.stops if (s.at - first) * (far - first) < 0), default=first)
    circle = _ORIGIN * unit
    way = math.copysign(circle, far - first)
    yield Path(points=(place(first + way, line), place(far, line)), pen=Pen.DIMENSION, layer=run.layer)
    if near != first:
        yield Path(points=(place(first - way, line), place(near, line)), pen=Pen.DIMENSION, layer=run.layer)
    yield Circle(centre=place(first, line), radius=circle, pen=Pen.DIMENSION, layer=run.layer)
    for stop in run.stops:
        yield from _stop(run, stop, unit, is_origin=abs(stop.at - first) < 1e-6)


def _stop(run: Running, stop: Stop, unit: float, *, is_origin: bool) -> Iterator[Path | Text]:
    def place(along: float, across: float) -> Place:
        return (along, across) if run.along_x else (across, along)

    line, out = run.line_at, run.toward * unit
    if stop.text and abs(stop.start - line) > 1e-9:
        over = line if is_origin else line + _OVER * out
        for first, last in ((stop.start, over),) if stop.shown is None else stop.shown:
            ends = (place(stop.at, first), place(stop.at, over if last == line else last))
            yield Path(points=ends, pen=Pen.EXTENSION, layer=run.layer)
    if not is_origin:
        yield _tick(place(stop.at, line), unit, run.layer)
    if not stop.text:
        return
    bent = (place(stop.at, line + _OVER * out), place(stop.label_at, line + (JOG - 0.6) * out))
    yield Path(points=bent, pen=Pen.EXTENSION, layer=run.layer)
    yield Text(
        at=place(stop.label_at, line + JOG * out),
        text=stop.text,
        height=run.height,
        anchor=Anchor.START if run.toward > 0 else Anchor.END,
        angle_deg=90.0 if run.along_x else 0.0,
        role=Role.FIGURE,
        layer=run.layer,
    )


def _tick(at: Place, unit: float, layer: str) -> Path:
    (x, y), d = at, _TICK * unit * math.sqrt(0.5)
    return Path(points=((x - d, y - d), (x + d, y + d)), pen=Pen.FEATURE, layer=layer)


def _single(item: Dimension, unit: float) -> Iterator[Path | Text]:
    (ax, ay), (bx, by) = item.a, item.b
    length = math.hypot(bx - ax, by - ay) or 1.0
    nx, ny = -(by - ay) / length, (bx - ax) / length
    side = math.copysign(1.0, item.away)

    def off(at: Place, by: float) -> Place:
        return at[0] + nx * by, at[1] + ny * by

    for end in (item.a, item.b):
        ends = (off(end, side * unit), off(end, item.away + side * _OVER * unit))
        yield Path(points=ends, pen=Pen.EXTENSION, layer=item.layer)
        yield _tick(off(end, item.away), unit, item.layer)
    yield Path(points=(off(item.a, item.away), off(item.b, item.away)), pen=Pen.DIMENSION, layer=item.layer)
    if not item.text:  # its figure stands elsewhere
        return
    if _is_short(item, length, unit):
        yield _beside(item, off(((ax + bx) / 2, (ay + by) / 2), item.away), (nx * side, ny * side), unit)
        return
    angle = math.degrees(math.atan2(by - ay, bx - ax))
    # Read from the bottom or from the right, always above or left of its line.
    flip = angle > 90.0 + 1e-9 or angle <= -90.0 + 1e-9
    angle = angle + 180.0 if flip else angle
    above = (0.9 + item.height / 2) * unit * (-1.0 if flip else 1.0)
    middle = off(((ax + bx) / 2, (ay + by) / 2), item.away + above)
    yield Text(
        at=middle, text=item.text, height=item.height, angle_deg=angle % 360.0, role=Role.FIGURE, layer=item.layer
    )


def _is_short(item: Dimension, length: float, unit: float) -> bool:
    """Whether a level or upright dimension has no room for its figure between its ends."""
    straight = abs(item.a[0] - item.b[0]) < 1e-6 or abs(item.a[1] - item.b[1]) < 1e-6
    return straight and width_of(item.text, item.height) * unit > length - 2 * _AIR * unit


def _beside(item: Dimension, middle: Place, out: Place, unit: float) -> Text:
    """Return a figure beyond its short dimension, where neither its line nor the lines to its ends strike it through.

    It stands upright, so that it is read without turning the paper.
    """
    level = abs(out[1]) > abs(out[0])
    clear = (_OVER + _AIR + (item.height / 2 if level else 0.0)) * unit
    anchor = Anchor.MIDDLE if level else Anchor.START if out[0] > 0 else Anchor.END
    at = (middle[0] + out[0] * clear, middle[1] + out[1] * clear)
    return Text(at=at, text=item.text, height=item.height, anchor=anchor, role=Role.FIGURE, layer=item.layer)
