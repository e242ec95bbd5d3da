"""What the sheets of a job come to, board by board, in figures and words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

from starlette.requests import Request

from storyrod.adapters.web._sheet_shown import one_sheet
from storyrod.adapters.web._worked import Worked
from storyrod.drawing import Figures
from storyrod.measure.length import Unit
from storyrod.model.sheet import BoardPlan, CuttingPlan, Engine, Found
from storyrod.planning import Plan
from storyrod.telling.account import money_of
from storyrod.telling.sheets import FACE_UP, boards_without_sheets, trim_words

_FEET_IN_M: Final = 1 / 0.3048


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardLine:
    """One board in figures."""

    code: str
    name: str
    sheets: str
    parts: str
    used: str
    metres: str
    settings: int
    money: str
    claim: str
    engine: str


def layout_of(request: Request, worked: Worked, plan: Plan) -> dict[str, Any]:
    """Return what the stage shows of the layout: the boards in figures, and the open sheet."""
    told = plan.sheets
    priced = not any(b.figures.unpriced for b in told.boards)
    values: dict[str, Any] = {
        "boards": tuple(_board_line(plan, b) for b in told.boards),
        "sheet_count": len(told.sheets),
        "whole_money": money_of(plan, told.cents) if priced else "",
        "unproven": _unproven(told, priced=priced),
        "bare": boards_without_sheets(plan),
        "notes": told.notes,
        "figures": Figures.of_job(plan.job),
        "rules": plan.cut_rules,
        "trims": trim_words(plan),
        "face_up": FACE_UP,
    }
    return values | (one_sheet(request, worked, plan, told) if told.boards else {})


def _unproven(told: CuttingPlan, *, priced: bool) -> str:
    """Return what the head of the stage says of how sure it is, in a sentence."""
    if all(b.found is Found.PROVED for b in told.boards):
        return "No layout costs less." if priced else "No layout takes fewer sheets. No price is set."
    return "A longer search may find a better layout."


def _board_line(plan: Plan, board: BoardPlan) -> BoardLine:
    f, inches = board.figures, plan.job.unit is Unit.INCH
    stock = {s.id: s for s in plan.stock}
    feet = _FEET_IN_M if inches else 1.0
    listed = (stock[c].name if stock[c].offcut else f"{n} of {stock[c].name}" for c, n in f.sheets)
    return BoardLine(
        code=board.board,
        name=plan.job.board(board.board).sold_as(plan.job.lengths),
        sheets=", ".join(listed),
        parts=f"{f.parts_m2 * feet * feet:.{1 if inches else 2}f} {'ft²' if inches else 'm²'}",
        used=f"{f.yield_share:.0%}",
        metres=f"{f.cut_m * feet:.1f} {'ft' if inches else 'm'}",
        settings=next(s.settings for s in plan.saw_lists if s.board == board.board),
        money="no price set" if f.unpriced else money_of(plan, f.cents),
        claim=board.claim,
        engine="the packing engine" if board.engine is Engine.PACKING else "our own engine",
    )
