"""On small wishes the search finds what trying everything finds, and nothing where nothing is to be found."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations_with_replacement, pairwise, product

import pytest

from storyrod.wish._build import brief_of
from storyrod.wish._layout import Band, Cell, Kind, Layout, reckoned
from storyrod.wish._rows import Row, rows_for
from storyrod.wish._search import MOST_ROWS, Aim, Answer, search
from storyrod.wish._space import Space
from tests.unit.wish import wishes

GRID, LEAST_COLUMN, LEAST_ROW = 50, 1200, 600  # tenths of a millimetre


def columns(rows: tuple[Row, ...], most: int) -> Iterator[tuple[Row | None, ...]]:
    """Every column of up to so many rows, in the order in which rows stand; a free one first, if any."""
    for count in range(1, most + 1):
        yield from combinations_with_replacement(rows, count)
        yield from ((None, *some) for some in combinations_with_replacement(rows, count - 1))


def cheapest(space: Space, kind: Kind, inside: float, most: int = 4) -> int | None:
    """Return what the cheapest layout of up to so many openings is reckoned at, by trying all; None where none is."""
    rows = tuple(r for n in range(len(space.goods)) for r in rows_for(space, n, inside, loose=False))
    frames = (kind.columns + 1) * space.t
    high = [space.height] if space.height_exact else list(range(GRID * 20, space.height + 1, GRID))
    wide = [space.width] if space.width_exact else list(range(GRID * 20, space.width + 1, GRID))
    best: int | None = None
    for width, widths in ((w, c) for w in wide for c in clear_widths(w - frames, kind.columns)):
        for cut in product(columns(rows, most), repeat=kind.columns):
            if sum(map(len, cut)) > most or not holds(space, cut, widths):
                continue
            for height in high:
                if all(fills(space, column, height) for column in cut):
                    layout = laid(space, kind, inside, (width, height), (cut, widths))
                    cost = reckoned(space, layout)
                    best = cost if best is None else min(best, cost)
                    break
    return best


def clear_widths(clear: int, count: int) -> Iterator[tuple[int, ...]]:
    if count == 1:
        yield from [(clear,)] if clear >= LEAST_COLUMN else []
        return
    for left in range(LEAST_COLUMN // GRID * GRID, clear // 2 + 1, GRID):
        for rest in (clear - left, clear - left - 1):
            if left >= LEAST_COLUMN and rest >= left:
                yield left, rest


def files(row: Row, width: int) -> int:
    return min(row.most, (width - row.lost) // row.pitch)


def holds(space: Space, cut: tuple[tuple[Row | None, ...], ...], widths: tuple[int, ...]) -> bool:
    held = [0] * len(space.goods)
    for column, width in zip(cut, widths, strict=True):
        for row in column:
            if row is not None:
                if files(row, width) < 1:
                    return False
                held[row.goods] += files(row, width) * row.each
    return all(h >= g.count for h, g in zip(held, space.goods, strict=True))


def fills(space: Space, column: tuple[Row | None, ...], height: int) -> bool:
    """Whether rows of a column can be made as high as the case: none too low, none much too high."""
    main = height - space.plinth - 2 * space.t - (len(column) - 1) * space.t
    low = sum(LEAST_ROW if r is None else r.need for r in column)
    top = sum(10**6 if r is None else max(int(1.4 * r.need), r.need + 1200) for r in column)
    return low <= main and top >= main - MOST_ROWS


def laid(
    space: Space,
    kind: Kind,
    inside: float,
    size: tuple[int, int],
    cut: tuple[tuple[tuple[Row | None, ...], ...], tuple[int, ...]],
) -> Layout:
    """A layout whose heights nothing is reckoned by: open rows cost the same however high they are."""
    made = tuple(
        tuple(Cell(row=r, height=0, files=0 if r is None else files(r, w)) for r in column)
        for column, w in zip(*cut, strict=True)
    )
    return Layout(kind=kind, inside=inside, width=size[0], height=size[1], columns=made, widths=cut[1])


FEW = "[[things]]\nname='a'\nwidth={0}\nheight={1}\ndepth=200\nkg=1\ncount={2}\n"

CASES = [
    (FEW.format(80, 318, 8), "width = 480\nwidth_is = 'exact'\nheight = 900\ndepth = 400", 1),
    (FEW.format(80, 318, 8), "width = 480\nheight = 900\ndepth = 400", 1),
    (FEW.format(80, 318, 9), "width = 480\nheight = 1250\nheight_is = 'exact'\ndepth = 400", 1),
    (FEW.format(80, 300, 8) + FEW.format(50, 120, 12), "width = 480\nheight = 1000\ndepth = 400", 1),
    (FEW.format(80, 200, 9), "width = 520\nwidth_is = 'exact'\nheight = 700\ndepth = 400", 2),
    (FEW.format(90, 200, 4) + FEW.format(50, 120, 4), "width = 500\nwidth_is = 'exact'\nheight = 600\ndepth = 400", 2),
    (FEW.format(80, 318, 40), "width = 480\nheight = 900\ndepth = 400", 1),
    (FEW.format(80, 318, 20), "width = 520\nwidth_is = 'exact'\nheight = 800\ndepth = 400", 2),
]


@pytest.mark.parametrize(("things", "place", "count"), CASES)
def test_the_cheapest_is_what_trying_everything_finds(things: str, place: str, count: int) -> None:
    space = wishes.space(wishes.read(things, place))
    kind, inside = Kind(columns=count), space.depths()[0]
    found = search(space, kind, inside, work=20)

    assert found.answer in {Answer.BEST, Answer.NONE}
    best = cheapest(space, kind, inside)
    assert (found.layout.cost if found.layout is not None else None) == best


def test_trying_everything_meets_both_answers() -> None:
    """A comparison of which every case can be met, or none, would prove half of it."""
    met = []
    for things, place, count in (CASES[0], CASES[6]):
        space = wishes.space(wishes.read(things, place))
        met.append(cheapest(space, Kind(columns=count), space.depths()[0]) is not None)

    assert met == [True, False]


@pytest.mark.parametrize("kind", [Kind(columns=1), Kind(columns=2), Kind(columns=2, mirrored=True)])
def test_what_the_solver_minimised_is_what_the_layout_is_reckoned_at(kind: Kind) -> None:
    space = wishes.space(wishes.mixed())
    found = search(space, kind, space.depths()[0])

    assert found.layout is not None
    assert found.value == found.layout.cost


# What is asked of place and look


PLACE = "width = 900\nheight = 1300\ndepth = 400"
TINS = FEW.format(70, 200, 30)


def found(kind: Kind, things: str = TINS, place: str = PLACE, more: str = "", head: str = "") -> Layout | None:
    space = wishes.space(wishes.read(things, place, more, head))
    return search(space, kind, space.depths()[-1], work=2).layout


def floors(layout: Layout, top: int = 180) -> list[list[tuple[Cell, int]]]:
    """Each column's rows with the height of their floors, a board of 18 mm between them; no drawers."""
    made = []
    for column in layout.columns:
        z, rows = layout.height - top, []
        for cell in column:
            z -= cell.height
            rows.append((cell, z))
            z -= top
        made.append(rows)
    return made


