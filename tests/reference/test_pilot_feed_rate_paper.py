"""Source: Influence of feed rate during pilot hole drilling on screw withdrawal in particleboard, Eur. J. Wood Prod.,
2023.

Where: its text (page not noted): doi 10.1007/s00107-023-01972-1: a pilot of 5 mm for a screw of 7. Clearance and
countersink: common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.reference.packaged import method, size_of


def test_carcass_screws() -> None:
    face, edge = size_of("carcass screws", 18).receiving[0], size_of("carcass screws", 18).entering[0]

    assert (face.diameter, face.countersink, face.through) == (7, 10, True)
    assert edge.diameter == 5
    assert edge.depth is not None
    assert edge.depth >= 50 - 18  # a screw of 50 through a board of 18
    assert method("carcass screws").size_for(12) is None


@pytest.mark.parametrize(("code", "length"), [("carcass screws", 50), ("plain screws", 50)])
@pytest.mark.parametrize("board", [15, 16, 18, 19])
def test_a_pilot_is_at_least_as_deep_as_the_screw_reaches(code: str, length: float, board: float) -> None:
    pilot = size_of(code, board).entering[0].depth

    assert pilot is not None
    assert pilot >= length - board
