"""Sheets: each one cut step by step, the saw's list, a longer search, and the rack of offcuts."""

from __future__ import annotations

import asyncio
from typing import Any
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.web._desk import desk_of
from storyrod.adapters.web._rack_page import act_on_rack, rack_of
from storyrod.adapters.web._render import answer, body_of, fragment, job_page, wants_json
from storyrod.adapters.web._searching import searches_of
from storyrod.adapters.web._sheet_board_lines import layout_of
from storyrod.adapters.web._sheet_search import search_on, search_shown
from storyrod.adapters.web._sheet_shown import one_sheet
from storyrod.adapters.web._sheet_what_ifs import changes_shown
from storyrod.adapters.web._stage_answer import stage_answer
from storyrod.adapters.web._worked import Worked
from storyrod.faults import JobError


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
    values = {"job_name": worked.name} | worked.ask(lambda plan: one_sheet(request, worked, plan, plan.sheets))
    return answer({"sheets-one": fragment("sheets_one.html", **values)})


def searching(request: Request) -> Response:
    """Answer with how the search stands."""
    worked = desk_of(request).job(request.path_params["job"])
    values = {"job_name": worked.name} | search_shown(request, worked)
    return answer({"sheets-search": fragment("sheets_search.html", **values)}, **_running(values))


def changes(request: Request) -> Response:
    """Answer with what would change, as far as it is worked out."""
    worked = desk_of(request).job(request.path_params["job"])
    values = changes_shown(request, worked)
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
        values |= worked.ask(lambda plan: layout_of(request, worked, plan))
        values |= changes_shown(request, worked)
    except JobError as error:
        values["why_not"] = error.faults
    return values | search_shown(request, worked) | {"rack": rack_of(desk_of(request), worked)}


# What is done ---------------------------------------------------------------------------------------------------------


async def search(request: Request) -> Response:
    """Begin a longer search (`{"seconds": 30}`), or stop the one that runs (`{"stop": true}`)."""
    desk, name = desk_of(request), request.path_params["job"]
    body = await body_of(request)
    await asyncio.to_thread(search_on, desk, searches_of(request), name, body)
    if not wants_json(request):
        return RedirectResponse(f"/job/{quote(name)}/sheets#search-head", 303)
    return await asyncio.to_thread(searching, request)


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
