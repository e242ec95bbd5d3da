"""Source: engineering-economics factor table of a US engineers' examination handbook.

Where: the formulas of capital recovery, (A/P); the two sums are worked out by hand.
"""

from __future__ import annotations

import pytest

from storyrod.ledger import annual_cost, capital_recovery


def test_without_interest_the_price_is_spread_evenly() -> None:
    assert capital_recovery(0.0, 8) == 1 / 8
    assert annual_cost(800, 0, 0.0, 8) == 100


def test_what_a_tool_still_fetches_bears_interest_alone() -> None:
    """(P - S)(A/P) + S i = (1000 - 200) x 0.26380 + 200 x 0.10 = 231.04."""
    assert annual_cost(1000, 200, 0.10, 5) == pytest.approx(231.04, abs=0.005)
