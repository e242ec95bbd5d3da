"""Rods at full size: lengths on one edge, widths on the other, the datum end black; whole, or tiled for printing."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from storyrod.drawing._drawing import Drawing, bounds_of
from storyrod.drawing._figures import Figures
from storyrod.drawing._labels import Taken, spread
from storyrod.drawing._lettering import width_of
from storyrod.drawing._pens import HEIGHTS, Fill, Hatch, Pen, Role, Tint
from storyrod.drawing._symbols import line, rectangle, sheet_cross
from storyrod.drawing._types import Anchor, Bounds, Entity, Path, Place, Text, around
from storyrod.model.job import Paper
from storyrod.model.mark import Rod, RodTick

OVERLAP: Final = 20.0
"""How much of a tile the next one repeats."""

TILE: Final[dict[Paper, float]] = {Paper.A4: 267.0, Paper.A3: 390.0, Paper.LETTER: 249.0}
"""Length of one tile on a sheet that lies on its side: the sheet's less 15 mm at either end."""

CHECK_BAR: Final = 100.0

_START = -12.0  # where the blackened datum end begins
_TICK = 6.0  # length of a tick
_LEADER = 3.0  # from a tick's end to its words
_PITCH = 4.8  # from label to label, whichever edge they belong to: so the rows may pass each other
_CLEAR = 1.5  # between the end of one row's words and the other row's leaders
_MOST = 9  # characters that stand behind a figure; the set-out sheet has the rest
_FIGURE, _NOTE = HEIGHTS[Role.FIGURE], HEIGHTS[Role.NOTE]
_BLANK = 2.0  # between a figure and its words
_END = 8.0  # how far the rod goes on past its last mark
_HEAD = 1.0  # above the rod
_FOOT = 6.0  # below the rod: name of the tile
_CROSS = 3.0  # half the width of a cross
_NARROWEST = 48.0  # a tile is at least so wide, for its name


@dataclass(frozen=True, slots=True)
class _Label:
    """A tick with its words, moved clear of its neighbours."""

    at: float
    label_at: float
    figure: str
    words: str
    is_band: bool


@dataclass(frozen=True, slots=True)
class _Edge:
    """One edge of the rod: its ticks, its bands, and how far the words reach inward."""

    labels: tuple[_Label, ...]
    bands: tuple[tuple[float, float], ...]
    reach: float


def rod_strip(rod: Rod, *, figures: Figures | None = None) -> Drawing:
    """Return the whole rod at full size as one strip."""
    edges = _edges(rod, figures or Figures())
    end = max(rod.length, rod.width_length) + _END + 2.0
    items = _part(rod, edges, _START - 2.0, end)
    return Drawing(
        id=f"{rod.gang}.rod",
        title=f"Rod {rod.gang}: {rod.name}",
        alt=_alt(rod, figures or Figures()),
        items=tuple(items),
        notes=("Full size. The black end is the datum.", (figures or Figures()).said),
        window=Bounds(left=_START - 2.0, right=end, bottom=-_height(edges) - 2.0, top=2.0),
    )


def rod_tiles(rod: Rod, paper: Paper = Paper.A4, *, figures: Figures | None = None) -> tuple[Drawing, ...]:
    """Return the rod at full size cut into tiles for `paper`, each repeating 20 mm of the one before.

    Two crosses stand on the strip in each overlap, the same on both tiles, where no words are. The last tile ends with
    the rod. A rod printed so needs a check bar beside it: see `check_bar_drawing`.
    """
    shown = figures or Figures()
    edges = _edges(rod, shown)
    height = _height(edges)
    end = max(rod.length, rod.width_length) + _END + 2.0
    starts = _tile_starts(end, TILE[paper])
    taken = _taken(_part(rod, edges, _START - 2.0, end))
    crosses = [_crosses(left, height, taken) for left in starts[1:]]
    tiles = []
    for n, left in enumerate(starts):
        right = left + TILE[paper] if n + 1 < len(starts) else max(end, left + _NARROWEST)
        items = _part(rod, edges, left, right)
        for place in (p for places in crosses[max(n - 1, 0) : n + 1] for p in places):
            items += sheet_cross(place, _CROSS)
        items += _names(rod, (n + 1, len(starts)), (left, right), height, taken)
        tiles.append(
            Drawing(
                id=f"{rod.gang}.rod.{n + 1}",
                title=f"Rod {rod.gang}, tile {n + 1} of {len(starts)}",
                alt=f"{_alt(rod, shown)} Tile {n + 1} of {len(starts)}.",
                items=tuple(items),
                window=Bounds(left=left, right=right, bottom=-height - _FOOT, top=_HEAD),
            )
        )
    return tuple(tiles)


