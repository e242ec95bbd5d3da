"""How many timings are enough.

Sources: Operations Management: Processes and Supply Chains, 12th ed., key equations of the time-study supplement; a
worked solution of a time-study exercise (rows G8 to G10). The interval of the last case was worked out with a
statistics library (Student's t).
"""

from __future__ import annotations

import math
from itertools import product

import pytest
from scipy import stats

from storyrod.ledger import mean_interval, more_timings, timings_needed
from storyrod.ledger._student import t_quantile

TEN = (5.1, 4.8, 5.3, 5.0, 4.9, 5.4, 5.2, 4.7, 5.0, 5.6)


@pytest.mark.parametrize(
    ("deviation", "mean", "exact", "whole"), [(0.16, 0.5, 52.39, 53), (0.30, 1.2, 31.98, 32), (0.07, 0.4, 15.67, 16)]
)
def test_three_elements_of_a_pilot_of_ten(deviation: float, mean: float, exact: float, whole: int) -> None:
    """The worked solution: t for ten timings is 2.262, accuracy +-10 %; 53 timings serve all three elements."""
    needed = timings_needed(mean, deviation, 2.262, 0.10)

    assert needed == pytest.approx(exact, abs=0.02)
    assert math.ceil(needed) == whole


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


@pytest.mark.parametrize(
    "timings", [(1.0, 2.0), (3.0, 5.0, 4.0), (0.2, 0.25, 0.22, 0.5), (10.0, 12.0, 9.0, 11.0, 14.0)]
)
def test_so_many_more_are_enough_and_one_fewer_is_not(timings: tuple[float, ...]) -> None:
    """With s and mean as they are, the interval of n timings must lie within +-10 %: the least such n, by a library."""
    mean, deviation = sum(timings) / len(timings), stats.tstd(timings)
    more = more_timings(timings)
    assert more is not None

    def reach(n: int) -> float:
        return float(stats.t.ppf(0.975, n - 1) * deviation / math.sqrt(n) / mean)

    n = len(timings) + more
    assert reach(n) <= 0.10 + 1e-9
    assert more == 0 or reach(n - 1) > 0.10


def test_student_s_t_agrees_with_a_statistics_library() -> None:
    for share, freedom in product((0.6, 0.9, 0.95, 0.975, 0.999), (1, 2, 3, 4, 5.5, 9, 28, 100, 5000)):
        assert t_quantile(share, freedom) == pytest.approx(stats.t.ppf(share, freedom), rel=1e-9), (share, freedom)
