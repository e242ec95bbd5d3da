"""Source: Choosing proper router bit speeds, a how-to site, and two further charts of the form.

Where: highest speeds by diameter; they disagree, and the slower is shipped. Row J12.
"""

from __future__ import annotations

import pytest

from storyrod.adapters.files import packaged_workshop
from storyrod.machining._speed import highest_rpm


@pytest.mark.parametrize(
    ("diameter", "chart_a", "chart_b"),
    [(6, 24_000, 22_000), (25.4, 24_000, 22_000), (40, 18_000, 18_000), (60, 16_000, 12_000), (80, 12_000, 8_000)],
)
def test_j12_the_slower_chart_is_taken(diameter: float, chart_a: int, chart_b: int) -> None:
    assert highest_rpm(diameter) == min(chart_a, chart_b)


def test_j12_the_cutters_own_mark_rules() -> None:
    assert highest_rpm(12, 16_000) == 16_000
    assert highest_rpm(12, 30_000) == highest_rpm(12)


def test_no_router_cutter_to_25_mm_is_said_to_turn_faster_than_the_slower_chart() -> None:
    """Router speeds: general charts, the slower of each; 22,000 to 25 mm.

    A disc of 100 mm in a fence tool is no router cutter: its own tool turns it at about 10,000 (common practice).
    """
    for cutter in packaged_workshop().cutters:
        if cutter.max_rpm is not None and cutter.diameter <= 25.4:
            assert cutter.max_rpm <= 22_000
