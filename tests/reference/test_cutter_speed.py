"""Sources: router speed reference page with surface-speed arithmetic; Choosing proper router bit speeds; two charts.

Rim speed v = pi d n / 60000. 76.2 mm at 24000: pi * 76.2 * 24000 / 60000 = 95.76 m/s, 18850 ft/min as the page prints.
The charts disagree; the slower is shipped. Rows J11 and J12.
"""

from __future__ import annotations

import pytest

from storyrod.machining._speed import highest_rpm, rim_speed_m_s


@pytest.mark.parametrize(
    ("diameter", "rpm", "speed"),
    [(76.2, 24_000, 95.76), (12.7, 24_000, 15.96), (25.4, 18_000, 23.94), (50.8, 16_000, 42.56), (76.2, 12_000, 47.88)],
)
def test_j11_rim_speed(diameter: float, rpm: float, speed: float) -> None:
    assert rim_speed_m_s(diameter, rpm) == pytest.approx(speed, abs=0.01)


def test_j11_as_printed_in_feet() -> None:
    feet_a_minute = rim_speed_m_s(76.2, 24_000) * 60 / 0.3048
    assert feet_a_minute == pytest.approx(18_850, abs=1)
    assert rim_speed_m_s(76.2, 10_000) * 60 / 0.3048 == pytest.approx(7_854, abs=1)


@pytest.mark.parametrize(
    ("diameter", "chart_a", "chart_b"),
    [(6, 24_000, 22_000), (25.4, 24_000, 22_000), (40, 18_000, 18_000), (60, 16_000, 12_000), (80, 12_000, 8_000)],
)
def test_j12_the_slower_chart_is_taken(diameter: float, chart_a: int, chart_b: int) -> None:
    assert highest_rpm(diameter) == min(chart_a, chart_b)


def test_j12_the_cutters_own_mark_rules() -> None:
    assert highest_rpm(12, 16_000) == 16_000
    assert highest_rpm(12, 30_000) == highest_rpm(12)
