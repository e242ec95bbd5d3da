"""Laying out: every plan passes the judge, is repeatable, and uses what it should."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from storyrod.adapters.files import read_job
from storyrod.faults import JobError
from storyrod.model.panel import Grain
from storyrod.model.saw_list import SheetProgress
from storyrod.model.sheet import CutRules, Found, Part, StockSheet, Trim
from storyrod.planning import Plan
from storyrod.sheets import judge, lay_out
from tests.places import EXAMPLES
from tests.unit.sheets.jobs import kerf_twin, random_job

BOARD = StockSheet(id="sheet", board="ply", length=2440, width=1220, price_cents=7800)
PLAIN = CutRules(kerf=3.2, trim=Trim.even(10))


def part(name: str, length: float, width: float, **more: object) -> Part:
    return replace(Part(id=name, board="ply", length=length, width=width), **more)  # type: ignore[arg-type]


@pytest.mark.parametrize("number", range(60))
def test_random_jobs_pass_the_judge(number: int) -> None:
    """No plan of a random job is invalid, and no part is missing."""
    parts, stock, rules = random_job(number)

    plan = lay_out(parts, stock, rules, rounds=25, seed=number)

    assert judge(plan, parts, stock, rules) == ()


@pytest.mark.slow
def test_a_hundred_more_random_jobs_pass_the_judge() -> None:
    for number in range(60, 160):
        parts, stock, rules = random_job(number)
        plan = lay_out(parts, stock, rules, rounds=10, seed=number)
        assert judge(plan, parts, stock, rules) == (), number


@pytest.mark.parametrize("kerf", [1.0, 3.2, 8.0])
def test_a_kerf_twin_takes_as_many_sheets(kerf: float) -> None:
    """Twelve parts fill two sheets without waste; so do their twins with a kerf."""
    parts = [part("a", 50, 40, copies=8), part("b", 100, 20, copies=4)]
    stock = [StockSheet(id="s", board="ply", length=100, width=120, price_cents=100)]

    plan = lay_out(*kerf_twin(parts, stock, kerf), rounds=300)

    assert plan.boards[0].found is Found.PROVED
    assert len(plan.sheets) == 2


def test_a_hair_less_sheet_takes_one_more() -> None:
    parts, stock, rules = kerf_twin(
        [part("a", 50, 60, copies=4)], [StockSheet(id="s", board="ply", length=100, width=120)], 3.0
    )
    short = [replace(s, length=s.length - 0.01) for s in stock]

    assert len(lay_out(parts, stock, rules, rounds=50).sheets) == 1
    assert len(lay_out(parts, short, rules, rounds=50).sheets) == 2


def test_same_seed_and_rounds_same_plan() -> None:
    parts, stock, rules = random_job(7)

    assert lay_out(parts, stock, rules, rounds=200, seed=3) == lay_out(parts, stock, rules, rounds=200, seed=3)


def test_more_rounds_never_cost_more() -> None:
    parts, stock, rules = random_job(11)
    costs = [lay_out(parts, stock, rules, rounds=n).cents for n in (0, 100, 400)]

    assert costs == sorted(costs, reverse=True)


def test_the_rack_is_used_first() -> None:
    """An offcut that is paid for takes what fits it, so that no sheet is begun."""
    rack = StockSheet(id="left over", board="ply", length=900, width=400, offcut=True, trim=Trim())
    plan = lay_out([part("shelf", 764, 300)], [BOARD, rack], PLAIN, rounds=20)

    assert [s.stock for s in plan.sheets] == ["left over"]
    assert plan.cents == 0


def test_one_offcut_serves_once() -> None:
    rack = StockSheet(id="left over", board="ply", length=900, width=400, offcut=True, trim=Trim())
    plan = lay_out([part("shelf", 764, 300, copies=4)], [BOARD, rack], PLAIN, rounds=50)

    assert [s.stock for s in plan.sheets].count("left over") == 1


def test_the_cheaper_size_is_taken() -> None:
    small = replace(BOARD, id="half", length=1220, price_cents=3500)
    plan = lay_out([part("side", 1100, 580, copies=2)], [BOARD, small], PLAIN, rounds=50)

    assert [s.stock for s in plan.sheets] == ["half"]
    assert plan.boards[0].claim == "No layout can use fewer than 1 sheet."


@pytest.mark.parametrize("grain", list(Grain))
def test_grain_is_kept(grain: Grain) -> None:
    plan = lay_out([part("a", 700, 400, grain=grain, copies=5)], [BOARD], PLAIN, rounds=50)
    turned = {p.turned for s in plan.sheets for p in s.placements}

    assert turned <= {Grain.ALONG: {False}, Grain.ACROSS: {True}, Grain.FREE: {False, True}}[grain]


@pytest.mark.parametrize("end_to_end", [False, True])
def test_matching_fronts_come_from_one_strip_in_order(*, end_to_end: bool) -> None:
    fronts = [
        part(f"front {i}", 560, h, strip="stack", strip_order=i, end_to_end=end_to_end)
        for i, h in enumerate((140.0, 180.5, 260.0))
    ]
    others = [part("side", 720, 560, copies=4)]
    plan = lay_out([*others, *reversed(fronts)], [BOARD], PLAIN, rounds=100)
    placed = {p.part: p for s in plan.sheets for p in s.placements}
    along = [(placed[f.id].x if end_to_end else placed[f.id].y) for f in fronts]

    assert judge(plan, [*others, *fronts], [BOARD], PLAIN) == ()
    assert along == sorted(along)
    assert along[1] - along[0] == pytest.approx((560 if end_to_end else 140) + 3.2)


def test_lengths_finer_than_the_grid_still_fit_with_their_kerf() -> None:
    """Inches give five decimals; the places are rounded up, the parts are not."""
    parts = [part("a", 600.07575, 300.03125, copies=6, grain=Grain.FREE)]
    plan = lay_out(parts, [BOARD], PLAIN, rounds=20)

    assert judge(plan, parts, [BOARD], PLAIN) == ()
    assert {p.length for s in plan.sheets for p in s.placements} <= {600.07575, 300.03125}


INCH_KERFS = [25.4 / 8, 25.4 * 3 / 32, 25.4 * 5 / 64, 3.175, 25.4 / 7, 2.0000001, 3.14159, 0.001]


@pytest.mark.parametrize("kerf", INCH_KERFS)
@pytest.mark.parametrize("trim", [0, 10, 10.125, 25.4 * 3 / 8])
def test_a_kerf_finer_than_a_hundredth_is_one_measure_for_search_and_judge(kerf: float, trim: float) -> None:
    rules = CutRules(kerf=kerf, trim=Trim.even(trim))
    parts = [
        part("a", 600, 300.5, copies=6, grain=Grain.FREE),
        part("b", 25.4 * 11 + 1 / 3, 120, copies=5),
        *(part(f"f{i}", 400, 140 + i, strip="fronts", strip_order=i) for i in range(3)),
    ]
    rack = replace(BOARD, id="rack", length=700.0625, width=310.03125, offcut=True, price_cents=None, trim=Trim())

    plan = lay_out(parts, [BOARD, rack], rules, rounds=30)

    assert judge(plan, parts, [BOARD, rack], rules) == ()


@pytest.mark.parametrize("kerf", [3.175, 25.4 * 5 / 64])
def test_a_fine_kerf_is_not_taken_up_where_it_fits_exactly(kerf: float) -> None:
    """Forty parts and the kerfs between them are as long as the sheet: a kerf rounded up would ask for another one."""
    parts = [part("a", 50, 100, copies=40)]
    sheet = StockSheet(id="s", board="ply", length=math.ceil(40 * 50_00 + 39 * kerf * 100) / 100, width=100)
    rules = CutRules(kerf=kerf, trim=Trim())

    plan = lay_out(parts, [sheet], rules, rounds=20)

    assert len(plan.sheets) == 1
    assert judge(plan, parts, [sheet], rules) == ()


def test_what_fits_by_the_figures_but_not_by_the_measure_is_refused_before_the_search() -> None:
    """A sheet's last thousandths are no room: told as too large, not found out by a search that finds no place."""
    rules = CutRules(kerf=3.2, trim=Trim.even(10.004))

    with pytest.raises(JobError) as refused:
        lay_out([part("a", 2440 - 20.008, 100)], [BOARD], rules, rounds=5)

    assert [f.code for f in refused.value.faults] == ["part-too-large"]


