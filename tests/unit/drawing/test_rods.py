"""Rods at full size, cut into tiles that can be laid over each other."""

from __future__ import annotations

from itertools import pairwise

import pytest

from storyrod.drawing import CHECK_BAR, OVERLAP, TILE, Circle, Path, Text, Tint, rod_strip, rod_tiles, text_box
from storyrod.model.job import Paper
from storyrod.model.mark import Rod, RodTick
from tests.unit.drawing.checks import check, texts_of


def rod(length: float = 900.0, width: float = 420.0) -> Rod:
    ticks = [RodTick(at=a, label=f"{n}", is_band_start=False) for n, a in enumerate((37.0, 39.0, 41.0, 318.0), 1)]
    band = RodTick(at=500.0, label="A5 (J2)", is_band_start=True, band_to=518.0)
    return Rod(
        gang="G1",
        name="A1 + A2: sides",
        length=length,
        lengths=(*ticks, band, RodTick(at=509.0, label="5–7")),
        widths=(RodTick(at=50.0, label="1, 4"), RodTick(at=370.0, label="3, 6")),
        width_length=width,
    )


def lines_at(drawing_items: object, x: float) -> bool:
    assert isinstance(drawing_items, list)
    return any(
        isinstance(i, Path) and len(i.points) == 2 and all(abs(px - x) < 1e-9 for px, _ in i.points)
        for i in drawing_items
    )


def test_the_whole_rod_is_full_size_and_readable() -> None:
    drawing = rod_strip(rod())
    check(drawing)

    assert drawing.unit == 1.0
    for at in (37.0, 318.0, 500.0, 518.0, 900.0):
        assert lines_at(list(drawing.flat()), at)


def test_the_datum_end_is_black_and_ends_at_nought() -> None:
    black = [i for i in rod_strip(rod()).flat() if isinstance(i, Path) and i.fill and i.fill.tint is Tint.INK]

    assert max(x for x, _ in black[0].points) == 0.0


@pytest.mark.parametrize("paper", list(Paper))
@pytest.mark.parametrize("length", [200.0, 900.0, 2400.0])
def test_tiles_cover_the_rod_and_overlap(paper: Paper, length: float) -> None:
    tiles = rod_tiles(rod(length=length), paper)
    windows = [t.bounds for t in tiles]

    assert all(w.width == pytest.approx(TILE[paper]) for w in windows)
    assert all(a.right - b.left == pytest.approx(OVERLAP) for a, b in pairwise(windows))
    longer = max(length, 420.0)  # the rod's other edge holds the widths
    assert windows[0].left < 0.0 < longer < windows[-1].right
    assert len(tiles) == 1 or windows[-2].right < longer + OVERLAP + 12.0
    for tile in tiles:
        check(tile)
        assert tile.paper_size[0] == pytest.approx(TILE[paper])


def test_crosses_stand_in_the_same_place_on_both_tiles() -> None:
    def crosses(tile: object) -> set[tuple[float, float]]:
        return {i.centre for i in tile.flat() if isinstance(i, Circle)}  # type: ignore[attr-defined]

    for a, b in pairwise(rod_tiles(rod(length=2400.0))):
        assert len(crosses(a) & crosses(b)) == 2


def test_every_label_is_whole_on_some_tile_and_every_tick_on_all_that_reach_it() -> None:
    whole, tiles = rod_strip(rod()), rod_tiles(rod())
    printed = {(t.text, t.at) for tile in tiles for t in texts_of(tile)}

    for text in texts_of(whole):
        if text.role == "figure":
            assert (text.text, text.at) in printed
    for tile in tiles:
        for at in (37.0, 318.0, 500.0, 900.0):
            if tile.bounds.left < at < tile.bounds.right:
                assert lines_at(list(tile.flat()), at)


def test_every_tile_has_a_bar_of_100_mm() -> None:
    for tile in rod_tiles(rod()):
        low = tile.bounds.bottom + 8.0
        bar = [x for i in tile.flat() if isinstance(i, Path) and i.closed and i.points[0][1] < low for x, _ in i.points]
        assert max(bar) - min(bar) == pytest.approx(CHECK_BAR)


def test_neighbouring_words_are_moved_apart() -> None:
    texts = [t for t in rod_strip(rod()).flat() if isinstance(t, Text) and t.text in {"37", "39", "41"}]
    boxes = [text_box(t, 1.0) for t in texts]

    assert len(boxes) == 3
    assert not any(a.meets(b) for a, b in pairwise(boxes))
