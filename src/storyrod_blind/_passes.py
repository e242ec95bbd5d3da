"""Whether the passes of a card make the cut: one under another to its depth, one beside another to its width.

The order matters as much as the figures: a last pass that takes the wrong wall is a climb cut.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from storyrod_blind._finding import Finding, FindingKind
from storyrod_blind._length import LENGTH, read_length
from storyrod_blind._paper import Card, Paper
from storyrod_blind._seats import SAME
from storyrod_blind._what import CHANNELS

_SUM = re.compile(rf"^({LENGTH}) = ({LENGTH}) \+ ({LENGTH})$")
_UNDER = re.compile(r"^(\d+), each deeper: (.+)$")
_PASS = re.compile(r"^([a-z ]+): (.+)$")
_STRIP = re.compile(rf"^a strip of ({LENGTH})")
_FENCE = re.compile(rf"\bat ({LENGTH})$")
_FIGURE = re.compile(LENGTH)
_NEAR = Fraction(55, 1000)  # mm: a strip comes within 0.05 of what is wanted, the walls are printed to half a digit
_NEAR_WALL, _FAR_WALL, _OPEN = "near wall", "far wall", "open edge"


def check_passes(paper: Paper) -> Iterator[Finding]:
    """Yield passes that do not come to the cut's depth, take too much at once, or do not come to its walls in order."""
    for card in paper.cards:
        yield from _sum(card)
        yield from _under(card)
        passes = _beside(card)
        if passes:
            yield from _order(card, passes)
            yield from _width(paper, card, passes)


def _sum(card: Card) -> Iterator[Finding]:
    """Yield a depth stop that is not the jig's height and the depth together."""
    match = _SUM.match(card.depth)
    if match is None:
        return
    whole, *parts = (read_length(figure, card.unit).mm for figure in match.groups())
    if abs(whole - sum(parts)) > SAME * 2:
        yield _off(card, f"depth {match[0]}", whole - sum(parts))


def _under(card: Card) -> Iterator[Finding]:
    """Yield passes that do not end at the depth stop, or of which one is deeper than half the cutter is wide."""
    match = _UNDER.match(card.settings.get("passes", ""))
    cutter = _FIGURE.search(card.settings.get("cutter", ""))
    deepest = _FIGURE.search(card.depth)
    if match is None or cutter is None or deepest is None:
        return
    stops = [read_length(f, card.unit).mm for f in _FIGURE.findall(match[2])]
    words = f"passes {match[0]}"
    if len(stops) != int(match[1]):
        yield Finding(FindingKind.CARD_OFF, card.id, f"{words}: {len(stops)} figures")
        return
    off = stops[-1] - read_length(deepest[0], card.unit).mm
    if abs(off) > SAME:
        yield _off(card, f"{words}; depth {deepest[0]}", off)
    steps = [b - a for a, b in pairwise(stops)]
    most = max(steps, default=Fraction(0)) - read_length(cutter[0], card.unit).mm / 2
    if most > SAME * 2:
        yield _off(card, f"{words}: deeper than half of {cutter[0]}", most)


def _beside(card: Card) -> list[tuple[str, Fraction]]:
    """Return each pass beside another: the wall that it takes, and how far the cutter is from where it is at first."""
    told = [words for n in range(1, 99) if (words := card.settings.get(f"pass {n}"))]
    found: list[tuple[str, Fraction]] = []
    for words in told:
        match = _PASS.match(words)
        if match is None:
            return []
        strip, fence = _STRIP.search(match[2]), _FENCE.search(match[2])
        figure = strip or fence
        found.append((match[1], read_length(figure[1], card.unit).mm if figure else Fraction(0)))
    return found


def _order(card: Card, passes: list[tuple[str, Fraction]]) -> Iterator[Finding]:
    """Yield passes whose last takes the wall that makes it a climb cut.

    The router in the hand runs with its straight edge beyond it and its cutter turns clockwise: the wall at the
    straight edge is taken last. On a table the cutter comes from below and turns the other way: the far wall is.
    """
    walls = [wall for wall, _ in passes]
    if _OPEN in walls:
        return
    for wall in (_NEAR_WALL, _FAR_WALL):
        if wall not in walls:
            yield Finding(FindingKind.CARD_OFF, card.id, f"no pass takes the {wall}")
            return
    last = _FAR_WALL if "table" in card.settings.get("tool", "") else _NEAR_WALL
    if walls[-1] != last:
        yield Finding(FindingKind.CARD_OFF, card.id, f"its last pass takes the {walls[-1]}: a climb cut")


def _width(paper: Paper, card: Card, passes: list[tuple[str, Fraction]]) -> Iterator[Finding]:
    """Yield cuts that the passes make wider or narrower than they are set out."""
    by_wall = dict(passes)
    cutter = _FIGURE.search(card.settings.get("cutter", ""))
    if cutter is None or _NEAR_WALL not in by_wall or _FAR_WALL not in by_wall:
        return
    made = read_length(cutter[0], card.unit).mm + abs(by_wall[_FAR_WALL] - by_wall[_NEAR_WALL])
    for placing in card.work:
        for number in placing.numbers:
            cut = paper.cuts.get((placing.panel, number))
            spans = [s.width for s in (cut.u, cut.v) if s is not None] if cut and cut.what.kind in CHANNELS else []
            off = min((made - width for width in spans), key=abs, default=Fraction(0))
            if abs(off) > _NEAR:
                yield _off(card, f"{placing.panel}.{number}: passes make it {float(made):g} mm wide", off)


def _off(card: Card, words: str, by: Fraction) -> Finding:
    return Finding(FindingKind.CARD_OFF, card.id, words, float(by))
