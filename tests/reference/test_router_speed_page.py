"""Source: router speed reference page with surface-speed arithmetic.

Where: its arithmetic: rim speed v = pi d n / 60000: 76.2 mm at 24000 is 95.76 m/s, printed as 18850 ft/min. Row J11.
"""

from __future__ import annotations

import pytest

from storyrod.machining._speed import rim_speed_m_s


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
