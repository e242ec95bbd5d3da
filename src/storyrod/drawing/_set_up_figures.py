"""Figures of a section that is set to: beside their lines where there is no room between the arrows; and mirroring."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Final

from storyrod.drawing._lettering import width_of
from storyrod.drawing._pens import HEIGHTS, Role
from storyrod.drawing._types import Anchor, Circle, Dimension, Entity, Path, Place, Text

_HEIGHT: Final = HEIGHTS[Role.FIGURE]
_ROOM: Final = 3.0  # of its line on either side of a figure, on paper
BESIDE: Final = 2.5
"""From the arrow to a figure that stands beside it, on paper."""
_CLEAR: Final = 0.66 * _HEIGHT  # from the middle of a figure to the level of which it keeps clear


def across(a: Place, b: Place, away: float, text: str, unit: float) -> Iterator[Entity]:
    """Yield a level dimension `away` on paper; its figure to the left of it where it does not fit between."""
    fits = abs(b[0] - a[0]) / unit >= width_of(text, _HEIGHT) + 2 * _ROOM
    shown = text if fits else ""
    yield Dimension(a=a, b=b, away=away * unit, text=shown, height=_HEIGHT)
    if not fits:
        left = min(a[0], b[0]) - BESIDE * unit
        at = (left, a[1] + away * unit)
        yield Text(at=at, text=text, height=_HEIGHT, anchor=Anchor.END, role=Role.FIGURE)


def upright(
    x: float, low: float, high: float, away: float, text: str, unit: float, *, clear_of: float | None = None
) -> Iterator[Entity]:
    """Yield an upright dimension to the right; its figure beyond it, level, where it does not fit between.

    A figure beside its line keeps clear of the level of one of its ends, `clear_of`, beyond which the next one stands.
    """
    fits = (high - low) / unit >= width_of(text, _HEIGHT) + 2 * _ROOM
    shown = text if fits else ""
    yield Dimension(a=(x, low), b=(x, high), away=-away * unit, text=shown, height=_HEIGHT)
    if not fits:
        middle = (low + high) / 2
        if clear_of is not None:
            off = _CLEAR * unit
            middle = max(middle, clear_of + off) if middle > clear_of else min(middle, clear_of - off)
        at = (x + (away + BESIDE) * unit, middle)
        yield Text(at=at, text=text, height=_HEIGHT, anchor=Anchor.START, role=Role.FIGURE)


def mirrored(items: Iterable[Entity]) -> tuple[Entity, ...]:
    """Return a section upside down, its words upright."""
    return tuple(_turned(item) for item in items)


def _turned(item: Entity) -> Entity:
    if isinstance(item, Path):
        return replace(item, points=tuple((x, -y) for x, y in item.points), bulges=tuple(-b for b in item.bulges))
    if isinstance(item, Circle):
        return replace(item, centre=(item.centre[0], -item.centre[1]))
    if isinstance(item, Text):
        return replace(item, at=(item.at[0], -item.at[1]))
    if isinstance(item, Dimension):
        (ax, ay), (bx, by) = item.a, item.b
        return replace(item, a=(ax, -ay), b=(bx, -by), away=-item.away)
    raise TypeError(f"a section has no {type(item).__name__}")
