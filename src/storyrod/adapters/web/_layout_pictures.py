"""Small pictures of the ways a new job may be laid out, drawn from the layouts themselves."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from typing import Any, Final

from markupsafe import Markup

from storyrod.adapters.web._new_job import LAYOUTS, Layout
from storyrod.measure.length import Unit

_HIGH: Final = 720.0
_WIDE: Final = 600.0
_PX: Final = (40.0, 48.0)
_PARTS: Final = re.compile(r"(\d+) parts?")

type _Room = tuple[float, float, float, float]
"""Left, top, width and height in pixels."""


@cache
def layout_pictures() -> Mapping[str, Markup]:
    """Return a picture of every layout by its key: drawers with a pull, doors with a knob, loose shelves dashed."""
    return {layout.key: Markup(_svg(layout)) for layout in LAYOUTS}  # noqa: S704  # made of numbers alone


def _svg(layout: Layout) -> str:
    wide, high = _PX
    room = (1.0, 1.0, wide - 2, high - 2)
    shapes = "".join(_shapes(layout.inside(layout.usual, Unit.MM), room))
    frame = _rect(room, "frame")
    return f'<svg class="layout-picture" viewBox="0 0 {wide:g} {high:g}" aria-hidden="true">{frame}{shapes}</svg>'


def _shapes(inside: Mapping[str, Any], room: _Room) -> Iterator[str]:
    left, top, wide, high = room
    if "rows" in inside:
        for part, share in _shared(inside["rows"], "height", _HIGH):
            yield from _shapes(part, (left, top, wide, share * high))
            top += share * high
    elif "columns" in inside:
        for part, share in _shared(inside["columns"], "width", _WIDE):
            yield from _shapes(part, (left, top, share * wide, high))
            left += share * wide
    else:
        yield from _opening(inside, room)


def _shared(parts: Sequence[Mapping[str, Any]], size: str, whole: float) -> Iterator[tuple[Mapping[str, Any], float]]:
    """Yield each part with its share of the whole: a size of its own, or parts of what the others leave."""
    fixed = [float(p[size]) / whole if isinstance(p.get(size), int | float) else 0.0 for p in parts]
    counts = [_count(p.get(size)) for p in parts]
    left = 1.0 - sum(fixed)
    for part, own, count in zip(parts, fixed, counts, strict=True):
        yield part, own or left * count / sum(counts)


def _count(size: object) -> int:
    if isinstance(size, int | float):
        return 0
    found = _PARTS.fullmatch(size) if isinstance(size, str) else None
    return int(found[1]) if found else 1


def _opening(inside: Mapping[str, Any], room: _Room) -> Iterator[str]:
    left, top, wide, high = room
    holds = inside.get("holds")
    if holds == "drawer":
        yield _rect(room, "front")
        yield _line(left + 0.35 * wide, top + min(4.0, high / 2), left + 0.65 * wide, top + min(4.0, high / 2), "pull")
    elif holds == "door":
        yield _rect(room, "front")
        near = left + 4 if inside.get("hinged") == "right" else left + wide - 4
        yield _line(near, top + 0.44 * high, near, top + 0.56 * high, "pull")
    elif holds == "pair of doors":
        for n, near in ((0, -3.0), (1, 3.0)):
            yield _rect((left + n * wide / 2, top, wide / 2, high), "front")
            yield _line(left + wide / 2 + near, top + 0.44 * high, left + wide / 2 + near, top + 0.56 * high, "pull")
    else:
        yield _rect(room, "open")
    if inside.get("loose_shelves"):
        for n in range(1, inside["loose_shelves"] + 1):
            at = top + n * high / (inside["loose_shelves"] + 1)
            yield _line(left, at, left + wide, at, "loose")


def _rect(room: _Room, kind: str) -> str:
    left, top, wide, high = room
    return f'<rect class="{kind}" x="{left:.1f}" y="{top:.1f}" width="{wide:.1f}" height="{high:.1f}"/>'


def _line(x: float, y: float, to_x: float, to_y: float, kind: str) -> str:
    return f'<path class="{kind}" d="M{x:.1f} {y:.1f}L{to_x:.1f} {to_y:.1f}"/>'
