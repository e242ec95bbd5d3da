"""Source: Dowel drilling and use guidelines, 1998, and Tips for dowel joinery.

Where: its text (page not noted): two thirds of the length in the edge, one third in the face; 1 mm (1/16 in) for
glue at the bottom of each hole.
"""

from __future__ import annotations

from tests.reference.packaged import dowels, size_for


def test_both_holes_together_leave_2_mm_for_glue_in_every_size() -> None:
    for size in dowels().sizes:
        length = float(size.consumes[0].item.rpartition(" x ")[2])
        assert (size.receiving[0].depth or 0.0) + (size.entering[0].depth or 0.0) == length + 2, size.low


def test_about_two_thirds_of_a_dowel_are_in_the_edge() -> None:
    for tenths in range(110, 400):
        board = tenths / 10
        _, in_face, in_edge = size_for(board)
        assert in_face.depth is not None
        assert in_edge.depth is not None
        assert 0.55 <= in_edge.depth / (in_face.depth + in_edge.depth) <= 0.75, board
