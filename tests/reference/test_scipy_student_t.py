"""Source: SciPy 1.18, a library of statistics: Student's t.

Where: `stats.t.ppf`.
"""

from __future__ import annotations

import math
from itertools import product

import pytest
from scipy import stats

from storyrod.ledger import more_timings
from storyrod.ledger._student import t_quantile


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
