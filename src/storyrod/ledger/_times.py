"""The minutes of single acts: those of the workshop, those of a method, and what stands in for what is not written."""

from __future__ import annotations

from typing import Final

from storyrod.model.account import Minutes
from storyrod.model.workshop import Workshop

LOW_SHARE: Final = 0.7
HIGH_SHARE: Final = 1.6
"""Where only a usual time is written: low and high as shares of it, as the usual spread of the acts that have all
three (common practice, no source)."""

STAND_INS: Final[dict[str, tuple[float, float, float]]] = {
    "read the card, per panel": (0.3, 0.5, 1.0),
    "face and edge marks, per panel": (0.1, 0.2, 0.4),
    "mark a joint line": (0.3, 0.5, 1.0),
    "mark a connector": (0.05, 0.1, 0.2),
    "clamp the jig": (0.3, 0.6, 1.2),
    "drill a hole": (0.1, 0.2, 0.35),
    "mark and drill a hole": (0.2, 0.35, 0.6),
    "drill a hole at the press": (0.15, 0.25, 0.4),
    "rout a cut-out": (2.0, 3.0, 5.0),
    "saw a notch": (1.0, 1.5, 2.5),
    "rout a rebate, per metre": (1.5, 2.0, 3.0),
    "take up another tool": (0.3, 0.5, 1.0),
    "change the drill": (0.4, 0.7, 1.0),
    "change the depth": (1.0, 1.5, 2.0),
    "change the cutter": (2.0, 2.5, 3.0),
    "trial joint": (1.0, 3.0, 5.0),
    "cut a panel, table saw": (0.5, 1.0, 2.0),
    "cut a panel, track saw": (2.0, 4.0, 6.0),
    "break down a sheet": (4.0, 8.0, 12.0),
    "edge with an iron, per metre": (2.0, 4.0, 6.0),
    "lip with solid wood, per metre": (5.0, 8.0, 12.0),
    "close a joint line": (0.5, 0.9, 2.0),
    "check the diagonals": (0.5, 1.0, 4.0),
    "wipe off glue, per joint line": (0.2, 0.3, 0.5),
    "clear up and check the count": (0.5, 1.0, 3.0),
    "leave in clamps": (30.0, 45.0, 60.0),
    "fit the back": (3.0, 5.0, 10.0),
    "fit a pair of runners": (6.0, 10.0, 18.0),
    "hang a door": (6.0, 10.0, 18.0),
    "lay in a loose shelf": (0.3, 0.5, 1.0),
    "make a jig": (15.0, 25.0, 45.0),
    "make a station of a jig": (1.0, 2.0, 4.0),
}
"""Taken where a workshop says nothing: the figures of the plain workshop, for workshops that are built by hand."""


class Times:
    """The minutes of one workshop."""

    def __init__(self, workshop: Workshop) -> None:
        self._written = {t.act: Minutes(low=t.low_min, usual=t.usual_min, high=t.high_min) for t in workshop.times}

    def of(self, act: str) -> Minutes:
        """Return the minutes of an act by its name."""
        found = self._written.get(act)
        if found is not None:
            return found
        low, usual, high = STAND_INS[act]
        return Minutes(low=low, usual=usual, high=high)

    def written(self, act: str) -> Minutes | None:
        """Return the minutes of an act where the workshop has it, else None."""
        return self._written.get(act)

    def taken(self, act: str, usual: float) -> Minutes:
        """Return `usual` minutes with the spread, by ratio, of the act of that name, or the usual spread."""
        written = self._written.get(act)
        if written is None or written.usual <= 0:
            return Minutes(low=LOW_SHARE * usual, usual=usual, high=HIGH_SHARE * usual)
        ratio = usual / written.usual
        return Minutes(low=written.low * ratio, usual=usual, high=written.high * ratio)
