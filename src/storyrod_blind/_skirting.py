"""Whether the notches of a case's sides go over the skirting board that the step names which stands it in its place."""

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
