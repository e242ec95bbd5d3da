"""What a packet is made of: sections of plain blocks, which the typesetter lays out.

A part of the packet says what it has to say in these blocks; how they look is decided once, in
`data/packet/packet.typ`. All text is data to the typesetter, never markup.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from storyrod.drawing import Drawing


class Align(StrEnum):
    """How a column stands."""

    LEFT = "left"
    RIGHT = "right"
    CENTRE = "center"


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column of a table; `share` of the spare width, 0 for as wide as its content.

    `working` figures are the ones a maker sets by, and stand large enough to be read at arm's length.
    """

    head: str
    align: Align = Align.LEFT
    share: float = 0.0
    working: bool = False


TICK = "\u2610"
"""A cell with this text is drawn as a tick box."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table whose head is repeated on every page; `groups` are rows that stand as a heading across it."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    title: str = ""
    small: bool = False
    groups: tuple[tuple[int, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """A paragraph; `strong` for the sentence that must be read."""

    text: str
    strong: bool = False
    quiet: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Bullets:
    """A short list of sentences, with tick boxes where they are to be done."""

    items: tuple[str, ...]
    ticks: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """A heading within a section."""

    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A drawing at its own size, or as wide as `width` mm; with its notes under it."""

    drawing: Drawing
    width: float | None = None
    notes: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """Blocks side by side; `shares` of the width."""

    cells: tuple[tuple[Block, ...], ...]
    shares: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Warning_:  # noqa: N801  # `Warning` is a name of the language
    """A caution in a frame, with its triangle and the word: several lines each by itself, then a text."""

    text: str = ""
    items: tuple[str, ...] = ()
    title: str = "Caution"


@dataclass(frozen=True, slots=True, kw_only=True)
class PageBreak:
    """Go on overleaf."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tiles:
    """A whole page, lying, that carries pieces of full-size strips one above another, or rows of them."""

    drawings: tuple[Drawing | tuple[Drawing, ...], ...]


Block = Table | Words | Bullets | Heading | Picture | Row | Warning_ | PageBreak | Tiles


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """One part of the packet, begun on a new page; `head` goes into the page's head beside the job's title.

    Parts of one `group` that follow each other share a line of the contents: there each is told by what its title has
    before the colon. A part that is `lying` has its heading and words on the first of its pages of tiles.
    """

    title: str
    blocks: tuple[Block, ...]
    head: str = ""
    group: str = ""
    listed: bool = True
    lying: bool = False
    part: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Packet:
    """A whole packet, ready for the typesetter; `unit` is the name of the unit that the foot of each page says."""

    title: str
    version: str
    maker: str
    date: str
    paper: str
    sections: tuple[Section, ...]
    unit: str = ""


def table(columns: Sequence[Column | str], rows: Sequence[Sequence[str]], **more: object) -> Table:
    """Return a table; a column given as plain text is left-aligned and as wide as its content."""
    made = tuple(c if isinstance(c, Column) else Column(head=c) for c in columns)
    for row in rows:
        if len(row) != len(made):
            raise ValueError(f"{len(row)} cells for {len(made)} columns: {row}")
    return Table(columns=made, rows=tuple(tuple(r) for r in rows), **more)  # type: ignore[arg-type]


def right(head: str, *, working: bool = False) -> Column:
    """Return a column of figures."""
    return Column(head=head, align=Align.RIGHT, working=working)


def wide(head: str, share: float = 1.0) -> Column:
    """Return a column of words that takes up spare width."""
    return Column(head=head, share=share)
