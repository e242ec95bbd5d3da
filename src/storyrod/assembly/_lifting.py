"""What a lift asks of a person: figures for cautions, never a limit that certifies anything.

The lifting equation is that of the Applications Manual for the Revised NIOSH Lifting Equation, DHHS (NIOSH) 94-110,
1994, revised 2021 (public domain). The guideline weights are those of the UK guideline filter (HSE, manual handling),
from memory.
"""

from __future__ import annotations

import math
from enum import StrEnum
from typing import Final

LOAD_CONSTANT_KG: Final = 23.0

GUIDE_CLOSE_KG: Final = 25.0
GUIDE_REACH_KG: Final = 15.0
GUIDE_FLOOR_KG: Final = 10.0
"""For men, from memory: close between knuckle and elbow, at arm's length there, close at floor to mid lower leg."""

GUIDE_CLOSE_WOMEN_KG: Final = 16.0
"""For women, from memory: close between knuckle and elbow, the most the filter allows anywhere."""

SHARED: Final = 2 / 3
"""Two people lift about two thirds of the sum of what each lifts (HSE, from memory)."""


class Grip(StrEnum):
    """How well a load can be held; a bare panel has no handles: fair at best."""

    GOOD = "good"
    FAIR = "fair"
    POOR = "poor"


def recommended_kg(
    *,
    away_cm: float,
    height_cm: float,
    travel_cm: float,
    twist_deg: float = 0.0,
    frequency: float = 1.0,
    grip: Grip = Grip.FAIR,
) -> float:
    """Return the recommended weight limit in kg by the NIOSH equation; 0 means that it is no lift for one person.

    Args:
        away_cm: hands in front of the ankles.
        height_cm: hands above the floor where the lift begins.
        travel_cm: how far up or down it goes.
        twist_deg: turn of the body.
        frequency: the table's factor for how often; 1 for a lift now and then.
        grip: how the load can be held.
    """
    if away_cm > 63 or height_cm > 175 or travel_cm > 175 or twist_deg > 135:
        return 0.0
    away = min(1.0, 25 / max(away_cm, 1e-9))
    height = 1 - 0.003 * abs(height_cm - 75)
    travel = 1.0 if travel_cm <= 25 else 0.82 + 4.5 / travel_cm
    twist = 1 - 0.0032 * twist_deg
    hold = {Grip.GOOD: 1.0, Grip.FAIR: 0.95 if height_cm < 75 else 1.0, Grip.POOR: 0.9}[grip]
    return LOAD_CONSTANT_KG * away * height * travel * twist * frequency * hold


def lifting_index(load_kg: float, recommended: float) -> float:
    """Return load over recommended weight; infinite where there is no lift."""
    return load_kg / recommended if recommended > 0 else math.inf


def panel_lift_kg(size: float) -> float:
    """Return the recommended weight of a panel or carcass lifted from the floor to a bench at 90 cm, hands below it.

    `size` (mm) is its extent away from the body when it is carried upright, at least a hand's reach of 25 cm.
    """
    return recommended_kg(away_cm=min(63.0, 25 + size / 20), height_cm=30.0, travel_cm=60.0, grip=Grip.FAIR)
