"""A study drawn: the curve with its steps, the map of what is best where, and the numbers beside them."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest

from storyrod.adapters.study._pictures import _drawn, curve_figure, front_figure, map_figure, write_pictures
from storyrod.model.study import Column, Kind, Row
from storyrod.telling.study_views import BEST_OF_ALL, MOST_LINES, curve_of, map_of
from tests.unit.study.shared import STUDY, variants_in

COLUMNS = (
    Column(name="cases[0].width", kind=Kind.NUMBER),
    Column(name="cases[0].height", kind=Kind.NUMBER),
    Column(name="methods.corner", kind=Kind.TEXT),
    Column(name="price", kind=Kind.MONEY),
    Column(name="minutes", kind=Kind.NUMBER),
    Column(name="sheets", kind=Kind.COUNT),
    Column(name="not kept", kind=Kind.TEXT),
    Column(name="fault", kind=Kind.TEXT),
)
NAMES = ("width", "height", "corner")


def price(width: int, height: int, method: str) -> int:
    return width * 10 + (height * 8 if method == "dowels" else 4000 + height) + (3000 if width >= 500 else 0)


def row(number: int, width: int, height: int, method: str) -> Row:
    cents = price(width, height, method)
    cells = (width, height, method, cents, cents / 100, 2 if width >= 500 else 1, "", "")
    return Row(number=number, cells=cells, rank=float(cents))


ROWS = [
    row(n, w, h, m)
    for n, (w, h, m) in enumerate(
        (w, h, m) for w in (400, 450, 500, 550) for h in (400, 600, 800) for m in ("dowels", "screws")
    )
]


def test_a_curve_has_a_line_for_each_option_and_tells_where_other_sheets_are_bought() -> None:
    rows = [r for r in ROWS if r.cells[1] == 400]
    curve = curve_of(COLUMNS, rows, NAMES)

    assert curve is not None
    assert curve.across == "width"
    assert [label for label, _ in curve.lines] == ["height 400, corner dowels", "height 400, corner screws"]
    assert [p.at for p in curve.lines[0][1]] == [400, 450, 500, 550]
    assert [p.is_step for p in curve.lines[0][1]] == [False, False, True, False]
    assert curve.lines[1][1][2].figure == price(500, 400, "screws")


def test_of_many_options_the_best_of_all_is_drawn() -> None:
    curve = curve_of(COLUMNS, ROWS, NAMES)

    assert 6 > MOST_LINES
    assert curve is not None
    ((label, points),) = curve.lines
    assert label == BEST_OF_ALL
    least = min(price(450, h, m) for h in (400, 600, 800) for m in ("dowels", "screws"))
    assert [p.figure for p in points if p.at == 450] == [least]


def test_a_map_says_what_is_best_and_by_how_much() -> None:
    """Dowels cost 8 a millimetre of height, screws 4000 and 1: even where 7 h = 4000, at 571."""
    best = map_of(COLUMNS, ROWS, NAMES)

    assert best is not None
    assert best.options == ("dowels", "screws")
    assert len(best.places) == 12
    for place in best.places:
        assert place.option == ("dowels" if place.up < 4000 / 7 else "screws")
        other = price(int(place.across), int(place.up), place.second)
        assert place.ahead == pytest.approx(other / place.figure - 1)
        assert place.is_close == (other / place.figure < 1.02)
    assert any(p.is_close for p in best.places)


def test_what_cannot_be_made_is_not_drawn() -> None:
    gone = [r if r.cells[2] == "dowels" else Row(number=r.number, cells=r.cells, rank=None) for r in ROWS]
    curve = curve_of(COLUMNS, gone, NAMES)

    assert map_of(COLUMNS, gone, NAMES) is None
    assert curve is not None
    assert all("screws" not in label for label, _ in curve.lines)
    assert curve_of(COLUMNS, [r for r in ROWS if r.cells[0] in {400, 450} and r.cells[1] == 400], NAMES) is None


def test_figures_are_drawn_and_the_same_twice() -> None:
    pytest.importorskip("matplotlib")
    curve, best = curve_of(COLUMNS, ROWS, NAMES), map_of(COLUMNS, ROWS, NAMES)
    for words in (
        (curve_figure, curve, "price", 100),
        (map_figure, best, "price"),
        (front_figure, COLUMNS, ROWS, ROWS[:2]),
    ):
        first = _drawn(*words)
        assert first is not None
        assert first.startswith(b"<?xml")
        assert first == _drawn(*words)


def test_tables_lie_beside_the_pictures(tmp_path: Path) -> None:
    told = STUDY.replace("methods.corner", "cases[0].height").replace(
        '["dowels", "biscuits", "glue and hope"]', "[300, 400]"
    )
    variants = variants_in(tmp_path, told + '\n[[vary]]\nfield = "methods.corner"\nvalues = ["dowels", "biscuits"]\n')
    names = write_pictures(variants, COLUMNS, ROWS, ROWS[:2], tmp_path)

    assert {"curve.csv", "map.csv"} <= set(names)
    lines = list(csv.reader(io.StringIO((tmp_path / "map.csv").read_text(encoding="utf-8"))))
    assert lines[0][:4] == ["cases[0].width", "cases[0].height", "best", "price, EUR"]
    assert lines[1] == ["400.0", "400.0", "dowels", "72.0", "screws", "0.1667"]
