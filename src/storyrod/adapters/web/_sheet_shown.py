"""One sheet as it is shown: whole or at a step, with the saw's list that the step stands in."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final
from urllib.parse import quote, urlencode

from starlette.requests import Request

from storyrod.adapters.web._sheet_steps import drawn_at, list_of, numbers_on, told_of
from storyrod.adapters.web._worked import Worked
from storyrod.model.saw_list import SawList
from storyrod.model.sheet import BoardPlan, CuttingPlan, SawKind, SheetPlan
from storyrod.planning import Plan
from storyrod.telling.sheets import AtSaw, steps_at_saw

_WIDE: Final = (150, 190, 330)
"""Least, usual and greatest width of a sheet's drawing, in mm on paper (4 screen pixels each)."""


_HIGH: Final = (80, 150, 180)
"""The same of its height."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetLink:
    """A sheet to be opened."""

    sheet: SheetPlan
    about: str
    href: str
    is_open: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SawRow:
    """A step of the saw's list, with the address that shows it on its first sheet."""

    step: AtSaw
    href: str
    is_open: bool


def one_sheet(request: Request, worked: Worked, plan: Plan, told: CuttingPlan) -> dict[str, Any]:
    """Return the open sheet: drawn whole or at a step, its step in words, and the list of its board."""
    query = request.query_params
    sheet = next((s for s in told.sheets if s.name == query.get("sheet")), told.sheets[0])
    board = next(b for b in told.boards if b.board == sheet.board)
    saw = next((s for s in SawKind if s.value == query.get("saw")), plan.cut_rules.saw)
    listed = list_of(plan, board, saw)
    numbers, kept = numbers_on(listed, sheet), {} if saw is plan.cut_rules.saw else {"saw": saw.value}
    asked = query.get("step", "")
    number = int(asked) if asked.isdecimal() and len(asked) < 6 and int(asked) in numbers else None
    address = _Address(worked.name, kept)
    way = _Way.of(board, listed, sheet, number)
    other = next((b for b in told.boards[told.boards.index(board) + 1 :] if way.is_last), None)
    following = other.sheets[0] if other is not None else None
    return {
        "sheet": sheet,
        "board_name": plan.job.board(board.board).sold_as(plan.job.lengths),
        "links": tuple(_link(s, plan, address, sheet) for s in told.sheets),
        "drawing": drawn_at(plan, listed, sheet, number, _room(query.get("wide", ""), query.get("high", ""))),
        "step": told_of(plan, listed, sheet, number) if number is not None else None,
        "at": number,
        "of": len(listed.steps),
        "on_this": len(numbers),
        "whole_href": address.of(sheet),
        "back_href": address.of(*way.back) if way.back else address.of(sheet) if number is not None else "",
        "next_href": address.of(*way.next) if way.next else "",
        "next_sheet": way.next[0].name if way.next and way.next[0] is not sheet else "",
        "following_href": address.of(following) if following is not None else "",
        "following": following,
        "saw": saw.value,
        "saws": tuple((s.value, _Address(worked.name, {"saw": s.value}).of(sheet), s is saw) for s in SawKind),
        "saw_rows": _saw_rows(plan, board, listed, address, number, sheet),
        "saw_list": listed,
        "copies": tuple(s.name for s in board.sheets if s.same_as == sheet.name),
    }


@dataclass(frozen=True, slots=True)
class _Way:
    """Where a step of the board's one list stands in it: the sheet and step before it and after it.

    A step that is made on several layouts is shown on each of them, one after another.
    """

    back: tuple[SheetPlan, int] | None
    next: tuple[SheetPlan, int] | None
    is_last: bool

    @staticmethod
    def of(board: BoardPlan, listed: SawList, sheet: SheetPlan, number: int | None) -> _Way:
        """Return where a step is, on the sheet that is open; without a step the way leads to the sheet's first step."""
        leaders = {s.name: s for s in board.sheets if not s.same_as}
        walk = [
            (leaders[name], step.number)
            for step in listed.steps
            for name in dict.fromkeys(name for name, _ in step.cuts if name in leaders)
        ]
        own = leaders[sheet.same_as or sheet.name]
        if number is None:
            is_first = own is board.sheets[0]  # from the board's first sheet the whole list is stepped through
            first = next((n for n, (s, _) in enumerate(walk) if is_first or s is own), None)
            return _Way(None, walk[first] if first is not None else None, first is None)
        at = walk.index((own, number))
        following = walk[at + 1] if at + 1 < len(walk) else None
        return _Way(walk[at - 1] if at else None, following, following is None)


@dataclass(frozen=True, slots=True)
class _Address:
    """Addresses of sheets and steps, what else is asked being kept."""

    job: str
    kept: dict[str, str]

    def of(self, sheet: SheetPlan, step: int | None = None) -> str:
        told = {"sheet": sheet.name} | ({"step": str(step)} if step is not None else {}) | self.kept
        return f"/job/{quote(self.job)}/sheets?{urlencode(told)}"


def _room(wide: str, high: str) -> tuple[float, float]:
    """Return the room for a drawing; `wide` and `high` are what the page has, in mm of paper."""
    width, height = _within(wide, _WIDE), _within(high, _HIGH)
    return width, min(height, width * 0.65)


def _within(text: str, limits: tuple[int, int, int]) -> float:
    least, usual, most = limits
    return float(min(max(int(text), least), most) if text.isdecimal() and len(text) < 6 else usual)


def _link(sheet: SheetPlan, plan: Plan, address: _Address, is_open: SheetPlan) -> SheetLink:
    stock = next(s for s in plan.stock if s.id == sheet.stock)
    same = f", the same as {sheet.same_as}" if sheet.same_as else ""
    about = f"{stock.name}, {len(sheet.placements)} part{'s' * (len(sheet.placements) != 1)}{same}"
    return SheetLink(sheet=sheet, about=about, href=address.of(sheet), is_open=sheet is is_open)


def _saw_rows(
    plan: Plan, board: BoardPlan, listed: SawList, address: _Address, number: int | None, sheet: SheetPlan
) -> tuple[SawRow, ...]:
    sheets = {s.name: s for s in board.sheets}
    rows = []
    for told, step in zip(steps_at_saw(plan, board, listed), listed.steps, strict=True):
        names = [name for name, _ in step.cuts]
        shown = sheet if sheet.name in names else sheets[names[0]]
        rows.append(SawRow(step=told, href=address.of(shown, step.number), is_open=step.number == number))
    return tuple(rows)
