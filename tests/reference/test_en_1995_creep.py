"""Source: EN 1995-1-1, design of timber structures.

Where: 2.2.3 and table 3.2, creep: solid timber as three open-source programs have it, the rest from memory. Rows C13 to
C15.
"""

from __future__ import annotations

import pytest

from storyrod.model.job import BoardKind, Climate
from storyrod.model.thresholds import Thresholds
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
