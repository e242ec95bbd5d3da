"""Source: a management-accounting textbook, chapter 15 (title page not seen).

Where: p. 324: Wright's model at 80 %, first unit 100 h. Its last total is misprinted as 254.76: its own mean of 30.72
shows that 245.76 was meant.
"""

from __future__ import annotations

import pytest

from storyrod.faults import JobError
from storyrod.ledger import mean_factor, unit_factor
from storyrod.model.learning import Learning, LearningModel

UNITS = (2, 3, 4, 5, 8, 10, 16, 20, 50, 100)


def test_wright_s_cumulative_average() -> None:
    """Units of the average model add up to the textbook's totals: 160, 256, 409.6 and 655.36 for 2, 4, 8 and 16."""
    units = [100 * unit_factor(n, 0.8, LearningModel.AVERAGE) for n in range(1, 17)]

    assert [sum(units[:n]) for n in (2, 4, 8, 16)] == pytest.approx([160, 256, 409.6, 655.36])


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
