"""Money over time.

Sources: engineering-economics factor table of a US engineers' examination handbook (formulas, and the rows at 0.25 %
and 35 % as other tables of its kind print them); the other rows worked out with numpy-financial 1.0.
"""

from __future__ import annotations

import numpy_financial as judge
import pytest

from storyrod.ledger import annual_cost, capital_recovery, present_worth, sinking_fund

ROWS = [
    (0.0025, 5, 0.20150, 4.9627),
    (0.0025, 10, 0.10138, 9.8639),
    (0.0025, 12, 0.08469, 11.8073),
    (0.0025, 25, 0.04131, 24.2055),
    (0.35, 2, 0.7755, 1.289),
    (0.35, 3, 0.5897, 1.696),
    (0.35, 5, 0.4505, 2.220),
    (0.35, 10, 0.3683, 2.715),
    (0.05, 5, 0.23097, 4.3295),
    (0.05, 10, 0.12950, 7.7217),
    (0.08, 3, 0.38803, 2.5771),
    (0.08, 5, 0.25046, 3.9927),
    (0.08, 10, 0.14903, 6.7101),
    (0.10, 3, 0.40211, 2.4869),
    (0.10, 5, 0.26380, 3.7908),
    (0.10, 10, 0.16275, 6.1446),
    (0.12, 5, 0.27741, 3.6048),
    (0.12, 10, 0.17698, 5.6502),
    (0.15, 5, 0.29832, 3.3522),
    (0.15, 10, 0.19925, 5.0188),
]


def printed(value: float) -> float:
    """Return half a unit of the last printed place."""
    return 0.5 * 10.0 ** -len(f"{value}".split(".")[1]) * 1.000001


@pytest.mark.parametrize(("rate", "years", "recovery", "worth"), ROWS)
def test_every_row_to_its_printed_digits(rate: float, years: int, recovery: float, worth: float) -> None:
    # A trailing nought that a float does not keep is a place all the same: four places for A/P, three for P/A at least.
    assert capital_recovery(rate, years) == pytest.approx(recovery, abs=max(printed(recovery), 0.00005))
    assert present_worth(rate, years) == pytest.approx(
        worth, abs=max(printed(worth), 0.0005 if rate == 0.35 else 0.00005)
    )


@pytest.mark.parametrize("years", [1, 3, 5, 7.5, 20])
@pytest.mark.parametrize("rate", [1e-9, 0.001, 0.05, 0.12, 0.35])
def test_factors_agree_with_a_library_of_finance(rate: float, years: float) -> None:
    assert capital_recovery(rate, years) == pytest.approx(-judge.pmt(rate, years, 1.0), rel=1e-6)
    assert sinking_fund(rate, years) == pytest.approx(-judge.pmt(rate, years, 0.0, 1.0), rel=1e-5)


def test_a_loan_by_the_month() -> None:
    """2,000 over 36 months at 0.5 % a month costs 60.8439 a month."""
    assert 2000 * capital_recovery(0.005, 36) == pytest.approx(60.8439, abs=0.00005)


def test_a_tool_by_the_year() -> None:
    """480 at 10 % over five years is 126.623 a year; at 1.60 saved a joint that takes 79.14 joints a year."""
    yearly = annual_cost(480, 0, 0.10, 5)

    assert yearly == pytest.approx(126.623, abs=0.0005)
    assert yearly / (4 * 24 / 60) == pytest.approx(79.14, abs=0.005)


def test_without_interest_the_price_is_spread_evenly() -> None:
    assert capital_recovery(0.0, 8) == 1 / 8
    assert sinking_fund(0.0, 8) == 1 / 8
    assert annual_cost(800, 0, 0.0, 8) == 100


def test_what_a_tool_still_fetches_bears_interest_alone() -> None:
    """(P - S)(A/P) + S i = (1000 - 200) x 0.26380 + 200 x 0.10 = 231.04."""
    assert annual_cost(1000, 200, 0.10, 5) == pytest.approx(231.04, abs=0.005)
