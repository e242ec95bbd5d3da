"""Source: EN 1995-1-1, design of timber structures.

Where: 2.2.3 and table 3.2, creep: solid timber as three open-source programs have it, the rest from memory. Rows C13 to
C15. Section 8, screws pulled, loaded across, and across under a thin plate, with 2.4.3 and tables 2.3 and 3.1: from
memory, worked by hand.
"""

from __future__ import annotations

import pytest

from storyrod.model.job import BoardKind, Climate
from storyrod.model.thresholds import Thresholds
from storyrod.trade.creep import creep_factor, long_run
from storyrod.trade.hanging import across_n, allowed_n, used, withdrawal_n
from storyrod.trade.screw_shear import effective_diameter, embedment_n_mm2, screw_shear_n, usable_n
from storyrod.trade.strength import screw_withdrawal_n


def test_c13_lasting_load_on_mdf() -> None:
    factor = long_run(BoardKind.MDF, Climate.DRY, 1.0)

    assert factor is not None
    assert 4.8917 * factor == pytest.approx(15.898, abs=5e-4)


def test_c14_stored_goods_come_and_go() -> None:
    factor = long_run(BoardKind.MDF, Climate.DRY, Thresholds().lasting_share)

    assert factor is not None
    assert 4.8917 * factor == pytest.approx(13.697, abs=5e-4)


def test_c15_a_climate_that_no_factor_is_given_for_gives_no_figure() -> None:
    dry_only = {BoardKind.CHIPBOARD, BoardKind.FACED_CHIPBOARD, BoardKind.MDF, BoardKind.HARDBOARD, BoardKind.OTHER}

    assert {k for k in BoardKind if long_run(k, Climate.HUMID, 1.0) is None} == dry_only
    assert {k for k in BoardKind if long_run(k, Climate.WET, 1.0) is None} == dry_only | {BoardKind.BLOCKBOARD}


@pytest.mark.parametrize(
    ("kind", "climate", "factor"),
    [
        (BoardKind.SOLID, Climate.DRY, 0.60),
        (BoardKind.SOLID, Climate.HUMID, 0.80),
        (BoardKind.SOLID, Climate.WET, 2.00),
        (BoardKind.PLYWOOD, Climate.DRY, 0.80),
        (BoardKind.PLYWOOD, Climate.HUMID, 1.00),
        (BoardKind.PLYWOOD, Climate.WET, 2.50),
        (BoardKind.BLOCKBOARD, Climate.DRY, 0.80),
        (BoardKind.BLOCKBOARD, Climate.HUMID, 1.00),
        (BoardKind.CHIPBOARD, Climate.DRY, 2.25),
        (BoardKind.FACED_CHIPBOARD, Climate.DRY, 2.25),
        (BoardKind.MDF, Climate.DRY, 2.25),
        (BoardKind.HARDBOARD, Climate.DRY, 2.25),
        (BoardKind.OTHER, Climate.DRY, 2.25),
        (BoardKind.MDF, Climate.HUMID, None),
    ],
)
def test_creep_factors(kind: BoardKind, climate: Climate, factor: float | None) -> None:
    assert creep_factor(kind, climate) == factor


def test_a_screw_of_6_mm_pulled_out_of_50_mm_of_c16() -> None:
    """0.52 x 6^-0.5 = 0.21229, x 50^-0.1 (0.67624) x 310^0.8 (98.413) = 14.128; x 6 x 50 x 6/8 = 3179 N."""
    assert withdrawal_n(6.0, 50.0) == pytest.approx(3179, abs=1.5)
    assert withdrawal_n(8.0, 50.0, 350.0) == pytest.approx(0.52 * 8**-0.5 * 0.67624 * 108.456 * 400, rel=1e-4)


def test_what_may_be_asked_for_is_the_design_value_over_the_loads_factor() -> None:
    """0.6 / 1.3 / 1.35 = 0.34188."""
    assert allowed_n(1000.0) == pytest.approx(341.88, abs=0.01)


