"""Which way the tool or the work goes in a cut, and what guides it.

Told as the person sees it who does it: from above, at the near side of the tool, facing what guides it. So a line to
the left goes to that person's left, and "beyond" is away from them.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Moves(StrEnum):
    """What is moved by hand: the tool over the work, or the work past the tool."""

    TOOL = "tool"
    WORK = "work"


class FeedWay(StrEnum):
    """Where to it is moved."""

    RIGHT = "left to right"
    LEFT = "right to left"
    CLOCKWISE = "clockwise round the inside"
    THERE_AND_BACK = "there and back"
    AWAY = "away from you"
    IN = "straight in"
    PROGRAM = "by program"


class Guide(StrEnum):
    """What keeps it on its line."""

    STRAIGHT_EDGE = "straight edge"
    FENCE = "fence"
    SIDE_FENCE = "side fence"
    RAIL = "rail"
    TEMPLATE = "template"
    JIG = "jig"
    BASE = "base"
    MATE = "mate"
    LINES = "lines"
    MACHINE = "machine"


class GuideSide(StrEnum):
    """Where the guide is, as seen from where one stands."""

    BEYOND = "beyond"
    TOWARD_YOU = "toward you"
    RIGHT = "right"
    LEFT = "left"
    AROUND = "around"
    NONE = "none"


class Spin(StrEnum):
    """How the cutter turns, seen from above the work or the table; `NONE` where its axis does not stand upright."""

    CLOCKWISE = "clockwise"
    ANTICLOCKWISE = "anticlockwise"
    NONE = "none"


class FeedKind(StrEnum):
    """The ways of feeding that a card can show; each has one line of words in `model.bench_lines`."""

    ALONG_STRAIGHT_EDGE = "along a straight edge"
    ALONG_SIDE_FENCE = "along a side fence"
    PAST_TABLE_FENCE = "past the fence of a router table"
    ROUND_OPENING = "round an opening"
    IN_SLOT = "in a slot"
    INTO_HOLE = "into a hole"
    KEYHOLE = "keyhole"
    UNDERCUT_SLOT = "undercut slot"
    UNDERCUT_FROM_BASE = "undercut slot, from the base"
    PLUNGE = "plunge"
    DRILL = "drill"
    DRILL_PRESS = "drill press"
    POCKET = "pocket"
    SAW_TABLE = "past the blade of a table saw"
    SAW_RAIL = "along a rail"
    HAND_SAW = "hand saw"
    JIGSAW = "jigsaw"
    PROGRAM = "program"


@dataclass(frozen=True, slots=True, kw_only=True)
class Feed:
    """The direction of feed of one set-up.

    Attributes:
        way: as seen by the person who stands with the guide at `guide_side`.
        text: the line that says so on the card.
        more: where the hands are, and why this way.
    """

    kind: FeedKind
    moves: Moves
    way: FeedWay
    guide: Guide
    guide_side: GuideSide
    spin: Spin
    text: str
    more: str
