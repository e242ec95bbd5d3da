"""Source: OR-Tools CP-SAT 9.15, a solver that proves its optimum.

Where: its proof: stock 2440, kerf 3.2; wanted 5 x 720, 6 x 564, 7 x 400, 4 x 296: lower bound 4.518, optimum 5
lengths. Row K8.
"""

from __future__ import annotations

from storyrod.model.sheet import CutRules, Found, Part, StockSheet, Trim
from storyrod.sheets import lay_out

BARE = CutRules(kerf=3.2, trim=Trim())


def strip(length: float, **more: object) -> StockSheet:
    return StockSheet(id="strip", board="b", length=length, width=100, price_cents=100, **more)  # type: ignore[arg-type]


def pieces(name: str, length: float, copies: int) -> Part:
    return Part(id=name, board="b", length=length, width=100, copies=copies)


def test_the_one_dimensional_case_takes_five_lengths() -> None:
    parts = [pieces("a", 720, 5), pieces("b", 564, 6), pieces("c", 400, 7), pieces("d", 296, 4)]
    plan = lay_out(parts, [strip(2440)], BARE, rounds=400)

    assert len(plan.sheets) == 5
    assert plan.boards[0].bound_sheets == 5
    assert plan.boards[0].found is Found.PROVED
