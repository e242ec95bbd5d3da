"""Cutter speeds: rim speed, and the highest speed to advise."""

from __future__ import annotations

import math
from typing import Final

CHART: Final = ((25.4, 22_000), (50.8, 18_000), (63.5, 12_000), (math.inf, 8_000))
"""Highest turns a minute by diameter (mm): the slower of three general charts (router speed reference page; Choosing
proper router bit speeds; further charts of the same form). They disagree; the cutter's own mark rules."""

RIM_CAUTION_M_S: Final = 75.0
"""Rim speed above which a caution is given; from memory, no source."""


def rim_speed_m_s(diameter: float, rpm: float) -> float:
    """Return the speed of the cutting edge in m/s, `pi d n / 60000` with d in mm."""
    return math.pi * diameter * rpm / 60_000


def highest_rpm(diameter: float, marked: int | None = None) -> int:
    """Return the highest turns a minute to advise: the chart's, and never above the cutter's own mark."""
    chart = next(rpm for upto, rpm in CHART if diameter <= upto + 1e-9)
    return chart if marked is None else min(chart, marked)
