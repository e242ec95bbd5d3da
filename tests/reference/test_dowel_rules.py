"""Dowels against board thickness.

Sources:
- "Dowel case joinery guidelines" (2001): diameter at most half the board, so that the wall on each side is at least
  half the diameter; first dowel at least 25 mm from the edge; one per 152 mm and one more.
- "Dowel drilling and use guidelines" (1998) and "Tips for dowel joinery": two thirds of the length in the edge,
  one third in the face; 1 mm (1/16 in) of glue space at the bottom of each hole.
- "Carcase doweling jigs" (2021): at least 3 mm (1/8 in) of board left under the hole in the face.
- "MDF joints that last": in MDF 32 mm from the edge.

The holes by board thickness are worked out from these with usual dowels (from memory).
"""

from __future__ import annotations

import pytest

from storyrod.adapters.files.methods import packaged_methods
from storyrod.joinery._stations import stations_of
from storyrod.model.job import Spread
from storyrod.model.method import Cut, Method, SizeForBoard

BY_BOARD = [
    # board, diameter, length, in the face, skin, in the edge, wall each side
    (12, 6, 25, 9, 3, 18, 3.0),
    (15, 6, 30, 11, 4, 21, 4.5),
    (16, 8, 30, 12, 4, 20, 4.0),
    (18, 8, 35, 13, 5, 24, 5.0),
    (19, 8, 35, 14, 5, 23, 5.5),
    (22, 10, 40, 16, 6, 26, 6.0),
    (25, 10, 40, 17, 8, 25, 7.5),
]


def dowels() -> Method:
    return next(m for m in packaged_methods() if m.code == "dowels")


def size_for(board: float) -> tuple[SizeForBoard, Cut, Cut]:
    size = dowels().size_for(board)
    assert size is not None
    return size, size.receiving[0], size.entering[0]


@pytest.mark.parametrize(("board", "diameter", "length", "face", "skin", "edge", "wall"), BY_BOARD)
def test_the_table_of_dowels(
    board: float, diameter: float, length: float, face: float, skin: float, edge: float, wall: float
) -> None:
    size, in_face, in_edge = size_for(board)

    assert size.consumes[0].item == f"dowel {diameter} x {length}"
    assert (in_face.diameter, in_edge.diameter) == (diameter, diameter)
    assert (in_face.depth, in_edge.depth) == (face, edge)
    assert in_face.depth is not None
    assert board - in_face.depth == skin
    assert in_edge.diameter is not None
    assert (board - in_edge.diameter) / 2 == wall


def test_both_holes_together_leave_2_mm_for_glue_in_every_size() -> None:
    for size in dowels().sizes:
        length = float(size.consumes[0].item.rpartition(" x ")[2])
        assert (size.receiving[0].depth or 0.0) + (size.entering[0].depth or 0.0) == length + 2, size.low


def test_any_measured_board_keeps_the_three_limits() -> None:
    """Skin 3 under the face hole, walls half the diameter, and about two thirds (0.55 to 0.75) in the edge."""
    for tenths in range(110, 400):
        board = tenths / 10
        _, in_face, in_edge = size_for(board)

        assert in_face.depth is not None
        assert in_face.diameter is not None
        assert in_edge.depth is not None
        assert board - in_face.depth >= 3.0, board
        # 11.0 with 6: 2.5, where 12 is called for
        assert (board - in_face.diameter) / 2 >= in_face.diameter / 2 - 0.51, board
        assert 0.55 <= in_edge.depth / (in_face.depth + in_edge.depth) <= 0.75, board


def test_the_first_dowel_stands_25_or_more_from_the_edge() -> None:
    rules = dowels().rules

    assert rules is not None
    assert rules.end_min == 25.0
    assert rules.end >= 32.0  # MDF


def test_there_are_as_many_dowels_as_one_per_152_mm_asks_within_one() -> None:
    """One per 152 and one more; a pitch of 160 and the rest at the back may leave one less."""
    rules = dowels().rules
    assert rules is not None
    for depth, asked in ((300, 2), (350, 3), (400, 3), (450, 3), (500, 4), (560, 4), (600, 4), (800, 6)):
        stations = stations_of(depth, rules, Spread.LADDER)

        assert stations is not None
        assert abs(len(stations) - asked) <= 1, depth
