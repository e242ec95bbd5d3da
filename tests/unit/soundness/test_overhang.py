"""Overhangs of a worktop: drop, stress, pull at the screws and turning over, each sum worked by hand."""

from __future__ import annotations

import pytest

from storyrod.model.fixing import Screws
from storyrod.model.job import BoardKind
from storyrod.model.worktop import Overhang, Side
from storyrod.soundness._overhang import _holds
from tests.builders import board
from tests.unit.soundness.pieces import Found, found

BOARDS = """
[boards.mdf18]
kind = "mdf"
thickness = 18
measured = 18
density_kg_m3 = 750
stiffness_n_mm2 = 2200
[boards.oak]
name = "red oak"
kind = "solid wood"
thickness = 26
measured = 26
density_kg_m3 = 700
"""


def unit(worktop: str, more: str = "", boards: str = BOARDS) -> Found:
    """Examine a case 800 wide, 850 high, 500 deep, with a whole top."""
    text = f"""
[[cases]]
code = "A"
board = "mdf18"
width = 800
height = 850
depth = 500
worktop = {{ {worktop} }}
{more}
"""
    return found(text, boards)


def side(of: Found, name: Side) -> Overhang:
    return next(o for o in of.case.overhangs if o.side is name)


def test_an_overhang_in_front_by_hand() -> None:
    """MDF 18, 150 over the front: F 750 at a = 100, on 400 + 150 = 550; I = 550 x 18^3 / 12 = 267300.

    Drop 750 x 100^2 (450 - 100) / (6 x 2200 x 267300) = 0.744, allowed 2 x 150 / 240 = 1.25.
    Stress 6 x 750 x 100 / (550 x 18^2) = 2.525; a third of the 20 or 23 of such MDF may be used.
    Rows 50 and 450 behind the front: 75000 x 450 / (2 (50^2 + 450^2)) = 82.3 N.
    """
    one = side(unit("front = 150"), Side.FRONT)

    assert (one.reach, one.force_n, one.at) == (150, 750, 100)
    assert one.sag == pytest.approx(0.744, abs=0.001)
    assert one.limit == pytest.approx(1.25)
    assert one.stress_n_mm2 == pytest.approx(2.525, abs=0.001)
    assert one.usable_n_mm2 is not None
    assert 6 < one.usable_n_mm2 < 8
    assert one.screw_n == pytest.approx(82.3, abs=0.05)
    assert one.ratio is None
    assert not one.bends_too_much
    assert not one.pulls_out


def test_an_end_by_hand() -> None:
    """250 over the right side: a = 200, strip 530 (the worktop is 530 wide): I = 257580.

    Drop 750 x 200^2 (750 - 200) / (6 x 2200 x 257580) = 4.853, allowed 500 / 240 = 2.08: too much.
    Screws 93 to 707 of 764 clear, 75 from the sides, at 93, 400 and 707: 707, 400 and 93 from the right edge;
    150000 x 707 / (2 (707^2 + 400^2 + 93^2)) = 79.3 N.
    """
    of = unit("front = 30, right = 250")
    one = side(of, Side.RIGHT)

    assert one.sag == pytest.approx(4.853, abs=0.005)
    assert one.limit == pytest.approx(2.083, abs=0.001)
    assert one.screw_n == pytest.approx(79.3, abs=0.1)
    assert one.bends_too_much
    assert "worktop-bends" in of.codes
    assert "someone sitting on its edge" in of.told("worktop-bends")


def test_an_empty_case_turns_over_where_an_end_is_sat_on() -> None:
    """Its own weight at the least lever over 750 x 400: below 1 it turns over, and is told."""
    of = unit("front = 30, right = 450")
    one = side(of, Side.RIGHT)

    # Sides 2 x 850 x 500, top and base 2 x 764 x 500, worktop 1250 x 530, all 18 thick at 750: the middles are at 400
    # and the worktop's at 625. A few holes weigh 10 g.
    box, top = (850 + 764) * 2 * 500 * 18 * 750e-9, 1250 * 530 * 18 * 750e-9
    lever = 800 - (box * 400 + top * 625) / (box + top)
    assert one.ratio == pytest.approx((box + top) * 9.80665 * lever / (750 * 400), rel=2e-3)
    assert one.ratio is not None
    assert one.ratio < 1
    assert "tip-sideways" in of.codes


