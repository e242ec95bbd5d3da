"""Source: general-reference article on particleboard properties.

Where: its list of properties, US grade not named: edge screw 900 N. Row E9.
"""

from __future__ import annotations

from storyrod.model.job import BoardKind
from storyrod.soundness._joints import SCREW_IN_EDGE_N


def test_e9_the_edge_of_chipboard() -> None:
    for kind in (BoardKind.CHIPBOARD, BoardKind.FACED_CHIPBOARD):
        hold, source = SCREW_IN_EDGE_N[kind]
        assert hold == 900
        assert "general-reference article" in source
