"""A jig at full size, cut into tiles for printing: pasted on a board, they are cut and bored through.

Tiles stand in columns and rows, each repeating 20 mm of its neighbours. Crosses stand in the overlaps, the same on both
tiles; every tile carries a check bar of 100 mm and its number.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from storyrod.drawing._drawing import Drawing
from storyrod.drawing._figures import Figures
from storyrod.drawing._labels import spread
from storyrod.drawing._pens import HEIGHTS, Fill, Hatch, Pen, Role, Tint
from storyrod.drawing._rod import CHECK_BAR, OVERLAP, TILE, check_bar
from storyrod.drawing._symbols import line, rectangle, sheet_cross
from storyrod.drawing._types import Anchor, Bounds, Circle, Entity, Path, Text
from storyrod.drawing.jig_drawing import jig_extent, jig_true_size
from storyrod.model.job import Paper
from storyrod.model.machining import JigKind, JigPlan

TILE_HEIGHT: Final[dict[Paper, float]] = {Paper.A4: 162.0, Paper.A3: 248.0, Paper.LETTER: 167.0}
"""Height of the jig on one tile of a sheet that lies on its side: the sheet's less margins and the foot of the tile."""

_EDGE: Final = 5.0  # paper left round the jig
_NAMES: Final = 4.0  # and for the names of stops below it
_FOOT: Final = 16.0  # below each tile: check bar and name
_CROSS: Final = 3.0  # half the width of a cross
_INSIDE: Final = 6.0  # from the edge of a tile to its crosses
_FIGURE, _NOTE = HEIGHTS[Role.FIGURE], HEIGHTS[Role.NOTE]

Seams = tuple[tuple[float, float], ...]


def jig_tiles(jig: JigPlan, paper: Paper = Paper.A4, *, figures: Figures | None = None) -> tuple[Drawing, ...]:
    """Return a jig at full size cut into tiles for `paper`, row by row from the top, each from the left."""
    shown = figures or Figures()
    whole = jig_extent(jig).grown(_EDGE)
    whole = replace(whole, bottom=whole.bottom - _NAMES)
    columns = _cut(whole.left, whole.right, TILE[paper])
    rows = _cut(whole.bottom, whole.top, TILE_HEIGHT[paper])[::-1]
    items = (*_without_tint(jig_true_size(jig).items), *_figures(jig, shown))
    count = len(rows) * len(columns)
    tiles = []
    for r, (bottom, top) in enumerate(rows):
        for c, (left, right) in enumerate(columns):
            number = r * len(columns) + c + 1
            window = Bounds(left=left, bottom=bottom, right=right, top=top)
            tiles.append(
                Drawing(
                    id=f"jig-{jig.id}-tile-{number}",
                    title=f"Jig {jig.id}, tile {number} of {count}",
                    alt=f"{jig.name} at full size, tile {number} of {count}.",
                    items=(*items, *_frame(window, columns, rows), *_foot(jig, window, number, count)),
                    window=Bounds(left=left, bottom=bottom - _FOOT, right=right, top=top),
                )
            )
    return tuple(tiles)


def _cut(start: float, end: float, size: float) -> Seams:
    """Return stretches no longer than `size` from start to end, each repeating `OVERLAP` of the one before."""
    if end - start <= size:
        return ((start, end),)
    count = math.ceil((end - start - OVERLAP) / (size - OVERLAP))
    step = (end - start - OVERLAP) / count
    return tuple((start + n * step, start + (n + 1) * step + OVERLAP) for n in range(count))


def _without_tint(items: tuple[Entity, ...]) -> Iterator[Entity]:
    """Yield the jig without its shades: glue and ink do not go well together."""
    for item in items:
        if isinstance(item, Path | Circle) and item.fill is not None and item.fill.hatch is Hatch.NONE:
            yield replace(item, fill=None)
        else:
            yield item


def _figures(jig: JigPlan, figures: Figures) -> Iterator[Entity]:
    """Yield a line at the zero, and the running figure of every station beside its opening."""
    if jig.kind is JigKind.TEMPLATE:
        return
    foot = -jig.opening[1] / 2 - 6.0
    places = spread(list(jig.stations), _FIGURE + 1.0)
    for at, label_at in zip(jig.stations, places, strict=True):
        at_foot = (label_at, foot)
        yield Text(at=at_foot, text=figures.of(at), height=_FIGURE, anchor=Anchor.END, angle_deg=90.0, role=Role.FIGURE)
    if jig.start < 0.0 < jig.end:
        yield line((0.0, jig.near), (0.0, jig.far), pen=Pen.MARK)
        yield Text(at=(2.5, jig.near + 4.0), text="0", height=_FIGURE, anchor=Anchor.START, role=Role.FIGURE)


def _frame(window: Bounds, columns: Seams, rows: Seams) -> Iterator[Entity]:
    """Yield the edge of a tile, and the crosses in its overlaps."""
    yield rectangle((window.left, window.bottom), (window.right, window.top), pen=Pen.EXTENSION)
    for x in _middles(columns, window.left, window.right):
        for y in (window.bottom + _INSIDE, window.top - _INSIDE):
            yield from sheet_cross((x, y), _CROSS)
    for y in _middles(rows, window.bottom, window.top):
        for x in (window.left + 2 * OVERLAP, window.right - 2 * OVERLAP):
            yield from sheet_cross((x, y), _CROSS)


def _middles(seams: Seams, start: float, end: float) -> Iterator[float]:
    """Yield the middle of each overlap that lies in a tile."""
    low, high = min(a for a, _ in seams), max(b for _, b in seams)
    if start > low + 1e-6:
        yield start + OVERLAP / 2
    if end < high - 1e-6:
        yield end - OVERLAP / 2


def _foot(jig: JigPlan, window: Bounds, number: int, count: int) -> Iterator[Entity]:
    """Yield the blank strip below a tile with its check bar and its name."""
    low = window.bottom - _FOOT
    yield rectangle((window.left - 1.0, low - 1.0), (window.right + 1.0, window.bottom), fill=Fill(Tint.PAPER))
    yield line((window.left, window.bottom), (window.right, window.bottom), pen=Pen.EXTENSION)
    yield from check_bar(window.left + 4.0, low + 6.5)
    beside = window.left + 4.0 + CHECK_BAR + 8.0
    name = f"Jig {jig.id}, tile {number} of {count}"
    if window.right - beside < 45.0:  # a small jig: its name stands above the bar
        yield Text(at=(window.left + 4.0, low + 12.0), text=name, height=_NOTE, anchor=Anchor.START)
        return
    yield Text(at=(beside, low + 10.5), text=name, height=_NOTE, anchor=Anchor.START)
    yield Text(at=(beside, low + 5.5), text=jig.name, height=_NOTE, anchor=Anchor.START)
