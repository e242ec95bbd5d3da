"""Whether a card places tool, fence and straight edge where the set-out sheet has the mark."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from storyrod_blind._finding import Finding, FindingKind
from storyrod_blind._length import LENGTH, Span, Unit, read_length
from storyrod_blind._paper import Card, Cut, Panel, Paper, Placing
from storyrod_blind._seats import SAME

_SURFACE = r"(datum end|far end|face edge|far edge)"
_LINE = re.compile(rf"\bline at ({LENGTH}) from the {_SURFACE}")
_WALLS = re.compile(rf"\bwalls at ({LENGTH}) and ({LENGTH}), middle at ({LENGTH}), from the {_SURFACE}")
_RUNS = re.compile(rf"\bruns from ({LENGTH}) to ({LENGTH}) from the {_SURFACE}")
_EDGE = re.compile(rf"\bstraight edge at ({LENGTH}) from the {_SURFACE}")
_TO_WALL = re.compile(rf"^({LENGTH}) to the near wall")
_TO_CENTRE = re.compile(rf"^({LENGTH}) to the centre")
_PLACED = re.compile(rf"\b{_SURFACE}\b")


def check_places(paper: Paper) -> Iterator[Finding]:
    """Yield every figure of a card's row that is not where the marks of that row are."""
    for card in paper.cards:
        for placing in card.work:
            panel = paper.panels.get(placing.panel)
            cuts = [c for n in placing.numbers if (c := paper.cuts.get((placing.panel, n))) is not None]
            if panel is not None and cuts:
                yield from _lines(paper, card, placing, panel)
                yield from _channels(card, placing, panel, cuts)
                yield from _fence(card, placing, panel, cuts)


def _lines(paper: Paper, card: Card, placing: Placing, panel: Panel) -> Iterator[Finding]:
    """Yield a line that is not on the panel."""
    for match in _LINE.finditer(placing.words):
        at = _from_datum(read_length(match[1], card.unit).mm, match[2], panel)
        spans = [n.u if _axis(match[2]) == "u" else n.v for n in paper.lines if n.panel == placing.panel]
        told = [end.mm for s in spans for end in (s.low, s.high)]
        off = min((abs(at - t) for t in told), default=Fraction(0))
        if off > SAME or not told:
            yield Finding(FindingKind.CARD_OFF, card.id, f"{panel.mark}: {match[0]}", float(off))


def _channels(card: Card, placing: Placing, panel: Panel, cuts: list[Cut]) -> Iterator[Finding]:
    """Yield walls and ends that are not the cut's, and a straight edge that does not bring the cutter to its wall."""
    for pattern in (_WALLS, _RUNS):
        for match in pattern.finditer(placing.words):
            surface = match[match.lastindex or 0]
            ends = sorted(_from_datum(read_length(match[n], card.unit).mm, surface, panel) for n in (1, 2))
            span = _span(cuts[0], _axis(surface))
            off = max(abs(ends[0] - span.low.mm), abs(ends[1] - span.high.mm)) if span is not None else Fraction(0)
            if off > SAME:
                yield Finding(FindingKind.CARD_OFF, card.id, f"{panel.mark}: {match[0]}", float(off))
    setting = _setting(card, "straight edge", _TO_WALL)
    edge = _EDGE.search(placing.words)
    if setting is None or edge is None:
        return
    at = _from_datum(read_length(edge[1], card.unit).mm, edge[2], panel)
    span = _span(cuts[0], _axis(edge[2]))
    if span is not None:
        wall = min(abs(span.low.mm - at), abs(span.high.mm - at))
        off = abs(wall - setting)
        if off > SAME:
            yield Finding(FindingKind.CARD_OFF, card.id, f"{panel.mark}: {edge[0]}", float(off))


def _fence(card: Card, placing: Placing, panel: Panel, cuts: list[Cut]) -> Iterator[Finding]:
    """Yield a fence that does not stand as far from the cut's middle, or its near wall, as the mark from that edge."""
    to_centre, to_wall = _setting(card, "fence", _TO_CENTRE), _setting(card, "fence", _TO_WALL)
    wanted, placed = to_wall if to_centre is None else to_centre, _PLACED.search(placing.words)
    if wanted is None or placed is None:
        return
    for cut in cuts:
        span = _span(cut, _axis(placed[1]))
        if span is None:
            continue
        places = [span.middle] if to_centre is not None else [span.low.mm, span.high.mm]
        away = min(_from_datum(p, placed[1], panel) for p in places)
        if abs(away - wanted) > SAME:
            name = f"{panel.mark}.{cut.id[1]}"
            yield Finding(
                FindingKind.CARD_OFF, card.id, f"{name}: fence {card.settings['fence']}", float(away - wanted)
            )


def _setting(card: Card, name: str, pattern: re.Pattern[str]) -> Fraction | None:
    """Return the figure of a setting in mm; nothing where there is none, or its unit is not said."""
    match = pattern.match(card.settings.get(name, ""))
    if match is None:
        return None
    figure = read_length(match[1], card.unit)
    return figure.mm if figure.is_said or card.unit is Unit.MM else None


def _axis(surface: str) -> str:
    return "u" if surface.endswith("end") else "v"


def _from_datum(figure: Fraction, surface: str, panel: Panel) -> Fraction:
    """Return a figure measured from a surface as measured from the datum end or face edge, and the other way round."""
    if surface.startswith("far"):
        return (panel.length if _axis(surface) == "u" else panel.width) - figure
    return figure


def _span(cut: Cut, axis: str) -> Span | None:
    place: Span | None = getattr(cut, axis)
    return place