def test_a_screw_across_a_lining_has_a_hinge_in_either_part() -> None:
    """6 mm: d = 1.1 x 4 = 4.4; f d = 0.082 x 310 x 4.4^0.7 = 71.72; M = 120 x 4.4^2.6 = 5651.

    Across 12.5 mm: 35.86 x (sqrt(156.25 + 8 x 5651 / 71.72) - 12.5) = 557.5 N. Each hinge then stands F / (f d) = 7.77
    deep, and 2 M = F (12.5 + 7.77) = 11 302.
    """
    across = across_n(6.0, 12.5)

    assert across == pytest.approx(557.5, abs=1.0)
    assert across * (12.5 + across / 71.72) == pytest.approx(2 * 5651, rel=1e-3)


def test_without_a_lining_it_is_the_mode_of_two_hinges_of_the_code() -> None:
    """8.2.2 (f): sqrt(2 beta / (1 + beta)) sqrt(2 M f d), with beta = 1."""
    assert across_n(6.0, 0.0) == pytest.approx((2 * 5651 * 71.72) ** 0.5, rel=1e-3)


def test_shares_are_squared_and_added() -> None:
    assert used(300, 120, 600, 240) == pytest.approx(0.5)


def test_the_handbook_of_wood_allows_a_like_pull() -> None:
    """A fifth of the mean of 108.25 G2 D L, with G 0.40 of such softwood, is within a quarter of what is taken here."""
    for diameter in (6.0, 8.0, 10.0):
        bite = 7 * diameter
        by_handbook = screw_withdrawal_n(0.40, diameter, bite) / 5
        assert allowed_n(withdrawal_n(diameter, bite)) == pytest.approx(by_handbook, rel=0.25)


def test_a_screw_of_4_that_goes_14_deep_into_chipboard_holds_676_n() -> None:
    """With d = 1.1 x 2/3 x 4 = 2.933; f = 65 x 2.933^-0.7 x 19.1^0.1 = 41.1; 0.4 x 41.1 x 14 x 2.933 = 676 N.

    Its own yield: M = 0.3 x 600 x 2.933^2.6 = 2953 N mm; 1.15 sqrt(2 x 2953 x 41.1 x 2.933) = 971 N, which is more.
    """
    d = effective_diameter(4.0, None)
    f = embedment_n_mm2(BoardKind.FACED_CHIPBOARD, d, 19.1, 650.0)

    assert d == pytest.approx(2.9333, abs=1e-4)
    assert f == pytest.approx(41.15, abs=0.05)
    assert screw_shear_n(41.15, d, 14.0) == pytest.approx(676, abs=1)
    assert screw_shear_n(41.15, d, 50.0) == pytest.approx(971, abs=2)


@pytest.mark.parametrize(
    ("kind", "embedment"),
    [
        (BoardKind.MDF, 40.91),  # 65 x 2.933^-0.7 x 18^0.1, chipboard's
        (BoardKind.PLYWOOD, 46.04),  # 0.11 x 0.85 x 680 x 2.933^-0.3
        (BoardKind.BLOCKBOARD, 46.04),
        (BoardKind.SOLID, 34.32),
        (BoardKind.HARDBOARD, 123.0),  # 30 x 2.933^-0.3 x 18^0.6
        (BoardKind.OTHER, None),
    ],
)
def test_how_hard_a_board_bears_a_screw_at_the_side(kind: BoardKind, embedment: float | None) -> None:
    found = embedment_n_mm2(kind, 2.9333, 18.0, 680.0)

    assert found == (None if embedment is None else pytest.approx(embedment, rel=0.002))


@pytest.mark.parametrize(
    ("kind", "share"),
    [
        (BoardKind.CHIPBOARD, 0.2308),  # 0.45 / 1.3 / 1.5
        (BoardKind.FACED_CHIPBOARD, 0.2308),
        (BoardKind.MDF, 0.2051),
        (BoardKind.HARDBOARD, 0.2308),
        (BoardKind.PLYWOOD, 0.3889),
        (BoardKind.BLOCKBOARD, 0.3590),
        (BoardKind.SOLID, 0.3590),
    ],
)
def test_what_a_screw_may_carry_for_good(kind: BoardKind, share: float) -> None:
    assert usable_n(kind, 1000.0) == pytest.approx(1000 * share, abs=0.1)


def test_a_core_that_was_measured_is_reckoned_with() -> None:
    assert effective_diameter(4.0, 2.4) == pytest.approx(2.64)
