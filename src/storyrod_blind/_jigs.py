"""The jigs' own paper: whether a jig, made as it says, brings the tool to the marks that its cards name.

A jig is known by its stations, measured from its zero, by its stops, measured from there too, and by how far its
fence or its line-up marks are from the line of its openings. A card says what lies against which. From these alone
follows where the cutter goes.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from storyrod_blind._chapter import Chapter, chapters_of
from storyrod_blind._finding import Finding, FindingKind
from storyrod_blind._length import LENGTH, Length, Span, Unit, read_length
from storyrod_blind._page import Page
from storyrod_blind._paper import Card, Cut, Panel, Paper, Placing
from storyrod_blind._seats import SAME

_TITLE = re.compile(r"^Jig (G\d+): (.+)$")
_JIG = re.compile(r"^(G\d+),")
_STATIONS = re.compile(rf"\b(?:measured from the zero: |Its stations: )((?:{LENGTH})(?:, (?:{LENGTH}))*)")
_FENCE = re.compile(rf"\bits inner face ({LENGTH}) from the centre line\b")
_LINE_UPS = re.compile(
    r"\bScribe the line-up marks across both ends with a knife, on both faces, (.*?) from the centre"
)
_LINE_EDGE = re.compile(rf"\bPlane its far long edge to ({LENGTH}) from the centre line\b")
_LINE_AT = re.compile(rf"\bline at ({LENGTH}) from the (datum end|far end|face edge|far edge), stop [A-Z]\b")
_OPENING = re.compile(rf"\bto ({LENGTH}) x ({LENGTH}) over all\b")
_BUSH = re.compile(rf"^({LENGTH}) \(offset")
_STOP = re.compile(r"\bstop ([A-Z]) on the (datum end|far end|face edge|far edge|face side|far face)\b")
_AGAINST = re.compile(r"(?:^|[ ,])(datum end|far end|face edge|far edge|face side|far face), stop [A-Z]\b")
_FIGURE = re.compile(LENGTH)
_AXES = {"datum end": "u", "far end": "u", "face edge": "v", "far edge": "v", "face side": "w", "far face": "w"}
_SERVED = Fraction(5, 100)  # mm from a station within which the packet promises every mark that it serves
_LAID = Fraction(1, 100)  # mm: two of the last digits of an inch, of a line and of what is laid on it
_PACKED = Fraction(1, 10)  # mm within which packers on a shelf are taken for the one that is wanted
_SUMMED = 3  # printed figures that a place under a jig is a sum of: the mark's, the station's, the stop's


@dataclass(frozen=True, slots=True)
class Jig:
    """A jig as its own page says it is made.

    Attributes:
        stations: where its openings are, from its zero.
        stops: by letter, where its stops' faces are, from its zero.
        fence: from its fence's inner face to the line of its openings; None where it has none.
        line_ups: from the marks that are laid on a line to the line of its openings.
        line_edge: from its own edge, where that is set on a line, to the line of its openings.
        opening: length and width over all of one that is not round.
    """

    id: str
    stations: tuple[Length, ...]
    stops: Mapping[str, Length]
    fence: Length | None
    line_ups: tuple[Length, ...]
    line_edge: Length | None
    opening: tuple[Length, Length] | None


def read_jigs(pages: Sequence[Page]) -> dict[str, Jig]:
    """Return the jigs of their paper, by number."""
    found: dict[str, Jig] = {}
    for chapter in chapters_of(pages):
        match = _TITLE.match(chapter.title)
        if match is not None:
            found[match[1]] = _jig(match[1], chapter)
    return found


def _jig(name: str, chapter: Chapter) -> Jig:
    unit = chapter.unit_of(chapter.pages[-1].number) or Unit.MM
    words = " ".join(chapter.text.split())
    stations, fence, opening = _STATIONS.search(words), _FENCE.search(words), _OPENING.search(words)
    line_ups, edge = _LINE_UPS.search(words), _LINE_EDGE.search(words)
    stops: dict[str, Length] = {}
    for table in chapter.tables:
        if table.has("stop", "at"):
            stops |= {row["stop"]: _signed(row["at"], unit) for row in table.rows}
    return Jig(
        id=name,
        stations=tuple(read_length(s, unit) for s in stations[1].split(", ")) if stations else (),
        stops=stops,
        fence=read_length(fence[1], unit) if fence else None,
        line_ups=tuple(read_length(f, unit) for f in _FIGURE.findall(line_ups[1])) if line_ups else (),
        line_edge=read_length(edge[1], unit) if edge else None,
        opening=(read_length(opening[1], unit), read_length(opening[2], unit)) if opening else None,
    )


def _signed(text: str, unit: Unit) -> Length:
    length = read_length(text.removeprefix("-"), unit)
    return Length(-length.mm, length.unit, length.is_said) if text.startswith("-") else length


def check_jigs(paper: Paper, jigs: Mapping[str, Jig]) -> Iterator[Finding]:
    """Yield every jig that is not told, and every mark to which its jig does not bring the tool."""
    for card in paper.cards:
        named = _JIG.match(card.settings.get("jig", ""))
        if named is None:
            continue
        jig = jigs.get(named[1])
        if jig is None:
            yield Finding(FindingKind.JIG_UNSAID, card.id, f"{named[1]} has no page of its own")
            continue
        yield from _opening(card, jig)
        for placing in card.work:
            panel = paper.panels.get(placing.panel)
            cuts = [c for n in placing.numbers if (c := paper.cuts.get((placing.panel, n))) is not None]
            if panel is not None:
                yield from _along(card, jig, placing, panel, cuts)
                yield from _across(card, jig, placing, panel, cuts)


def _along(card: Card, jig: Jig, placing: Placing, panel: Panel, cuts: Sequence[Cut]) -> Iterator[Finding]:
    """Yield marks that no station lies over while the stop lies against its surface."""
    stop = _STOP.search(placing.words)
    if stop is None:
        if jig.stations:
            yield Finding(FindingKind.JIG_UNSAID, card.id, f"{panel.mark}: {placing.words}: no stop of {jig.id}")
        return
    at = jig.stops.get(stop[1])
    if at is None:
        yield Finding(FindingKind.JIG_UNSAID, card.id, f"{jig.id} has no stop {stop[1]}")
        return
    over = [s.mm - at.mm for s in jig.stations]
    for cut in cuts:
        span = _span(cut, stop[2])
        if span is None or not over:
            continue
        away = _from_surface(_middle(cut, span, _AXES[stop[2]]), stop[2], panel)
        off = min((away - o for o in over), key=abs)
        yield from _off(cut, card.id, f"{jig.id}, stop {stop[1]} on the {stop[2]}", off, near=_SERVED + SAME)


def _across(card: Card, jig: Jig, placing: Placing, panel: Panel, cuts: Sequence[Cut]) -> Iterator[Finding]:
    """Yield marks that are not as far from what the fence lies against as the fence, less its packer, holds the jig."""
    if not jig.stations:
        return
    line, against = _LINE_AT.search(placing.words), _AGAINST.search(placing.words)
    told = line or against
    held = _held(jig, _packer(card), on_line=line is not None)
    if told is None or not held:
        words = f"{panel.mark}: {placing.words}: nothing that {jig.id} lies against"
        yield Finding(FindingKind.JIG_UNSAID, card.id, words)
        return
    surface = told[told.lastindex or 0]
    nought = read_length(told[1], card.unit).mm if line is not None else Fraction(0)
    for cut in cuts:
        span = _span(cut, surface)
        if span is not None:
            away = abs(_from_surface(_middle(cut, span, _AXES[surface]), surface, panel) - nought)
            off = min((away - h for h in held), key=abs)
            near = _LAID if _packer(card) == 0 else _PACKED + SAME
            yield from _off(cut, card.id, f"{jig.id} against {told[0].strip(', ')}", off, near=near)


def _held(jig: Jig, packer: Fraction, *, on_line: bool) -> list[Fraction]:
    """Return how far the line of the openings is held from what the jig lies against, in mm."""
    if not on_line:
        return [] if jig.fence is None else [jig.fence.mm - packer]
    return [e.mm - packer for e in ((jig.line_edge,) if jig.line_edge else jig.line_ups)]


def _opening(card: Card, jig: Jig) -> Iterator[Finding]:
    """Yield an opening in which the bush does not lead the cutter to the size of the cut."""
    bush = _BUSH.match(card.settings.get("bush", ""))
    cutter = _FIGURE.search(card.settings.get("cutter", ""))
    sizes = re.search(rf"\bcut-outs ({LENGTH}) x ({LENGTH})", card.title)
    if bush is None or cutter is None or sizes is None or jig.opening is None:
        return
    wider = read_length(bush[1], card.unit).mm - read_length(cutter[0], card.unit).mm
    for told, cut in zip(jig.opening, (sizes[1], sizes[2]), strict=True):
        off = told.mm - wider - read_length(cut, card.unit).mm
        if abs(off) > SAME:
            yield Finding(FindingKind.JIG_OFF, card.id, f"{jig.id}: opening for {card.title}", float(off), _SUMMED)


def _off(cut: Cut, card: str, words: str, off: Fraction, *, near: Fraction) -> Iterator[Finding]:
    if abs(off) > near:
        yield Finding(FindingKind.JIG_OFF, card, f"{cut.id[0]}.{cut.id[1]}: {words}", float(off), _SUMMED)


def _packer(card: Card) -> Fraction:
    """Return how thick the packers are that the card lays, in mm: the figures before `(wanted ...)` or its side."""
    words = card.settings.get("packer", "none").partition("(")[0].partition(",")[0]
    return sum((read_length(f, card.unit).mm for f in _FIGURE.findall(words)), Fraction(0))


def _middle(cut: Cut, span: Span, axis: str) -> Fraction:
    """Return the middle of a cut: of a keyhole the lock is marked, and a station lies half way to its entry."""
    aside = cut.what.sizes.get("aside")
    if aside is None or _AXES.get(cut.what.toward) != axis:
        return span.middle
    return span.middle + aside.mm / 2 * (1 if cut.what.toward.startswith("far") else -1)


def _span(cut: Cut, surface: str) -> Span | None:
    span: Span | None = getattr(cut, _AXES[surface])
    return span


def _from_surface(at: Fraction, surface: str, panel: Panel) -> Fraction:
    """Return how far a place, measured from datum end, face edge or face side, is from a surface."""
    size = {"far end": panel.length, "far edge": panel.width, "far face": panel.thickness}.get(surface)
    return at if size is None else size - at
