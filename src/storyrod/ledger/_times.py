"""The minutes of single acts: those of the workshop, and those of a method with their usual spread."""

from __future__ import annotations

from typing import Final

from storyrod.model.act import unknown_act
from storyrod.model.work import Minutes
from storyrod.model.workshop import Workshop

LOW_SHARE: Final = 0.7
HIGH_SHARE: Final = 1.6
"""Where only a usual time is written: low and high as shares of it, as the usual spread of the acts that have all
three (common practice, no source)."""


class Times:
    """The minutes of one workshop."""

    def __init__(self, workshop: Workshop) -> None:
        self._written = {t.act: Minutes(low=t.low_min, usual=t.usual_min, high=t.high_min) for t in workshop.times}

    def of(self, act: str) -> Minutes:
        """Return the minutes of an act by its name.

        Raises:
            JobError: the workshop has no minutes for it.
        """
        found = self._written.get(act)
        if found is None:
            raise unknown_act(act)
        return found

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
