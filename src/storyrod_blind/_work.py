"""Whether the cards cut every mark, and set every tool to what the mark says."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from fractions import Fraction

from storyrod_blind._finding import Finding, FindingKind
from storyrod_blind._length import LENGTH, Length, Span, read_length
from storyrod_blind._paper import Card, Cut, Paper, Placing
from storyrod_blind._seats import SAME
from storyrod_blind._what import CHANNELS, OPEN_CUTS, Kind

_NEEDED = ("tool", "cutter")
_FIGURE = re.compile(rf"(?<![\w./]){LENGTH}")
_COUNTS = ("passes", "speed", "jig", "tool")
"""Settings whose figures are counts or names, no lengths."""


def check_work(paper: Paper) -> Iterator[Finding]:
    """Yield marks that no card cuts, cards without a setting, and figures that are not the mark's."""
    cut_by_card: set[tuple[str, int]] = set()
    for card in paper.cards:
        cut_by_card |= {(p.panel, n) for p in card.work for n in p.numbers}
        yield from _settings(card)
        for placing in card.work:
            yield from _placing(paper, card, placing)
    for mark, cut in paper.cuts.items():
        if mark not in cut_by_card:
            yield Finding(FindingKind.MARK_ON_NO_CARD, f"{mark[0]}.{mark[1]}", cut.words)


def _settings(card: Card) -> Iterator[Finding]:
    tool = card.settings.get("tool", "")
    needed = [n for n in _NEEDED if n != "cutter" or not re.search(r"\bcutter\b", tool)]  # some tools are their cutter
    by_hand = re.search(r"\b(?:hand ?saw|jigsaw)\b", tool)
    for name in ("tool",) if by_hand else needed:
        if name not in card.settings:
            yield Finding(FindingKind.CARD_WITHOUT_SETTING, card.id, f"no {name}")
    if not by_hand and not card.depth:
        yield Finding(FindingKind.CARD_WITHOUT_SETTING, card.id, "no depth")
    if card.unit.value == "mm":
        return
    told = [*((n, w) for n, w in card.settings.items() if n not in _COUNTS)]
    bare = [f"{name} {words}" for name, words in told if any(not f.is_said for f in figures_in(words, card))]
    if bare:
        yield Finding(FindingKind.FIGURE_WITHOUT_UNIT, card.id, "; ".join(bare))


def figures_in(words: str, card: Card) -> list[Length]:
    """Return the lengths in words of a card, a bare figure in the unit of the card."""
    return [read_length(m[0], card.unit) for m in _FIGURE.finditer(words)]


def _placing(paper: Paper, card: Card, placing: Placing) -> Iterator[Finding]:
    for number in placing.numbers:
        cut = paper.cuts.get((placing.panel, number))
        name = f"{placing.panel}.{number}"
        if cut is None:
            yield Finding(FindingKind.CARD_WITHOUT_MARK, card.id, f"{name} is not set out")
            continue
        yield from _depth(card, cut, name)
        yield from _cutter(card, cut, name)
        yield from _ends(paper, card, placing, cut)


def _depth(card: Card, cut: Cut, name: str) -> Iterator[Finding]:
    words = card.depth
    if not words or "countersink" in card.title:
        return
    if cut.what.through:
        if "through" not in words and cut.what.kind not in OPEN_CUTS:
            yield Finding(FindingKind.CARD_OFF, card.id, f"{name} goes through; depth {words}")
        return
    wanted = cut.what.sizes.get("length" if cut.what.kind is Kind.POCKET else "depth")
    if wanted is not None:
        yield from _told(card, f"{name}, depth {words}", wanted, figures_in(words, card))


def _cutter(card: Card, cut: Cut, name: str) -> Iterator[Finding]:
    """Yield a drill that is not as wide as the hole; a wider cut may take a narrower cutter in several passes."""
    words = card.settings.get("cutter", "")
    if cut.what.kind is Kind.HOLE and "drill" in words and "countersink" not in card.title:
        yield from _told(card, f"{name}, cutter {words}", cut.what.sizes["diameter"], figures_in(words, card))


def _told(card: Card, words: str, wanted: Length, figures: Sequence[Length]) -> Iterator[Finding]:
    """Yield a finding where none of a card's figures is the one wanted; figures without a unit are found elsewhere."""
    if not figures or (card.unit.value != "mm" and not all(f.is_said for f in figures)):
        return
    off = min(abs(f.mm - wanted.mm) for f in figures)
    if off > SAME:
        yield Finding(FindingKind.CARD_OFF, card.id, words, float(off))


def _ends(paper: Paper, card: Card, placing: Placing, cut: Cut) -> Iterator[Finding]:
    """Yield a channel that stops within the board, where the card's row does not say both its ends."""
    panel = paper.panels.get(placing.panel)
    if cut.what.kind not in CHANNELS or panel is None or cut.u is None or cut.v is None:
        return
    told = [f.mm for f in figures_in(placing.words, card)]
    for span, size in ((cut.u, panel.length), (cut.v, panel.width)):
        if _is_across(cut, span):
            continue
        for end in (span.low.mm, span.high.mm):
            stops = SAME < end < size - SAME
            if stops and not any(abs(t - end) <= SAME for t in told):
                words = f"{placing.panel}.{cut.id[1]}: {cut.words} stops in the board, its end is not on the card"
                yield Finding(FindingKind.CUT_WITHOUT_ENDS, card.id, words)
                return


def _is_across(cut: Cut, span: Span) -> bool:
    """Whether a stretch is the channel's width."""
    width = cut.what.sizes.get("width")
    return width is not None and abs(span.width - width.mm) <= Fraction(1, 10)
