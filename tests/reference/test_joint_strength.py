"""What screws and dowels hold. Rows E2, E5, E9, E10, E12-E14.

Sources: Wood Handbook, FPL-GTR-190, chapter 8 (form of the screw's formula and root diameter; constants from memory,
metric and inch agree); Podlena et al., BioResources 13(3), 2018,
and 15(1), 2020 (dowels in solid wood: 3.0 to 8.6 N/mm2, a single spiral 4.9); Uysal, Wood and Fiber Science (2.82 in
chipboard's edge, 7.47 in MDF's face); Effect of dowel diameter and penetration, MSc thesis, Michigan State University,
1959; Atar and Ozcifci, Materials & Design 29(2), 2008 (screwed corners: 78.7 to 181.7 N m); EN 320, specification of
an Asian fibreboard maker (edge of MDF 850 N); general-reference article on particleboard (edge 900 N).
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storyrod.model.job import BoardKind
from storyrod.soundness._joints import SCREW_IN_EDGE_N
from storyrod.trade.strength import (
    DOWEL_IN_BOARD,
    DOWEL_IN_WOOD,
    DOWEL_TENSILE_N_MM2,
    END_GRAIN,
    OVEN_DRY,
    SCREWED_CORNER_NM,
    dowel_withdrawal_n,
    screw_withdrawal_n,
)

LBF = 4.448222


def test_e2_a_screw_of_4_in_oak() -> None:
    """The inch form: 15,700 G2 D L pounds."""
    inch_form = 15_700 * 0.63**2 * (4 / 25.4) * (20 / 25.4) * LBF

    assert screw_withdrawal_n(0.63, 4, 20) == pytest.approx(3437.2, abs=0.5)
    assert screw_withdrawal_n(0.63, 4, 20) == pytest.approx(inch_form, abs=0.5)


def test_e5_end_grain() -> None:
    assert END_GRAIN == pytest.approx(0.75)


def test_gravity_is_that_of_the_dry_wood() -> None:
    """Red oak of gravity 0.63 weighs 705.6 kg/m3 at 12 % moisture (Wood Handbook, tables 4-3 and 4-6, from memory)."""
    assert 705.6 / 1000 * OVEN_DRY == pytest.approx(0.63, abs=1e-4)


def test_e9_no_hold_is_given_for_boards_without_a_source() -> None:
    held = {kind: hold for kind, (hold, _) in SCREW_IN_EDGE_N.items()}

    assert held == {BoardKind.CHIPBOARD: 900, BoardKind.FACED_CHIPBOARD: 900, BoardKind.MDF: 850}
    assert all(source for _, source in SCREW_IN_EDGE_N.values())


@pytest.mark.parametrize(
    ("tau", "diameter", "length", "n"), [(4.9, 8, 25, 3078.8), (2.82, 8, 25, 1771.9), (7.47, 8, 12, 2252.9)]
)
def test_e10_dowels(tau: float, diameter: float, length: float, n: float) -> None:
    assert dowel_withdrawal_n(tau, diameter, length, DOWEL_TENSILE_N_MM2) == pytest.approx(min(n, 3015.93), abs=0.05)


def test_the_glue_s_strength_is_that_of_the_tests() -> None:
    """Least, usual and most: 3.0, 4.9 and 8.6 in solid wood; 2.82 and 7.47 in board, its usual one borrowed."""
    assert DOWEL_IN_WOOD == (3.0, 4.9, 8.6)
    assert DOWEL_IN_BOARD == (2.82, 4.9, 7.47)
    assert DOWEL_TENSILE_N_MM2 == 60  # common practice, no source


@given(length=st.floats(5, 60), more=st.floats(0.1, 30), diameter=st.floats(5, 12))
def test_e12_a_longer_dowel_is_never_weaker_and_breaks_in_the_end(length: float, more: float, diameter: float) -> None:
    short, long = (dowel_withdrawal_n(4.9, diameter, n, DOWEL_TENSILE_N_MM2) for n in (length, length + more))
    torn = DOWEL_TENSILE_N_MM2 * math.pi * diameter**2 / 4

    assert short <= long <= torn * (1 + 1e-9)
    assert dowel_withdrawal_n(4.9, diameter, 1000, DOWEL_TENSILE_N_MM2) == pytest.approx(torn)


def test_e13_screwed_corners_are_those_of_the_tests() -> None:
    assert SCREWED_CORNER_NM == (78.7, 181.7)
    assert all(5 <= moment <= 200 for moment in SCREWED_CORNER_NM)
