"""Rods at full size, cut into tiles that can be laid over each other."""

from __future__ import annotations

from itertools import pairwise

import pytest

from storyrod.drawing import (
    CHECK_BAR,
    OVERLAP,
    TILE,
    Bounds,
    Circle,
    Drawing,
    Path,
    Text,
    Tint,
    check_bar_drawing,
    rod_strip,
    rod_tiles,
    text_box,
)
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

    assert all(w.width == pytest.approx(TILE[paper]) for w in windows[:-1])
    assert windows[-1].width <= TILE[paper]
    assert all(a.right - b.left == pytest.approx(OVERLAP) for a, b in pairwise(windows))
    longer = max(length, 420.0)  # the rod's other edge holds the widths
    assert windows[0].left < 0.0 < longer < windows[-1].right
    assert len(tiles) == 1 or windows[-2].right < longer + OVERLAP + 12.0
    for tile in tiles:
        check(tile)
        assert tile.unit == 1.0


def crosses(tile: Drawing) -> set[tuple[float, float]]:
    return {i.centre for i in tile.flat() if isinstance(i, Circle)}


def test_crosses_stand_in_the_same_place_on_both_tiles() -> None:
    for a, b in pairwise(rod_tiles(rod(length=2400.0))):
        assert len(crosses(a) & crosses(b)) == 2


def test_crosses_stand_on_the_strip_that_is_cut_out_clear_of_its_words() -> None:
    """A strip with a mark every 9 mm along one edge still has room for them in each overlap."""
    ticks = tuple(RodTick(at=9.0 * n, label=f"{n}") for n in range(1, 90))
    crowded = Rod(gang="G1", name="A1", length=900.0, lengths=ticks, widths=ticks[:2], width_length=420.0)
    for tile in rod_tiles(crowded):
        strip = [p for i in tile.flat() if isinstance(i, Path) for p in i.points]
        bottom, top = min(y for _, y in strip), max(y for _, y in strip)
        for x, y in crosses(tile):
            assert bottom + 3.0 < y < top - 3.0
            assert tile.bounds.left + 3.0 < x < tile.bounds.right - 3.0
            around = Bounds(left=x - 3.0, right=x + 3.0, bottom=y - 3.0, top=y + 3.0)
            assert not any(around.meets(text_box(t, 1.0)) for t in texts_of(tile))


def test_no_words_stand_on_the_black_end() -> None:
    near = tuple(RodTick(at=a, label=f"{n}") for n, a in enumerate((0.5, 3.0, 4.0, 5.5, 6.0), start=1))
    drawn = rod_strip(Rod(gang="G1", name="A1", length=300.0, lengths=near, widths=near, width_length=200.0))

    assert all(text_box(t, 1.0).left >= 0.0 for t in texts_of(drawn))


def test_every_tile_says_which_it_is_on_the_strip_and_below_it() -> None:
    tiles = rod_tiles(rod())
    for n, tile in enumerate(tiles, start=1):
        words = [t.text for t in texts_of(tile)]
        assert f"G1, {n} of {len(tiles)}" in words
        assert any(w.startswith("Rod G1") for w in words)


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


def test_the_bar_that_stands_beside_them_is_100_mm_long() -> None:
    drawing = check_bar_drawing()
    check(drawing)
    bar = [x for i in drawing.flat() if isinstance(i, Path) and i.closed for x, _ in i.points]

    assert max(bar) - min(bar) == pytest.approx(CHECK_BAR)
    assert drawing.unit == 1.0


def test_neighbouring_words_are_moved_apart() -> None:
    texts = [t for t in rod_strip(rod()).flat() if isinstance(t, Text) and t.text in {"37", "39", "41"}]
    boxes = [text_box(t, 1.0) for t in texts]

    assert len(boxes) == 3
    assert not any(a.meets(b) for a, b in pairwise(boxes))
