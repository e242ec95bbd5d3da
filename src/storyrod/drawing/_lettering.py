"""How wide words come out in the drawing face, with fractions set as fractions and the depth symbol drawn."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import lru_cache
from itertools import repeat
from typing import Final

from storyrod.drawing._advances import ADVANCES

CAP: Final = 0.76
"""Height of a capital or figure over the em, in both weights of the face."""

FONT_NAME: Final = "B612"
DEPTH: Final = "↧"
"""The depth symbol; the face has none, so writers draw it (`DEPTH_SIGN`)."""

DEPTH_WIDTH: Final = 0.66  # of the em, with its side bearings
DEPTH_SIGN: Final = (
    ((0.04, 0.74), (0.54, 0.74)),
    ((0.29, 0.74), (0.29, 0.02)),
    ((0.09, 0.25), (0.29, 0.02), (0.49, 0.25)),
)
"""Strokes of the depth symbol in ems, from the foot of the text."""

_UNKNOWN = 950  # thousandths; wider than nearly every letter, so that a guess never overlaps
_FRACTION = re.compile(r"(?<![\d/])(\d{1,2})/(\d{1,3})(?![\d/])")
_SMALL = 0.72  # figures of a fraction against the rest: 2.5 mm high in working figures of 3.5


@dataclass(frozen=True, slots=True)
class Run:
    """A piece of text of one size: `scale` against the whole, foot `rise` ems above the foot of the text."""

    text: str
    scale: float = 1.0
    rise: float = 0.0

    @property
    def is_depth(self) -> bool:
        """Whether it is the depth symbol, to be drawn."""
        return self.text == DEPTH


@lru_cache(maxsize=4096)
def runs_of(text: str) -> tuple[Run, ...]:
    """Return the text cut into plain pieces, the parts of fractions, and depth symbols."""
    if "/" not in text and DEPTH not in text:
        return (Run(text),) if text else ()
    pieces: list[Run] = []
    for part in re.split(f"({DEPTH})", text):
        if part == DEPTH:
            pieces.append(Run(DEPTH))
        else:
            pieces.extend(_with_fractions(part))
    return tuple(pieces)


def _with_fractions(text: str) -> list[Run]:
    pieces: list[Run] = []
    done = 0
    for match in _FRACTION.finditer(text):
        before = text[done : match.start()]
        # The blank between whole inches and fraction would tear them apart: the small figures part them already.
        before = before[:-1] if before.endswith(" ") and before[:-1][-1:].isdigit() else before
        if before:
            pieces.append(Run(before))
        pieces += [Run(match[1], _SMALL, CAP * (1 - _SMALL)), Run("/", 0.8), Run(match[2], _SMALL)]
        done = match.end()
    if text[done:]:
        pieces.append(Run(text[done:]))
    return pieces


def run_width(run: Run, *, bold: bool = False) -> float:
    """Return the width of a piece in ems of the whole text."""
    if run.is_depth:
        return DEPTH_WIDTH
    return sum(map(ADVANCES[bold].get, run.text, repeat(_UNKNOWN))) * run.scale / 1000


def width_of(text: str, height: float, *, bold: bool = False) -> float:
    """Return how wide `text` comes out when its figures are `height` high, in the same unit."""
    return _ems(text, bold) * height / CAP


def least_height(text: str, least: float = 2.5) -> float:
    """Return how high the figures of `text` must be so that nothing in it, a fraction either, is under `least` (mm)."""
    return math.ceil(10 * least / _SMALL) / 10 if _FRACTION.search(text) else least


@lru_cache(maxsize=4096)
def _ems(text: str, bold: bool) -> float:  # noqa: FBT001 -- a key of the cache
    return sum(run_width(run, bold=bold) for run in runs_of(text))
