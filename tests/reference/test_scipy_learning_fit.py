"""Source: SciPy 1.18, a library of statistics: a straight line through scattered points.

Where: `stats.linregress` and `stats.t`, of the logarithms of timings.
"""

from __future__ import annotations

import math
import random

import pytest
from scipy import stats

from storyrod.ledger import fit_curve


def test_a_fit_gives_back_the_rate_of_exact_data() -> None:
    fitted = fit_curve([(n, 12.5 * n ** math.log2(0.85)) for n in range(1, 13)])

    assert fitted is not None
    assert (fitted.rate, fitted.first_min) == pytest.approx((0.85, 12.5), abs=1e-9)


def test_a_fit_of_scattered_timings_agrees_with_a_statistics_library() -> None:
    chance = random.Random(7)
    points = [(float(n), 10 * n ** math.log2(0.9) * math.exp(chance.gauss(0, 0.1))) for n in range(1, 31)]
    judge = stats.linregress([math.log2(n) for n, _ in points], [math.log2(m) for _, m in points])
    reach = stats.t.ppf(0.95, 28) * judge.stderr

    fitted = fit_curve(points)

    assert fitted is not None
    assert fitted.rate == pytest.approx(2**judge.slope, rel=1e-9)
    assert (fitted.rate_low, fitted.rate_high) == pytest.approx(
        (2 ** (judge.slope - reach), 2 ** (judge.slope + reach)), rel=1e-9
    )


def test_too_few_timings_or_too_narrow_a_range_give_no_slope() -> None:
    assert fit_curve([(n, 5.0) for n in range(1, 6)]) is None
    assert fit_curve([(n, 5.0) for n in range(20, 40)]) is None