def _tile_starts(end: float, size: float) -> list[float]:
    """Return where each tile of a strip begins that goes on to `end`."""
    first = _START - 2.0
    count = max(1, math.ceil((end - first - OVERLAP) / (size - OVERLAP)))
    return [first + n * (size - OVERLAP) for n in range(count)]


def _taken(items: Iterable[Entity]) -> Taken:
    """Return what the words, ticks and bands of a strip fill."""
    taken = Taken(1.0)
    for item in items:
        box = bounds_of([item], 1.0)
        if box.width < 2 * OVERLAP or isinstance(item, Text):  # not the strip's own long edges
            taken.take(box)
    return taken


def _crosses(left: float, height: float, taken: Taken) -> list[Place]:
    """Return the places of the crosses in the overlap that begins at `left`: one high, one low on the strip.

    Clear of everything where they can be; else they stand in the middle: thin lines over a figure leave it readable.
    """
    middle = left + OVERLAP / 2
    levels = [_CROSS + 0.5 * n for n in range(int(2 * (height - 2 * _CROSS)) + 1)]
    aside = [0.5 * n for n in range(int(OVERLAP - 2 * _CROSS) + 1)]
    tries = [(middle + x, -y) for a in aside for x in ((a, -a) if a else (a,)) for y in levels]
    places = []
    for share in (0.25, 0.75):
        wanted = (middle, -share * height)
        free = [at for at in tries if taken.is_free(around([at]).grown(_CROSS), 0.3)]
        places.append(min(free, key=lambda at, to=wanted: math.dist(at, to), default=wanted))  # type: ignore[misc]
        taken.take(around([places[-1]]).grown(_CROSS))
    return places


def _names(
    rod: Rod, number: tuple[int, int], ends: tuple[float, float], height: float, taken: Taken
) -> Iterator[Entity]:
    """Yield the tile's name below the strip, and a short one on it that is still there when it is cut out."""
    (n, count), (left, right) = number, ends
    words = f"Rod {rod.gang}, tile {n} of {count}: {_short(rod.name)}"
    if width_of(words, _NOTE) > right - left - 4.0:
        words = f"Rod {rod.gang}, {n} of {count}"
    yield Text(at=(left + 2.0, -height - _FOOT / 2), text=words, height=_NOTE, anchor=Anchor.START)
    short = f"{rod.gang}, {n} of {count}"
    after = max(left + OVERLAP, 0.0) + 2.0
    places = [(after + 4.0 * k, -height / 2 + y) for k in range(50) for y in (0.0, 7.0, -7.0, 14.0, -14.0)]
    room = right - OVERLAP - width_of(short, _NOTE) - 2.0
    texts = [Text(at=at, text=short, height=_NOTE, anchor=Anchor.START) for at in places if at[0] < room]
    found = taken.first_free(texts, 1.0, 1.0)
    if found is not None:
        yield found


def check_bar_drawing() -> Drawing:
    """Return the bar of 100 mm that stands on every page of full-size tiles."""
    return Drawing(
        id="check-bar",
        title="Check bar",
        alt="A bar 100 mm long, divided in tens: measure it before you use the page.",
        items=tuple(check_bar(0.0, 0.0)),
        window=Bounds(left=-1.0, right=CHECK_BAR + 1.0, bottom=-5.5, top=3.5),
    )


def _alt(rod: Rod, figures: Figures) -> str:
    return (
        f"Full-size rod for {rod.name}: {len(rod.lengths)} places along {figures.of(rod.length)} on the upper edge, "
        f"{len(rod.widths)} across {figures.of(rod.width_length)} on the lower edge, the datum end black."
    )


def _short(name: str, most: int = 40) -> str:
    return name if len(name) <= most else f"{name[: most - 1].rstrip(' ,')}…"


def _edges(rod: Rod, figures: Figures) -> tuple[_Edge, _Edge]:
    """Return both edges, the labels of both moved apart together."""
    upper, lower = _places(rod.lengths, rod.length), _places(rod.widths, rod.width_length)
    every = sorted([(p, n, 0) for n, p in enumerate(upper)] + [(p, n, 1) for n, p in enumerate(lower)])
    spread_out = spread([p[0] for p, _, _ in every], _PITCH)
    moved = [max(at, (n + 0.5) * _PITCH) for n, at in enumerate(spread_out)]  # none on the black end
    label_at = {(edge, n): at for (_, n, edge), at in zip(every, moved, strict=True)}
    return (
        _edge(upper, [label_at[0, n] for n in range(len(upper))], rod.lengths, figures),
        _edge(lower, [label_at[1, n] for n in range(len(lower))], rod.widths, figures),
    )


