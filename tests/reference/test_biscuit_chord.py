"""The pocket that a disc leaves, and the travel of a round-ended slot.

Geometry of the circle, worked out by hand: a disc of radius R plunged by p leaves a slot of 2 sqrt(2 R p - p^2) on the
surface; R 50, p 8 -> 54.26, 10 -> 60.00, 12.3 -> 65.69 (rows J9, K5). These exceed the lengths of
biscuits no. 0, 10 and 20 (47, 53, 56; from memory) by 7.3, 7.0 and 9.7.
Biscuits 16, 19 and 24 wide and 4 thick: "How far apart to space biscuits", an article for makers.
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


def test_both_slots_are_alike_and_together_as_deep_as_the_biscuit_is_wide_or_deeper() -> None:
    """Or the biscuit would hold the joint open; half a millimetre to each side is glue."""
    method = next(m for m in packaged_methods() if m.code == "biscuits")
    for size in method.sizes:
        receiving, entering = size.receiving[0], size.entering[0]
        width = {"biscuit no. 0": 16, "biscuit no. 10": 19, "biscuit no. 20": 24}[size.consumes[0].item]

        assert (receiving.disc, receiving.width, receiving.depth) == (entering.disc, entering.width, entering.depth)
        assert 0 <= 2 * (receiving.depth or 0.0) - width <= 1.0
