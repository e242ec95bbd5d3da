"""Source: Noise at woodworking machines, information sheet WIS13, Health and Safety Executive (GB).

Where: its action values, and the noise of a day, L = L_eq + 10 log10(T / 8 h). Rows L1 and L2, worked out by hand from
that formula.
"""

from __future__ import annotations

import pytest

from storyrod.trade.noise import DAILY_LIMIT, LOWER_ACTION, UPPER_ACTION, daily_level


@pytest.mark.parametrize(
    ("level_db", "minutes", "day_db"), [(97, 60, 87.97), (100, 15, 84.95), (95, 120, 88.98), (94, 60, 84.97)]
)
def test_l1_one_spell_in_a_day(level_db: float, minutes: float, day_db: float) -> None:
    assert daily_level([(level_db, minutes)]) == pytest.approx(day_db, abs=0.005)


def test_l2_three_spells_in_a_day() -> None:
    assert daily_level([(97, 60), (94, 30), (80, 240)]) == pytest.approx(89.21, abs=0.01)


def test_eight_hours_of_one_level_are_that_level_and_half_of_it_three_less() -> None:
    assert daily_level([(85, 480)]) == pytest.approx(85)
    assert daily_level([(85, 240)]) == pytest.approx(81.99, abs=0.005)


def test_no_noise_has_no_level() -> None:
    with pytest.raises(ValueError, match="no level"):
        daily_level([(90, 0)])


def test_action_values() -> None:
    """80 and 85 dB, and a limit of 87 counted under the protection."""
    assert (LOWER_ACTION, UPPER_ACTION, DAILY_LIMIT) == (80, 85, 87)
