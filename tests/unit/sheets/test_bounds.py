"""What no plan can do better than, worked out by hand."""

from __future__ import annotations

from dataclasses import replace

from storyrod.model.sheet import CutRules, Found, Part, StockSheet, Trim
from storyrod.sheets import lay_out
from storyrod.sheets._bounds import fills_sheets
from storyrod.sheets._task import task_of

RULES = CutRules(kerf=0.0, trim=Trim())
LARGE = StockSheet(id="large", board="b", length=1000, width=1000, price_cents=1000)
SMALL = replace(LARGE, id="small", width=500, price_cents=520)


def test_parts_over_half_a_sheet_each_want_one() -> None:
    """Five parts of 0.36 of a sheet: two by area, five because no two go together."""
    parts = [Part(id="a", board="b", length=600, width=600, copies=5)]
    board = lay_out(parts, [LARGE], RULES, rounds=5).boards[0]

    assert board.bound_sheets == 5
    assert board.found is Found.PROVED
    assert board.claim == "No layout can use fewer than 5 sheets."


def test_the_bound_counts_whole_sheets() -> None:
    """1.25 sheets of area: one large and one small (1520), or three small (1560): never 1.25 x 1000."""
    parts = [Part(id="a", board="b", length=500, width=250, copies=10)]
    board = lay_out(parts, [LARGE, SMALL], RULES, rounds=300).boards[0]

    assert board.bound_cents == 1520
    assert board.figures.cents == 1520
    assert board.found is Found.PROVED


def test_the_gap_is_told_where_nothing_is_proved() -> None:
    """Three parts of 700 x 450 have 0.945 of a sheet's area, yet only two of them fit one."""
    parts = [Part(id="a", board="b", length=700, width=450, copies=3)]
    board = lay_out(parts, [LARGE], RULES, rounds=50).boards[0]

    assert len(board.sheets) == 2
    assert board.bound_sheets == 1
    assert board.gap == 1.0
    assert board.claim.startswith("At least 1 of 2 sheets")


def test_a_puzzle_is_told_by_its_area() -> None:
    """1.5 large sheets of area: a large and a small one, or three small ones; 1.6 is no set of them."""

    def is_puzzle(*widths: int, stock: list[StockSheet]) -> bool:
        parts = [Part(id=f"p{w}", board="b", length=1000, width=w) for w in widths]
        return fills_sheets(task_of("b", parts, stock, RULES))

    assert is_puzzle(700, 800, stock=[LARGE, SMALL])
    assert not is_puzzle(700, 900, stock=[LARGE, SMALL])
    assert not is_puzzle(700, 800, stock=[LARGE])
    assert is_puzzle(700, 800, stock=[SMALL])
    assert not is_puzzle(700, 800, stock=[replace(SMALL, copies=2)])
