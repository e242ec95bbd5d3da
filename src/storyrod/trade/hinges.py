"""Which arm and plate a concealed hinge takes: by how far the door lies over the side, or stays short of it.

Kinematics of the closed hinge, common practice, no source: the arm brings the door's edge so far over the side's inner
face as a straight arm on a plate 0 high does, less its cranking, less the height of the plate. Measure your hinge.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from storyrod.measure.tolerance import EXACT
from storyrod.model.fitting import Hinge


class Arm(StrEnum):
    """The three arms a concealed hinge is sold with."""

    STRAIGHT = "straight arm"
    HALF_CRANKED = "half-cranked arm"
    CRANKED = "cranked arm"


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """An arm on a plate: `lap` is how far it brings the door over the side (mm), 0 or less beside it."""

    arm: Arm
    plate: float
    lap: float


def reaches(hinge: Hinge) -> Iterator[Reach]:
    """Yield every arm on every plate, straight arms and low plates first."""
    for arm, crank in ((Arm.STRAIGHT, 0.0), (Arm.HALF_CRANKED, hinge.half_crank), (Arm.CRANKED, hinge.crank)):
        for plate in hinge.plates:
            yield Reach(arm=arm, plate=plate, lap=hinge.lap - crank - plate)


def reach_for(hinge: Hinge, lap: float) -> Reach | None:
    """Return the arm and plate that come nearest to a lap (mm); None where no screw brings one of them there."""
    best = min(reaches(hinge), key=lambda r: round(abs(r.lap - lap), 6))
    return best if abs(best.lap - lap) <= hinge.adjusts + EXACT else None


def hinges_by_weight(hinge: Hinge, kg: float) -> int:
    """Return how many hinges carry a door of this weight (kg)."""
    return math.ceil(kg / hinge.carries_kg - EXACT)