def test_lines_run_through() -> None:
    layout = found(Kind(columns=2, lines=True), TINS + FEW.format(90, 300, 3))

    assert layout is not None
    left, right = ([c.height for c in column] for column in layout.columns)
    assert left == right
    assert len(left) > 1


def test_left_and_right_are_alike() -> None:
    layout = found(Kind(columns=3, mirrored=True), TINS + FEW.format(90, 300, 3))

    assert layout is not None
    left, _, right = layout.columns
    assert [(c.row, c.height) for c in left] == [(c.row, c.height) for c in right]
    assert layout.widths[0] == layout.widths[2]


def test_a_case_stays_under_the_slope() -> None:
    """1300 at the high side, 700 at the low one, 900 wide: 600 less over 900, so 2 mm less for each 3 mm of width."""
    layout = found(Kind(columns=1), FEW.format(70, 200, 20), PLACE + "\nslope_low = 700")

    assert layout is not None
    assert layout.height / 10 <= 1300 - layout.width / 10 * 600 / 900 + 1e-6


def test_a_place_that_the_slope_leaves_too_low_holds_less() -> None:
    assert found(Kind(columns=1), place=PLACE + "\nwidth_is = 'exact'") is not None
    assert found(Kind(columns=1), place=PLACE + "\nwidth_is = 'exact'\nslope_low = 300") is None