def _places(ticks: Sequence[RodTick], length: float) -> list[tuple[float, str, bool]]:
    """Return every place on one edge with its words, and whether a band begins or ends there."""
    places: list[tuple[float, str, bool]] = []
    for tick in ticks:
        places.append((tick.at, _short(tick.label, _MOST), tick.band_to is not None))
        if tick.band_to is not None:
            places.append((tick.band_to, "", True))
    if all(abs(at - length) > 1e-6 for at, _, _ in places):
        places.append((length, "end", False))
    return sorted(places, key=lambda w: w[0])


def _edge(
    places: list[tuple[float, str, bool]], moved: list[float], ticks: Sequence[RodTick], figures: Figures
) -> _Edge:
    labels = tuple(
        _Label(at, label_at, figures.of(at), words, band)
        for (at, words, band), label_at in zip(places, moved, strict=True)
    )
    bands = tuple((t.at, t.band_to) for t in ticks if t.band_to is not None)
    reach = _TICK + _LEADER + max((_length(label) for label in labels), default=0.0)
    return _Edge(labels, bands, reach)


def _length(label: _Label) -> float:
    """How long a label's figure and words come out."""
    return width_of(label.figure, _FIGURE) + (_BLANK + width_of(label.words, _NOTE) if label.words else 0.0)


def _height(edges: tuple[_Edge, _Edge]) -> float:
    return max(edges[0].reach, edges[1].reach) + _CLEAR + _LEADER + _TICK


def _part(rod: Rod, edges: tuple[_Edge, _Edge], left: float, right: float) -> list[Entity]:
    """Everything of the rod between two places, whole words only."""
    upper, lower = edges
    height = _height(edges)
    end = max(rod.length, rod.width_length) + _END
    a, b = max(left, _START), min(right, end)
    items: list[Entity] = [line((a, y), (b, y), pen=Pen.OUTLINE) for y in (0.0, -height)]
    if left <= end <= right:
        items.append(line((end, 0.0), (end, -height), pen=Pen.OUTLINE))
    if left < 0.0:
        items.append(rectangle((_START, 0.0), (0.0, -height), pen=Pen.OUTLINE, fill=Fill(Tint.INK)))
    for edge, top, inward in ((upper, 0.0, -1.0), (lower, -height, 1.0)):
        items += _bands(edge, top, inward, left, right)
        for label in edge.labels:
            items += _tick(label, top, inward, left, right)
    return items


def _bands(edge: _Edge, top: float, inward: float, left: float, right: float) -> Iterable[Entity]:
    for near, far in edge.bands:
        a, b = max(near, left), min(far, right)
        if a < b:
            fill = Fill(Tint.PAPER, Hatch.LIGHT)
            yield rectangle((a, top), (b, top + inward * _TICK), fill=fill)


def _tick(label: _Label, top: float, inward: float, left: float, right: float) -> Iterable[Entity]:
    if left <= label.at <= right:
        pen = Pen.FEATURE if label.is_band else Pen.OUTLINE
        foot = top + inward * _TICK
        yield line((label.at, top), (label.at, foot), pen=pen)
        if left + 3.0 <= label.label_at <= right - 3.0:
            start = foot + inward * _LEADER
            yield Path(points=((label.at, foot), (label.label_at, start - inward)), pen=Pen.EXTENSION)
            yield from _words(label, start, inward)


def _words(label: _Label, start: float, inward: float) -> Iterable[Text]:
    """The figure and what it stands for, read from the right, the figure always first."""
    foot = start if inward > 0 else start - _length(label)
    for words, height, role in ((label.figure, _FIGURE, Role.FIGURE), (label.words, _NOTE, Role.NOTE)):
        if words:
            at = (label.label_at, foot)
            yield Text(at=at, text=words, height=height, anchor=Anchor.START, angle_deg=90.0, role=role)
        foot += width_of(words, height) + _BLANK


def check_bar(x: float, y: float) -> list[Entity]:
    """Return a bar of 100 mm in tens, black and white in turn, to be measured before the rod is used."""
    items: list[Entity] = []
    for n in range(10):
        fill = Fill(Tint.INK if n % 2 == 0 else Tint.PAPER)
        items.append(rectangle((x + 10.0 * n, y), (x + 10.0 * (n + 1), y + 2.5), pen=Pen.THIN, fill=fill))
    words = "Check: this bar must measure 100 mm"
    items.append(Text(at=(x, y - 3.2), text=words, height=HEIGHTS[Role.NUMBER], anchor=Anchor.START))
    return items
