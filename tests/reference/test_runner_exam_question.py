"""Source: a trade exam question on side-mounted guides.

Where: its text (page not noted): 1/2 in (12.5 to 13 mm) each side of the box; by hand: 600 outside, two sides of 18,
opening 564, box 538.6.
"""

from __future__ import annotations

import pytest

from storyrod.adapters.files import packaged_workshop
from storyrod.measure.length import nearest_fraction, parse_length, show_inches
from storyrod.model.workshop import RunnerMount


def test_side_mounted_runners_leave_half_an_inch_each_side() -> None:
    """600 outside, two sides of 18: opening 564, box 538.6."""
    for runner in packaged_workshop().runners:
        if runner.mount is RunnerMount.SIDE:
            assert 12.5 <= runner.room_each_side <= 13.0
            assert 564 - 2 * runner.room_each_side == pytest.approx(538.6)


def test_12_7_mm_and_half_an_inch_are_printed_side_by_side() -> None:
    assert parse_length('1/2"') == 12.7
    assert show_inches(float(nearest_fraction(12.7, 16)) * 25.4, 16) == '1/2"'
