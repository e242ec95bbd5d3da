"""Source: EN 315, tolerances of plywood.

Where: sanded: +(0.2 + 0.03 t), -(0.4 + 0.03 t), as a Chinese standard of the same form and the size tables of two
birch-plywood mills have it; within a panel 0.6. Rows F1 to F4: so "18" may be 17.06 to 18.74.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from storyrod.carcass import build
from storyrod.model.job import BoardKind
from storyrod.trade.boards import thickness_limits, usual_spread
from tests.builders import boards, job, workshop


@pytest.mark.parametrize("thickness", [12, 18])
def test_within_a_panel_of_plywood_the_thickness_varies_by_0_6(thickness: float) -> None:
    assert usual_spread(BoardKind.PLYWOOD, thickness, measured=True) == pytest.approx(0.3)


@pytest.mark.parametrize(
    ("nominal", "under", "over"),
    [
        (4, 0.52, 0.32),
        (6.5, 0.595, 0.395),
        (9, 0.67, 0.47),
        (12, 0.76, 0.56),
        (15, 0.85, 0.65),
        (18, 0.94, 0.74),
        (21, 1.03, 0.83),
        (24, 1.12, 0.92),
    ],
)
def test_f1_plywood_may_be_thinner_by_more_than_thicker(nominal: float, under: float, over: float) -> None:
    assert thickness_limits(BoardKind.PLYWOOD, nominal) == pytest.approx((under, over))
    assert usual_spread(BoardKind.PLYWOOD, nominal, measured=False) == pytest.approx(under)


@pytest.mark.parametrize(
    ("nominal", "under", "over"), [(12, 0.7, 0.5), (15, 0.8, 0.6), (18, 0.9, 0.7), (21, 1.0, 0.8), (24, 1.1, 0.9)]
)
def test_f2_the_mills_rounded_tables_agree(nominal: float, under: float, over: float) -> None:
    assert thickness_limits(BoardKind.PLYWOOD, nominal) == pytest.approx((under, over), abs=0.0601)


def test_f3_and_f4_an_unmeasured_18_and_the_width_between_two_of_them() -> None:
    """18 is 17.06 to 18.74: both sides thick take 1.48 from the width between them, both thin give it 1.88."""
    nobody_measured = tuple(replace(b, kind=BoardKind.PLYWOOD, measured_given=False) for b in boards())
    told = [c for c in build(job(boards=nobody_measured), workshop()).cautions if c.code == "board-not-measured"]

    assert "17.06 mm to 18.74 mm" in told[0].text
    assert "up to 1.48 mm less or 1.88 mm more" in told[0].text
