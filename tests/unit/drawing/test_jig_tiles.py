"""Jigs at full size in tiles: every place of the jig is on paper, and neighbours agree in their overlap."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from storyrod.drawing import Circle, Path, Text
from storyrod.drawing._types import text_box
from storyrod.drawing.jig_drawing import jig_extent
from storyrod.drawing.jig_tiles import TILE_HEIGHT, jig_tiles
from storyrod.model.job import Paper
from storyrod.model.machining import JigPlan
from tests.unit.machining.shops import box, job, ladder_shop, with_plinth, worked

JIGS = worked(job(box("A", depth=900), with_plinth("B")), ladder_shop())[1].jigs


@pytest.fixture(params=JIGS, ids=lambda j: j.id)
def jig(request: pytest.FixtureRequest) -> JigPlan:
    found = request.param
    assert isinstance(found, JigPlan)
    return found


@pytest.mark.parametrize("paper", list(Paper))
def test_the_tiles_cover_the_jig_and_repeat_20_mm(jig: JigPlan, paper: Paper) -> None:
    tiles = jig_tiles(jig, paper)
    whole = jig_extent(jig)
    windows = [t.window for t in tiles if t.window is not None]

    assert len(windows) == len(tiles)
    assert min(w.left for w in windows) <= whole.left
    assert max(w.right for w in windows) >= whole.right
    assert max(w.top for w in windows) >= whole.top
    assert min(w.bottom for w in windows) <= whole.bottom - 16
    for a, b in pairwise(windows):
        if a.top == b.top:
            assert a.right - b.left == pytest.approx(20)
    assert all(w.height - 16 <= TILE_HEIGHT[paper] + 1e-6 for w in windows)
    assert all(t.unit == 1.0 for t in tiles)


def test_every_station_stands_at_its_place_with_its_figure(jig: JigPlan) -> None:
    (first, *_) = tiles = jig_tiles(jig)
    circles = [e.centre[0] for e in first.items if isinstance(e, Circle) and e.layer == "JIG OPENINGS"]
    figures = {e.text for tile in tiles for e in tile.items if isinstance(e, Text)}

    assert circles == pytest.approx(list(jig.stations))
    assert {f"{s:g}" for s in jig.stations} <= figures


def test_no_word_is_cut_by_the_edge_of_a_tile(jig: JigPlan) -> None:
    for tile in jig_tiles(jig):
        window = tile.window
        assert window is not None
        for text in (e for e in tile.items if isinstance(e, Text)):
            box = text_box(text, 1.0)
            assert window.left <= box.left, text.text
            assert box.right <= window.right, text.text
            assert box.top <= window.top, text.text


def test_each_tile_has_its_number_and_a_check_bar_of_100_mm(jig: JigPlan) -> None:
    tiles = jig_tiles(jig)
    for number, tile in enumerate(tiles, start=1):
        texts = [e.text for e in tile.items if isinstance(e, Text)]
        assert f"Jig {jig.id}, tile {number} of {len(tiles)}" in texts
        assert "Check: this bar must measure 100 mm" in texts
        window = tile.window
        assert window is not None
        bars = [e for e in tile.items if isinstance(e, Path) and e.points[0][1] == pytest.approx(window.bottom + 6.5)]
        places = [p[0] for b in bars for p in b.points]
        assert max(places) - min(places) == pytest.approx(100)


def test_crosses_stand_at_the_same_places_on_neighbouring_tiles() -> None:
    long = max(JIGS, key=lambda j: j.length)
    tiles = jig_tiles(long)
    assert len(tiles) > 2
    crosses = [{e.centre for e in t.items if isinstance(e, Circle) and e.radius == pytest.approx(1.35)} for t in tiles]

    for a, b in pairwise(crosses):
        assert len({(round(x, 6), round(y, 6)) for x, y in a} & {(round(x, 6), round(y, 6)) for x, y in b}) == 2


def test_a_jig_wider_than_the_paper_is_cut_in_rows() -> None:
    tiles = jig_tiles(replace(JIGS[0], reference=330.0, far=360.0))
    tops = sorted({t.window.top for t in tiles if t.window}, reverse=True)

    assert len(tops) == 3
    assert [t.id for t in tiles] == [f"jig-{JIGS[0].id}-tile-{n}" for n in range(1, len(tiles) + 1)]
