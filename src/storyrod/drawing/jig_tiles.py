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
from storyrod.drawing._types import Anchor, Bounds, Circle, Entity, Path, Text, text_box
from storyrod.drawing.jig_drawing import jig_extent, jig_true_size
from storyrod.model.job import Paper
from storyrod.model.machining import JigKind, JigPlan

TILE_HEIGHT: Final[dict[Paper, float]] = {Paper.A4: 162.0, Paper.A3: 248.0, Paper.LETTER: 167.0}
"""Height of the jig on one tile of a sheet that lies on its side: the sheet's less margins and the foot of the tile."""

_EDGE: Final = 5.0  # paper left round the jig
_NAMES: Final = 4.0  # and for the names of stops below it
_FOOT: Final = 16.0  # below each tile: check bar and name
_INWARD: Final = 1.0  # from the edge of a tile to words that are moved off it
_CROSS: Final = 3.0  # half the width of a cross
_INSIDE: Final = 6.0  # from the edge of a tile to its crosses
_FIGURE, _NOTE = HEIGHTS[Role.FIGURE], HEIGHTS[Role.NOTE]

Seams = tuple[tuple[float, float], ...]


def jig_tiles(jig: JigPlan, paper: Paper = Paper.A4, *, figures: Figures | None = None) -> tuple[Drawing, ...]:
    """Return a jig at full size cut into tiles for `paper`, row by row from the top, each from the left."""
    shown = figures or Figures()
    whole = jig_extent(jig).grown(_EDGE)
    whole = replace(whole, bottom=whole.bottom - _NAMES)
    items = (*_without_tint(jig_true_size(jig).items), *_figures(jig, shown))
    words = [text_box(item, 1.0) for item in items if isinstance(item, Text)]
    right = max([whole.right, *(box.right + _INWARD for box in words)])
    columns = _cut(whole.left, right, TILE[paper])
    rows = _cut(whole.bottom, whole.top, TILE_HEIGHT[paper])[::-1]
    count = len(rows) * len(columns)
    windows = [Bounds(left=a, bottom=b, right=c, top=d) for b, d in rows for a, c in columns]
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
                    items=(
                        *_without_cut_words(items, window, windows),
                        *_frame(window, columns, rows),
                        *_foot(jig, window, number, count),
                    ),
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


def _without_cut_words(items: tuple[Entity, ...], window: Bounds, windows: list[Bounds]) -> Iterator[Entity]:
    """Yield what is drawn without the words that the edge of a tile cuts: they are on the tile that holds them whole.

    Words that no tile holds whole are moved inward on the one that shows most of them.
    """
    for item in items:
        if not isinstance(item, Text):
            yield item
            continue
        box = text_box(item, 1.0)
        if _holds(window, box):
            yield item
        elif not any(_holds(w, box) for w in windows) and window == max(windows, key=lambda w: _shared(w, box)):
            x, y = item.at
            right = max(window.left + _INWARD - box.left, min(0.0, window.right - _INWARD - box.right))
            up = max(window.bottom + _INWARD - box.bottom, min(0.0, window.top - _INWARD - box.top))
            yield replace(item, at=(x + right, y + up))


def _shared(window: Bounds, box: Bounds) -> float:
    wide = min(window.right, box.right) - max(window.left, box.left)
    high = min(window.top, box.top) - max(window.bottom, box.bottom)
    return max(wide, 0.0) * max(high, 0.0)


def _holds(window: Bounds, box: Bounds) -> bool:
    return (
        window.left <= box.left and box.right <= window.right and window.bottom <= box.bottom and box.top <= window.top
    )


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
