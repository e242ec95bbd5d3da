"""What a job is printed for: the papers by name, the same on the command line, on the page and in the packet."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from storyrod.model.job import Paper


class Purpose(StrEnum):
    """What a paper is for; each is a file of its own."""

    BENCH = "bench"
    BUYING = "buying"
    LABELS = "labels"
    QUOTATION = "quotation"
    RODS = "rods"
    JIGS = "jigs"
    REASONS = "reasons"
    BOOK = "book"


USUAL: Final = (Purpose.BENCH, Purpose.BUYING, Purpose.LABELS, Purpose.QUOTATION, Purpose.JIGS)
"""What a plan is printed as unless something else is asked for."""

ALL, NONE = "all", "none"


def purposes_of(words: str) -> tuple[Purpose, ...]:
    """Return the purposes of a list like `bench,labels`, each once, in the order in which they are printed.

    Raises:
        ValueError: a word is not the name of one; it says which are allowed.
    """
    named = [w.strip() for w in words.split(",") if w.strip()]
    if named == [NONE]:
        return ()
    if named == [ALL]:
        return tuple(Purpose)
    wrong = [w for w in named if w not in set(Purpose)]
    if wrong or not named:
        raise ValueError(f'found "{", ".join(wrong)}"; allowed: {", ".join(Purpose)}, {ALL} or {NONE}')
    return tuple(p for p in Purpose if p in named)


type Tell = Callable[[int, int], None]
"""Hears how far a paper is: how many of its parts are done, and of how many."""


def unheard(_done: int, _of: int) -> None:
    """Say it to nobody."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wishes:
    """What a maker wants of the papers.

    Attributes:
        date: printed in the head of each page.
        parts: parts of the book by name, None for all.
        paper: of all but the labels; the job's own where None.
        labels: code of the label paper, "" for the one that goes with the job's paper; `used` labels of its first
            page are gone already.
        rods: marks of the panels whose rods are wanted, none for all.
        quote_without: whether the quotation may leave out what has no price.
    """

    date: str = ""
    parts: tuple[str, ...] | None = None
    paper: Paper | None = None
    labels: str = ""
    used: int = 0
    rods: tuple[str, ...] = ()
    quote_without: bool = False
