"""What a lift asks of a person: the figures of two published aids, never a limit that certifies anything.

How many persons a part takes hangs on its length as well as on its mass, and on whether one hand has to drive while the
other holds: a door of 10 kg and nearly 2 m is no lift for one. Which figure of the filter is taken for which length is
common practice, no source.

The equation is that of the Applications Manual for the Revised NIOSH Lifting Equation, DHHS (NIOSH) 94-110, 1994,
revised 2021 (public domain); its table of frequencies as quoted from Waters et al. 1993, table 5. The guideline
filter is that of the Health and Safety Executive (GB), manual handling, from memory.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

LOAD_CONSTANT_KG: Final = 23.0

SHARED: Final = 2 / 3
"""Two people lift about two thirds of the sum of what each lifts alone (HSE, from memory)."""


class Grip(StrEnum):
    """How well a load can be held; a bare panel has no handles: fair at best."""

    GOOD = "good"
    FAIR = "fair"
    POOR = "poor"


def grip_factor(grip: Grip, height_cm: float) -> float:
    """Return the equation's coupling factor."""
    if grip is Grip.GOOD:
        return 1.0
    if grip is Grip.POOR:
        return 0.9
    return 0.95 if height_cm < 75 else 1.0


def recommended_kg(
    *,
    away_cm: float,
    height_cm: float,
    travel_cm: float,
    twist_deg: float = 0.0,
    frequency: float = 1.0,
    grip: Grip = Grip.FAIR,
) -> float:
    """Return the recommended weight limit in kg; 0 means that it is no lift for one person.

    Args:
        away_cm: hands in front of the ankles.
        height_cm: hands above the floor where the lift begins.
        travel_cm: how far up or down it goes.
        twist_deg: turn of the body.
        frequency: factor for how often; 1 for a lift now and then.
        grip: how the load can be held.
    """
    if away_cm > 63 or not 0 <= height_cm <= 175 or travel_cm > 175 or twist_deg > 135:
        return 0.0
    away = min(1.0, 25 / max(away_cm, 1e-9))
    height = 1 - 0.003 * abs(height_cm - 75)
    travel = 1.0 if travel_cm <= 25 else 0.82 + 4.5 / travel_cm
    return LOAD_CONSTANT_KG * away * height * travel * _rest(twist_deg, frequency, grip, height_cm)


def _rest(twist_deg: float, frequency: float, grip: Grip, height_cm: float) -> float:
    """The factors for twisting, for how often, and for the grip."""
    return (1 - 0.0032 * twist_deg) * frequency * grip_factor(grip, height_cm)


def lifting_index(load_kg: float, recommended: float) -> float:
    """Return load over recommended weight; infinite where there is no lift."""
    return load_kg / recommended if recommended > 0 else math.inf


@dataclass(frozen=True, slots=True)
class Guide:
    """One line of the guideline filter: kg held close and at arm's length, for men and for women."""

    where: str
    men_close_kg: float
    men_reach_kg: float
    women_close_kg: float
    women_reach_kg: float


GUIDELINE_FILTER: Final = (
    Guide("shoulder and above", 10, 5, 7, 3),
    Guide("elbow to shoulder", 20, 10, 13, 7),
    Guide("knuckle to elbow", 25, 15, 16, 10),
    Guide("mid lower leg to knuckle", 20, 10, 13, 7),
    Guide("floor to mid lower leg", 10, 5, 7, 3),
)
"""From memory of the HSE's guidance on manual handling: a filter for up to about 30 lifts an hour, not a limit."""


LONG: Final = 1200.0
"""Longer than this (mm), a part can not be held close to the body by one person: common practice, no source."""

OVERHEAD: Final = 1800.0
"""Longer than this (mm), one end of a part goes over the shoulder when it is stood up, turned or hung: common practice,
no source."""

LONG_KG: Final = min(g.women_reach_kg for g in GUIDELINE_FILTER if g.where == "elbow to shoulder")
"""What one person holds of a long part: the filter's lower figure at arm's length, from elbow to shoulder (kg)."""

OVERHEAD_KG: Final = min(g.women_reach_kg for g in GUIDELINE_FILTER if g.where == "shoulder and above")
"""What one person holds of a part longer than `OVERHEAD`: the filter's lower figure at arm's length, over it (kg)."""

DRIVING: Final = 1 / 2
"""What one hand holds of it while the other drives screws or guides a hinge: common practice, no source."""


def alone_kg(longest: float, one_person_kg: float, *, driving: bool = False) -> float:
    """Return the mass (kg) that one person handles alone of a part so long (mm).

    Args:
        longest: the greatest of the part's three sizes.
        one_person_kg: what one person lifts here of a part that is held close.
        driving: whether it is held up with one hand while the other drives screws or guides it home.
    """
    alone = one_person_kg
    if longest > LONG:
        alone = min(alone, LONG_KG if longest <= OVERHEAD else OVERHEAD_KG)
    return alone * DRIVING if driving else alone


def persons_by_mass(mass_kg: float, one_person_kg: float) -> int:
    """Return how many persons a mass takes where each lifts their own share of it; common practice, no source."""
    return max(1, math.ceil(mass_kg / one_person_kg - 1e-9))


def persons_to_lift(mass_kg: float, longest: float, one_person_kg: float, *, driving: bool = False) -> int:
    """Return how many persons lift, turn, stand up or hang a part: by its mass, its length, and what hands are free.

    Args:
        mass_kg: what it weighs.
        longest: the greatest of its three sizes (mm).
        one_person_kg: what one person lifts here of a part that is held close.
        driving: as for `alone_kg`.
    """
    least = 1 if mass_kg <= alone_kg(longest, one_person_kg, driving=driving) + 1e-9 else 2
    return max(least, persons_by_mass(mass_kg, one_person_kg))


def beyond_every_guide(load_kg: float) -> bool:
    """Return whether a load is more than every figure of the filter: two people, or break it down first."""
    return load_kg > max(g.men_close_kg for g in GUIDELINE_FILTER)
