"""Source: numpy-financial 1.0, a library of finance.

Where: the payment of a loan, `pmt`; rows H1 to H4 were worked out with it.
"""

from __future__ import annotations

from itertools import product

import numpy_financial as judge
import pytest

from storyrod.ledger import annual_cost, capital_recovery

ROWS = [
    (0.05, 5, 0.23097), (0.05, 10, 0.12950), (0.08, 3, 0.38803), (0.08, 5, 0.25046), (0.08, 10, 0.14903),
    (0.10, 3, 0.40211), (0.10, 5, 0.26380), (0.10, 10, 0.16275), (0.12, 5, 0.27741), (0.12, 10, 0.17698),
    (0.15, 5, 0.29832), (0.15, 10, 0.19925),
]  # fmt: skip


def test_rows_worked_out_with_it() -> None:
    for rate, years, recovery in ROWS:
        assert capital_recovery(rate, years) == pytest.approx(recovery, abs=0.000005), (rate, years)


def test_the_factor_agrees_with_a_library_of_finance() -> None:
    for rate, years in product((1e-9, 0.001, 0.05, 0.12, 0.35), (1, 3, 5, 7.5, 20)):
        assert capital_recovery(rate, years) == pytest.approx(-judge.pmt(rate, years, 1.0), rel=1e-6), (rate, years)


def test_a_loan_by_the_month() -> None:
    """2,000 over 36 months at 0.5 % a month costs 60.8439 a month."""
    assert 2000 * capital_recovery(0.005, 36) == pytest.approx(60.8439, abs=0.00005)


def test_a_tool_by_the_year() -> None:
    """480 at 10 % over five years is 126.623 a year; at 1.60 saved a joint that takes 79.14 joints a year."""
    yearly = annual_cost(480, 0, 0.10, 5)

    assert yearly == pytest.approx(126.623, abs=0.0005)
    assert yearly / (4 * 24 / 60) == pytest.approx(79.14, abs=0.005)
