"""How wide the columns of a table are: each as its longest cell where all have room, else so that it comes out low.

The typesetter would let the columns that may break share what the others leave, by fixed shares: then a long text
stands in four lines beside an empty column. Here each mm goes where it saves the most height.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import lru_cache
from math import inf
from typing import Final

from storyrod.adapters.packet._letters import KEPT, breakable, breakable_where, held
from storyrod.drawing import CAP, width_of
from storyrod.telling.blocks import TICK, Column, Table

PT: Final = 25.4 / 72
_TEXT: Final = 10.5 * PT
_WORKING: Final = 13.1 * PT
INSET: Final = 2.6  # mm: what stands at both sides of a cell, so that two columns are not read as one
_BESIDE_WORKING: Final = 0.7  # mm
_TICK_BOX, _TICK_GAP = 4.0, 1.0
_STEP: Final = 1.5  # mm by which a width is tried
_SAFE: Final = 1.015  # on a measured width, so that what has room has it
_DUST: Final = 1e-6  # mm
_PIECE: Final = re.compile(rf"[^ ]{{{KEPT}}}(?=[^ ])")


def widths_of(block: Table, width: float) -> list[float] | None:
    """Return how wide each column is on `width` mm; nothing where the typesetter had better share it out itself.

    That is a table without a column that may break, which is as wide as its content, or one whose words are longer than
    the room for them. Where that room is short, the heads of the other columns break too, and at last their cells.
    """
    if not any(c.share for c in block.columns):
        return None
    whole = [_whole(block, n) for n in range(len(block.columns))]
    words = [_least(block, n) for n in range(len(block.columns))]
    cells = [max(own, _cells(block, n)) for n, own in enumerate(words)]
    for kept in (whole, cells, words):
        least = [own if c.share else kept[n] for n, (own, c) in enumerate(zip(words, block.columns, strict=True))]
        if sum(least) <= width:
            break
    else:
        return None
    fitted = whole if sum(whole) <= width else _Breaking(block, whole, least).fitted(width)
    spare, shares = width - sum(fitted), sum(c.share for c in block.columns)
    return [own + spare * c.share / shares for own, c in zip(fitted, block.columns, strict=True)]


@lru_cache(maxsize=512)
def laid_out(block: Table, width: float) -> tuple[Table, list[float] | None]:
    """Return a table as it is set, with the widths of its columns: a stretch is not broken where that costs no height.

    `88.85 to 851.15` in two lines, beside another, is read more slowly than in one.
    """
    bound = replace(block, rows=tuple(tuple(map(_bound, block.columns, row)) for row in block.rows))
    plain = widths_of(block, width) or widths_of(_in_pieces(block), width)
    if plain is None or bound == block:
        return block, plain
    widths = widths_of(bound, width)
    if widths is None:
        return block, plain
    return (bound, widths) if _high(bound, widths) <= _high(block, plain) else (block, plain)


def breakable_rows(block: Table, widths: Sequence[float] | None) -> list[list[str]]:
    """Return the cells of a table with places in long words where they may go on in the next line.

    A word of so many letters has them anywhere, and any word that has no room in its column.
    """
    if widths is None:
        return [[breakable(cell) for cell in row] for row in block.rows]
    ems = [_ems(block, n) for n in range(len(block.columns))]
    return [
        [_fitted(cell, widths[n] - INSET, ems[n][at]) for n, cell in enumerate(row)]
        for at, row in enumerate(block.rows)
    ]


def _fitted(cell: str, room: float, em: float) -> str:
    return breakable_where(cell, lambda word: measured(word, em) > room + _DUST)


def _in_pieces(block: Table) -> Table:
    """Return a table with its long words in pieces, to share out columns by that have no room for them whole."""
    return replace(
        block,
        rows=tuple(
            tuple(_PIECE.sub(r"\g<0> ", cell) if c.share else cell for c, cell in zip(block.columns, row, strict=True))
            for row in block.rows
        ),
    )


def _high(block: Table, widths: Sequence[float]) -> float:
    """Return how high the rows of a table come out: a measure to compare by."""
    ems = [_ems(block, n) for n in range(len(block.columns))]
    return sum(
        max(_cell_high(cell, ems[n][at], widths[n]) for n, cell in enumerate(row)) for at, row in enumerate(block.rows)
    )


def _ems(block: Table, n: int) -> list[float]:
    """Return how large each cell of a column is set."""
    large = block.columns[n].working
    return [_WORKING if large and at not in block.plain else _TEXT for at in range(len(block.rows))]


def _cell_high(text: str, em: float, width: float) -> float:
    space = measured("n n", em) - 2 * measured("n", em)
    return _lines(_word_widths(text, em), space, width - INSET) * em


def _bound(column: Column, cell: str) -> str:
    return cell.replace(" to ", "\u00a0to\u00a0") if column.working else cell


def natural_width(block: Table) -> float:
    """Return how wide a table is where no cell breaks, in mm."""
    return sum(_whole(block, n) for n in range(len(block.columns)))


class _Breaking:
    """Finds the widths at which a table's rows break into the fewest lines: mm by mm, where they save the most."""

    def __init__(self, block: Table, whole: Sequence[float], least: Sequence[float]) -> None:
        self._widths = list(least)
        self._options: list[list[tuple[float, tuple[float, ...]]]] = []
        for n in range(len(block.columns)):
            ems = _ems(block, n)
            cells = [_word_widths(row[n], em) for row, em in zip(block.rows, ems, strict=True)]
            self._options.append(list(_options(cells, ems, (least[n], whole[n]))))
        self._at = [0] * len(block.columns)

    def fitted(self, width: float) -> list[float]:
        """Return the widths, which come to no more than `width`."""
        room = width - sum(self._widths)
        while (step := self._best_step(room)) is not None:
            n, to = step
            room -= self._options[n][to][0] - self._widths[n]
            self._at[n], self._widths[n] = to, self._options[n][to][0]
        return self._widths

    def _best_step(self, room: float) -> tuple[int, int] | None:
        """Return which column to widen to which of its options: what saves height first, then what may do so later."""
        now = [options[at][1] for options, at in zip(self._options, self._at, strict=True)]
        rows = list(zip(*now, strict=True))
        tops = [_top_two(row) for row in rows]
        best: tuple[float, float] = (0.0, 0.0)
        step: tuple[int, int] | None = None
        for n, options in enumerate(self._options):
            # The rows of which this column alone is the highest: only there a wider one may save height.
            alone = [(at, top, other) for at, (top, other) in enumerate(tops) if rows[at][n] == top > other]
            all_now = sum(now[n])
            for to in range(self._at[n] + 1, len(options)):
                wide, high = options[to]
                cost = wide - self._widths[n]
                if cost > room:
                    break
                saved = sum(top - max(high[at], other) for at, top, other in alone)
                gains = saved / cost, (all_now - sum(high)) / cost
                if gains > best:
                    best, step = gains, (n, to)
        return step


