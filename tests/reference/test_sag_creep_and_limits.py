"""Creep, limits and loads in use.

Sources: EN 1995-1-1 2.2.3 and table 3.2 (solid timber as three open-source programs have it, the rest from memory);
How to avoid sagging shelving, maker's article, 2019 (1/32 in and 0.02 in per foot); comparison tables of Indian
standards (span / 200); Shelving spans for bookcases, tip page of a woodworking magazine (20 lb a foot); trade span
tables (greatest spans at L/240 with half again for creep). Rows C13-C17.
"""

from __future__ import annotations

import pytest

from storyrod.faults import JobError
from storyrod.model.job import BoardKind, Climate
from storyrod.model.soundness import GRAVITY
from storyrod.soundness._creep import STORED_GOODS, creep_factor, in_the_long_run
from storyrod.soundness._loads import BOOKS_KG_M
from storyrod.soundness._section import plank
from storyrod.soundness._span import greatest_span, sag


def test_c13_lasting_load_on_mdf() -> None:
    assert in_the_long_run(4.8917, BoardKind.MDF, Climate.DRY) == pytest.approx(15.898, abs=5e-4)


def test_c14_stored_goods_come_and_go() -> None:
    assert in_the_long_run(4.8917, BoardKind.MDF, Climate.DRY, STORED_GOODS) == pytest.approx(13.697, abs=5e-4)


@pytest.mark.parametrize("kind", [BoardKind.MDF, BoardKind.CHIPBOARD, BoardKind.HARDBOARD])
def test_c15_a_climate_that_no_factor_is_given_for_is_told(kind: BoardKind) -> None:
    with pytest.raises(JobError, match="not for damp places") as caught:
        in_the_long_run(1.0, kind, Climate.WET)

    assert caught.value.faults[0].field == "use.climate"
    assert '"dry"' in caught.value.faults[0].allowed


@pytest.mark.parametrize(
    ("kind", "climate", "factor"),
    [
        (BoardKind.SOLID, Climate.DRY, 0.60),
        (BoardKind.SOLID, Climate.HUMID, 0.80),
        (BoardKind.SOLID, Climate.WET, 2.00),
        (BoardKind.PLYWOOD, Climate.DRY, 0.80),
        (BoardKind.CHIPBOARD, Climate.DRY, 2.25),
        (BoardKind.MDF, Climate.DRY, 2.25),
        (BoardKind.MDF, Climate.HUMID, None),
    ],
)
def test_creep_factors(kind: BoardKind, climate: Climate, factor: float | None) -> None:
    assert creep_factor(kind, climate) == factor


def test_c16_a_shelf_of_books_passes_one_limit_and_fails_two() -> None:
    """19 mm chipboard P2 (E 1600), 250 deep, span 610, 291.9 N/m: 2.302 mm, which is L/265."""
    assert BOOKS_KG_M * GRAVITY == pytest.approx(291.9, abs=0.05)
    down = sag(0.2919 * 610, 610, plank(250, 19, 1600).rigidity_n_mm2)

    assert down == pytest.approx(2.302, abs=0.005)
    assert 610 / down == pytest.approx(265, abs=0.5)
    assert [down <= 610 / share for share in (200, 384, 600)] == [True, False, False]


def test_c17_the_eyes_limits_as_shares_of_the_span() -> None:
    """One inch is 12 in over: 0.02 in a foot is 1/600 exactly, 1/32 in a foot 1/384."""
    assert 12 / 0.02 == pytest.approx(600)
    assert 12 * 32 == 384


@pytest.mark.parametrize(
    ("load_kg_m", "board", "e", "spans"),
    [
        (10, "chipboard", 2000, (570, 720, 760, 860, 910, 1050, 1190)),
        (10, "MDF", 2500, (620, 770, 820, 930, 980, 1130, 1290)),
        (10, "plywood", 6000, (830, 1030, 1100, 1240, 1310, 1510, 1720)),
        (20, "chipboard", 2000, (450, 570, 610, 680, 720, 830, 950)),
        (20, "MDF", 2500, (490, 610, 650, 730, 780, 900, 1020)),
        (20, "plywood", 6000, (660, 820, 870, 980, 1040, 1200, 1370)),
        (30, "chipboard", 2000, (400, 500, 530, 600, 630, 730, 830)),
        (30, "MDF", 2500, (430, 530, 570, 640, 680, 780, 890)),
        (30, "plywood", 6000, (570, 720, 760, 860, 910, 1050, 1190)),
    ],
)
def test_greatest_spans_of_the_trades_table(load_kg_m: float, board: str, e: float, spans: tuple[int, ...]) -> None:
    """300 deep, sag with half again for creep no more than L/240; the table is rounded to 10 mm."""
    for thickness, expected in zip((12, 15, 16, 18, 19, 22, 25), spans, strict=True):
        w = load_kg_m * GRAVITY / 1000 * 1.5
        assert greatest_span(w, plank(300, thickness, e).rigidity_n_mm2, 240) == pytest.approx(expected, abs=5.1), board
