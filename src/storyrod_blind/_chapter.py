"""The parts of a packet: pages under one large heading, with the unit that each page says."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from storyrod_blind._length import Unit, unit_said
from storyrod_blind._page import Page, lines_of
from storyrod_blind._table import Table, tables_of

_HEADING = 14.5  # pt: a part's heading is larger than all else on its page
_HEADING_LINE = 30.0  # pt from one line of a heading to the next at the most

CARD = re.compile(r"^(S\d+(?: \+ S\d+)*): ")
SET_OUT = re.compile(r"^(?:[^\s:+]+\d+)(?:(?:(?: \+|;) [^\s:+;]+\d+)+$|: )")
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
        for heading, part in _parts_of(page):
            if heading and mine:
                yield title, mine
                mine = []
            title = heading or title
            mine.append(part)
    if mine:
        yield title, mine


def _parts_of(page: Page) -> Iterator[tuple[str, Page]]:
    """Yield what of a page belongs to the part before, if there is anything, and to each that begins on it.

    What stands in the page's head and at its foot is said of every part on it.
    """
    headings = _headings(page)
    around = tuple(r for r in page.runs if not page.foot < r.y < page.head)
    tops = [page.head, *(top for top, _ in headings)]
    for n, (top, title) in enumerate([(page.head, ""), *headings]):
        floor = tops[n + 1] if n + 1 < len(tops) else page.foot
        runs = tuple(r for r in page.runs if floor < r.y <= top and page.foot < r.y < page.head)
        if title or not headings or any(r.text.strip() for r in runs):
            rules = tuple(r for r in page.rules if floor < r.y <= top)
            yield title, replace(page, runs=tuple(sorted((*runs, *around), key=lambda r: (-r.y, r.x0))), rules=rules)


def _headings(page: Page) -> list[tuple[float, str]]:
    """Return the headings from the top down, each with how high it reaches; one may run over several lines."""
    found: list[tuple[float, str]] = []
    last = 0.0
    for line in lines_of([r for r in page.runs if r.size >= _HEADING and r.is_bold]):
        words, y = " ".join(r.text for r in line), line[0].y
        if found and last - y <= _HEADING_LINE:
            found[-1] = (found[-1][0], f"{found[-1][1]} {words}")
        else:
            found.append((y + line[0].size, words))
        last = y
    return found
