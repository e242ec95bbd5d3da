"""Source: Dowel case joinery guidelines, 2001.

Where: its text (page not noted): diameter at most half the board, so that the wall on each side is at least half the
diameter; first dowel at least 25 mm from the edge; one for 152 mm (6 in) and one more.
"""

from __future__ import annotations

import pytest

from storyrod.joinery._stations import stations_of
from storyrod.measure.length import nearest_fraction, parse_length, show_inches
from storyrod.model.job import Spread
from tests.reference.packaged import dowels, size_for


def test_any_measured_board_keeps_walls_of_half_the_dowel() -> None:
    for tenths in range(110, 400):
        board = tenths / 10
        _, in_face, _ = size_for(board)
        assert in_face.diameter is not None
        # 11.0 with 6: 2.5, where 12 is called for
        assert (board - in_face.diameter) / 2 >= in_face.diameter / 2 - 0.51, board


def test_the_first_dowel_stands_25_or_more_from_the_edge() -> None:
    rules = dowels().rules

    assert rules is not None
    assert rules.end_min == 25.0


def test_there_are_as_many_dowels_as_one_per_152_mm_asks_within_one() -> None:
    """One per 152 and one more; a pitch of 160 and the rest at the back may leave one less."""
    rules = dowels().rules
    assert rules is not None
    for depth, asked in ((300, 2), (350, 3), (400, 3), (450, 3), (500, 4), (560, 4), (600, 4), (800, 6)):
        stations = stations_of(depth, rules, Spread.LADDER)

        assert stations is not None
        assert abs(len(stations) - asked) <= 1, depth


def test_152_mm_and_6_in_are_printed_side_by_side() -> None:
    assert parse_length('6"') == pytest.approx(152.0, abs=0.5)
    assert show_inches(float(nearest_fraction(152.0, 16)) * 25.4, 16) == '6"'
