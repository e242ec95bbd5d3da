"""Source: Keyhole slots, a magazine's page on routing.

Where: its text (page not noted): at least 5 mm (3/16 in) of shoulder above the head; how far the first entry stands
in: common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.reference.packaged import method, size_of


@pytest.mark.parametrize("board", [15, 16, 18, 19, 22, 25])
def test_a_keyhole_keeps_its_shoulder_and_its_first_entry_stays_inside(board: float) -> None:
    keyhole = size_of("one-part keyhole connector", board).receiving[0]
    rules = method("one-part keyhole connector").rules

    assert keyhole.lip is not None
    assert keyhole.lip >= 5.0
    assert rules is not None
    assert rules.end_min >= (keyhole.travel or 0) + (keyhole.diameter or 0) / 2 + 8  # common practice, from memory
