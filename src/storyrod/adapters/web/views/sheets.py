"""Sheets: each one cut step by step, the saw's list, a longer search, and the rack of offcuts."""

from __future__ import annotations

import asyncio
import math
from dataclasses import dataclass
from typing import Any, Final
from urllib.parse import quote, urlencode

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.output._sheets import AtSaw, steps_at_saw
from storyrod.adapters.web._desk import Desk, desk_of
from storyrod.adapters.web._errands import errands_of
from storyrod.adapters.web._rack_page import act_on_rack, rack_of, wrong
from storyrod.adapters.web._render import answer, body_of, fragment, job_page, wants_json
from storyrod.adapters.web._searching import LEAST_S, MOST_S, Searches, searches_of
from storyrod.adapters.web._sheet_changes import Changing
from storyrod.adapters.web._sheet_steps import drawn_at, list_of, numbers_on, told_of
from storyrod.adapters.web._stage_answer import stage_answer
from storyrod.adapters.web._worked import Worked
from storyrod.drawing import Figures
from storyrod.faults import JobError
from storyrod.measure.length import Unit
from storyrod.model.account import show_money
from storyrod.model.sheet import BoardPlan, CuttingPlan, Engine, Found, SawKind, SawList, SheetPlan
from storyrod.plan import Plan

_WIDE: Final = (150, 190, 330)
"""Least, usual and greatest width of a sheet's drawing, in mm on paper (4 screen pixels each)."""

_HIGH: Final = (80, 150, 180)
"""The same of its height."""
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


def show(request: Request) -> Response:
    """Show the stage: `sheet` and `step` say what is drawn, `saw` for which saw the list is written."""
    worked = desk_of(request).job(request.path_params["job"])
    return job_page(request, "sheets.html", worked, "sheets", **_values(request, worked))


def part(request: Request) -> Response:
    """Answer the page's script with the stage's matter, as it stands now."""
    worked = desk_of(request).job(request.path_params["job"])
    values = _values(request, worked)
    pieces = {"sheets": fragment("sheets_stage.html", **values)}
    return stage_answer(request, worked, "sheets", pieces, **_running(values))


def one(request: Request) -> Response:
    """Answer with one sheet at one step, and the saw's list that it stands in."""
    worked = desk_of(request).job(request.path_params["job"])
    values = {"job_name": worked.name} | worked.ask(lambda plan: _one_sheet(request, worked, plan, plan.sheets))
    return answer({"sheets-one": fragment("sheets_one.html", **values)})


def searching(request: Request) -> Response:
    """Answer with how the search stands."""
    worked = desk_of(request).job(request.path_params["job"])
    values = {"job_name": worked.name} | _search(request, worked)
    return answer({"sheets-search": fragment("sheets_search.html", **values)}, **_running(values))


def changes(request: Request) -> Response:
    """Answer with what would change, as far as it is worked out."""
    worked = desk_of(request).job(request.path_params["job"])
    values = _changes(request, worked)
    return answer({"sheets-changes": fragment("sheets_changes.html", **values)}, changing=values["changing"])


def _running(values: dict[str, Any]) -> dict[str, Any]:
    search = values["search"]
    return {"searching": search is not None and not search.is_done, "changing": values.get("changing", False)}


# What is shown --------------------------------------------------------------------------------------------------------


def _values(request: Request, worked: Worked) -> dict[str, Any]:
    values: dict[str, Any] = {"job_name": worked.name, "boards": (), "why_not": (), "bare": (), "search": None}
    values |= {"changing": False, "changes": (), "notes": (), "sheet_count": 0}
    if worked.plan is None:
        return values | {"rack": None, "is_read": False}
    values["is_read"] = True
    try:
        values |= worked.ask(lambda plan: _layout(request, worked, plan))
        values |= _changes(request, worked)
    except JobError as error:
        values["why_not"] = error.faults
    return values | _search(request, worked) | {"rack": rack_of(desk_of(request), worked)}


