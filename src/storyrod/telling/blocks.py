"""What a page or a paper is made of: plain blocks of words, tables and drawings, which each of them lays out.

A telling says what it has to say in these blocks; how they look is decided by who shows them. All text is data to the
typesetter and to the templates, never markup.
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
    """A table whose head is repeated on every page; `groups` are rows that stand as a heading across it.

    Of the rows in `plain` nothing is set by a figure: they are as small in a `working` column as in any other.
    """

    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    title: str = ""
    small: bool = False
    groups: tuple[tuple[int, str], ...] = ()
    plain: tuple[int, ...] = ()


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
class Warning_:  # noqa: N801  # `Warning` is a name of the language
    """A caution in a frame, with its triangle and the word: several lines each by itself, then a text."""

    text: str = ""
    items: tuple[str, ...] = ()
    title: str = "Caution"


Block = Table | Words | Bullets | Heading | Picture | Warning_


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
