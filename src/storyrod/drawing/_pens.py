"""Line styles, fills and text sizes, named by what they mean (after ISO 128 and ISO 129-1)."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Final


class Pen(StrEnum):
    """What a line stands for."""

    OUTLINE = "outline"
    CUT = "cut"
    FEATURE = "feature"
    HIDDEN = "hidden"
    HIDDEN_SMALL = "hidden-small"
    THIN = "thin"
    JOINT = "joint"
    CENTRE = "centre"
    DIMENSION = "dimension"
    EXTENSION = "extension"
    DATUM = "datum"
    MARK = "mark"
    GRAIN = "grain"
    MOVE = "move"
    CAUTION = "caution"
    FAULT = "fault"
    GHOST = "ghost"
    EDGE = "edge"


@dataclass(frozen=True, slots=True)
class Stroke:
    """How a pen looks on paper: width in mm, and dashes and gaps in mm where the line is broken."""

    width: float
    dashes: tuple[float, ...] = ()


STROKES: Final[dict[Pen, Stroke]] = {
    Pen.OUTLINE: Stroke(0.5),
    Pen.CUT: Stroke(0.5),
    Pen.FEATURE: Stroke(0.35),
    Pen.HIDDEN: Stroke(0.35, (1.4, 0.8)),
    Pen.HIDDEN_SMALL: Stroke(0.3, (0.55, 0.4)),
    Pen.THIN: Stroke(0.18),
    Pen.JOINT: Stroke(0.18),
    Pen.CENTRE: Stroke(0.18, (6.0, 1.2, 0.6, 1.2)),
    Pen.DIMENSION: Stroke(0.18),
    Pen.EXTENSION: Stroke(0.13),
    Pen.DATUM: Stroke(1.4),
    Pen.MARK: Stroke(0.6),
    Pen.GRAIN: Stroke(0.35),
    Pen.MOVE: Stroke(0.5),
    Pen.CAUTION: Stroke(0.5),
    Pen.FAULT: Stroke(0.7),
    Pen.GHOST: Stroke(0.18, (1.0, 1.0)),
    Pen.EDGE: Stroke(0.3),
}


class Tint(StrEnum):
    """What an area is made of or says; boards are numbered in the order of the job."""

    CLEAR = "clear"
    PAPER = "paper"
    INK = "ink"
    BOARD_1 = "board-1"
    BOARD_2 = "board-2"
    BOARD_3 = "board-3"
    BOARD_4 = "board-4"
    BOARD_5 = "board-5"
    BOARD_6 = "board-6"
    JIG = "jig"
    CUTTER = "cutter"
    PACKER = "packer"
    CHOSEN = "chosen"
    CAUTION = "caution"
    FAULT = "fault"


class Hatch(StrEnum):
    """The pattern in an area, so that nothing is said by tint alone."""

    NONE = "none"
    SLANT = "slant"
    BACK_SLANT = "back-slant"
    CROSSED = "crossed"
    LEVEL = "level"
    UPRIGHT = "upright"
    DOTS = "dots"
    LIGHT = "light"


@dataclass(frozen=True, slots=True)
class Fill:
    """An area's tint and pattern. `shade` 0 looks up to the light, 1 and 2 turn away from it."""

    tint: Tint
    hatch: Hatch = Hatch.NONE
    shade: int = 0


_BOARDS: Final = (
    (Tint.BOARD_1, Hatch.SLANT),
    (Tint.BOARD_2, Hatch.LEVEL),
    (Tint.BOARD_3, Hatch.DOTS),
    (Tint.BOARD_4, Hatch.CROSSED),
    (Tint.BOARD_5, Hatch.BACK_SLANT),
    (Tint.BOARD_6, Hatch.UPRIGHT),
)


def board_fill(board: str, boards: tuple[str, ...], *, shade: int = 0, hatched: bool = True) -> Fill:
    """Return the tint and pattern of a board by its place among the job's `boards` (codes, in their order)."""
    place = boards.index(board) if board in boards else 0
    tint, hatch = _BOARDS[place % len(_BOARDS)]
    return Fill(tint, hatch if hatched else Hatch.NONE, shade)


class Role(StrEnum):
    """What a piece of text is for; sets its size on paper."""

    TITLE = "title"
    FIGURE = "figure"
    NAME = "name"
    NOTE = "note"
    NUMBER = "number"


HEIGHTS: Final[dict[Role, float]] = {
    Role.TITLE: 5.0,
    Role.FIGURE: 3.5,
    Role.NAME: 3.0,
    Role.NOTE: 2.95,
    Role.NUMBER: 3.25,
}
"""Height of the figures on paper in mm (of a capital letter, as drawing standards count it)."""