def test_a_case_goes_through_the_door() -> None:
    """205 of the tins and what is behind them, 6 of the back: it goes through on its side, 300 wide and 900 high."""
    wide = found(Kind(columns=1), more="[limits]\ndoor_width = 300\ndoor_height = 900")
    narrow = found(Kind(columns=1), more="[limits]\ndoor_width = 300\ndoor_height = 400")

    assert wide is not None
    assert min(wide.width, wide.height) <= 9000
    assert narrow is None


def test_each_drawer_is_deeper_than_the_one_over_it() -> None:
    papers = FEW.format(210, 50, 12) + "way = 'lies'\nstack = 3\nreach = 'drawer'"
    layout = found(
        Kind(columns=1), papers, "width = 600\nheight = 900\ndepth = 400", "[look]\ndrawers = 'deeper'\nstep = 25"
    )

    assert layout is not None
    heights = [c.height for column in layout.columns for c in column if c.row is not None]
    assert len(heights) > 1
    assert {b - a for a, b in pairwise(heights)} == {250}


@pytest.mark.parametrize(("at", "low", "high"), [("near the hand", 600, 1500), ("low", 0, 800)])
def test_things_are_at_the_height_that_is_wanted(at: str, low: float, high: float) -> None:
    things = FEW.format(70, 200, 10) + f'at = "{at}"\n' + FEW.format(60, 250, 20)
    layout = found(Kind(columns=1), things, "width = 800\nheight = 1700\nheight_is = 'exact'\ndepth = 400")

    assert layout is not None
    own = [z / 10 for column in floors(layout) for c, z in column if c.row is not None and c.row.goods == 0]
    assert own
    assert all(low <= z <= high for z in own)


def test_nothing_stands_higher_than_a_wheelchair_reaches() -> None:
    tall = "width = 500\nheight = 1900\nheight_is = 'exact'\ndepth = 400"
    layout = found(Kind(columns=1), TINS, tall, head="users = 'wheelchair'")

    assert layout is not None
    assert all(z <= 12200 for column in floors(layout) for c, z in column if c.row is not None)
    assert found(Kind(columns=1), FEW.format(70, 200, 42), tall) is not None
    assert found(Kind(columns=1), FEW.format(70, 200, 42), tall, head="users = 'wheelchair'") is None


def test_no_back_is_wider_than_a_sheet_gives() -> None:
    """1220 less 10 mm of trim on either side."""
    wide = "width = 3000\nheight = 700\ndepth = 400"
    many = FEW.format(70, 250, 60)

    assert found(Kind(columns=3), many, wide) is None
    apart = found(Kind(columns=3, apart=True), many, wide)
    assert apart is not None
    assert all(w + 360 <= 12000 for w in apart.widths)


def test_rows_over_and_under_columns_share_out_every_thing() -> None:
    """Two columns 120 and 137 wide hold a bottle of 90 each, the row under them three: five in all, none to spare."""
    space = wishes.space(
        wishes.read(
            FEW.format(90, 330, 5), "width = 310\nwidth_is = 'exact'\nheight = 1060\nheight_is = 'exact'\ndepth = 300"
        )
    )
    layout = search(space, Kind(columns=2, band=Band.BOTTOM), space.depths()[0], work=2).layout

    assert layout is not None
    assert sum(s.count for s in brief_of(space, layout).stands) == 5


def test_the_same_seed_finds_the_same() -> None:
    space = wishes.space(wishes.mixed())

    assert search(space, Kind(columns=2), 300.0, seed=3) == search(space, Kind(columns=2), 300.0, seed=3)


def test_as_many_as_go_in_are_counted_by_hand() -> None:
    """900 - 80 - 36 = 784 clear: two rows of 338 with a board of 18; 464 wide holds 5 folders of 80: 10 in all."""
    space = wishes.space(wishes.read(wishes.SHELVES.replace("count = 8", "count = 90")))
    found = search(space, Kind(columns=1), space.depths()[0], aim=Aim.COUNT, work=5)

    assert (found.answer, found.value) == (Answer.BEST, 10)


def test_the_least_height_is_counted_by_hand() -> None:
    """Two rows of 338, a board between, 36 of top and base and a plinth of 80: 810."""
    space = wishes.space(wishes.read(wishes.SHELVES, "width = 500\nheight = 2000\ndepth = 400"))
    found = search(space, Kind(columns=1), space.depths()[0], aim=Aim.HEIGHT, work=5)

    assert (found.answer, found.value) == (Answer.BEST, 8100)
