"""Source: Applications Manual for the Revised NIOSH Lifting Equation, DHHS (NIOSH) 94-110, 1994, revised 2021.

Where: the multipliers (23 kg, 25/H, 1 - 0.003 |V - 75|, 0.82 + 4.5/D, 1 - 0.0032 A), table 7 of grips, and the punch
press of its examples. Rows I1 to I5 and I7.
"""

from __future__ import annotations

import math

import pytest

from storyrod.trade.lifting import (
    Grip,
    grip_factor,
    lifting_index,
    recommended_kg,
)

INCH, LB = 2.54, 0.45359237


@pytest.mark.parametrize(
    ("row", "away", "height", "travel", "twist", "frequency", "grip", "kg"),
    [
        ("I1", 25, 75, 25, 0, 1.0, Grip.GOOD, 23.00),
        ("I2", 40, 20, 70, 0, 1.0, Grip.FAIR, 10.08),
        ("I3", 35, 75, 75, 45, 0.75, Grip.FAIR, 9.28),
        ("I4", 50, 90, 60, 30, 0.94, Grip.POOR, 7.52),
    ],
)
def test_rows_in_metric(  # noqa: PLR0917  # one column each
    row: str, away: float, height: float, travel: float, twist: float, frequency: float, grip: Grip, kg: float
) -> None:
    found = recommended_kg(
        away_cm=away, height_cm=height, travel_cm=travel, twist_deg=twist, frequency=frequency, grip=grip
    )

    assert found == pytest.approx(kg, abs=0.005), row


@pytest.mark.parametrize(("height_in", "lb", "index"), [(15, 16.3, 2.7), (64, 14.5, 3.0)])
def test_i5_the_manuals_punch_press(height_in: float, lb: float, index: float) -> None:
    """44 lb, hands 23 in away, from 15 to 64 in.

    The manual's own factors have two digits, and its pounds are rounded otherwise than its kilograms (51 lb, not 50.7):
    together up to 6 % of the weight.
    """
    found = recommended_kg(away_cm=23 * INCH, height_cm=height_in * INCH, travel_cm=49 * INCH, grip=Grip.FAIR)

    assert found / LB == pytest.approx(lb, rel=0.06)
    assert lifting_index(44 * LB, found) == pytest.approx(index, rel=0.08)


def test_i7_too_far_away_is_no_lift() -> None:
    found = recommended_kg(away_cm=64, height_cm=75, travel_cm=25)

    assert found == 0.0
    assert lifting_index(5, found) == math.inf


def test_nearer_than_25_cm_helps_no_more_and_from_25_cm_on_the_way_counts() -> None:
    """The factors for reach and for travel are 1 up to 25 cm; at 26 of travel 0.82 + 4.5 / 26 is 0.99308: 22.84 kg."""
    near, far = (
        recommended_kg(away_cm=away, height_cm=75, travel_cm=travel, grip=Grip.GOOD)
        for away, travel in ((15, 20), (25, 26))
    )

    assert near == 23.0
    assert far == pytest.approx(22.84, abs=0.005)


@pytest.mark.parametrize(
    ("what", "most"), [("away_cm", 63.0), ("height_cm", 175.0), ("travel_cm", 175.0), ("twist_deg", 135.0)]
)
def test_beyond_these_there_is_no_lift_for_one_person(what: str, most: float) -> None:
    """The revised equation's own limits, NIOSH 94-110, 1994."""

    def limit(at: float) -> float:
        told = {"away_cm": 30.0, "height_cm": 75.0, "travel_cm": 30.0, "twist_deg": 0.0, what: at}
        away, height, travel, twist = (told[w] for w in ("away_cm", "height_cm", "travel_cm", "twist_deg"))
        return recommended_kg(away_cm=away, height_cm=height, travel_cm=travel, twist_deg=twist)

    assert limit(most) > 0
    assert limit(most + 0.1) == 0


def test_a_fair_grip_is_as_good_as_any_from_75_cm_up() -> None:
    """NIOSH 94-110, table 7: fair 0.95 below 75 cm, 1.00 from there; poor 0.90 at any height."""
    assert [grip_factor(Grip.FAIR, h) for h in (0, 74.9, 75, 150)] == [0.95, 0.95, 1.0, 1.0]
    assert [grip_factor(Grip.POOR, h) for h in (0, 150)] == [0.9, 0.9]
    assert [grip_factor(Grip.GOOD, h) for h in (0, 150)] == [1.0, 1.0]
