"""The tables of a sheet for parts of one kind: what each letter comes to, lines, marks, and what each part meets."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from typing import Final

from storyrod.adapters.packet._kinds import Kind, line_axes
from storyrod.adapters.packet._set_out_tables import (
    AXES,
    WHERE,
    line_cells,
    mark_cells,
    mates_of,
    numbers_of,
    runs_of,
    use_of,
)
from storyrod.model.mark import Mark
from storyrod.model.panel import PanelId
from storyrod.telling.blocks import TICK, Column, Table, right, table, wide
from storyrod.telling.mark_extent import PlaceAxis, is_channel
from storyrod.telling.shown import Shown

_FIGURE: Final = re.compile(r"((?:^|(?<= ))\d[^,]*?(?=,|$| to ))")
_MOST_ACROSS: Final = 84  # letters of a table of sizes that go on one line
_PART, _DONE = 9, 7  # letters that the first and the last column of it take
_MOST_WIDE: Final = 150  # letters of a table of mates that go on three lines or fewer

EVERY: Final = "On every part"
"""What the rows of lines stand under: they are the same on each, but for their letters."""


def kind_tables(kind: Kind, marks_of: Mapping[PanelId, str], shown: Shown) -> list[Table]:
    """Return the tables of a sheet for parts of one kind."""
    found = [*_size_tables(kind, shown)]
    if any(o.lines for o in kind.members[0]):
        found.append(_lines_table(kind, marks_of, shown))
    return [*found, _marks_table(kind, shown), *_mate_tables(kind, marks_of, shown)]


def sums_apart(kind: Kind) -> list[int]:
    """Return which of length (0) and width (1) come about in another way on each part."""
    return [n for n in (0, 1) if len({outs[0].panel.sums[n] for outs in kind.members}) > 1]


# --- what the letters come to ----------------------------------------------------------------------------------------


def _size_tables(kind: Kind, shown: Shown) -> Iterator[Table]:
    letters = list(kind.letters.items())
    sums = sums_apart(kind)
    room: float = (
        _MOST_ACROSS - _PART - _DONE - sum(max(len(outs[0].panel.sums[n]) for outs in kind.members) for n in sums)
    )
    first = True
    while letters or first:
        taken: list[tuple[tuple[PlaceAxis, tuple[str, ...]], str]] = []
        while letters and (not taken or room >= _wide(letters[0])):
            room -= _wide(letters[0])
            taken.append(letters.pop(0))
        yield _sizes(kind, taken, shown, sums=sums if first else [], ticked=first)
        first, room = False, _MOST_ACROSS - _PART


def _wide(letter: tuple[tuple[PlaceAxis, tuple[str, ...]], str]) -> float:
    return max(map(len, letter[0][1])) * 1.35 + 2


def _sizes(
    kind: Kind,
    letters: Sequence[tuple[tuple[PlaceAxis, tuple[str, ...]], str]],
    shown: Shown,
    *,
    sums: Sequence[int],
    ticked: bool,
) -> Table:
    rows = []
    for n, outs in enumerate(kind.members):
        marks = ", ".join(o.panel.mark for o in outs)
        ticks = (TICK * len(outs),) if ticked else ()
        rows.append((marks, *(key[1][n] for key, _ in letters), *(outs[0].panel.sums[s] for s in sums), *ticks))
    columns: list[Column | str] = [
        "part",
        *(right(letter, working=True) for _, letter in letters),
        *(wide(("length comes of", "width comes of")[s]) for s in sums),
        *(("done",) if ticked else ()),
    ]
    return table(columns, rows, title=f"What each letter is, in {shown.unit_name}", small=True)


# --- lines and marks -------------------------------------------------------------------------------------------------


def _lines_table(kind: Kind, marks_of: Mapping[PanelId, str], shown: Shown) -> Table:
    first = kind.members[0][0]
    names = kind.parts.mate_names(first)
    rows: list[tuple[str, ...]] = []
    groups: list[tuple[int, str]] = []
    for n, line in enumerate(first.lines):
        if n == 0 or line.surface is not first.lines[n - 1].surface:
            groups.append((n, f"{EVERY}, {line.surface.value}"))
        every = [line_cells(outs[0].lines[n], marks_of, shown) for outs in kind.members]
        across, _ = line_axes(line)
        axes: tuple[PlaceAxis, ...] = ("u", "v", across)
        places = [_merged(kind, axis, [cells[2 + at] for cells in every]) for at, axis in enumerate(axes)]
        rows.append((names[line.number], *places))
    columns: tuple[Column | str, ...] = (
        wide("mate"),
        right("datum end", working=True),
        right("face edge", working=True),
        right("face side at", working=True),
    )
    title = f"Lines where mates stand, in {shown.unit_name}, measured from"
    return table(columns, rows, title=title, small=True, groups=tuple(groups))


def _marks_table(kind: Kind, shown: Shown) -> Table:
    runs = [runs_of(outs, shown) for outs in kind.members]
    axes = [a for a in AXES if any(run[0].surface.axis.value != a for run in runs[0])]
    if all(run[0].surface.axis.value == "w" for run in runs[0]):
        axes = [a for a in axes if a != "w"]
    rows: list[tuple[str, ...]] = []
    groups: list[tuple[int, str]] = []
    for n, run in enumerate(runs[0]):
        if n == 0 or run[0].surface is not runs[0][n - 1][0].surface:
            groups.append((n, run[0].surface.value.capitalize()))
        every = [mark_cells(outs, own[n], shown) for outs, own in zip(kind.members, runs, strict=True)]
        places = [_merged(kind, axis, [cells[2][axis] for cells in every]) for axis in axes]
        use = "see below" if run[0].joint or run[0].mate else kind.parts.use_of(run[0], kind.members[0][0].panel)
        rows.append((every[0][0], every[0][1], *places, use))
    columns: list[Column | str] = [
        "mark",
        wide("what", 1.4),
        *(right(WHERE[a], working=True) for a in axes),
        wide("for"),
    ]
    walls = " (“to”: from wall to wall)" if any(is_channel(run[0]) for run in runs[0]) else ""
    title = f"Marks, in {shown.unit_name}{walls}, measured from"
    return table(columns, rows, title=title, small=True, groups=tuple(groups))


def _merged(kind: Kind, axis: PlaceAxis, cells: Sequence[str]) -> str:
    """Return places of one row on all parts as one: figures that are not the same, as their letters."""
    pieces = [_FIGURE.split(cell.replace("\u00a0", " ")) for cell in cells]
    told = [part[0] if n % 2 == 0 else kind.told(axis, part) for n, part in enumerate(zip(*pieces, strict=True))]
    return "".join(told)


# --- what each part meets --------------------------------------------------------------------------------------------


def _mate_tables(kind: Kind, marks_of: Mapping[PanelId, str], shown: Shown) -> Iterator[Table]:
    """Yield a row for each part: which panel stands on each line and by which joint, and the mates of its marks."""
    heads: list[str] = []
    rows: dict[str, list[str]] = {}
    for outs in kind.members:
        runs = [run for run in runs_of(outs, shown) if run[0].mate or run[0].joint]
        for out in outs:
            by = {m.number: m for m in out.marks}
            names = kind.parts.mate_names(out)
            heads = [*(names[li.number] for li in out.lines), *map(numbers_of, runs)]
            lines = [f"{li.number}: {marks_of[li.mate]} {li.mate_surface}" for li in out.lines]
            stands = {(marks_of[li.mate], li.number) for li in out.lines}
            told = [_met([by[m.number] for m in run], stands) for run in runs]
            rows[out.panel.mark] = [*lines, *told]
    start = 0
    while start < len(heads):
        end = start + 1
        while end < len(heads) and sum(_longest(rows, n) for n in range(start, end + 1)) <= _MOST_WIDE:
            end += 1
        columns: tuple[Column | str, ...] = (
            "part",
            *(wide(h, float(_longest(rows, n + start))) for n, h in enumerate(heads[start:end])),
        )
        title = "What stands on each line, and the mates of each mark"
        yield table(columns, [(mark, *cells[start:end]) for mark, cells in rows.items()], title=title, small=True)
        start = end


def _met(marks: Sequence[Mark], stands: AbstractSet[tuple[str, str]]) -> str:
    """Return the mates of a row of marks; with their joint, where no line of the part tells it: `J15: A11.4–5`."""
    if not marks[0].mate:
        return use_of(marks[0])
    mates = mates_of(marks)
    panel = marks[0].mate.rpartition(".")[0]
    return mates if (panel, marks[0].joint) in stands else f"{marks[0].joint}: {mates}"


def _longest(rows: Mapping[str, Sequence[str]], n: int) -> int:
    return max(len(cells[n]) for cells in rows.values()) + 2