def _layout(request: Request, worked: Worked, plan: Plan) -> dict[str, Any]:
    told = plan.sheets
    laid = {b.board for b in told.boards}
    bare = [plan.job.board(code).name for code in dict.fromkeys(p.board for p in plan.parts) if code not in laid]
    values: dict[str, Any] = {
        "boards": tuple(_board_line(plan, b) for b in told.boards),
        "sheet_count": len(told.sheets),
        "whole_money": "money not known" if any(b.figures.unpriced for b in told.boards) else _money(plan, told.cents),
        "unproven": _unproven(told),
        "bare": tuple(bare),
        "notes": told.notes,
        "figures": Figures.of_job(plan.job),
        "rules": plan.cut_rules,
    }
    return values | (_one_sheet(request, worked, plan, told) if told.boards else {})


def _unproven(told: CuttingPlan) -> str:
    """Return what the head of the stage says of how sure it is, in a sentence."""
    if all(b.found is Found.PROVED for b in told.boards):
        return "Proven: no plan can cost less."
    return "It may be that a longer search finds a better plan."


def _board_line(plan: Plan, board: BoardPlan) -> BoardLine:
    f, inches = board.figures, plan.job.unit is Unit.INCH
    stock = {s.id: s for s in plan.stock}
    feet = _FEET_IN_M if inches else 1.0
    listed = (stock[c].name if stock[c].offcut else f"{n} of {stock[c].name}" for c, n in f.sheets)
    return BoardLine(
        code=board.board,
        name=plan.job.board(board.board).name,
        sheets=", ".join(listed),
        parts=f"{f.parts_m2 * feet * feet:.{1 if inches else 2}f} {'ft²' if inches else 'm²'}",
        used=f"{f.yield_share:.0%}",
        metres=f"{f.cut_m * feet:.1f} {'ft' if inches else 'm'}",
        settings=next(s.settings for s in plan.saw_lists if s.board == board.board),
        money=f"not known: no price for {', '.join(f.unpriced)}" if f.unpriced else _money(plan, f.cents),
        claim=board.claim,
        engine="the packing engine" if board.engine is Engine.PACKING else "our own engine",
    )


def _money(plan: Plan, cents: int) -> str:
    return show_money(cents, plan.job.currency or plan.workshop.money.currency)


def _one_sheet(request: Request, worked: Worked, plan: Plan, told: CuttingPlan) -> dict[str, Any]:
    """Return the open sheet: drawn whole or at a step, its step in words, and the list of its board."""
    query = request.query_params
    sheet = next((s for s in told.sheets if s.name == query.get("sheet")), told.sheets[0])
    board = next(b for b in told.boards if b.board == sheet.board)
    saw = next((s for s in SawKind if s.value == query.get("saw")), plan.cut_rules.saw)
    listed = list_of(plan, board, saw)
    numbers, kept = numbers_on(listed, sheet), {} if saw is plan.cut_rules.saw else {"saw": saw.value}
    asked = query.get("step", "")
    number = int(asked) if asked.isdecimal() and len(asked) < 6 and int(asked) in numbers else None
    at = numbers.index(number) if number is not None else -1
    address = _Address(worked.name, kept)
    following = next((s for s in told.sheets[told.sheets.index(sheet) + 1 :] if not s.same_as), None)
    return {
        "sheet": sheet,
        "board_name": plan.job.board(board.board).name,
        "links": tuple(_link(s, plan, address, sheet) for s in told.sheets),
        "drawing": drawn_at(plan, listed, sheet, number, _room(query.get("wide", ""), query.get("high", ""))),
        "step": told_of(plan, listed, sheet, number) if number is not None else None,
        "at": at + 1,
        "of": len(numbers),
        "whole_href": address.of(sheet),
        "back_href": address.of(sheet, numbers[at - 1]) if at > 0 else address.of(sheet) if at == 0 else "",
        "next_href": address.of(sheet, numbers[at + 1]) if at + 1 < len(numbers) else "",
        "following_href": address.of(following) if following is not None and at + 1 == len(numbers) else "",
        "following": following,
        "saw": saw.value,
        "saws": tuple((s.value, _Address(worked.name, {"saw": s.value}).of(sheet), s is saw) for s in SawKind),
        "saw_rows": _saw_rows(plan, board, listed, address, number, sheet),
        "saw_list": listed,
        "copies": tuple(s.name for s in board.sheets if s.same_as == sheet.name),
    }


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


