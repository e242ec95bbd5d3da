"""Source: guideline filter of the Health and Safety Executive (GB) for lifting.

Where: its cells, from memory. Row I8.
"""

from __future__ import annotations

import pytest

from storyrod.trade.lifting import (
    GUIDELINE_FILTER,
    SHARED,
    beyond_every_guide,
)


def test_i8_a_whole_sheet_is_beyond_every_cell_of_the_filter() -> None:
    """2440 x 1220 x 18 of MDF: 39.1 kg."""
    assert beyond_every_guide(39.1)
    assert not beyond_every_guide(24.9)
    assert [(g.men_close_kg, g.men_reach_kg, g.women_close_kg, g.women_reach_kg) for g in GUIDELINE_FILTER] == [
        (10, 5, 7, 3),
        (20, 10, 13, 7),
        (25, 15, 16, 10),
        (20, 10, 13, 7),
        (10, 5, 7, 3),
    ]


def test_two_lift_two_thirds_of_what_both_lift_alone() -> None:
    """From memory of the same guidance."""
    assert pytest.approx(2 / 3) == SHARED
