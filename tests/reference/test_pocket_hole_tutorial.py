"""Source: a tutorial on pocket-hole cabinets.

Where: its text (page not noted): pockets at 15 degrees; the 3 mm of board under their ends are the job's own skin.
"""

from __future__ import annotations

import math

import pytest

from storyrod.model.method import CutKind
from tests.reference.packaged import size_of


@pytest.mark.parametrize("board", [12, 15, 16, 18, 19, 22])
def test_pockets_are_bored_at_15_degrees_and_leave_skin(board: float) -> None:
    pocket = size_of("pocket screws", board).entering[0]

    assert (pocket.kind, pocket.angle_deg) == (CutKind.ANGLED_POCKET, 15)
    slope = math.radians(15)
    deepest = (pocket.length or 0) * math.sin(slope) + (pocket.diameter or 0) / 2 * math.cos(slope)
    assert board - deepest >= 3.0
