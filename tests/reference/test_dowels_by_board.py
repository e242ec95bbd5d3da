"""Source: common practice, no source: usual dowels by the board's thickness.

Where: no book: worked out from the guidelines on dowels with the dowels that are sold, from memory.
"""

from __future__ import annotations

import pytest

from tests.reference.packaged import size_for

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
