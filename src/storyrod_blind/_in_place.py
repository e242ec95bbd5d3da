"""Whether a case goes into its place as told: its notches over the skirting board, its fillers into their gaps."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from storyrod_blind._finding import Finding, FindingKind
from storyrod_blind._fits import raised_by
from storyrod_blind._length import LENGTH, Unit, read_length
from storyrod_blind._paper import Cut, Panel, Paper
from storyrod_blind._seats import SAME
from storyrod_blind._what import Kind

_USE = "clears the skirting board"
_BOARD = re.compile(
    rf"over a skirting board ({LENGTH}) high and ({LENGTH}) thick, with ({LENGTH}) to spare over it and before it"
)
_BEHIND = re.compile(rf"\bits rear edge ({LENGTH}) behind the rear of the case")
_SIDES = ("left side", "right side")
_FILLER = re.compile(r"^(left|right) filler$")
_GAP = re.compile(rf"into its gap of ({LENGTH})(?:: ({LENGTH}) is there to come off)?")
_FILLER_USE = "screw of the filler"
_SCREWS = re.compile(
    rf"through the holes of ([A-Z]+\d+)\b.*?, ({LENGTH}) deep, then drive (\d+) × [^×]*? x (\d+(?:\.\d+)?)\b"
)
_HALF = {Unit.MM: Fraction(5, 100), Unit.INCH: Fraction(127, 1000)}
"""Half the last digit of a case's own size on the cover (mm): 0.1 mm, or a hundredth of an inch."""
_FIGURES = 7
"""So many figures a notch's place is a sum of: those of the board, of the case, of its side and of its worktop."""


def check_skirtings(paper: Paper) -> Iterator[Finding]:
    """Yield notches that leave less or more over a skirting board than is told, and those of which nobody says why."""
    for code, case in paper.cases.items():
        words = " ".join(s.words for s in paper.steps if s.case == code)
        told, behind = _BOARD.search(words), _BEHIND.search(words)
        sides = [p for p in paper.panels.values() if p.case == code and p.name in _SIDES]
        notches = {p.mark: [c for c in paper.cuts_of(p.mark) if c.use == _USE] for p in sides}
        if told is None:
            for mark in (m for m, own in notches.items() if own):
                yield Finding(FindingKind.SKIRTING_OFF, mark, "no step says which skirting board its notch is for")
            continue
        high, thick, spare = (read_length(t, paper.unit).mm for t in told.groups())
        off_wall = read_length(behind[1], paper.unit).mm if behind is not None else Fraction(0)
        for side in sides:
            up = high + spare - raised_by(paper, code) - _under_sides(paper, code)
            behind_side = case.depth.mm - side.width
            into = thick + spare - off_wall - behind_side
            yield from _notch(side, notches[side.mark], (up, into), SAME + _HALF[case.depth.unit])


def _under_sides(paper: Paper, code: str) -> Fraction:
    """Return how thick a base is on which the sides stand, as long as the case is wide; 0 for one between them."""
    wide = paper.cases[code].width
    bases = (p for p in paper.panels.values() if p.case == code and p.name == "base")
    return next((b.thickness for b in bases if abs(b.length - wide.mm) <= SAME + _HALF[wide.unit]), Fraction(0))


def _notch(side: Panel, own: list[Cut], wanted: tuple[Fraction, Fraction], leeway: Fraction) -> Iterator[Finding]:
    up, into = wanted
    if min(up, into) <= leeway:
        if own:
            yield Finding(FindingKind.SKIRTING_OFF, side.mark, "a notch where the skirting board does not reach")
        return
    cut = own[0] if len(own) == 1 and own[0].what.kind is Kind.NOTCH else None
    if cut is None or cut.u is None or cut.v is None:
        yield Finding(FindingKind.SKIRTING_OFF, side.mark, f"{len(own)} notches for the skirting board")
        return
    for words, off in (
        ("how high its notch is", cut.u.high.mm - up),
        ("how deep its notch is", side.width - cut.v.low.mm - into),
        ("its notch does not begin at the bottom end", cut.u.low.mm),
        ("its notch does not begin at the rear edge", side.width - cut.v.high.mm),
    ):
        if abs(off) > leeway:
            yield Finding(FindingKind.SKIRTING_OFF, side.mark, words, float(off), _FIGURES)


def check_fillers(paper: Paper) -> Iterator[Finding]:
    """Yield fillers that are not as wide as their gap with what is scribed off, nor as high as the case; screws."""
    for panel in paper.panels.values():
        side = _FILLER.match(panel.name)
        if side is None:
            continue
        words = " ".join(s.words for s in paper.steps if s.case == panel.case and panel.mark in s.title)
        told, screws = _GAP.search(words), _SCREWS.search(words)
        if told is None or screws is None:
            yield Finding(FindingKind.FILLER_OFF, panel.mark, "nobody says which gap it goes into, or what holds it")
            continue
        gap, off = (read_length(t, paper.unit).mm if t is not None else Fraction(0) for t in told.groups())
        if abs(panel.width - gap - off) > SAME:
            by = float(panel.width - gap - off)
            yield Finding(FindingKind.FILLER_OFF, panel.mark, "its width, by its gap and what comes off", by, 3)
        high = paper.cases[panel.case].height
        by_height = panel.length + raised_by(paper, panel.case) - high.mm
        if abs(by_height) > SAME + _HALF[high.unit]:
            yield Finding(FindingKind.FILLER_OFF, panel.mark, "its length", float(by_height), 3)
        yield from _filler_screws(paper, panel, f"{side[1]} side", gap, screws)


def _filler_screws(paper: Paper, panel: Panel, side: str, gap: Fraction, screws: re.Match[str]) -> Iterator[Finding]:
    through = paper.panels.get(screws[1])
    if through is None or through.name != side or through.case != panel.case:
        yield Finding(FindingKind.FILLER_OFF, panel.mark, f"its screws go through {screws[1]}")
        return
    holes = sum(c.use == _FILLER_USE for c in paper.cuts_of(through.mark))
    if holes != int(screws[3]):
        words = f"{holes} holes for it in {through.mark}, {screws[3]} screws are driven there"
        yield Finding(FindingKind.FILLER_OFF, panel.mark, words)
    past = Fraction(screws[4]) - through.thickness - gap
    if past > -1:
        yield Finding(FindingKind.FILLER_OFF, panel.mark, "its screws reach the wall", float(past))