def test_boards_are_laid_out_each_by_itself() -> None:
    mdf = replace(BOARD, id="mdf sheet", board="mdf")
    parts = [part("a", 700, 400), replace(part("b", 700, 400), board="mdf")]
    plan = lay_out(parts, [BOARD, mdf], PLAIN, rounds=5)

    assert [b.board for b in plan.boards] == ["ply", "mdf"]
    assert [[p.part for s in b.sheets for p in s.placements] for b in plan.boards] == [["a"], ["b"]]


def test_progress_tells_only_better_plans() -> None:
    parts, stock, rules = random_job(11)
    heard: list[SheetProgress] = []
    plan = lay_out(parts, stock, rules, rounds=300, progress=heard.append)

    assert heard
    assert [h.best for h in heard] == sorted((h.best for h in heard), reverse=True)
    assert heard[-1].sheets == len(plan.sheets)
    assert all(0 <= h.share <= 1 for h in heard)


def test_a_limit_of_time_stops_it_by_the_clock_given() -> None:
    """A clock that runs ten times a second stops the search after the limit's ticks, whatever the machine does."""
    ticks = iter(range(10**9))
    parts, stock, rules = random_job(11)
    plan = lay_out(parts, stock, rules, limit_s=20, clock=lambda: next(ticks) / 10)

    assert judge(plan, parts, stock, rules) == ()
    assert next(ticks) < 600


