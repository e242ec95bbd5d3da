"""How far a front lies over what bounds its opening, on each side."""

from __future__ import annotations

from typing import TYPE_CHECKING

from storyrod.carcass._making import Making
from storyrod.model.job import OuterSide

if TYPE_CHECKING:
    from storyrod.carcass._inside import Bound


def cover_over(making: Making, bound: Bound, side: OuterSide, *, inset: bool, behind_door: bool) -> float:
    """Return how far a front lies over one bound of its opening (mm); below 0 where it stays short of it.

    What the job says of the case's sides is said of what is seen there: a front behind a door keeps the gap of all.
    """
    fronts = making.case.fronts
    if bound.is_open and not (inset and bound.has_ends):
        return -fronts.gap / 2
    if inset:
        return -(fronts.outer(side, inset=True) if bound.outside and not behind_door else fronts.gap)
    return bound.reach - fronts.outer(side, inset=False) if bound.outside else (bound.reach - fronts.gap) / 2
