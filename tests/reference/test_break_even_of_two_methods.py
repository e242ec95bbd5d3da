"""Source: break-even of two methods in engineering economics, the rule as any textbook has it.

Where: `n = (F2 - F1) / (v1 - v2)`; the sums with 1,200 and 480 are worked out by hand.
"""

from __future__ import annotations

import pytest

from storyrod.ledger import carcasses_to_pay


@pytest.mark.parametrize(("saved_min", "carcasses"), [(5, 360), (10, 180), (20, 90)])
def test_1200_dearer_at_40_an_hour(saved_min: float, carcasses: float) -> None:
    assert carcasses_to_pay(0, saved_min * 40 / 60, 1200, 0) == pytest.approx(carcasses)


def test_connectors_a_tenth_dearer_put_it_off() -> None:
    """15 min at 40 an hour save 10, 30 connectors at 0.10 cost 3: 171.4 carcasses, and 120 with like connectors."""
    assert carcasses_to_pay(0, 10, 1200, 0) == pytest.approx(120)
    assert carcasses_to_pay(0, 10, 1200, 30 * 0.10) == pytest.approx(171.43, abs=0.005)


def test_480_at_1_60_a_joint_without_interest() -> None:
    assert carcasses_to_pay(0, 1.60, 480, 0) == pytest.approx(300)


def test_what_saves_nothing_never_pays() -> None:
    assert carcasses_to_pay(0, 5, 100, 5) is None
    assert carcasses_to_pay(0, 5, 100, 6) is None
    assert carcasses_to_pay(100, 6, 100, 5) == 0.0
