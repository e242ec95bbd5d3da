"""Source: Operations Management: Processes and Supply Chains, 12th ed.

Where: key equations of the supplement on time study: timings needed, and the interval of a mean. Rows G8 and G9;
figures worked out from them.
"""

from __future__ import annotations

import pytest

from storyrod.ledger import mean_interval, more_timings, timings_needed

TEN = (5.1, 4.8, 5.3, 5.0, 4.9, 5.4, 5.2, 4.7, 5.0, 5.6)


def test_the_interval_of_a_mean() -> None:
    interval = mean_interval(TEN)

    assert interval == pytest.approx((4.9005, 5.2995), abs=0.0001)
    assert timings_needed(5.1, 0.27889, 1.95996, 0.05) == pytest.approx(4.59, abs=0.005)
    assert timings_needed(5.1, 0.27889, 2.26216, 0.05) == pytest.approx(6.12, abs=0.005)


def test_one_reading_has_no_interval() -> None:
    assert mean_interval([5.0]) is None
    assert more_timings([5.0]) is None


def test_enough_timings_are_told_so() -> None:
    assert more_timings(TEN) == 0
    assert more_timings([5.0, 5.0, 5.0]) == 0
