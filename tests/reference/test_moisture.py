"""Moisture content of wood at rest in air: table 4-2 of the Wood Handbook, FPL-GTR-190, 2010. Rows A11-A13.

The formula is from memory; it was checked to lie within 0.06 of the table.
"""

from __future__ import annotations

import pytest

from storyrod.faults import JobError
from storyrod.model.job import BoardKind, Use
from storyrod.soundness._movement import wood_growth
from storyrod.trade.moisture import in_range, moisture_content, movement, sheet_movement

HUMIDITY = (30, 35, 40, 45, 50, 55, 60, 65, 70, 75, 80, 85)
TABLE = {
    -1.1: (6.3, 7.1, 7.9, 8.7, 9.5, 10.4, 11.3, 12.4, 13.5, 14.9, 16.5, 18.5),
    15.6: (6.2, 7.0, 7.8, 8.6, 9.4, 10.2, 11.1, 12.1, 13.3, 14.6, 16.2, 18.2),
    21.1: (6.2, 6.9, 7.7, 8.5, 9.2, 10.1, 11.0, 12.0, 13.1, 14.4, 16.0, 17.9),
    26.7: (6.1, 6.8, 7.6, 8.3, 9.1, 9.9, 10.8, 11.7, 12.9, 14.2, 15.7, 17.7),
}


@pytest.mark.parametrize("temperature_c", TABLE)
def test_a11_table_4_2(temperature_c: float) -> None:
    found = [moisture_content(h, temperature_c) for h in HUMIDITY]

    assert found == pytest.approx(TABLE[temperature_c], abs=0.06)


@pytest.mark.parametrize(("humidity", "percent"), [(30, 6.17), (50, 9.24), (65, 11.96), (80, 15.99)])
def test_a12_in_a_room(humidity: float, percent: float) -> None:
    assert moisture_content(humidity, 21.1) == pytest.approx(percent, abs=0.005)


@pytest.mark.parametrize(
    ("temperature_c", "humidity", "percent"), [(0, 50, 9.519403), (40, 30, 5.714558), (40, 80, 14.953026)]
)
def test_the_formula_by_hand_in_cold_and_heat(temperature_c: float, humidity: float, percent: float) -> None:
    """Far from a room, where each of its constants weighs: worked out apart, with decimals of 30 digits."""
    assert moisture_content(humidity, temperature_c) == pytest.approx(percent, abs=1e-6)


def test_a13_a_wide_oak_lipping_over_the_year() -> None:
    """300 mm, flat red oak, 35 to 65 %: 6.94 to 11.96 %, 5.56 mm."""
    low, high = moisture_content(35), moisture_content(65)
    assert (low, high) == pytest.approx((6.94, 11.96), abs=0.005)

    grown, source = wood_growth(300, "red oak", Use())

    assert grown == pytest.approx(5.56, abs=0.05)
    assert movement(300, 0.00369, low, high) == pytest.approx(5.56, abs=0.05)
    assert "oak, red" in source


def test_air_that_takes_wood_beyond_the_formula_gives_no_figure() -> None:
    assert wood_growth(300, "red oak", Use(humidity_low=20, humidity_high=80)) == (None, "")


def test_no_such_humidity() -> None:
    with pytest.raises(JobError, match="relative humidity"):
        moisture_content(120)


@pytest.mark.parametrize(
    ("kind", "mm"),
    [
        (BoardKind.PLYWOOD, 1.5),
        (BoardKind.BLOCKBOARD, 1.5),
        (BoardKind.MDF, 4.0),
        (BoardKind.HARDBOARD, 4.0),
        (BoardKind.CHIPBOARD, 5.0),
        (BoardKind.FACED_CHIPBOARD, 5.0),
        (BoardKind.OTHER, 5.0),
    ],
)
def test_a_metre_of_sheet_from_35_to_85_percent(kind: BoardKind, mm: float) -> None:
    """The cautious ends of what is said of sheet goods, from memory; half as much air, half as much movement."""
    assert sheet_movement(1000, kind, 35, 85) == pytest.approx(mm)
    assert sheet_movement(1000, kind, 35, 60) == pytest.approx(mm / 2)


def test_the_coefficients_are_meant_for_6_to_14_percent() -> None:
    """Wood Handbook, chapter 13: change coefficients hold from 6 to 14 % moisture; no species is near either end."""
    assert movement(1000, 0.002, 6, 14) == pytest.approx(16)
    assert in_range(6, 14)
    assert not in_range(5.9)
    assert not in_range(14.1)
    assert movement(1000, 0.0005, 6, 14) == pytest.approx(4)
    assert movement(1000, 0.006, 6, 14) == pytest.approx(48)
    for coefficient, low, high in ((0.002, 5.9, 14), (0.002, 6, 14.1), (0.00049, 6, 14), (0.0061, 6, 14)):
        with pytest.raises(JobError):
            movement(1000, coefficient, low, high)


def test_air_may_be_as_wet_as_99_percent() -> None:
    assert moisture_content(99) > 25
    with pytest.raises(JobError, match="0 to 99 %"):
        moisture_content(99.5)
