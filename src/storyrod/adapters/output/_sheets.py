"""Sheets as data: the saw's list as CSV, and what plan.json says of sheets."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from storyrod.adapters.output._lists import as_csv
from storyrod.model.saw_list import SawList
from storyrod.model.sheet import BoardPlan, SheetPlan
from storyrod.model.stock import rack_code
from storyrod.planning import Plan
from storyrod.telling.plain import plain
from storyrod.telling.sheets import AtSaw, steps_at_saw

SAW_COLUMNS = (
    "board",
    "step",
    "what",
    "set to",
    "cuts",
    "piece in hand",
    "comes off",
    "left in hand",
    "two people",
    "heaviest kg",
)


def saw_list_csv(plan: Plan) -> str:
    """Return the saw's list of every board as CSV."""
    return as_csv(
        SAW_COLUMNS,
        (
            _row(plan, board, step)
            for board, saw in zip(plan.sheets.boards, plan.saw_lists, strict=True)
            for step in steps_at_saw(plan, board, saw)
        ),
    )


def _row(plan: Plan, board: BoardPlan, step: AtSaw) -> Sequence[str]:
    return (
        plan.job.board(board.board).name,
        str(step.number),
        step.what,
        step.setting,
        str(step.cuts),
        "; ".join(step.hands),
        "; ".join(step.gives),
        "; ".join(step.leaves),
        "yes" if step.two_people else "",
        f"{step.mass_kg:.1f}" if step.mass_kg else "",
    )


def sheets_data(plan: Plan) -> dict[str, Any]:
    """Return what plan.json says of sheets: each sheet laid out, and each board's figures and saw's list."""
    return {
        "sheets": [_sheet(s, plan.version) for s in plan.sheets.sheets],
        "cutting": [_board(board, saw) for board, saw in zip(plan.sheets.boards, plan.saw_lists, strict=True)],
    }


def _sheet(sheet: SheetPlan, version: str) -> dict[str, Any]:
    told: dict[str, Any] = plain(sheet)
    del told["tree"]  # The cuts say the same, in order.
    told["offcuts"] = [plain(o) | {"code": rack_code(o.name, version)} for o in sheet.offcuts]
    return told | {"used_share": plain(sheet.used_share)}


def _board(board: BoardPlan, saw: SawList) -> dict[str, Any]:
    figures: dict[str, Any] = plain(board.figures)
    figures["sheets"] = [{"stock": stock, "count": n} for stock, n in board.figures.sheets]
    steps = [plain(s) | {"cuts": [{"sheet": name, "cut": n} for name, n in s.cuts]} for s in saw.steps]
    return {
        "board": board.board,
        "figures": figures,
        "found": board.found.value,
        "claim": board.claim,
        "engine": board.engine.value,
        "bound_sheets": board.bound_sheets,
        "gap": plain(board.gap),
        "steps": steps,
    }
