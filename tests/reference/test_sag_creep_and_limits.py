"""Creep, limits and loads in use.

Sources: EN 1995-1-1 2.2.3 and table 3.2 (solid timber as three open-source programs have it, the rest from memory);
How to avoid sagging shelving, maker's article, 2019 (1/32 in and 0.02 in per foot: L/384 and L/600); comparison tables
of Indian standards (span / 200; so the shelf of C16 passes one limit and fails two); Shelving spans for bookcases, tip
page of a woodworking magazine (20 lb a foot). Rows C13-C16.
"""

from __future__ import annotations

import pytest

from storyrod.model.job import BoardKind, Climate
from storyrod.model.thresholds import GRAVITY, Thresholds
from storyrod.soundness._loads import BOOKS_KG_M
from storyrod.soundness._section import plank
from storyrod.soundness._span import sag
from storyrod.trade.creep import creep_factor, long_run


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


def test_c16_a_shelf_of_books_sags_by_a_265th_of_its_span() -> None:
    """19 mm chipboard P2 (E 1600), 250 deep, span 610, 291.9 N/m: 2.302 mm, which is L/265."""
    assert BOOKS_KG_M * GRAVITY == pytest.approx(291.9, abs=0.05)
    down = sag(0.2919 * 610, 610, plank(250, 19, 1600).rigidity_n_mm2)

    assert down == pytest.approx(2.302, abs=0.005)
    assert 610 / down == pytest.approx(265, abs=0.5)