def _top_two(row: Sequence[float]) -> tuple[float, float]:
    """Return the highest cell of a row and the next one, as high where two are the highest."""
    top = second = 0.0
    for high in row:
        if high > top:
            top, second = high, top
        elif high > second:
            second = high
    return top, second


def _options(
    cells: Sequence[Sequence[float]], ems: Sequence[float], ends: tuple[float, float]
) -> Iterator[tuple[float, tuple[float, ...]]]:
    """Yield the widths at which a column's cells come out lower than at the width before, with their heights."""
    width, whole = ends
    spaces = {em: measured("n n", em) - 2 * measured("n", em) for em in set(ems)}
    rows = [(words, spaces[em], em) for words, em in zip(cells, ems, strict=True)]
    high = [0.0] * len(rows)
    next_at = [0.0] * len(rows)  # the room from which on a cell may break into fewer lines
    has_begun = False
    while True:
        room, changed = width - INSET + _DUST, not has_begun
        for n, (words, space, em) in enumerate(rows):
            if next_at[n] <= room:
                lines, next_at[n] = _broken(words, space, room)
                changed = changed or high[n] != lines * em
                high[n] = lines * em
        if changed:
            yield width, tuple(high)
        if width >= whole:
            return
        has_begun = True
        width = min(width + _STEP, whole)


def _broken(words: Sequence[float], space: float, room: float) -> tuple[int, float]:
    """Return into how many lines words break, and in how much room the first of these breaks would not be made."""
    lines, used, next_at = 1, 0.0, inf
    for wide in words:
        more = used + space + wide
        if used and more > room:
            lines, used, next_at = lines + 1, wide, min(next_at, more)
        else:
            used += (space if used else 0.0) + wide
    return lines, next_at


def _lines(words: Sequence[float], space: float, room: float) -> int:
    """Return into how many lines words break."""
    return _broken(words, space, room + _DUST)[0]


def _whole(block: Table, n: int) -> float:
    """Return the width of a column none of whose cells breaks, nor its head."""
    column = block.columns[n]
    return max(measured(column.head, _TEXT) + _room_beside(column), _cells(block, n))


def _cells(block: Table, n: int) -> float:
    """Return the width of a column none of whose cells breaks, whatever its head."""
    cells = (cell_width(row[n], em) for row, em in zip(block.rows, _ems(block, n), strict=True))
    return max(cells, default=0.0) + _room_beside(block.columns[n])


def _least(block: Table, n: int) -> float:
    """Return the width of a column's longest word."""
    column = block.columns[n]
    words = [max(_word_widths(row[n], em)) for row, em in zip(block.rows, _ems(block, n), strict=True)]
    return max((*(measured(word, _TEXT) for word in column.head.split(" ")), *words)) + _room_beside(column)


def _room_beside(column: Column) -> float:
    """Large figures stand further from the next column's, as wide as the space between them is."""
    return INSET + (_BESIDE_WORKING if column.working else 0.0)


@lru_cache(maxsize=8192)
def _word_widths(text: str, em: float) -> tuple[float, ...]:
    """Return how wide each piece is that a line may end after: a stroke stays with what stands before it."""
    return tuple(measured(word, em) for word in held(text).split(" "))


def cell_width(text: str, em: float) -> float:
    """Return how wide a cell comes out on one line, in mm."""
    if text and not text.strip(TICK):
        return len(text) * (_TICK_BOX + _TICK_GAP) - _TICK_GAP
    return measured(text, em)


@lru_cache(maxsize=8192)
def measured(text: str, em: float) -> float:
    """Return how wide words come out in a table, in mm: there, a fraction is written as plain figures."""
    return sum(width_of(part, CAP * em) for part in _parts(text)) * _SAFE


def _parts(text: str) -> list[str]:
    pieces = text.split("/")
    return [p for n, piece in enumerate(pieces) for p in ((piece,) if n == 0 else ("/", piece))]
