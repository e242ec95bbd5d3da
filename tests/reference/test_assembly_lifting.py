"""Source: Applications Manual for the Revised NIOSH Lifting Equation, DHHS (NIOSH) 94-110, 1994, revised 2021.

Metric constants: LC 23 kg, HM 25/H, VM 1 - 0.003 |V - 75|, DM 0.82 + 4.5/D, AM 1 - 0.0032 A. The rows I1 to I4 are
worked out from these by hand to 0.01 kg; I5 is the manual's punch-press example in US units (figures from memory):
its multipliers are printed with two digits, and the metric constants are rounded otherwise (23 kg is 50.7 lb, not 51;
75 cm is 29.5 in, not 30), which together is up to 6 % of the weight. I8: UK guideline filter (HSE, manual handling),
from memory.
"""

from __future__ import annotations

import math

import pytest

from storyrod.model.lifting import Grip, beyond_every_guide, lifting_index, recommended_kg

LB = 0.45359237


@pytest.mark.parametrize(
    ("away", "height", "travel", "twist", "frequency", "grip", "expected"),
    [
        (25, 75, 25, 0, 1.0, Grip.GOOD, 23.00),  # I1
        (40, 20, 70, 0, 1.0, Grip.FAIR, 10.08),  # I2: 23 x 0.625 x 0.835 x 0.884 x 0.95
        (35, 75, 75, 45, 0.75, Grip.FAIR, 9.28),  # I3
        (50, 90, 60, 30, 0.94, Grip.POOR, 7.52),  # I4
    ],
)
def test_recommended_weight(
    away: float, height: float, travel: float, twist: float, frequency: float, grip: Grip, expected: float
) -> None:
    got = recommended_kg(
        away_cm=away, height_cm=height, travel_cm=travel, twist_deg=twist, frequency=frequency, grip=grip
    )

    assert got == pytest.approx(expected, abs=0.006)


@pytest.mark.parametrize(("height_in", "published_lb", "published_index"), [(15, 16.3, 2.7), (64, 14.5, 3.0)])
def test_i5_punch_press(height_in: float, published_lb: float, published_index: float) -> None:
    recommended = recommended_kg(away_cm=23 * 2.54, height_cm=height_in * 2.54, travel_cm=49 * 2.54)

    assert recommended / LB == pytest.approx(published_lb, rel=0.06)
    assert lifting_index(44 * LB, recommended) == pytest.approx(published_index, rel=0.08)


def test_i7_out_of_reach_is_no_lift() -> None:
    assert recommended_kg(away_cm=64, height_cm=75, travel_cm=25) == 0.0
    assert lifting_index(1.0, 0.0) == math.inf


def test_i8_a_sheet_of_39_kg_is_beyond_every_figure_of_the_filter() -> None:
    assert beyond_every_guide(39.1)
    assert not beyond_every_guide(24.9)