def test_what_nobody_can_sit_on_is_not_reckoned() -> None:
    assert unit("front = 50, left = 20").case.overhangs == ()


def test_solid_wood_bends_across_its_grain_in_front_and_its_screws_hold_by_the_handbook() -> None:
    """Red oak, 12500 along, a twentieth of it across: 625. G = 0.7 / 1.12 = 0.625; 108.25 G^2 x 4 x bite."""
    of = unit('front = 150, right = 150, board = "oak"')
    front, end = side(of, Side.FRONT), side(of, Side.RIGHT)

    assert front.sag is not None
    assert end.sag is not None
    # Strips 550 each (580 wide at least); the same a: only the stiffness differs.
    assert front.sag / end.sag == pytest.approx(20)
    bite = float(front.screw.rpartition(" x ")[2]) - 18 - 1
    assert front.holds_n == pytest.approx(108.25 * 0.625**2 * 4 * bite)


def test_the_front_edge_is_one_more_test_of_tipping() -> None:
    """750 N at 200 - 50 = 150 before the front: 112500 N mm; the case weighs by its middle, about 250 behind."""
    of = unit("front = 200")
    test = next(t for t in of.tipping.tests if t.code == "worktop")

    box, top = (850 + 764) * 2 * 500 * 18 * 750e-9, 800 * 700 * 18 * 750e-9
    steadying = (box * 250 + top * 150) * 9.80665
    assert test.ratio == pytest.approx(steadying / (750 * 150), rel=2e-3)
    assert test.most_n == pytest.approx(steadying / 150, rel=2e-3)
    assert test.counts
    assert "worktop" not in {t.code for t in unit("front = 40").tipping.tests}


def test_rails_and_worktop_share_the_load_by_their_stiffness() -> None:
    """Two rails of 100 and a worktop of 530, one board: 100 / 730 each; the worktop weighs 800 x 530 x 18 x 750e-9."""
    of = unit("front = 30", 'top = "rails"\nrail_width = 100')
    whole = 800 * 530 / 1e4 * of.whole.thresholds.top_kg_dm2 + 800 * 530 * 18 * 750e-9

    for name in ("top front rail", "top back rail"):
        assert of.sag(name).load_kg == pytest.approx(whole * 100 / 730)


@pytest.mark.parametrize(("bite", "is_known"), [(15.0, True), (14.9, False)])
def test_a_screw_holds_as_in_tests_only_where_it_goes_as_deep_as_they_do(bite: float, is_known: bool) -> None:
    """EN 320 drives them 15 deep, from memory."""
    screws = Screws(
        item="screw", count=1, diameter=4, length=18 + bite, seat=18, skin=3, pilot=3, pilot_depth=10, marked=True
    )
    holds, source = _holds(screws, board("mdf18", kind=BoardKind.MDF))

    assert (holds is not None) == is_known
    assert source.startswith("no less than in an edge" if is_known else "not known")


def test_an_end_that_keeps_its_case_standing_is_not_spoken_of() -> None:
    """A case turns over below 1: just above it nothing is said, and just below it the caution stands."""
    ratios = {}
    for over in range(60, 400, 10):
        of = unit(f"front = 30, right = {over}")
        ratio = side(of, Side.RIGHT).ratio
        assert ratio is not None
        ratios[ratio] = "tip-sideways" in of.codes
    near = {r: told for r, told in ratios.items() if 0.9 < r < 1.1}

    assert near
    assert ratios == {r: r < 1 for r in ratios}
