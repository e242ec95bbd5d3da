"""Learning curves.

Sources: Learning-Curve Tables, RM-6191, 3 volumes, RAND, 1970 (which lists tables of this kind); a
management-accounting textbook, ch. 15, p. 324 (Wright's model at 80 %, first unit 100 h; its last total is misprinted
as 254.76: its own mean of 30.72 shows that 245.76 was meant). Table values below were worked out from the model and
rounded to four places.
"""

from __future__ import annotations

import math
import random

import pytest
from scipy import stats

from storyrod.faults import JobError
from storyrod.ledger import fit_curve, mean_factor, unit_factor
from storyrod.model.learning import Learning, LearningModel

UNITS = (2, 3, 4, 5, 8, 10, 16, 20, 50, 100)
TABLE = {
    0.70: (0.7000, 0.5682, 0.4900, 0.4368, 0.3430, 0.3058, 0.2401, 0.2141, 0.1336, 0.0935),
    0.75: (0.7500, 0.6338, 0.5625, 0.5127, 0.4219, 0.3846, 0.3164, 0.2884, 0.1972, 0.1479),
    0.80: (0.8000, 0.7021, 0.6400, 0.5956, 0.5120, 0.4765, 0.4096, 0.3812, 0.2838, 0.2271),
    0.85: (0.8500, 0.7729, 0.7225, 0.6857, 0.6141, 0.5828, 0.5220, 0.4954, 0.3996, 0.3397),
    0.90: (0.9000, 0.8462, 0.8100, 0.7830, 0.7290, 0.7047, 0.6561, 0.6342, 0.5518, 0.4966),
    0.95: (0.9500, 0.9219, 0.9025, 0.8877, 0.8574, 0.8433, 0.8145, 0.8012, 0.7486, 0.7112),
}


@pytest.mark.parametrize("rate", TABLE)
def test_unit_table(rate: float) -> None:
    assert [unit_factor(n, rate) for n in UNITS] == pytest.approx(TABLE[rate], abs=0.00005)


def test_wright_s_cumulative_average() -> None:
    """Units of the average model add up to the textbook's totals: 160, 256, 409.6 and 655.36 for 2, 4, 8 and 16."""
    units = [100 * unit_factor(n, 0.8, LearningModel.AVERAGE) for n in range(1, 17)]

    assert [sum(units[:n]) for n in (2, 4, 8, 16)] == pytest.approx([160, 256, 409.6, 655.36])


def test_totals_of_the_unit_model() -> None:
    """The first n at 80 %: 1.8, 3.1421, 6.3154, 10.4849 and 32.6508 of the first, for 2, 4, 10, 20 and 100."""
    units = [unit_factor(n, 0.8) for n in range(1, 101)]

    assert [sum(units[:n]) for n in (2, 4, 10, 20, 100)] == pytest.approx(
        [1.8, 3.1421, 6.3154, 10.4849, 32.6508], abs=5e-5
    )


def test_wright_s_single_units() -> None:
    assert 100 * unit_factor(3, 0.8, LearningModel.AVERAGE) == pytest.approx(50.63, abs=0.005)
    assert 100 * unit_factor(10, 0.8, LearningModel.AVERAGE) == pytest.approx(32.86, abs=0.005)


def test_no_learning_changes_nothing_and_a_wild_rate_is_refused() -> None:
    assert [unit_factor(n, 1.0) for n in UNITS] == [1.0] * len(UNITS)
    assert mean_factor(Learning(rate=1.0), 10) == 1.0
    for rate in (0.5, 0.2, 1.01, float("nan")):
        with pytest.raises(JobError, match=r"learning\.rate"):
            unit_factor(2, rate)


def test_the_standard_time_is_reached_and_not_gone_below() -> None:
    """Standard at the fourth, 80 %: the first four take 1/0.64, 0.8/0.64, 0.7021/0.64 and 1 of it, the rest 1."""
    learning = Learning(rate=0.8, standard_at=4)

    assert mean_factor(learning, 4) == pytest.approx((1 + 0.8 + 0.70210 + 0.64) / 0.64 / 4, abs=1e-5)
    assert mean_factor(learning, 8) == pytest.approx(((1 + 0.8 + 0.70210 + 0.64) / 0.64 + 4) / 8, abs=1e-5)
    assert mean_factor(Learning(rate=0.8, standard_at=4, done=4), 10) == 1.0


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
