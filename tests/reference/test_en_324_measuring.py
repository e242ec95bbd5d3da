"""Source: EN 324-1:1993, wood-based panels: measuring of thickness, width and length.

Where: summary of an engineered-wood trade association: eight places, 50 mm in from the edge, and the mean is taken.
"""

from __future__ import annotations

from dataclasses import replace

from storyrod.carcass import build
from tests.builders import boards, job, workshop


def test_a_maker_is_told_to_measure_as_the_standard_does() -> None:
    nobody_measured = tuple(replace(b, measured_given=False) for b in boards())
    built = build(job(boards=nobody_measured), workshop())
    told = [c for c in built.cautions if c.code == "board-not-measured"]

    assert told
    assert "eight places, 50 mm in" in told[0].do
    assert "mean" in told[0].do
