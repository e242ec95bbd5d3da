"""How far a board may lie from its nominal thickness, and how it is measured.

Sources:
- EN 315, sanded plywood: +(0.2 + 0.03 t), -(0.4 + 0.03 t), as a Chinese standard of the same form and the size tables
  of two birch-plywood mills have it; so "18" may be 17.06 at the least. Within a panel 0.6, which is 0.3 either way.
- EN 312, chipboard: 0.3 either way, to +0.5 where it is faced; from technical sheets of European makers.
- EN 622-1, MDF: 0.2 to 19 mm (a mill's sheet), 0.3 above (from memory).
- EN 324-1: thickness is measured at eight places, 50 mm in from the edge, and the mean is taken.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from storyrod.adapters.files._boards import usual_spread
from storyrod.carcass import build
from storyrod.model.job import BoardKind
from tests.builders import boards, job, workshop


@pytest.mark.parametrize(
    ("kind", "thickness", "measured", "spread"),
    [
        (BoardKind.CHIPBOARD, 18, False, 0.3),
        (BoardKind.CHIPBOARD, 18, True, 0.3),
        (BoardKind.FACED_CHIPBOARD, 18, False, 0.5),
        (BoardKind.FACED_CHIPBOARD, 18, True, 0.3),
        (BoardKind.MDF, 9, False, 0.2),
        (BoardKind.MDF, 19, False, 0.2),
        (BoardKind.MDF, 22, False, 0.3),
        (BoardKind.PLYWOOD, 18, True, 0.3),
        (BoardKind.PLYWOOD, 12, True, 0.3),
    ],
)
def test_half_the_range_of_thickness(kind: BoardKind, thickness: float, measured: bool, spread: float) -> None:
    assert usual_spread(kind, thickness, measured=measured) == pytest.approx(spread)


@pytest.mark.parametrize(("nominal", "least"), [(4, 3.48), (9, 8.33), (12, 11.24), (18, 17.06), (24, 22.88)])
def test_plywood_may_be_as_thin_as_this(nominal: float, least: float) -> None:
    assert nominal - usual_spread(BoardKind.PLYWOOD, nominal, measured=False) == pytest.approx(least)


def test_a_maker_is_told_to_measure_as_the_standard_does() -> None:
    nobody_measured = tuple(replace(b, measured_given=False) for b in boards())
    built = build(job(boards=nobody_measured), workshop())
    told = [c for c in built.cautions if c.code == "board-not-measured"]

    assert told
    assert "eight places, 50 mm in" in told[0].do
    assert "mean" in told[0].do