def test_no_price_lays_out_for_the_least_area() -> None:
    plan = lay_out([part("a", 700, 400)], [replace(BOARD, price_cents=None)], PLAIN, rounds=5)

    assert plan.boards[0].weights == "area"
    assert plan.boards[0].figures.unpriced == ("sheet",)
    assert any("No price for sheet" in note for note in plan.notes)


def test_figures_add_up() -> None:
    parts = [part("a", 700, 400, copies=3)]
    plan = lay_out(parts, [BOARD], PLAIN, rounds=50)
    figures, sheet = plan.boards[0].figures, plan.sheets[0]

    assert figures.sheets == (("sheet", 1),)
    assert figures.cents == 7800
    assert figures.parts_m2 == pytest.approx(0.84)
    assert figures.yield_share == pytest.approx(0.84 / (2.44 * 1.22))
    assert figures.cuts == len(sheet.cuts)
    assert figures.cut_m == pytest.approx(sum(c.end - c.start for c in sheet.cuts) / 1000)
    assert figures.settings == 2  # one rip to 400, one crosscut to 700


def test_fewer_settings_at_the_same_cost() -> None:
    sizes = [(720, 560), (764, 558), (764, 100), (397, 716), (500, 140), (505, 180)]
    parts = [part(f"p{i}", a, b, copies=6, grain=Grain.FREE) for i, (a, b) in enumerate(sizes)]
    plain = lay_out(parts, [BOARD], PLAIN, rounds=200, tidy=False)
    tidy = lay_out(parts, [BOARD], PLAIN, rounds=200)

    assert tidy.cents == plain.cents
    assert tidy.boards[0].figures.settings < plain.boards[0].figures.settings


def test_what_is_left_of_a_sheet_hangs_together() -> None:
    """The drawers of the rehearsal room take a third of a sheet: of layouts with as few settings, one that leaves a
    large piece is taken, and not the one that leaves a long strip beside each row of parts (0.42 m2 the largest).
    """
    read = read_job(EXAMPLES / "rehearsal-room.toml")
    plan = Plan(read.job, read.workshop)
    parts = [p for p in plan.parts if p.board == "birch12"]
    (board,) = lay_out(parts, plan.stock, plan.cut_rules, rounds=1000).boards

    assert len(board.sheets) == 1
    assert board.figures.settings <= 11
    assert max(o.area_m2 for o in board.sheets[0].offcuts) > 1.0


def test_two_thousand_parts_are_laid_out() -> None:
    parts = [part(f"p{i}", 300 + i, 100 + i % 40, copies=20, grain=Grain.FREE) for i in range(100)]
    plan = lay_out(parts, [BOARD], PLAIN, rounds=0, tidy=False)

    assert sum(len(s.placements) for s in plan.sheets) == 2000


def test_rounds_may_follow_the_number_of_a_boards_parts() -> None:
    parts = [part("a", 500, 300, copies=7), replace(part("b", 400, 200, copies=3), board="mdf")]
    stock = [BOARD, replace(BOARD, id="other", board="mdf")]
    asked: list[int] = []

    def rounds(count: int) -> int:
        asked.append(count)
        return 20 * count

    plan = lay_out(parts, stock, PLAIN, rounds=rounds)

    assert sorted(asked) == [3, 7]
    assert plan == lay_out(parts, stock, PLAIN, rounds=lambda count: 20 * count)


def test_with_much_work_a_round_the_search_ends_sooner() -> None:
    sizes = [(720, 560), (764, 558), (764, 100), (397, 716), (500, 140), (505, 180)]
    parts = [part(f"p{i}", a, b, copies=6, grain=Grain.FREE) for i, (a, b) in enumerate(sizes)]

    whole = lay_out(parts, [BOARD], PLAIN, rounds=1300).boards[0]
    short = lay_out(parts, [BOARD], PLAIN, rounds=1300, work=1).boards[0]

    assert whole.found is Found.FOUND
    assert whole.rounds == 1300
    assert 1000 <= short.rounds < 1020
    assert short == lay_out(parts, [BOARD], PLAIN, rounds=1300, work=1).boards[0]
