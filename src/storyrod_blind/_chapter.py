"""The parts of a packet: pages under one large heading, with the unit that each page says."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from storyrod_blind._length import Unit, unit_said
from storyrod_blind._page import Page
from storyrod_blind._table import Table, tables_of

_HEADING = 14.5  # pt: a part's heading is larger than all else on its page

CARD = re.compile(r"^(S\d+): ")
SET_OUT = re.compile(r"^(?:[^\s:+]+\d+)(?:(?: \+ [^\s:+]+\d+)+$|: )")
TOGETHER = re.compile(r"^(?P<case>[^\s:]+): putting it together$")


@dataclass(frozen=True, slots=True)
class Chapter:
    """One part: its heading, its pages, its tables."""

    title: str
    pages: tuple[Page, ...]
    tables: tuple[Table, ...]

    @property
    def is_card(self) -> bool:
        """Whether it is a set-up card, by what stands in it: a panel's mark may look like a set-up's name."""
        return CARD.match(self.title) is not None and any(t.has("set", "to") for t in self.tables)

    @property
    def is_set_out(self) -> bool:
        """Whether it is a set-out sheet."""
        told = any(t.has("mark", "what") or t.has("mate", "by its") for t in self.tables)
        return SET_OUT.match(self.title) is not None and told

    @property
    def text(self) -> str:
        """All its words."""
        return "\n".join(p.text for p in self.pages)

    def unit_of(self, page: int) -> Unit | None:
        """Return the unit that a page of it says, or an earlier page of the same part."""
        for candidate in reversed([p for p in self.pages if p.number <= page]):
            unit = unit_said(candidate.text)
            if unit is not None:
                return unit
        return None


def chapters_of(pages: Sequence[Page]) -> tuple[Chapter, ...]:
    """Return the parts in order."""
    return tuple(Chapter(title, tuple(mine), tuple(tables_of(mine))) for title, mine in _gathered(pages))


def _gathered(pages: Sequence[Page]) -> Iterator[tuple[str, list[Page]]]:
    title, mine = "", list[Page]()
    for page in pages:
        heading = " ".join(r.text for r in page.runs if r.size >= _HEADING and r.is_bold)
        if heading and mine:
            yield title, mine
            mine = []
        title = heading or title
        mine.append(page)
    if mine:
        yield title, mine
