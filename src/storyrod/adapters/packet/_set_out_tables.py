"""The tables of a set-out sheet: where the mates stand, and every mark with its figures.

They say all that the drawings of the sheet say, so that a sheet can be worked from, and proven, by its tables alone.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Final

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

_MOST_TICKS = 4
_MOST_BESIDE = 2  # panels of a gang whose mates are told in the table of marks itself
_MATES_A_TABLE = 6  # panels side by side in a table of mates
_RUN = 4  # marks in a regular row from which on they are told by their step
_MOST_IN_LINE = 28  # letters of places told one by one in a line
_FACES = (Surface.FACE, Surface.FAR_FACE)

AXES: Final[tuple[PlaceAxis, ...]] = ("u", "v", "w")
"""The axes along which places are measured."""
WHERE: Mapping[PlaceAxis, str] = {"u": "datum end", "v": "face edge", "w": "face side"}
"""From where each axis runs."""


def set_out_tables(outs: Sequence[PanelSetOut], marks_of: Mapping[PanelId, str], shown: Shown) -> list[Table]:
    """Return the tables of one sheet: where panels stand, the marks, and the mates of each panel of a larger gang."""
    tables = [_lines_table(outs, marks_of, shown)] if any(o.lines for o in outs) else []
    tables += _MarksTable(outs, shown).made()
    if len(outs) > _MOST_BESIDE:
        parts = [outs[n : n + _MATES_A_TABLE] for n in range(0, len(outs), _MATES_A_TABLE)]
        tables += [t for part in parts if (t := _mates_table(part, outs, shown)).rows]
    return tables


# --- where the mates stand -------------------------------------------------------------------------------------------


def _lines_table(outs: Sequence[PanelSetOut], marks_of: Mapping[PanelId, str], shown: Shown) -> Table:
    """Return the lines of every panel of a sheet; those of a gang are told panel by panel, for their mates differ."""
    rows: list[tuple[str, ...]] = []
    groups: list[tuple[int, str]] = []
    pairs = _twin_lines(outs, marks_of, shown)
    told = pairs or [
        (out.panel.mark, line.surface, line_cells(line, marks_of, shown)) for out in outs for line in out.lines
    ]
    begun: tuple[str, Surface] | None = None
    for panels, surface, cells in told:
        if (panels, surface) != begun:
            begun = panels, surface
            groups.append((len(rows), f"{panels}, {surface.value}"))
        rows.append(cells)
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


def _twin_lines(
    outs: Sequence[PanelSetOut], marks_of: Mapping[PanelId, str], shown: Shown
) -> list[tuple[str, Surface, tuple[str, ...]]]:
    """Return the lines of two panels that have the same figures as one row each; none where they differ anywhere."""
    if len(outs) != 2 or len(outs[0].lines) != len(outs[1].lines):
        return []
    panels = " / ".join(o.panel.mark for o in outs)
    found = []
    for one, other in zip(outs[0].lines, outs[1].lines, strict=True):
        cells = [line_cells(line, marks_of, shown) for line in (one, other)]
        if one.surface is not other.surface or cells[0][2:5] != cells[1][2:5]:
            return []
        joined = tuple(a if a == b else f"{a} / {b}" for a, b in zip(*cells, strict=True))
        found.append((panels, one.surface, joined))
    return found


def line_cells(line: JointLine, marks_of: Mapping[PanelId, str], shown: Shown) -> tuple[str, ...]:
    """Return the row of a line: mate, its surface, stretches, where its face side stands, the joint."""
    across = _span(line.near, line.far, shown)
    along = _span(line.start, line.end, shown)
    places = (across, along) if line.across_length else (along, across)
    mate = marks_of[line.mate]
    face = shown.n(line.face_side_line)
    if not line.face_side_on_line:
        face = f"far face {shown.n(line.far if line.face_side_line == line.near else line.near)}"
    return (mate, line.mate_surface.value, *places, face, line.number)


def _stretch(head: str, share: float = 1.0) -> Column:
    """Return a column of stretches, `20.226" to 20.945"`, which may take two lines where the page is narrow."""
    return Column(head=head, align=Align.RIGHT, share=share, working=True)


def _place_column(head: str) -> Column:
    return right(head, working=True)


def _span(low: float, high: float, shown: Shown) -> str:
    first, last = (shown.n(end).replace(" ", "\u00a0") for end in (low, high))  # a fraction is not broken over lines
    return f"{first} to {last}"


def mark_cells(
    outs: Sequence[PanelSetOut], run: Sequence[Mark], shown: Shown
) -> tuple[str, str, dict[PlaceAxis, str], str, str]:
    """Return number, what, place along each axis, use and mate of a row of marks of panels that carry the same."""
    return _MarksTable(outs, shown).cells(run)


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
        """Return the table of every cut: of one that runs from side to side, its walls and ends."""
        runs = runs_of(self._outs, self._shown)
        return [self._table("Marks", runs)] if runs else []

    def _table(self, title: str, runs: Sequence[Sequence[Mark]]) -> Table:
        flat = all(run[0].surface.axis is PanelAxis.W for run in runs)
        axes = [axis for axis in WHERE if not (flat and axis == "w")]
        rows: list[tuple[str, ...]] = []
        groups: list[tuple[int, str]] = []
        surface: Surface | None = None
        for run in runs:
            if run[0].surface is not surface:
                surface = run[0].surface
                groups.append((len(rows), surface.value.capitalize()))
            number, what, places, use, mate = self.cells(run)
            told = (mate,) if self._beside else ()
            rows.append((number, what, *(places[axis] for axis in axes), use, *told, *(TICK for _ in self._ticks)))
        columns: tuple[Column | str, ...] = (
            "mark",
            wide("what", 1.2),
            *self._place_columns(axes, rows),
            *((wide("mate"),) if self._beside else ()),
            *self._ticks,
        )
        walls = " (“to”: from wall to wall)" if any(is_channel(r[0]) for r in runs) else ""
        head = f"{title}, in {self._shown.unit_name}{walls}, measured from"
        return table(columns, rows, title=head, small=True, groups=tuple(groups))

    def _place_columns(self, axes: Sequence[PlaceAxis], rows: Sequence[tuple[str, ...]]) -> Iterator[Column | str]:
        """Yield the columns of the places and the use; stretches and several places may take two lines."""
        for n, axis in enumerate(axes):
            breaks = any(" to " in row[2 + n] or ", " in row[2 + n] for row in rows)
            yield _stretch(WHERE[axis]) if breaks else _place_column(WHERE[axis])
        yield wide("for")

    def cells(self, run: Sequence[Mark]) -> tuple[str, str, dict[PlaceAxis, str], str, str]:
        """Return number, what, place along each axis, use and mate of a mark, or of a regular row of them."""
        first, last = run[0], run[-1]
        places = {axis: self._place(first, axis) for axis in WHERE}
        number = numbers_of(run)
        what = first.what + way_words(first, self._shown)
        if len(run) > 1:
            what, axis = f"{len(run)} × {what}", _axis_of(run, self._shown)
            if is_even(run):
                what += f", every {self._shown.n(abs(getattr(run[1], axis) - getattr(first, axis)))}"
                places[axis] = _span(getattr(first, axis), getattr(last, axis), self._shown)
            else:
                places[axis] = ", ".join(self._place(m, axis).replace(" ", "\u00a0") for m in run)
        return number, what, places, self._for(first), self._mates(run) if self._beside else ""

    def _place(self, mark: Mark, axis: PlaceAxis) -> str:
        """Return a running figure, from wall to wall of a channel; nothing across the surface that is worked."""
        if mark.surface.axis.value == axis:
            return ""
        low, high = extent(mark, self._panel, axis)
        return self._shown.n(low) if low == high else _span(low, high, self._shown)

    def _for(self, mark: Mark) -> str:
        """Return the joint or fitting that a mark is for, on each panel of the gang where they differ."""
        told = " / ".join(dict.fromkeys(use_of(marks[mark.number]) for marks in self._by_number))
        return told if self._beside or " / " not in told else "see below"

    def _mates(self, run: Sequence[Mark]) -> str:
        """Return the mates of a row of marks on each panel of the gang."""
        told = dict.fromkeys(mates_of([marks[m.number] for m in run]) for marks in self._by_number)
        return " / ".join(t for t in told if t)


def _mates_table(part: Sequence[PanelSetOut], outs: Sequence[PanelSetOut], shown: Shown) -> Table:
    """Return what each mark is for and its mate, panel by panel, where it is not the same on all of them."""
    every = [{m.number: m for m in o.marks} for o in outs]
    mine = [{m.number: m for m in o.marks} for o in part]
    rows = [
        (numbers_of(run), *(_use_and_mates([by[m.number] for m in run]) for by in mine))
        for run in runs_of(outs, shown)
        if run[0].mate or len({use_of(by[run[0].number]) for by in every}) > 1
    ]
    columns: tuple[Column | str, ...] = ("mark", *(wide(o.panel.mark) for o in part))
    return table(columns, rows, title="What each mark is for, and its mate", small=True)


def numbers_of(run: Sequence[Mark]) -> str:
    """Return the numbers of a row of marks, `4–7`."""
    return str(run[0].number) if len(run) == 1 else f"{run[0].number}–{run[-1].number}"


def _use_and_mates(marks: Sequence[Mark]) -> str:
    use = use_of(marks[0])
    return f"{use}: {mates_of(marks)}" if marks[0].mate else use


def use_of(mark: Mark) -> str:
    """Return the joint that a mark belongs to, or what else it is for."""
    return mark.joint or what_for(mark)


def what_for(mark: Mark) -> str:
    """Return what a cut that belongs to no joint is for, in a few words: `runner of drawer 1`, `shelf pin of cases`."""
    return re.sub(r", row \d+", "", mark.feature.why)


def way_words(mark: Mark, shown: Shown) -> str:
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


def runs_of(outs: Sequence[PanelSetOut], shown: Shown) -> list[list[Mark]]:
    """Return the marks of the first panel in order, those gathered that are one row of the table.

    Cuts that are alike, follow each other on one line across or along the panel, and meet mates that follow each other
    too, on every panel of the gang, are one row: the line is drawn once, and the places are set out along it.
    """
    by_number = [{m.number: m for m in o.marks} for o in outs]
    runs: list[list[Mark]] = []
    for mark in outs[0].marks:
        if runs and _goes_on(runs[-1], mark, by_number, shown):
            runs[-1].append(mark)
        else:
            runs.append([mark])
    return [part for run in runs for part in _parts(run, shown)]


def _parts(run: list[Mark], shown: Shown) -> Iterator[list[Mark]]:
    """Yield a run as it is told: whole in even steps, else in parts whose places go on one line."""
    if len(run) == 1 or is_even(run):
        yield run
        return
    axis, part, letters = _axis_of(run, shown), list[Mark](), 0
    for mark in run:
        letters += len(shown.n(getattr(mark, axis))) + 2
        if part and letters > _MOST_IN_LINE:
            yield part
            part, letters = [], len(shown.n(getattr(mark, axis))) + 2
        part.append(mark)
    yield part


def is_even(run: Sequence[Mark]) -> bool:
    """Return whether a run is a row in even steps without mates, told by its first, its last and its step."""
    if len(run) < _RUN or run[0].mate:
        return False
    steps = {(round(b.u - a.u, 6), round(b.v - a.v, 6), round(b.w - a.w, 6)) for a, b in pairwise(run)}
    return len(steps) == 1


def _goes_on(run: list[Mark], mark: Mark, by_number: Sequence[Mapping[int, Mark]], shown: Shown) -> bool:
    first, last = run[0], run[-1]
    if is_channel(mark) or mark.number != last.number + 1 or mark.surface is not last.surface:
        return False
    if (mark.what, way_words(mark, shown)) != (last.what, way_words(last, shown)):
        return False
    moved = [a for a in _axes(mark) if shown.n(getattr(mark, a)) != shown.n(getattr(last, a))]
    if len(moved) != 1 or (len(run) > 1 and moved != [_axis_of(run, shown)]):
        return False
    if not (first.mate or mark.mate) and len(run) >= _RUN and is_even(run) and not is_even([*run, mark]):
        return False
    return all(_same_row([by[m.number] for m in (*run, mark)]) for by in by_number)


def _axes(mark: Mark) -> list[PlaceAxis]:
    return [axis for axis in WHERE if axis != mark.surface.axis.value]


def _axis_of(run: Sequence[Mark], shown: Shown) -> PlaceAxis:
    """Return the axis along which the marks of a run lie."""
    return next(a for a in _axes(run[0]) if shown.n(getattr(run[0], a)) != shown.n(getattr(run[1], a)))


def _same_row(marks: Sequence[Mark]) -> bool:
    """Return whether marks of one panel are for the same, and their mates are on one panel."""
    if len({use_of(m) for m in marks}) > 1:
        return False
    mates = [m.mate.rpartition(".") for m in marks]
    return len({panel for panel, _, _ in mates}) == 1


def mates_of(marks: Sequence[Mark]) -> str:
    """Return the mates of a row of marks: `A4.17–19`, or one by one where they do not follow each other."""
    if not marks[0].mate:
        return ""
    panel = marks[0].mate.rpartition(".")[0]
    numbers = [int(m.mate.rpartition(".")[2]) for m in marks]
    if len(numbers) > 1 and {b - a for a, b in pairwise(numbers)} in ({1}, {-1}):
        return f"{panel}.{numbers[0]}–{numbers[-1]}"
    return f"{panel}.{', '.join(map(str, numbers))}"
