"""Source: geometry of the circle, worked by hand.

Where: no book: a disc of radius R plunged by p leaves a slot of 2 sqrt(2 R p - p^2); R 50, p 8 -> 54.26, 10 -> 60.00,
12.3 -> 65.69. These exceed the lengths of biscuits no. 0, 10 and 20 (47, 53, 56; from memory) by 7.3, 7.0 and 9.7. Rows
J9 and K5.
"""

from __future__ import annotations

import pytest

from storyrod.adapters.files.methods import packaged_methods
from storyrod.joinery._bores import reach_of
from storyrod.measure.space import PanelAxis
from storyrod.model.feature import SegmentPocket
from storyrod.model.panel import Surface

CHORDS = [(8.0, 54.26), (10.0, 60.00), (12.3, 65.69)]


@pytest.mark.parametrize(("plunge", "chord"), CHORDS)
def test_the_chord(plunge: float, chord: float) -> None:
    pocket = SegmentPocket(disc=100, depth=plunge, width=4, run=PanelAxis.V)

    assert pocket.chord == pytest.approx(chord, abs=0.005)
    low, high = reach_of(pocket, Surface.FACE)
    assert (high[1] - low[1], high[0] - low[0], high[2] - low[2]) == pytest.approx((chord, 4, plunge), abs=0.005)


@pytest.mark.parametrize(("board", "plunge", "spare"), [(12, 8.0, 7.3), (16, 10.0, 7.0), (18, 12.3, 9.7)])
def test_the_packaged_biscuits_have_this_much_room_along_the_joint(board: float, plunge: float, spare: float) -> None:
    size = next(m for m in packaged_methods() if m.code == "biscuits").size_for(board)
    assert size is not None
    cut = size.receiving[0]

    assert cut.disc == 100.0
    assert cut.width == 4.0
    assert cut.depth == plunge
    biscuit = {8.0: 47.0, 10.0: 53.0, 12.3: 56.0}[plunge]
    pocket = SegmentPocket(disc=cut.disc, depth=cut.depth, width=cut.width, run=PanelAxis.V)
    assert pocket.chord - biscuit == pytest.approx(spare, abs=0.05)
