"""Source: How far apart to space biscuits, an article for makers.

Where: its text (page not noted): biscuits 16, 19 and 24 wide and 4 thick.
"""

from __future__ import annotations

from storyrod.adapters.files.methods import packaged_methods


def test_both_slots_are_alike_and_together_as_deep_as_the_biscuit_is_wide_or_deeper() -> None:
    """Or the biscuit would hold the joint open; half a millimetre to each side is glue."""
    method = next(m for m in packaged_methods() if m.code == "biscuits")
    for size in method.sizes:
        receiving, entering = size.receiving[0], size.entering[0]
        width = {"biscuit no. 0": 16, "biscuit no. 10": 19, "biscuit no. 20": 24}[size.consumes[0].item]

        assert (receiving.disc, receiving.width, receiving.depth) == (entering.disc, entering.width, entering.depth)
        assert 0 <= 2 * (receiving.depth or 0.0) - width <= 1.0
