"""Whether what lies on a case or is clipped under it fits: a worktop by its overhangs and screws, a plinth board by the
height of the feet, as many clips as there are marks for.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from storyrod_blind._finding import Finding, FindingKind
from storyrod_blind._fits import raised_by
from storyrod_blind._length import LENGTH, Unit, read_length
from storyrod_blind._paper import Panel, Paper, Step
from storyrod_blind._seats import SAME

_NAME = "worktop"
_USE = "screw of the worktop"
_ENDS = ("front edge", "rear edge", "left end", "right end")
_OUT = re.compile(rf"\bits ({'|'.join(_ENDS)}) ({LENGTH}) (?:before|behind|past)\b")
_FLUSH = re.compile(r"\bits ((?:(?:front edge|rear edge|left end|right end)(?:, | and )?)+) flush with the case")
_HOLES = re.compile(
    rf"[Tt]hrough the holes of ([A-Z]+\d+)\b.*?, ({LENGTH}) deep, then drive (\d+) × [^×]*? x (\d+(?:\.\d+)?)\b"
)


_BOARD = "plinth board"
_OVER_FLOOR = re.compile(rf"[Ii]ts lower edge is ({LENGTH}) above the floor")
_CLIPS = re.compile(r"\b(\d+) × plinth clip on the back of it: (?:[^×]*?)(\d+) ×")

_HALF = {Unit.MM: Fraction(5, 100), Unit.INCH: Fraction(127, 1000)}
"""Half the last digit of a case's own size on the cover (mm): 0.1 mm, or a hundredth of an inch."""


def check_plinth_boards(paper: Paper) -> Iterator[Finding]:
    """Yield plinth boards that do not fit under the case by the height that its feet are turned to."""
    for panel in paper.panels.values():
        if panel.name != _BOARD:
            continue
        words = " ".join(s.words for s in paper.steps if s.case == panel.case and panel.mark in s.title)
        gap, clips = _OVER_FLOOR.search(words), _CLIPS.search(words)
        if gap is None or clips is None:
            yield Finding(FindingKind.PLINTH_OFF, panel.mark, "nobody says how it is clipped on, and how high")
            continue
        off = panel.width + read_length(gap[1], paper.unit).mm - raised_by(paper, panel.case)
        if abs(off) > SAME:
            yield Finding(FindingKind.PLINTH_OFF, panel.mark, "its width and the gap under it", float(off))
        wide = paper.cases[panel.case].width
        off = panel.length - wide.mm
        if abs(off) > SAME + _HALF[wide.unit]:
            yield Finding(FindingKind.PLINTH_OFF, panel.mark, "its length", float(off))
        marks = len(list(paper.cuts_of(panel.mark)))
        if not marks == int(clips[2]) == 2 * int(clips[1]):
            told = f"{clips[1]} clips, {clips[2]} screws, {marks} marks"
            yield Finding(FindingKind.PLINTH_OFF, panel.mark, told)


def check_worktops(paper: Paper) -> Iterator[Finding]:
    """Yield worktops that do not fit the case that they lie on."""
    for panel in paper.panels.values():
        if panel.name != _NAME:
            continue
        steps = [s for s in paper.steps if s.case == panel.case and re.search(rf"\b{panel.mark}\b", s.title)]
        if not steps:
            continue  # told elsewhere
        yield from _size(paper, panel, steps[0])
        yield from _screws(paper, panel, steps[0])


def _size(paper: Paper, panel: Panel, step: Step) -> Iterator[Finding]:
    out = {end: read_length(by, paper.unit).mm for end, by in _OUT.findall(step.words)}
    for told in _FLUSH.findall(step.words):
        out |= {end: Fraction(0) for end in _ENDS if end in told}
    missing = [end for end in _ENDS if end not in out]
    if missing:
        yield Finding(FindingKind.WORKTOP_OFF, panel.mark, f"nobody says where its {', '.join(missing)} lies")
        return
    case = paper.cases[panel.case]
    for what, size, own, one, other in (
        ("length", panel.length, case.width, "left end", "right end"),
        ("width", panel.width, case.depth, "front edge", "rear edge"),
    ):
        off = size - own.mm - out[one] - out[other]
        if abs(off) > SAME + _HALF[own.unit]:
            yield Finding(FindingKind.WORKTOP_OFF, panel.mark, f"{what}, by its overhangs", float(off))


def _screws(paper: Paper, panel: Panel, step: Step) -> Iterator[Finding]:
    told: dict[str, tuple[int, Fraction]] = {}
    for mark, _, count, length in _HOLES.findall(step.words):
        told[mark] = (int(count), Fraction(length))
    bored = {c.id[0] for c in paper.cuts.values() if c.use == _USE and paper.panels[c.id[0]].case == panel.case}
    for mark in sorted(bored | told.keys()):
        holes = sum(c.use == _USE for c in paper.cuts_of(mark))
        count, length = told.get(mark, (0, Fraction(0)))
        if holes != count:
            words = f"{holes} holes for it in {mark}, {count} screws are driven there"
            yield Finding(FindingKind.WORKTOP_OFF, panel.mark, words)
        through = length - paper.panels[mark].thickness - panel.thickness
        if count and through > -1:
            yield Finding(FindingKind.WORKTOP_OFF, panel.mark, f"screws through {mark} reach its face", float(through))
