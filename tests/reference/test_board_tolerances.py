"""How far a board may lie from its nominal thickness, and how it is measured.

Sources:
- EN 315, sanded plywood: +(0.2 + 0.03 t), -(0.4 + 0.03 t), as a Chinese standard of the same form and the size tables
  of two birch-plywood mills have it; so "18" may be 17.06 to 18.74 (rows F1-F4). Within a panel 0.6, 0.3 either
  way.
- EN 312, chipboard: 0.3 either way, to +0.5 where it is faced; from technical sheets of European makers.
- EN 622-1, MDF: 0.2 to 19 mm (a mill's sheet), 0.3 above (from memory).
- EN 324-1: thickness is measured at eight places, 50 mm in from the edge, and the mean is taken.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from storyrod.carcass import build
from storyrod.model.job import BoardKind
from storyrod.trade.boards import thickness_limits, usual_spread
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


@pytest.mark.parametrize(
    ("kind", "thickness", "limits"),
    [
        (BoardKind.BLOCKBOARD, 18, (0.94, 0.74)),
        (BoardKind.CHIPBOARD, 18, (0.3, 0.3)),
        (BoardKind.FACED_CHIPBOARD, 18, (0.3, 0.5)),
        (BoardKind.MDF, 19, (0.2, 0.2)),
        (BoardKind.MDF, 19.5, (0.3, 0.3)),
        (BoardKind.MDF, 22, (0.3, 0.3)),
        (BoardKind.HARDBOARD, 3, (0.3, 0.3)),
    ],
)
def test_limits_of_other_boards(kind: BoardKind, thickness: float, limits: tuple[float, float]) -> None:
    assert thickness_limits(kind, thickness) == limits


def test_f3_and_f4_an_unmeasured_18_and_the_width_between_two_of_them() -> None:
    """18 is 17.06 to 18.74: both sides thick take 1.48 from the width between them, both thin give it 1.88."""
    nobody_measured = tuple(replace(b, kind=BoardKind.PLYWOOD, measured_given=False) for b in boards())
    told = [c for c in build(job(boards=nobody_measured), workshop()).cautions if c.code == "board-not-measured"]

    assert "17.06 mm to 18.74 mm" in told[0].text
    assert "up to 1.48 mm less or 1.88 mm more" in told[0].text


def test_a_maker_is_told_to_measure_as_the_standard_does() -> None:
    nobody_measured = tuple(replace(b, measured_given=False) for b in boards())
    built = build(job(boards=nobody_measured), workshop())
    told = [c for c in built.cautions if c.code == "board-not-measured"]

    assert told
    assert "eight places, 50 mm in" in told[0].do
    assert "mean" in told[0].do