def _search(request: Request, worked: Worked) -> dict[str, Any]:
    found = searches_of(request).of(worked)
    return {"search": found.seen() if found is not None else None, "least_s": LEAST_S, "most_s": MOST_S}


def _changes(request: Request, worked: Worked) -> dict[str, Any]:
    layout = worked.ask(lambda plan: f"{plan.version} {id(plan.sheets)}")  # told where it can not be read
    changing = errands_of(request).ask(("changing", worked.name, layout), Changing, lambda: Changing(worked))
    rows = worked.ask(
        lambda plan: tuple(
            (
                plan.job.board(b).name,
                w.question,
                _sheets_words(w.sheets, w.sheets_less),
                _money_words(plan, w.cents_less),
            )
            for b, told in changing.told
            for w in told
        )
    )
    return {"changing": not changing.is_done, "changes": rows}


def _sheets_words(sheets: int, less: int) -> str:
    if less == 0:
        return f"{sheets}, the same"
    return f"{sheets}, {abs(less)} {'fewer' if less > 0 else 'more'}"


def _money_words(plan: Plan, less: int) -> str:
    if less == 0:
        return "the same"
    return f"{_money(plan, abs(less))} {'less' if less > 0 else 'more'}"


# What is done ---------------------------------------------------------------------------------------------------------


async def search(request: Request) -> Response:
    """Begin a longer search (`{"seconds": 30}`), or stop the one that runs (`{"stop": true}`)."""
    desk, name = desk_of(request), request.path_params["job"]
    body = await body_of(request)
    await asyncio.to_thread(_search_on, desk, searches_of(request), name, body)
    if not wants_json(request):
        return RedirectResponse(f"/job/{quote(name)}/sheets#search-head", 303)
    return await asyncio.to_thread(searching, request)


def _search_on(desk: Desk, searches: Searches, name: str, body: dict[str, Any]) -> None:
    worked = desk.job(name)
    if body.get("stop"):
        found = searches.of(worked)
        if found is not None:
            found.stop()
        return
    text = str(body.get("seconds", "")).replace(",", ".").strip()
    try:
        seconds = float(text)
    except ValueError:
        seconds = math.nan
    if not LEAST_S <= seconds <= MOST_S:
        raise wrong("seconds", text, f"{LEAST_S:g} to {MOST_S:g} seconds")
    if worked.plan is None:
        raise JobError(*worked.faults)
    searches.start(worked, seconds, lambda: desk.live.tell_from_thread(worked.name, {"kind": "sheets"}))


async def rack(request: Request) -> Response:
    """Put a piece on the rack, take one off, or confirm that the sheets are cut; the body's `act` says which."""
    desk, name = desk_of(request), request.path_params["job"]
    body = await body_of(request)
    said = await asyncio.to_thread(act_on_rack, desk, name, body)
    desk.live.tell(name, {"kind": "sheets"})
    if not wants_json(request):
        return RedirectResponse(f"/job/{quote(name)}/sheets#rack-head", 303)
    return answer(said=said)


routes: tuple[BaseRoute, ...] = (
    Route("/job/{job}/sheets", show),
    Route("/job/{job}/sheets/part", part),
    Route("/job/{job}/sheets/one", one),
    Route("/job/{job}/sheets/changes", changes),
    Route("/job/{job}/sheets/search", searching, methods=["GET"]),
    Route("/job/{job}/sheets/search", search, methods=["POST"]),
    Route("/job/{job}/sheets/rack", rack, methods=["POST"]),
)
