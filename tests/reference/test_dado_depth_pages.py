"""Source: How deep to cut a dado in plywood, and a forum's thread on dado depth in plywood carcasses.

Where: its text (page not noted): a quarter to a third of the board, never over half; 6 mm (1/4 in) in 18 to 19.
"""

from __future__ import annotations

import pytest

from tests.reference.packaged import size_of


@pytest.mark.parametrize(
    ("board", "low", "high"), [(12, 3, 4), (15, 4, 5), (16, 4, 5), (18, 6, 6), (19, 6, 6), (22, 7, 7), (25, 8, 8)]
)
def test_housings(board: float, low: float, high: float) -> None:
    for code in ("housing", "stopped housing"):
        assert low <= size_of(code, board).enters <= high


def test_a_housing_is_about_a_quarter_to_a_third_and_never_over_half() -> None:
    for tenths in range(110, 300):
        board = tenths / 10
        assert 0.2 <= size_of("housing", board).enters / board <= 0.36, board
