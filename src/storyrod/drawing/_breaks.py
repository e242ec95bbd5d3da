"""Thin lines broken where they would strike a word through (ISO 129-1 lets an extension line be interrupted)."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Final

from storyrod.drawing._drawing import flattened
from storyrod.drawing._pens import Pen
from storyrod.drawing._types import Anchor, Bounds, Entity, Group, Path, Place, Running, Stop, Text, text_box, width_in

_GAP: Final = 0.35  # between a word and the end of a line that is broken at it, on paper
_LEAST: Final = 0.8  # a piece of a line that is shorter says nothing and is left out, on paper

Spans = list[tuple[float, float]]
"""Parts of a line by their shares of its length."""


def clear_of_words(items: Sequence[Entity], unit: float) -> tuple[Entity, ...]:
    """Return the drawing's items with every extension line and leader broken where a word or figure stands.

    `unit` is mm of the thing drawn for one on paper. Lines of the work itself are left whole: words keep clear of
    them.
    """
    words = [(text, text_box(text, unit)) for text in flattened(items, unit) if isinstance(text, Text)]
    return tuple(_cleared(items, words, unit))


def _cleared(items: Iterable[Entity], words: Sequence[tuple[Text, Bounds]], unit: float) -> Iterator[Entity]:
    for item in items:
        if isinstance(item, Group):
            yield replace(item, items=tuple(_cleared(item.items, words, unit)))
        elif isinstance(item, Running):
            yield replace(item, stops=tuple(_stop(item, stop, words, unit) for stop in item.stops))
        elif isinstance(item, Path) and item.pen is Pen.EXTENSION and item.fill is None and not item.closed:
            yield from _path(item, words, unit)
        else:
            yield item


def _stop(run: Running, stop: Stop, words: Sequence[tuple[Text, Bounds]], unit: float) -> Stop:
    def place(across: float) -> Place:
        return (stop.at, across) if run.along_x else (across, stop.at)

    ends = stop.start, run.line_at
    kept = _kept(place(ends[0]), place(ends[1]), words, unit)
    if kept == [(0.0, 1.0)]:
        return stop
    first, last = ends
    return replace(stop, shown=tuple((first + a * (last - first), first + b * (last - first)) for a, b in kept))


def _path(path: Path, words: Sequence[tuple[Text, Bounds]], unit: float) -> Iterator[Path]:
    parts = [(a, b, _kept(a, b, words, unit)) for a, b in zip(path.points, path.points[1:], strict=False)]
    if all(kept == [(0.0, 1.0)] for _, _, kept in parts):
        yield path
        return
    for a, b, kept in parts:
        for t0, t1 in kept:
            yield replace(path, points=(_between(a, b, t0), _between(a, b, t1)))


def _between(a: Place, b: Place, share: float) -> Place:
    return a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])


def _kept(a: Place, b: Place, words: Sequence[tuple[Text, Bounds]], unit: float) -> Spans:
    """Return the parts of a line that no word stands on; all of it as one part where none does."""
    length = math.hypot(b[0] - a[0], b[1] - a[1])
    if length < 1e-9:
        return [(0.0, 1.0)]
    box = Bounds(left=min(a[0], b[0]), right=max(a[0], b[0]), bottom=min(a[1], b[1]), top=max(a[1], b[1]))
    near = (text for text, filled in words if filled.meets(box, unit))
    struck = sorted(found for text in near if (found := _struck(a, b, text, unit)) is not None)
    if not struck:
        return [(0.0, 1.0)]
    gap, parts, at = _GAP * unit / length, [], 0.0
    for first, last in struck:
        if first - gap > at:
            parts.append((at, first - gap))
        at = max(at, last + gap)
    if at < 1.0:
        parts.append((at, 1.0))
    return [(p, q) for p, q in parts if (q - p) * length > _LEAST * unit]


def _struck(a: Place, b: Place, text: Text, unit: float) -> tuple[float, float] | None:
    """Return between which shares of its length a line runs through a text's letters; None where it does not."""
    wide, half = width_in(text, unit), text.height / 2 * unit
    left = {Anchor.START: 0.0, Anchor.MIDDLE: -wide / 2, Anchor.END: -wide}[text.anchor]
    cos, sin = math.cos(math.radians(text.angle_deg)), math.sin(math.radians(text.angle_deg))

    def seen(at: Place) -> Place:
        dx, dy = at[0] - text.at[0], at[1] - text.at[1]
        return dx * cos + dy * sin, dy * cos - dx * sin

    (x0, y0), (x1, y1) = seen(a), seen(b)
    low, high = 0.0, 1.0
    for start, end, least, most in ((x0, x1, left, left + wide), (y0, y1, -half, half)):
        step = end - start
        if abs(step) < 1e-12:
            if not least < start < most:
                return None
            continue
        near, far = sorted(((least - start) / step, (most - start) / step))
        low, high = max(low, near), min(high, far)
    return (low, high) if low < high else None
