"""Source: a magazine's preview of tenons.

Where: its text (page not noted): a tenon is one third of the stock; how long and how deep: common practice, no
source.
"""

from __future__ import annotations

import pytest

from tests.reference.packaged import size_of


@pytest.mark.parametrize(
    ("board", "thick", "low", "high"),
    [
        (12, (4,), 12, 20),
        (15, (5,), 15, 20),
        (16, (5,), 18, 20),
        (18, (5, 6), 18, 28),
        (19, (6,), 20, 28),
        (22, (8,), 25, 25),
        (25, (8,), 25, 30),
    ],
)
def test_loose_tenons(board: float, thick: tuple[int, ...], low: float, high: float) -> None:
    face, edge = size_of("loose tenons", board).receiving[0], size_of("loose tenons", board).entering[0]

    assert face.width in thick
    assert edge.depth is not None
    assert low <= edge.depth <= high
    assert face.width is not None
    assert face.width / board == pytest.approx(1 / 3, abs=0.06)
