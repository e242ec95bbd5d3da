"""The bench page as a maker reads it: its HTML taken apart, card by card, without a browser."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from html.parser import HTMLParser

_VOID = frozenset(
    {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"}
)
_NOT_READ = frozenset({"svg", "script", "style"})


@dataclass(slots=True)
class BenchRow:
    """One thing to tick: a mark's number or a few words, and where it lies or what is done."""

    label: str = ""
    what: str = ""


@dataclass(slots=True)
class BenchGroup:
    """Rows of one placing or one step: its title, what is said beside it, how many people and clamps, what to watch."""

    title: str = ""
    placed: str = ""
    hands: str = ""
    notes: list[str] = field(default_factory=list)
    rows: list[BenchRow] = field(default_factory=list)


@dataclass(slots=True)
class BenchCard:
    """One card: its name, its title, what is set to what, and its groups."""

    id: str
    title: str = ""
    settings: dict[str, str] = field(default_factory=dict)
    groups: list[BenchGroup] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Bench:
    """All cards by name, and all words of the page."""

    cards: Mapping[str, BenchCard]
    text: str


def read_bench(page: str) -> Bench:
    """Return the cards of a bench page, given as HTML."""
    reader = _Reader()
    reader.feed(page)
    reader.close()
    return Bench({c.id: c for c in reader.cards}, plain(" ".join(reader.words)))


def plain(words: str) -> str:
    """Return words with single spaces between them."""
    return " ".join(words.split())


class _Reader(HTMLParser):
    """Gathers text by the classes of the elements round it; drawings and scripts have no words of the page."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.cards: list[BenchCard] = []
        self.words: list[str] = []
        self._open: list[tuple[str, frozenset[str], int]] = []
        self._text: list[str] = []
        self._term = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Begin an element."""
        told = dict(attrs)
        classes = frozenset((told.get("class") or "").split())
        if tag in _VOID:
            return
        self._open.append((tag, classes, len(self._text)))
        if "bench-card" in classes:
            self.cards.append(BenchCard(told.get("data-card") or ""))
        elif self.cards and (classes & {"group", "group-text"}):
            self.cards[-1].groups.append(BenchGroup())
        elif self.cards and self.cards[-1].groups and "tick" in classes:
            self.cards[-1].groups[-1].rows.append(BenchRow())

    def handle_endtag(self, tag: str) -> None:
        """End an element, and those within it that were never ended."""
        if not any(name == tag for name, _, _ in self._open):
            return
        while self._open:
            name, classes, since = self._open.pop()
            self._told(name, classes, plain("".join(self._text[since:])))
            if "hands" in classes:
                del self._text[since:]  # it stands within what is placed, and is no part of it
            if name == tag:
                return

    def handle_data(self, data: str) -> None:
        """Take words in."""
        if not any(name in _NOT_READ for name, _, _ in self._open):
            self._text.append(data)
            self.words.append(data)

    def _told(self, tag: str, classes: frozenset[str], words: str) -> None:
        if not self.cards:
            return
        card = self.cards[-1]
        if tag == "h2" and not card.title:
            card.title = words
        elif tag == "dt":
            self._term = words
        elif tag == "dd" and not card.groups:
            card.settings[self._term] = words
        elif card.groups:
            self._told_in_group(card.groups[-1], tag, classes, words)

    def _told_in_group(self, group: BenchGroup, tag: str, classes: frozenset[str], words: str) -> None:
        if "group-title" in classes:
            group.title = words
        elif "hands" in classes:
            group.hands = words
        elif "placed" in classes:
            group.placed = words
        elif "step-first" in classes or (tag == "li" and any("step-notes" in c for _, c, _ in self._open)):
            group.notes.append(words)
        elif group.rows and "label" in classes:
            group.rows[-1].label = words
        elif group.rows and "what" in classes:
            group.rows[-1].what = words
