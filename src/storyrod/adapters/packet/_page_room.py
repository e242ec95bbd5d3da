"""How high a block comes out on paper: an estimate on the safe side, by which pages are filled.

Lines are broken here as the typesetter breaks them, by the same face's widths, so that a picture stays with its words.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from math import inf
from typing import Final

from storyrod.adapters.packet._blocks import Block, Row, Together
from storyrod.adapters.packet._columns import INSET, PT, laid_out
from storyrod.drawing import CAP, width_of
from storyrod.telling.blocks import TICK, Bullets, Heading, Picture, Table, Warning_, Words

_TEXT: Final = 10.5 * PT
_SMALL: Final = 10.5 * PT
_WORKING: Final = 13.1 * PT
_LINE: Final = CAP + 0.56  # in ems: height of a line and the room under it
_SMALL_LINE: Final = CAP + 0.45
_AFTER: Final = 0.75  # ems between paragraphs
_TICK_ROOM: Final = 6.5
_TICK_BOX: Final = 4.0
_TABLE_TITLE, _TABLE_HEAD, _GROUP = 5.0, 5.6, 7.0  # mm
_WARNING_ROOM: Final = 3.5 + 2.2
_DASH_ROOM: Final = 3.5
GUTTER: Final = 5.0
ABOVE_AND_BELOW: Final = 22.0  # mm of a page kept for its foot and for what printers cannot reach
_SAFE: Final = 0.985  # share of a line's width that is counted on


def height_of(block: Block, width: float) -> float:
    """Return about how many mm of a page `width` mm wide a block takes up."""
    match block:
        case Words():
            size = _SMALL if block.quiet else _TEXT
            return (_lines(block.text, width, size, bold=block.strong) * _LINE + _AFTER) * size
        case Bullets():
            return (sum(_lines(item, width - _TICK_ROOM, _TEXT) for item in block.items) * _LINE + 0.5) * _TEXT
        case Warning_():
            lines = 1 + (_lines(block.text, width - _WARNING_ROOM, _TEXT) if block.text else 0)
            lines += sum(_lines(item, width - _WARNING_ROOM - _DASH_ROOM, _TEXT) for item in block.items)
            return (lines * _LINE + _AFTER) * _TEXT + 4.4
        case Heading():
            return 7.0
        case Picture():
            notes = " ".join(block.drawing.notes) if block.notes else ""
            under = _lines(notes, width, _SMALL) * _LINE * _SMALL + 1.5 if notes else 0.0
            drawn_width, drawn_height = block.drawing.paper_size
            return drawn_height * (block.width / drawn_width if block.width else 1.0) + under
        case Together():
            return sum(height_of(b, width) for b in block.blocks)
        case Row():
            cells = zip(block.cells, rooms_of(block, width), strict=True)
            return max(sum(height_of(b, room) for b in cell) for cell, room in cells)
        case Table():
            return _table(block, width)
        case _:
            return 0.0


def rooms_of(row: Row, width: float) -> list[float]:
    """Return the width of each cell of a row (mm); one without a share is as wide as its pictures."""
    room = width - GUTTER * (len(row.cells) - 1)
    fixed = [0.0 if share else _content(cell) for cell, share in zip(row.cells, row.shares, strict=True)]
    rest = (room - sum(fixed)) / (sum(row.shares) or 1.0)
    return [share * rest or own for share, own in zip(row.shares, fixed, strict=True)]


def _content(cell: Sequence[Block]) -> float:
    """Return how wide the pictures of a cell are, in mm."""
    return max((b.width or b.drawing.paper_size[0] for b in cell if isinstance(b, Picture)), default=0.0)


@lru_cache(maxsize=512)
def _table(told: Table, width: float) -> float:
    """A table goes on overleaf by itself: what must stand together is its title, head and first rows."""
    block, found = laid_out(told, width)
    size, inset = (_SMALL, 0.9) if block.small else (_TEXT, 1.3)
    rooms = [inf if found is None or not c.share else found[n] for n, c in enumerate(block.columns)]
    if found is None and any(c.share for c in block.columns):
        shares = sum(c.share for c in block.columns)
        rooms = [width / 2 * c.share / shares if c.share else inf for c in block.columns]
    large = [_WORKING if c.working else size for c in block.columns]
    ems = [[size] * len(large) if n in block.plain else large for n in range(len(block.rows))]
    rows = (
        max(_cell(text, room - INSET, em) for text, room, em in zip(row, rooms, own, strict=True))
        for row, own in zip(block.rows, ems, strict=True)
    )
    lines = sum(high + 2 * inset for high in rows)
    return lines + (_TABLE_TITLE if block.title else 0.0) + _TABLE_HEAD + _GROUP * len(block.groups)


def _cell(text: str, width: float, em: float) -> float:
    """A column that has no share is as wide as its content: its room has no end, and it never breaks."""
    if text.startswith(TICK):
        return _TICK_BOX
    return (_lines(text, width, em) * _SMALL_LINE - (_SMALL_LINE - CAP)) * em


def _lines(text: str, width: float, em: float, *, bold: bool = False) -> int:
    """Return into how many lines a text breaks."""
    lines, used, room = 1, 0.0, width * _SAFE
    space, *words = _words(text, em, bold)
    for wide in words:
        if used and used + space + wide > room:
            lines, used = lines + 1, wide
        else:
            used += (space if used else 0.0) + wide
    return lines


@lru_cache(maxsize=4096)
def _words(text: str, em: float, bold: bool) -> tuple[float, ...]:  # noqa: FBT001 -- a key of the cache
    """Return how wide a space is, and each word of a text: it is broken for many widths while a page is filled."""
    high = CAP * em
    space = width_of("n n", high, bold=bold) - 2 * width_of("n", high, bold=bold)
    return (space, *(width_of(word, high, bold=bold) for word in text.split()))
