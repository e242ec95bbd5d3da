"""Source: EN 320, screws drawn out of fibreboards, in the technical specification of an Asian fibreboard maker, 2020.

Where: its table of properties: dense MDF of 15 mm and up: edge 850 N. Row E9.
"""

from __future__ import annotations

from storyrod.model.job import BoardKind
from storyrod.soundness._joints import SCREW_IN_EDGE_N


def test_e9_the_edge_of_mdf_and_no_hold_for_boards_without_a_source() -> None:
    hold, source = SCREW_IN_EDGE_N[BoardKind.MDF]

    assert hold == 850
    assert "EN 320" in source
    assert set(SCREW_IN_EDGE_N) == {BoardKind.CHIPBOARD, BoardKind.FACED_CHIPBOARD, BoardKind.MDF}
