"""Lifting aids. Rows I1-I8.

Sources: Applications Manual for the Revised NIOSH Lifting Equation, DHHS (NIOSH) 94-110, 1994, revised 2021, and an
open-source implementation that quotes Waters et al. 1993, table 5; worked answer of a NIOSH lifting exercise;
guideline filter of the Health and Safety Executive (GB), from memory.
"""

from __future__ import annotations

import math

import pytest

from storyrod.model.lifting import (
    GUIDELINE_FILTER,
    Grip,
    Shift,
    beyond_every_guide,
    frequency_factor,
    lifting_index,
    recommended_kg,
    recommended_lb,
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


@pytest.mark.parametrize(("height_in", "by_formula", "lb", "index"), [(15, 16.02, 16.3, 2.7), (64, 14.15, 14.5, 3.0)])
def test_i5_the_manuals_punch_press(height_in: float, by_formula: float, lb: float, index: float) -> None:
    """44 lb, hands 23 in away, from 15 to 64 in. The manual takes its factors from tables of two digits: 3 % off."""
    factor = frequency_factor(0.2, Shift.SHORT, height_cm=height_in * INCH)
    found = recommended_lb(away_in=23, height_in=height_in, travel_in=49, frequency=factor, grip=Grip.FAIR)

    assert found == pytest.approx(by_formula, abs=0.01)
    assert found == pytest.approx(lb, rel=0.03)
    assert lifting_index(44, found) == pytest.approx(index, rel=0.04)


def test_i6_a_worked_exercise() -> None:
    """H 20 in, V 6 in, D 16 in, fair grip: HM 0.50, VM 0.82, DM 0.93; 18.4 to 18.6 lb."""
    assert 18.4 <= recommended_lb(away_in=20, height_in=6, travel_in=16, grip=Grip.FAIR) <= 18.6


def test_kilograms_and_pounds_are_rounded_apart_in_the_equation_by_less_than_4_percent() -> None:
    for height_in in (0, 10, 28, 50):
        metric = recommended_kg(away_cm=18 * INCH, height_cm=height_in * INCH, travel_cm=20 * INCH) / LB
        assert metric == pytest.approx(recommended_lb(away_in=18, height_in=height_in, travel_in=20), rel=0.04)


def test_i7_too_far_away_is_no_lift() -> None:
    found = recommended_kg(away_cm=64, height_cm=75, travel_cm=25)

    assert found == recommended_lb(away_in=25.5, height_in=30, travel_in=10) == 0.0
    assert lifting_index(5, found) == math.inf


@pytest.mark.parametrize(
    ("lifts", "shift", "below", "above"),
    [
        (0.2, Shift.SHORT, 1.00, 1.00),
        (1, Shift.LONG, 0.75, 0.75),
        (9, Shift.LONG, 0.0, 0.15),
        (12, Shift.MODERATE, 0.0, 0.21),
        (14, Shift.SHORT, 0.0, 0.31),
        (15.5, Shift.SHORT, 0.0, 0.0),
    ],
)
def test_how_often(lifts: float, shift: Shift, below: float, above: float) -> None:
    assert frequency_factor(lifts, shift, height_cm=40) == below
    assert frequency_factor(lifts, shift, height_cm=80) == above


def test_i8_a_whole_sheet_is_beyond_every_cell_of_the_filter() -> None:
    sheet = 2.44 * 1.22 * 0.018 * 730

    assert sheet == pytest.approx(39.1, abs=0.05)
    assert beyond_every_guide(sheet)
    assert not beyond_every_guide(24.9)
    assert [g.men_close_kg for g in GUIDELINE_FILTER] == [10, 20, 25, 20, 10]
