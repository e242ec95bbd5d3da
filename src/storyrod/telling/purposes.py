"""What a job is printed for: the papers by name, the same on the command line, on the page and in the packet."""

from __future__ import annotations

from enum import StrEnum
from typing import Final


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
