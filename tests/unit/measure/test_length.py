"""Lengths in every way a maker writes them, and as a rule shows them."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storyrod.faults import JobError
from storyrod.measure.length import (
    LONGEST,
    Unit,
    nearest_fraction,
    parse_length,
    show_inches,
    show_length,
    show_mm,
)


@pytest.mark.parametrize(
    ("written", "mm"),
    [
        (600, 600.0),
        (590.5, 590.5),
        ("600", 600.0),
        (" 600 mm ", 600.0),
        ("600MM", 600.0),
        ("60 cm", 600.0),
        ("60cm", 600.0),
        ("0,6 m", 600.0),
        ("1.2 m", 1200.0),
        ("590,5", 590.5),
        (".5", 0.5),
        ("-3", -3.0),
        ("+3 mm", 3.0),
        ('23 5/8"', 600.075),
        ("23-5/8 in", 600.075),
        ("23 5/8 inches", 600.075),
        ("23 5/8''", 600.075),
        ("23 5/8″", 600.075),
        ('3/4"', 19.05),
        ("0.75 in", 19.05),
        ("1 inch", 25.4),
        ("2' 3 1/2\"", 698.5),
        ("2′ 3 1/2″", 698.5),
        ("2 ft 3 1/2 in", 698.5),
        ("2'3", 685.8),
        ("2'", 609.6),
        ("- 2'", -609.6),
    ],
)
def test_a_length_is_read_however_it_is_written(written: object, mm: float) -> None:
    assert parse_length(written) == pytest.approx(mm, abs=1e-9)


@pytest.mark.parametrize(
    ("written", "mm"), [(1, 25.4), ("1", 25.4), ("3/4", 19.05), ("1 3/4", 44.45), ("19 mm", 19.0), ("2 cm", 20.0)]
)
def test_in_an_inch_job_a_bare_number_is_inches(written: object, mm: float) -> None:
    assert parse_length(written, Unit.INCH) == pytest.approx(mm, abs=1e-9)


@pytest.mark.parametrize(
    "written",
    [
        "", " ", "wide", "6 feet tall", "3/4", "1/0 in", "1 / in", "5 5 mm", "1e3", "12 yd", "½", "1.2.3", "mm",
        True, None, [600], {"mm": 600}, math.nan, math.inf, -math.inf, "9" * 400, LONGEST + 1, "21 m", "70'",
    ],
    ids=repr,
)  # fmt: skip
def test_what_is_no_length_is_told_with_what_is_allowed(written: object) -> None:
    with pytest.raises(JobError) as caught:
        parse_length(written)

    (fault,) = caught.value.faults
    assert fault.code == "length"
    assert "60 cm" in fault.allowed
    assert fault.do


def test_the_longest_length_is_still_one() -> None:
    assert parse_length(LONGEST) == LONGEST
    assert parse_length("20 m") == LONGEST


@given(value=st.floats(-LONGEST, LONGEST))
def test_a_bare_number_of_millimetres_is_kept_to_the_last_bit(value: float) -> None:
    assert parse_length(value) == value


@given(whole=st.integers(0, 600), parts=st.integers(0, 63), of=st.sampled_from([2, 4, 8, 16, 32, 64]))
def test_what_is_shown_in_inches_is_read_back(whole: int, parts: int, of: int) -> None:
    mm = float(whole + Fraction(parts % of, of)) * 25.4

    assert parse_length(show_inches(mm, of)) == pytest.approx(mm, abs=1e-9)
    assert nearest_fraction(mm, of) == whole + Fraction(parts % of, of)


@given(mm=st.floats(-5000, 5000))
def test_what_is_shown_in_millimetres_is_within_half_a_hundredth(mm: float) -> None:
    assert parse_length(show_mm(mm)) == pytest.approx(mm, abs=0.005 + 1e-6)


@given(mm=st.floats(-5000, 5000), parts=st.sampled_from([8, 16, 32, 64]))
def test_what_is_shown_in_inches_is_within_half_a_ten_thousandth_whatever_the_fraction(mm: float, parts: int) -> None:
    """Writing does not round to the rule: 17.7 mm is no 11/16 in."""
    assert parse_length(show_inches(mm, parts)) == pytest.approx(mm, abs=0.00005 * 25.4 + 1e-6)


@pytest.mark.parametrize(
    ("mm", "shown"),
    [
        (600.0, "600"),
        (590.5, "590.5"),
        (590.04, "590.04"),
        (590.004, "590"),
        (58.85, "58.85"),
        (8.845, "8.85"),  # halves go up, although the float is a hair under
        (16.325, "16.33"),
        (0.0, "0"),
        (-0.001, "0"),
        (-3.25, "-3.25"),
    ],
)
def test_millimetres_are_shown_to_the_hundredth_without_trailing_zeros(mm: float, shown: str) -> None:
    assert show_mm(mm) == shown


@pytest.mark.parametrize(
    ("mm", "parts", "shown"),
    [
        (600.075, 32, '23 5/8"'),
        (600.0, 32, '23.622"'),  # no line of a rule; 23.6220, without the nought that is finer than a calliper
        (17.7, 32, '0.6969"'),
        (0.04, 32, '0.0016"'),
        (25.4 * 1.2, 32, '1.200"'),  # as a calliper shows it
        (18.25625 / 2, 32, '23/64"'),  # half a board of 23/32: a rule shows sixty-fourths
        (18.25625 / 2, 8, '23/64"'),
        (25.4 + 0.0012, 32, '1"'),  # less than half a ten-thousandth over
        (25.4 + 0.002, 32, '1.0001"'),
        (100.0, 32, '3.937"'),  # half a thousandth short of 3 15/16
        (0.0, 32, '0"'),
        (-19.05, 32, '-3/4"'),
        (-17.7, 32, '-0.6969"'),
    ],
)
def test_inches_are_a_fraction_only_where_they_are_one(mm: float, parts: int, shown: str) -> None:
    assert show_inches(mm, parts) == shown


def test_a_half_step_goes_up() -> None:
    assert nearest_fraction(25.4 / 64) == Fraction(1, 32)


def test_a_length_is_shown_in_the_unit_of_the_job() -> None:
    assert show_length(600.0) == "600"
    assert show_length(600.075, Unit.INCH) == '23 5/8"'
    assert show_length(17.859375, Unit.INCH, 64) == '45/64"'
