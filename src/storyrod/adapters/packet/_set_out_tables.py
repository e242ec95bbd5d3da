"""The tables of a set-out sheet: where the mates stand, and every mark with its figures.

They say all that the drawings of the sheet say, so that a sheet can be worked from, and proven, by its tables alone.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Literal

from storyrod.measure.space import PanelAxis
from storyrod.model.feature import (
    AngledPocket,
    CutOut,
    Keyhole,
    SegmentPocket,
    Slot,
    UndercutSlot,
)
from storyrod.model.mark import JointLine, Mark, PanelSetOut
from storyrod.model.panel import PanelId, Surface, surface_at
from storyrod.telling.blocks import TICK, Align, Column, Table, right, table, wide
from storyrod.telling.mark_extent import PlaceAxis, extent, is_channel
from storyrod.telling.shown import Shown

_ROW, _GROUP, _HEAD = 5.9, 7.5, 14.0  # mm that a table takes for a row, a heading across it, and its head
_MOST_TICKS = 4
_MOST_BESIDE = 2  # panels of a gang whose mates are told in the table of marks itself
_MATES_A_TABLE = 6  # panels side by side in a table of mates
_MOST_LETTERS = 52  # of places, use and mate in one line, beside which what is cut has room
_RUN = 4  # marks in a regular row from which on they are told in one line
_FACES = (Surface.FACE, Surface.FAR_FACE)

_WHERE: Mapping[PlaceAxis, str] = {"u": "datum end", "v": "face edge", "w": "face side"}


def set_out_tables(outs: Sequence[PanelSetOut], marks_of: Mapping[PanelId, str], shown: Shown) -> list[Table]:
    """Return the tables of one sheet: where panels stand, the marks, and the mates of each panel of a larger gang."""
    tables = [_lines_table(outs, marks_of, shown)] if any(o.lines for o in outs) else []
    tables += _MarksTable(outs, shown).made()
    if len(outs) > _MOST_BESIDE:
        parts = [outs[n : n + _MATES_A_TABLE] for n in range(0, len(outs), _MATES_A_TABLE)]
        tables += [t for part in parts if (t := _mates_table(part, outs)).rows]
    return tables


def height_of_tables(tables: Sequence[Table]) -> float:
    """Return about how high tables are, in mm."""
    return sum(_HEAD + _ROW * len(t.rows) + _GROUP * len(t.groups) for t in tables)


# --- where the mates stand -------------------------------------------------------------------------------------------


def _lines_table(outs: Sequence[PanelSetOut], marks_of: Mapping[PanelId, str], shown: Shown) -> Table:
    """Return the lines of every panel of a sheet; those of a gang are told panel by panel, for their mates differ."""
    rows: list[tuple[str, ...]] = []
    groups: list[tuple[int, str]] = []
    for out in outs:
        surface: Surface | None = None
        for line in out.lines:
            if line.surface is not surface:
                surface = line.surface
                groups.append((len(rows), f"{out.panel.mark}, {surface.value}"))
            rows.append(_line_cells(line, marks_of, shown))
    columns: tuple[Column | str, ...] = (
        "mate",
        "by its",
        _stretch("datum end"),
        _stretch("face edge"),
        _stretch("face side at"),
        "joint",
    )
    title = f"Lines where mates stand, in {shown.unit_name}, measured from"
    return table(columns, rows, title=title, small=True, groups=tuple(groups))


def _line_cells(line: JointLine, marks_of: Mapping[PanelId, str], shown: Shown) -> tuple[str, ...]:
    across = _span(line.near, line.far, shown)
    along = _span(line.start, line.end, shown)
    places = (across, along) if line.across_length else (along, across)
    mate = marks_of[line.mate]
    face = shown.n(line.face_side_line)
    if not line.face_side_on_line:
        face = f"far face {shown.n(line.far if line.face_side_line == line.near else line.near)}"
    return (mate, line.mate_surface.value, *places, face, line.number)


def _stretch(head: str) -> Column:
    """Return a column of stretches, `20.226" to 20.945"`, which may take two lines where the page is narrow."""
    return Column(head=head, align=Align.RIGHT, share=1.0, working=True)


def _place_column(head: str) -> Column:
    return right(head, working=True)


def _span(low: float, high: float, shown: Shown) -> str:
    first, last = (shown.n(end).replace(" ", "\u00a0") for end in (low, high))  # a fraction is not broken over lines
    return f"{first} to {last}"


# --- the marks -------------------------------------------------------------------------------------------------------


class _MarksTable:
    """The marks of the panels of a sheet, which all carry the same."""

    def __init__(self, outs: Sequence[PanelSetOut], shown: Shown) -> None:
        self._outs, self._shown = outs, shown
        self._panel = outs[0].panel
        self._beside = len(outs) <= _MOST_BESIDE
        self._ticks = [o.panel.mark for o in outs] if len(outs) <= _MOST_TICKS else ["done"]
        self._by_number = [{m.number: m for m in o.marks} for o in outs]

    def made(self) -> list[Table]:
        """Return the table of what is bored and milled at a point, and that of what runs from wall to wall."""
        runs = _runs(self._outs[0].marks)
        points = [r for r in runs if not is_channel(r[0])]
        channels = [r for r in runs if is_channel(r[0])]
        tables = [self._table("Marks", points)] if points else []
        return [*tables, self._table("Walls of what is cut from side to side", channels)] if channels else tables

    def _table(self, title: str, runs: Sequence[Sequence[Mark]]) -> Table:
        flat = all(run[0].surface.axis is PanelAxis.W for run in runs)
        axes = [axis for axis in _WHERE if not (flat and axis == "w")]
        is_long = is_channel(runs[0][0])
        rows: list[tuple[str, ...]] = []
        groups: list[tuple[int, str]] = []
        surface: Surface | None = None
        for run in runs:
            if run[0].surface is not surface:
                surface = run[0].surface
                groups.append((len(rows), surface.value.capitalize()))
            number, what, places, use, mate = self._cells(run)
            told = (mate,) if self._beside and not is_long else ()
            rows.append((number, what, *(places[axis] for axis in axes), use, *told, *(TICK for _ in self._ticks)))
        columns: tuple[Column | str, ...] = (
            "mark",
            wide("what"),
            *self._place_columns(axes, rows, is_long=is_long),
            *(("mate",) if self._beside and not is_long else ()),
            *self._ticks,
        )
        head = f"{title}, in {self._shown.unit_name}, measured from"
        return table(columns, rows, title=head, small=True, groups=tuple(groups))

    def _place_columns(
        self, axes: Sequence[PlaceAxis], rows: Sequence[tuple[str, ...]], *, is_long: bool
    ) -> Iterator[Column | str]:
        """Yield the columns of the places and the use; where they would crowd out what is cut, they may break too."""
        cells = [row[2 : 4 + len(axes)] for row in rows]
        is_tight = sum(max(map(len, column)) for column in zip(*cells, strict=True)) > _MOST_LETTERS
        for n, axis in enumerate(axes):
            is_stretch = is_long or (is_tight and any(" to " in row[n] for row in cells))
            yield (_stretch if is_stretch else _place_column)(_WHERE[axis])
        yield wide("for", 0.6) if is_long or is_tight else "for"

    def _cells(self, run: Sequence[Mark]) -> tuple[str, str, dict[PlaceAxis, str], str, str]:
        """Return number, what, place along each axis, use and mate of a mark, or of a regular row of them."""
        first, last = run[0], run[-1]
        places = {axis: self._place(first, axis) for axis in _WHERE}
        number = str(first.number)
        what = first.what + _way_words(first, self._shown)
        if len(run) > 1:
            number = f"{first.number}\u2013{last.number}"
            axis: PlaceAxis = "u" if first.u != last.u else "v"
            step = abs(getattr(run[1], axis) - getattr(first, axis))
            what = f"{len(run)} \u00d7 {what}, every {self._shown.n(step)}"
            places[axis] = _span(getattr(first, axis), getattr(last, axis), self._shown)
        return number, what, places, self._for(first), self._told(first, "mate") if self._beside else ""

    def _place(self, mark: Mark, axis: PlaceAxis) -> str:
        """Return a running figure, from wall to wall of a channel; nothing across the surface that is worked."""
        if mark.surface.axis.value == axis:
            return ""
        low, high = extent(mark, self._panel, axis)
        return self._shown.n(low) if low == high else _span(low, high, self._shown)

    def _for(self, mark: Mark) -> str:
        """Return the joint or fitting that a mark is for, on each panel of the gang where they differ."""
        told = " / ".join(dict.fromkeys(_use(marks[mark.number]) for marks in self._by_number))
        return told if self._beside or " / " not in told else "see below"

    def _told(self, mark: Mark, name: Literal["joint", "mate"]) -> str:
        """Return what the mark of each panel of the gang says there."""
        told = dict.fromkeys(getattr(marks[mark.number], name) for marks in self._by_number)
        return " / ".join(t for t in told if t)


def _mates_table(part: Sequence[PanelSetOut], outs: Sequence[PanelSetOut]) -> Table:
    """Return what each mark is for and its mate, panel by panel, where it is not the same on all of them."""
    every = [{m.number: m for m in o.marks} for o in outs]
    mine = [{m.number: m for m in o.marks} for o in part]
    rows = [
        (str(n), *(f"{_use(by[n])}: {by[n].mate}" if by[n].mate else _use(by[n]) for by in mine))
        for n, first in every[0].items()
        if first.mate or len({_use(by[n]) for by in every}) > 1
    ]
    columns: tuple[Column | str, ...] = ("mark", *(wide(o.panel.mark) for o in part))
    return table(columns, rows, title="What each mark is for, and its mate", small=True)


def _use(mark: Mark) -> str:
    return mark.joint or what_for(mark)


def what_for(mark: Mark) -> str:
    """Return what a cut that belongs to no joint is for, in a few words: `runner of drawer 1`, `shelf pin of cases`."""
    return re.sub(r", row \d+", "", mark.feature.why)


def _way_words(mark: Mark, shown: Shown) -> str:
    """Return which way a long cut runs, where its table's figures do not say it."""
    shape = mark.feature.shape
    match shape:
        case Keyhole():
            entry = surface_at(shape.run, far=shape.lock_sign < 0)
            return f"; marked is the lock, the entry lies {shown.n(shape.travel)} toward the {entry.value}"
        case AngledPocket():
            return f", toward the {surface_at(shape.run, far=shape.sign > 0).value}"
        case Slot() | UndercutSlot() | SegmentPocket():
            return _run_words(shape.run) if mark.surface in _FACES else ""
        case CutOut() if shape.outline == "slot":
            return _run_words(shape.run)
    return ""


def _run_words(run: PanelAxis) -> str:
    return ", along the length" if run is PanelAxis.U else ", along the width"


def _runs(marks: Sequence[Mark]) -> list[list[Mark]]:
    """Return the marks in order, regular rows of mateless cuts (pin holes) gathered into one entry each."""
    runs: list[list[Mark]] = []
    for mark in marks:
        if runs and _goes_on(runs[-1], mark):
            runs[-1].append(mark)
        else:
            runs.append([mark])
    told: list[list[Mark]] = []
    for run in runs:
        told += [run] if len(run) >= _RUN else [[m] for m in run]
    return told


def _goes_on(run: list[Mark], mark: Mark) -> bool:
    last = run[-1]
    alike = last.surface is mark.surface and last.what == mark.what and not (last.mate or mark.mate)
    same_use = (last.joint, what_for(last)) == (mark.joint, what_for(mark))
    if not (alike and same_use) or (last.v != mark.v and last.u != mark.u):
        return False
    if len(run) == 1:
        return True
    before = run[-2]
    return abs((mark.u - last.u) - (last.u - before.u)) < 1e-6 and abs((mark.v - last.v) - (last.v - before.v)) < 1e-6
