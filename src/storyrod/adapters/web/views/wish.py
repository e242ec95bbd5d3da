"""From what must go in to cabinets to choose from: three questions, pictures as they come, and one taken as a job."""

from __future__ import annotations

import asyncio
from dataclasses import replace
from typing import Any
from urllib.parse import quote

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.files import job_to_toml, write_text_safely
from storyrod.adapters.files.kept_wish import wish_path
from storyrod.adapters.web._desk import Desk, desk_of
from storyrod.adapters.web._render import answer, fragment, page
from storyrod.adapters.web._wish_asked import Asked, asked_of, choices
from storyrod.adapters.web._wish_work import load_solver, shown_of, work_of
from storyrod.faults import JobError
from storyrod.planning import can_search


def show(request: Request) -> Response:
    """Show the questions, and what comes of the answers in the address."""
    desk = desk_of(request)
    values = _values(request, desk)
    if values["shown"] is None:
        load_solver()
    return page(request, "wish.html", **choices(), **values)


def part(request: Request) -> Response:
    """Answer the page's script with what is known by now."""
    values = _values(request, desk_of(request))
    shown = values["shown"]
    piece = fragment("wish_result.html", **values)
    return answer({"wish-result": piece}, working=shown is not None and shown.working)


async def take(request: Request) -> Response:
    """Make a proposal a job, its wish in the folder beside it, and open it."""
    async with request.form(max_files=0, max_fields=10) as form:
        number = form.get("number", "")
    return await asyncio.to_thread(_taken, request, number if isinstance(number, str) else "")


def _taken(request: Request, number: str) -> Response:
    desk, asked = desk_of(request), asked_of(request.query_params)
    if not asked.is_asked or not can_search():
        raise HTTPException(404, "Nothing is asked in this address.")
    try:
        work = work_of(request, desk, asked)
    except JobError:
        raise HTTPException(404, "This wish has no proposals.") from None
    chosen = next((p for p in work.proposals if str(p.number) == number), None)
    if chosen is None:
        return RedirectResponse(f"/wish?{asked.query}", 303)
    workshop = work.read.wish.workshop
    name = desk.shelf.add(chosen.job.title, job_to_toml(chosen.job, workshop=workshop))
    beside = wish_path(desk.shelf.path(name))
    beside.parent.mkdir(parents=True, exist_ok=True)
    write_text_safely(beside, work.read.text)
    return RedirectResponse(f"/job/{quote(name)}/overview", 303)


def _values(request: Request, desk: Desk) -> dict[str, Any]:
    asked: Asked = asked_of(request.query_params)
    values: dict[str, Any] = {
        "asked": asked,
        "shown": None,
        "told": (),
        "held": bool(request.query_params.get("hold")),
        "can_search": can_search(),
    }
    if not asked.is_asked or not can_search():
        return values
    try:
        return values | {"shown": shown_of(work_of(request, desk, asked))}
    except JobError as error:
        told = tuple(replace(f, field=asked.place_of(f.field), line=None, file="") for f in error.faults)
        return values | {"told": told}


routes: tuple[BaseRoute, ...] = (
    Route("/wish", show),
    Route("/wish/part", part),
    Route("/wish/take", take, methods=["POST"]),
)
