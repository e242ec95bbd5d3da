"""Source: Carcase doweling jigs, 2021.

Where: its text (page not noted): at least 3 mm (1/8 in) of board left under the hole in the face.
"""

from __future__ import annotations

from tests.reference.packaged import size_for


def test_any_measured_board_keeps_3_under_the_hole_in_its_face() -> None:
    for tenths in range(110, 400):
        board = tenths / 10
        _, in_face, _ = size_for(board)
        assert in_face.depth is not None
        assert board - in_face.depth >= 3.0, board
