"""Only the trims that are needed: two edges, an opposite one where a part reaches it; a long one may wait."""

from __future__ import annotations

from dataclasses import replace

import pytest

from storyrod.model.sheet import BoardPlan, CutRules, CuttingPlan, Part, SheetPlan, StockSheet, Trim, Way
from storyrod.sheets import judge, lay_out, saw_list
from tests.unit.sheets.jobs import random_job

RULES = CutRules(kerf=3.0, trim=Trim.even(10))
STOCK = [StockSheet(id="s", board="ply", length=2440.0, width=1220.0, price_cents=5000)]
FULL = (2420.0, 1200.0)  # what a sheet gives inside its trim


def laid(*sizes: tuple[float, float], copies: int = 1) -> tuple[CuttingPlan, list[Part]]:
    parts = [
        Part(id=f"p{n}", board="ply", length=length, width=width, copies=copies)
        for n, (length, width) in enumerate(sizes)
    ]
    return lay_out(parts, STOCK, RULES, rounds=50), parts


def trims(sheet: SheetPlan) -> list[tuple[Way, float, str]]:
    """Return each trim as its way, how far it runs, and the piece in hand."""
    return [(c.way, round(c.length, 2), c.piece) for c in sheet.cuts if c.trim]


def test_two_edges_are_enough_where_no_part_reaches_the_others() -> None:
    plan, _ = laid((1300.0, 900.0))
    (sheet,) = plan.sheets

    assert len(trims(sheet)) == 2
    assert {way for way, _, _ in trims(sheet)} == {Way.RIP, Way.CROSSCUT}
    assert all(c.at < 10.0 for c in sheet.cuts if c.trim)


def test_the_long_edge_waits_until_the_sheet_is_parted() -> None:
    """The first cuts are short ones; what is left over keeps its factory edge, and the trim is not cut on it."""
    plan, _ = laid((1300.0, 900.0))
    (sheet,) = plan.sheets
    first, second, third = sheet.cuts[:3]

    assert (first.trim, first.way, first.length) == (True, Way.CROSSCUT, 1220.0)
    assert (second.trim, second.way, second.setting, second.length) == (False, Way.CROSSCUT, 1300.0, 1220.0)
    assert (third.trim, third.way, third.length, third.piece) == (True, Way.RIP, 1300.0, second.gives)
    assert (second.piece_length, second.piece_width) == (2430.0, 1220.0)  # 10 is off the left end, nothing else yet


def test_a_part_that_reaches_an_edge_has_it_sawn_off() -> None:
    plan, _ = laid(FULL)
    (sheet,) = plan.sheets

    assert len(sheet.cuts) == len(trims(sheet)) == 4
    assert {(c.way, c.setting) for c in sheet.cuts if c.at > 1000} == {(Way.CROSSCUT, 2420.0), (Way.RIP, 1200.0)}


@pytest.mark.parametrize("short", [0.0, 0.01, 0.02, 0.03])
def test_a_part_that_ends_a_hair_inside_an_edge_is_sawn_off_there_by_one_cut(short: float) -> None:
    """1,210 is where the trim would be sawn; at 1,209.98 the part's own cut is as good, and no other is made."""
    plan, _ = laid((FULL[0], FULL[1] - short))
    (sheet,) = plan.sheets

    assert [round(c.at, 2) for c in sheet.cuts if c.way is Way.RIP and c.at > 1000] == [round(1210.0 - short, 2)]


def test_a_trim_that_serves_many_pieces_is_made_once() -> None:
    """Five columns side by side: their long edge is trimmed in one cut, while they are one sheet."""
    plan, _ = laid((470.0, 1180.0), copies=5)
    (sheet,) = plan.sheets
    long = [t for t in trims(sheet) if t[0] is Way.RIP]

    assert long == [(Way.RIP, 2440.0, sheet.name)]


def test_a_missing_and_a_needless_trim_are_found() -> None:
    plan, parts = laid(FULL)
    (sheet,) = plan.sheets
    without = replace(sheet, cuts=tuple(c for c in sheet.cuts if not (c.trim and c.way is Way.RIP and c.at > 1000)))
    small, small_parts = laid((1300.0, 900.0))
    extra = replace(sheet.cuts[0], number=90, way=Way.CROSSCUT, at=2430.0, start=0.0, end=1220.0)
    more = replace(small.sheets[0], cuts=(*small.sheets[0].cuts, extra))

    assert rules_of(plan, without, parts) == {"factory edge"}
    assert rules_of(small, more, small_parts) == {"needless trim"}


def rules_of(plan: CuttingPlan, sheet: SheetPlan, parts: list[Part]) -> set[str]:
    changed = replace(plan, boards=(replace(plan.boards[0], sheets=(sheet,)),))
    return {f.rule for f in judge(changed, parts, STOCK, RULES)}


def test_a_short_trim_does_not_serve_a_long_part() -> None:
    plan, parts = laid((1300.0, 900.0))
    (sheet,) = plan.sheets
    shorter = tuple(replace(c, end=c.end - 20) if c.trim and c.way is Way.RIP else c for c in sheet.cuts)

    assert rules_of(plan, replace(sheet, cuts=shorter), parts) == {"factory edge"}


@pytest.mark.parametrize("number", range(16))
def test_cuts_that_reach_a_factory_edge_run_through_it(number: int) -> None:
    """Held against the piece in hand, which a cut parts from side to side; pieces shrink by what is trimmed."""
    parts, stock, rules = random_job(number)
    rules = replace(rules, trim=Trim.even(12.0))
    stock = [replace(s, trim=None, length=s.length + 24, width=s.width + 24) for s in stock]
    plan = lay_out(parts, stock, rules, rounds=60)

    for board in plan.boards:
        for sheet in board.sheets:
            for cut in sheet.cuts:
                across = cut.piece_width if cut.way is Way.CROSSCUT else cut.piece_length
                assert cut.length == pytest.approx(across, abs=1e-6)
                assert 0 <= cut.start < cut.end <= (sheet.width if cut.way is Way.CROSSCUT else sheet.length) + 1e-6
        in_saw_order(board, rules, stock)


def in_saw_order(board: BoardPlan, rules: CutRules, stock: list[StockSheet]) -> None:
    """Every cut is in the list once, none before its piece is there and trimmed."""
    done: set[tuple[str, str]] = {(s.name, s.name) for s in board.sheets}
    cut_of = {(s.name, c.number): c for s in board.sheets for c in s.cuts}
    steps = [key for step in saw_list(board, rules, stock).steps for key in step.cuts]
    assert sorted(steps) == sorted(cut_of)
    for name, n in steps:
        cut = cut_of[name, n]
        assert (name, cut.piece) in done
        done.add((name, cut.gives))
        if not cut.trim:
            left = [c for c in cut_of if c[0] == name and cut_of[c].piece == cut.piece and c[1] > n]
            if not any(not cut_of[c].trim for c in left):
                done |= {(name, node) for node in children_of(board, name, cut.piece)}


def children_of(board: BoardPlan, sheet: str, piece: str) -> list[str]:
    found: list[str] = []
    todo = [s.tree for s in board.sheets if s.name == sheet]
    while todo:
        node = todo.pop()
        todo.extend(node.children)
        if node.name == piece:
            found = [kid.name for kid in node.children]
    return found
