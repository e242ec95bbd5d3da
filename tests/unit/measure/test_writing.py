"""The one writer of lengths: one unit in one packet, bought things by their trade size."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storyrod.measure.length import Unit, parse_length
from storyrod.measure.writing import METRIC, LengthWriter

INCH = LengthWriter(Unit.INCH, 32)


@given(mm=st.floats(0, 5000))
def test_a_figure_is_the_same_in_a_table_on_a_drawing_and_in_a_sentence(mm: float) -> None:
    assert METRIC.told(mm) == f"{METRIC.n(mm)} mm" == f"{METRIC.bare(mm)} mm"
    assert INCH.told(mm) == INCH.n(mm) == f'{INCH.bare(mm)}"'


@given(mm=st.floats(0, 5000), writer=st.sampled_from([METRIC, INCH]))
def test_what_a_sentence_says_is_the_figure_in_the_unit_it_names(mm: float, writer: LengthWriter) -> None:
    assert parse_length(writer.told(mm), Unit.MM) == pytest.approx(mm, abs=writer.half_digit + 1e-6)


@pytest.mark.parametrize(
    ("mm", "in_mm_job", "in_inch_job"),
    [
        (8.0, "8 mm", "8 mm"),
        (6.35, "6.35 mm", '1/4"'),
        (12.7, "12.7 mm", '1/2"'),
        (3.175, "3.18 mm", '1/8"'),
        (25.4, "25.4 mm", '1"'),
        (550.0, "550 mm", "550 mm"),
        (127.0, "127 mm", "127 mm"),  # five inches and a whole number of mm: asked for by mm
        (5.2, "5.2 mm", "5.2 mm"),
    ],
)
def test_bought_things_keep_their_trade_size_with_its_unit(mm: float, in_mm_job: str, in_inch_job: str) -> None:
    assert METRIC.bought(mm) == in_mm_job
    assert INCH.bought(mm) == in_inch_job
    assert INCH.bought_n(mm) == in_inch_job
    assert METRIC.bought_n(mm) == in_mm_job.removesuffix(" mm")


def test_sides_carry_the_unit_once_in_mm_and_each_in_inches() -> None:
    assert METRIC.told_size(590, 300.5) == "590 \u00d7 300.5 mm"
    assert INCH.told_size(25.4 * 23.25, 25.4 * 12) == '23 1/4" \u00d7 12"'


def test_an_estimate_has_no_more_digits_than_it_is_worth() -> None:
    assert METRIC.about(2.34) == "2.3 mm"
    assert INCH.about(2.34) == '0.09"'
    assert (METRIC.about_n(2.34), INCH.about_n(2.34)) == ("2.3", '0.09"')


def test_what_is_looked_at_and_not_set_to_is_written_to_a_tenth() -> None:
    assert METRIC.told_seen_size(600.08, 66.68, 300) == "600.1 \u00d7 66.7 \u00d7 300 mm"
    assert INCH.told_seen_size(25.4 * 23.625, 25.4 * 0.709) == '23 5/8" \u00d7 0.71"'


def test_what_a_cutter_makes_and_nobody_sets_has_no_more_digits_than_it_is_worth() -> None:
    assert METRIC.outcome_n(64.99) == "65"
    assert INCH.outcome_n(64.99) == '2.56"'


def test_each_writer_says_its_unit() -> None:
    assert "millimetres" in METRIC.said
    assert "inches" in INCH.said
    assert (METRIC.word, INCH.word) == ("mm", "in")
    assert METRIC.explained == METRIC.said


@given(fraction=st.integers(0, 3200), mm=st.floats(0, 1000), less=st.booleans())
def test_in_inches_a_sum_of_printed_figures_is_the_printed_sum_but_for_the_last_digit(
    fraction: int, mm: float, *, less: bool
) -> None:
    """A line at 47 21/32 and half a board of 17.7 beside it: thousandths alone leave 0.013 mm between both mates."""
    line, board = fraction / 32 * 25.4, INCH.printed(mm)
    mark = parse_length(INCH.told(line - board if less else line + board))

    assert parse_length(INCH.told(line)) == pytest.approx(line, abs=1e-9)
    assert mark == pytest.approx(line - board if less else line + board, abs=0.0013)


def test_an_inch_job_says_how_its_decimals_are_read() -> None:
    assert INCH.explained.startswith(INCH.said)
    assert "Set decimals to the thousandth" in INCH.explained


@given(mm=st.floats(0.1, 5000), writer=st.sampled_from([METRIC, INCH]))
def test_whoever_writes_a_least_or_greatest_figure_as_it_is_told_keeps_it(mm: float, writer: LengthWriter) -> None:
    assert parse_length(writer.told_least(mm), Unit.MM) >= mm - 2e-6
    assert parse_length(writer.told_most(mm), Unit.MM) <= mm + 2e-6
    assert parse_length(writer.told_least(mm), Unit.MM) - mm <= 2 * writer.half_digit + 1e-6


def test_a_least_length_is_written_up_and_a_greatest_down() -> None:
    assert (METRIC.told_least(62.333), METRIC.told_most(62.337)) == ("62.34 mm", "62.33 mm")
    assert (METRIC.told_least(65.5), METRIC.told_most(65.5)) == ("65.5 mm", "65.5 mm")
    assert INCH.told_least(16) == '0.630"'
