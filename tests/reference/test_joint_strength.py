"""What screws, nails and dowels hold. Rows E1-E14.

Sources: Wood Handbook, FPL-GTR-190, chapter 8 (forms; constants from memory, metric and inch agree); A
civil-engineering formula handbook, ch. 6; Wood screws, withdrawal force, engineering reference site; Podlena et al.,
BioResources 13(3), 2018, and 15(1), 2020; Uysal, Wood and Fiber Science; Effect of dowel diameter and penetration,
MSc thesis, Michigan State University, 1959; Atar and Ozcifci, Materials & Design 29(2), 2008. The formula for screws
in chipboard is from memory.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storyrod.model.job import BoardKind
from storyrod.soundness._joints import SCREW_IN_EDGE_N
from storyrod.soundness._strength import (
    DOWEL_TENSILE_N_MM2,
    END_GRAIN,
    SCREWED_CORNER_NM,
    dowel_side_grain_lbf,
    dowel_withdrawal_n,
    lag_screw_withdrawal_n,
    moment_is_plausible,
    nail_withdrawal_n,
    particleboard_screw_lbf,
    screw_allowable_lbf_per_inch,
    screw_withdrawal_n,
)

LBF = 4.448222


def test_e1_allowable_by_the_inch() -> None:
    """Printed: 109."""
    assert screw_allowable_lbf_per_inch(0.45, 0.190) == pytest.approx(109.65, abs=0.01)


def test_e2_a_screw_of_4_in_oak() -> None:
    inch_form = 15_700 * 0.63**2 * (4 / 25.4) * (20 / 25.4) * LBF

    assert screw_withdrawal_n(0.63, 4, 20) == pytest.approx(3437.2, abs=0.5)
    assert inch_form == pytest.approx(3437.1, abs=0.5)


def test_e3_ultimate_over_allowable() -> None:
    ultimate = screw_withdrawal_n(0.45, 0.190 * 25.4, 25.4) / LBF

    assert ultimate / screw_allowable_lbf_per_inch(0.45, 0.190) == pytest.approx(5.509, abs=0.002)


def test_e4_a_nail_in_oak() -> None:
    assert nail_withdrawal_n(0.63, 3, 30) == pytest.approx(1534.4, abs=0.1)


def test_lag_screw_in_both_units() -> None:
    inch_form = 8_100 * 0.5**1.5 * (10 / 25.4) ** 0.75 * (50 / 25.4) * LBF

    assert lag_screw_withdrawal_n(0.5, 10, 50) == pytest.approx(inch_form, rel=2e-3)


def test_e5_end_grain() -> None:
    assert END_GRAIN == pytest.approx(0.75)


def test_e7_a_screw_in_chipboard_as_a_regression_value() -> None:
    assert particleboard_screw_lbf(0.164, 0.5, 0.65, face=True) == pytest.approx(165.3, abs=0.1)


@given(diameter=st.floats(0.1, 0.25), length=st.floats(0.4, 1.5), gravity=st.floats(0.5, 0.8))
def test_e8_an_edge_holds_less_than_a_face(diameter: float, length: float, gravity: float) -> None:
    edge, face = (particleboard_screw_lbf(diameter, length, gravity, face=f) for f in (False, True))

    assert edge < face


def test_e9_no_hold_is_given_for_boards_without_a_source() -> None:
    assert BoardKind.PLYWOOD not in SCREW_IN_EDGE_N
    assert BoardKind.OTHER not in SCREW_IN_EDGE_N
    assert all(source for _, source in SCREW_IN_EDGE_N.values())


@pytest.mark.parametrize(
    ("tau", "diameter", "length", "n"), [(4.9, 8, 25, 3078.8), (2.82, 8, 25, 1771.9), (7.47, 8, 12, 2252.9)]
)
def test_e10_dowels(tau: float, diameter: float, length: float, n: float) -> None:
    assert dowel_withdrawal_n(tau, diameter, length) == pytest.approx(n, abs=0.05)


def test_e11_dowel_in_side_grain_by_the_research_formula() -> None:
    assert dowel_side_grain_lbf(0.375, 1.0, 1780, 2330) == pytest.approx(1257.6, abs=0.1)


@given(length=st.floats(5, 60), more=st.floats(0.1, 30), diameter=st.floats(5, 12))
def test_e12_a_longer_dowel_is_never_weaker_and_breaks_in_the_end(length: float, more: float, diameter: float) -> None:
    short, long = (dowel_withdrawal_n(4.9, diameter, n, DOWEL_TENSILE_N_MM2) for n in (length, length + more))

    assert long >= short
    assert long <= DOWEL_TENSILE_N_MM2 * 3.14160 * diameter**2 / 4


def test_e13_a_corner_beyond_what_tests_gave_is_flagged() -> None:
    assert all(moment_is_plausible(m) for m in SCREWED_CORNER_NM)
    assert not moment_is_plausible(4.9)
    assert not moment_is_plausible(201)


def test_e14_a_glued_dowel_holds_no_less_than_the_same_dowel_dry() -> None:
    """Glue never lowers a figure: of a dry dowel no pull-out is given at all."""
    assert dowel_withdrawal_n(2.82, 8, 20) > 0
