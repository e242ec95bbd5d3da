"""Cuts that are easier to make: smaller pieces in hand, at no more settings and with no smaller offcut."""

from __future__ import annotations

import pytest

from storyrod.model.sheet import BoardPlan, CutRules, Part, SheetPlan, StockSheet, Trim, Way
from storyrod.sheets._fill import Filled
from storyrod.sheets._layout import sheet_plans
from storyrod.sheets._run import Limits, Run
from storyrod.sheets._tree import leaf, stacked
from tests.unit.sheets.jobs import random_job

RULES = CutRules(kerf=2.0, trim=Trim())


def in_hand(sheet: SheetPlan) -> float:
    return sum(c.piece_length * c.piece_width for c in sheet.cuts if not c.trim)


def metres(sheet: SheetPlan) -> float:
    return sum(c.length for c in sheet.cuts if not c.trim)


def largest_kept(sheet: SheetPlan) -> float:
    return max((o.length * o.width for o in sheet.offcuts if o.keep), default=0.0)


def settings(sheet: SheetPlan) -> set[tuple[Way, float]]:
    return {(c.way, c.setting) for c in sheet.cuts if not c.trim}


def places(sheet: SheetPlan) -> list[tuple[str, float, float]]:
    return sorted((p.part, p.x, p.y) for p in sheet.placements)


def one_half(copies: int) -> tuple[Run, Filled]:
    """Return the work on parts that all lie on one half of a sheet, and that sheet as it is filled."""
    sizes = {"a": (700.0, 300.0), "b": (498.0, 300.0), "c": (1100.0, 250.0), "d": (1000.0, 200.0)}
    parts = [
        Part(id=name, board="ply", length=length, width=width, copies=copies) for name, (length, width) in sizes.items()
    ]
    stock = [StockSheet(id="s", board="ply", length=2440.0, width=1220.0, price_cents=5000)]
    run = Run("ply", parts, stock, RULES, Limits(rounds=1), 1)
    run.plan(None, None)
    grid, nodes = run.task.grid, {}
    for number, kind in enumerate(run.task.kinds):
        (part, _) = kind.members[0][0]
        nodes[part.id] = leaf(grid.up(part.length) + grid.kerf, grid.up(part.width) + grid.kerf, number)
    root = stacked(1, [stacked(0, [nodes["a"], nodes["b"]]), nodes["c"], nodes["d"]])
    return run, run.search.filler.filled(0, root)


def test_a_sheet_is_halved_before_it_is_ripped() -> None:
    """One crosscut first, and no rip runs over the whole length; in the other order every rip does."""
    run, sheet = one_half(1)

    (plain,) = sheet_plans(run.task, RULES, [sheet])
    (handy,) = sheet_plans(run.task, RULES, [sheet], handy=True)

    assert max(c.length for c in plain.cuts if c.way is Way.RIP) == 2440.0
    assert (handy.cuts[0].way, handy.cuts[0].setting) == (Way.CROSSCUT, 1200.0)
    assert max(c.length for c in handy.cuts if c.way is Way.RIP) == 1200.0
    assert len(settings(handy)) == len(settings(plain)) == 7
    assert metres(handy) < metres(plain)
    assert places(handy) == places(plain)


def test_sheets_of_one_layout_are_cut_alike() -> None:
    run, sheet = one_half(2)

    first, second = sheet_plans(run.task, RULES, [sheet, sheet], handy=True)

    assert second.same_as == first.name
    assert [(c.way, c.at, c.start, c.end) for c in second.cuts] == [(c.way, c.at, c.start, c.end) for c in first.cuts]
    assert first.cuts[0].setting == 1200.0


@pytest.mark.parametrize("number", range(12))
def test_handy_cuts_cost_nothing(number: int) -> None:
    """Over random jobs: the same places, no more settings, no less of an offcut, never more in hand."""
    parts, stock, rules = random_job(number)
    run = Run("ply", parts, stock, rules, Limits(rounds=20), 1)
    told: BoardPlan = run.plan(None, None)
    sheets = run.search.best or ()

    plain, handy = sheet_plans(run.task, rules, sheets), sheet_plans(run.task, rules, sheets, handy=True)

    assert told.sheets
    for before, after in zip(plain, handy, strict=True):
        assert places(after) == places(before)
        assert len(settings(after)) <= len(settings(before))
        assert largest_kept(after) >= largest_kept(before) - 0.01
        assert in_hand(after) <= in_hand(before) + 0.01
