"""The brief: the front elevation is the editor; beside it fields, and the job file as text for who prefers it."""

from __future__ import annotations

import asyncio
from collections.abc import Mapping
from typing import Any, Final
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.files.asking import about, understood
from storyrod.adapters.web._acts import act_changes, changed_fields, place_after, tables_of, unit_of
from storyrod.adapters.web._brief_page import View, brief_of, pieces
from storyrod.adapters.web._desk import Desk, desk_of
from storyrod.adapters.web._differences import differences
from storyrod.adapters.web._pieces import pieces_by
from storyrod.adapters.web._render import answer, body_of, job_page, page
from storyrod.adapters.web._shelf import StaleError
from storyrod.adapters.web._worked import Worked
from storyrod.adapters.web.views.changing import make_changes, standing
from storyrod.faults import JobError

ROOM_COOKIE: Final = "storyrod-room"


def show(request: Request) -> Response:
    """Show the brief."""
    desk = desk_of(request)
    worked = desk.job_soon(request.path_params["job"])
    return _shown(request, desk, worked, _view(request))


def _view(request: Request) -> View:
    return View.of(request.query_params, request.cookies.get(ROOM_COOKIE, ""))


def _shown(request: Request, desk: Desk, worked: Worked, view: View, **more: Any) -> Response:  # noqa: ANN401
    more = {"refused": ()} | more
    brief = brief_of(desk, worked, view, more["refused"])
    return job_page(request, "brief.html", worked, "brief", brief=brief, **more)


def first(request: Request) -> Response:
    """Send on to the job's first page."""
    worked = desk_of(request).job_soon(request.path_params["job"])
    return RedirectResponse(f"/job/{quote(worked.name)}/overview", 303)


def show_pieces(request: Request) -> Response:
    """Answer with all pieces of the page as the job stands now: after a change elsewhere, or another look."""
    desk = desk_of(request)
    worked = desk.job_soon(request.path_params["job"])
    return standing(desk, worked, "brief", dict(request.query_params))


async def save(request: Request) -> Response:
    """Take a posted form, where the page's script does not run: fields that were changed, and what a button does."""
    desk, name = desk_of(request), request.path_params["job"]
    sent = {k: v for k, v in (await body_of(request)).items() if isinstance(v, str)}
    return await asyncio.to_thread(_save, request, desk, name, sent)


def _save(request: Request, desk: Desk, name: str, sent: Mapping[str, str]) -> Response:
    view = _view(request)
    worked = desk.job_soon(name)
    if sent.get("base", worked.version) != worked.version:
        return _overtaken(request, desk, worked, sent)
    at = view.at
    try:
        worked = make_changes(desk, worked, changed_fields(tables_of(worked.text), sent))
        if sent.get("do"):
            worked = make_changes(desk, worked, act_changes(worked, sent))
            at = place_after(sent["do"], at)
    except StaleError:
        return _overtaken(request, desk, desk.job_soon(name), sent)
    except JobError as error:
        return _shown(request, desk, worked, view, refused=error.faults)
    return RedirectResponse(view.address(worked.name, at=at), 303)


def _overtaken(request: Request, desk: Desk, worked: Worked, sent: Mapping[str, str]) -> Response:
    """Say what was changed meanwhile, and what was not written for it."""
    before = desk.shelf.text_of(worked.name, sent.get("base", ""))
    did = differences(before, worked.text) if before is not None else ()
    lost = [f"{c.path}: {c.value}" for c in changed_fields(tables_of(before or worked.text), sent)]
    words = "Someone changed it in the meantime: " + "; ".join(did) if did else "Someone changed it in the meantime."
    return page(
        request,
        "brief_overtaken.html",
        status=409,
        words=words,
        lost=lost,
        href=_view(request).address(worked.name),
    )


def show_understood(request: Request) -> Response:
    """Answer how a length is understood while it is typed."""
    worked = desk_of(request).job_soon(request.path_params["job"])
    path, value = request.query_params.get("path", ""), request.query_params.get("value", "")
    raw = tables_of(worked.text)
    fraction = raw.get("fraction")
    asked = about(path)
    try:
        told = understood(path, value[:100], unit_of(raw), fraction if fraction in {8, 16, 32, 64} else 32)
    except JobError:
        return answer(told="", wrong=f"Not understood yet; allowed: {asked.allowed}." if asked else "")
    return answer(told=told, wrong="")


def show_text(request: Request) -> Response:
    """Show the job file as text."""
    desk = desk_of(request)
    name = request.path_params["job"]
    text, exact = desk.shelf.text_as_can_be(name)
    worked = desk.workbook.soon(name, text, desk.settings.jobs)
    return _text_page(request, worked, text, exact=exact, said="")


def _text_page(request: Request, worked: Worked, text: str, *, exact: bool, said: str, status: int = 200) -> Response:
    faults = {f.line: f for f in reversed(worked.known) if f.line is not None and not f.file.startswith("the ")}
    response = job_page(
        request, "brief_text.html", worked, "brief", text=text, exact=exact, said=said, lines=sorted(faults)
    )
    response.status_code = status
    return response


async def save_text(request: Request) -> Response:
    """Write the job file as it was typed; one that is wrong is written as well, and its faults are told."""
    desk, name = desk_of(request), request.path_params["job"]
    sent = await body_of(request)
    return await asyncio.to_thread(_save_text, request, desk, name, sent)


def _save_text(request: Request, desk: Desk, name: str, sent: Mapping[str, str]) -> Response:
    text = sent.get("text", "").replace("\r\n", "\n")
    try:
        desk.shelf.mend(name, text, base=sent.get("base", ""))
    except StaleError:
        worked = desk.workbook.soon(name, desk.shelf.text(name), desk.settings.jobs)
        did = differences(text, worked.text)
        said = (
            "The file was changed somewhere else in the meantime; nothing was written. Your text is below as you "
            "typed it; "
        )
        said += "saving again writes it over the other. The file differs from it so: " + "; ".join(did)
        return _text_page(request, worked, text, exact=True, said=said, status=409)
    worked = desk.job_soon(name)
    desk.live.tell_from_thread(name, {"kind": "job", "version": worked.version})
    if worked.faults:
        return _text_page(request, worked, text, exact=True, said="Written, with the faults above.")
    return RedirectResponse(f"/job/{quote(name)}/brief", 303)


pieces_by("brief", pieces)

routes: tuple[BaseRoute, ...] = (
    Route("/job/{job}", first),
    Route("/job/{job}/brief", show, methods=["GET"]),
    Route("/job/{job}/brief", save, methods=["POST"]),
    Route("/job/{job}/brief/pieces", show_pieces),
    Route("/job/{job}/brief/understood", show_understood),
    Route("/job/{job}/text", show_text, methods=["GET"]),
    Route("/job/{job}/text", save_text, methods=["POST"]),
)
