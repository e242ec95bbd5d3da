"""Source: Atar and Ozcifci, Materials & Design 29(2), 2008, 519-525.

Where: its results for screwed L-corners of MDF and chipboard: 78.7 to 181.7 N m. Row E13.
"""

from __future__ import annotations

from storyrod.trade.strength import (
    SCREWED_CORNER_NM,
)


def test_e13_screwed_corners_are_those_of_the_tests() -> None:
    assert SCREWED_CORNER_NM == (78.7, 181.7)
    assert all(5 <= moment <= 200 for moment in SCREWED_CORNER_NM)
