"""Notes and photos on the job, its panels and cards; ticks of the buying list. All of it lies beside the job."""

from __future__ import annotations

import asyncio
from typing import Any, Final
from urllib.parse import quote, urlencode

from starlette.datastructures import UploadFile
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.web._beside import LARGEST_PHOTO, new_note
from storyrod.adapters.web._desk import Desk, desk_of
from storyrod.adapters.web._notes_shown import marks_of, notes_id, notes_of_card, notes_values
from storyrod.adapters.web._render import answer, body_of, fragment, wants_json
from storyrod.faults import Fault, JobError

_PHOTO_CACHED: Final = "private, max-age=31536000, immutable"


async def keep(request: Request) -> Response:
    """Add a note (`at`, `text`, `photo`), take one away (`do=gone`, `note`) or put it back (`do=back`).

    A script is answered with the list of that place, a form goes back to where it was sent from.
    """
    desk, job = desk_of(request), request.path_params["job"]
    async with request.form(max_files=1, max_fields=10) as form:
        sent = {name: value for name, value in form.items() if isinstance(value, str)}
        file = form.get("photo")
        photo = await file.read(LARGEST_PHOTO + 1) if isinstance(file, UploadFile) else b""
    await asyncio.to_thread(_keep, desk, job, sent, photo)
    at = sent.get("list") or sent.get("at", "job")
    desk.live.tell_from_thread(job, {"kind": "notes"})
    if wants_json(request):
        pieces = await asyncio.to_thread(_pieces, desk, job, at, sent.get("stage", ""))
        return answer(pieces, said="Kept." if sent.get("do", "add") == "add" else "")
    return RedirectResponse(_way_back(job, at), 303)


def _keep(desk: Desk, job: str, sent: dict[str, str], photo: bytes) -> None:
    do = sent.get("do", "add")
    if do == "add":
        desk.beside.add(job, new_note(sent.get("at", "job"), sent.get("text", ""), sent.get("id", "")), photo)
    elif do in {"gone", "back"}:
        desk.beside.set_gone(job, sent.get("note", ""), gone=do == "gone")
    else:
        raise JobError(
            Fault(code="sent", field="do", found=repr(do[:20]), allowed="add, gone, back", do="Load the page again.")
        )


def _pieces(desk: Desk, job: str, at: str, stage: str) -> dict[str, str]:
    """Return the list of a place's notes; at the bench, those of every card that shows them."""
    worked = desk.job_soon(job)
    if stage != "bench" or at == "job":
        values: dict[str, Any] = notes_values(desk, worked, at)
        if stage == "bench":
            values |= {
                "notes_places": (),
                "notes": [s for s in values["notes"] if s.note.at == "job"],
                "notes_gone": (),
            }
        return {notes_id(at): fragment("notes_list.html", job_name=job, **values)}
    beside, marks = desk.beside.of(job), marks_of(worked)
    lists = (notes_of_card(job, beside, c, marks) for c in desk.ticks.cards(worked).cards)
    return {
        told["notes_id"]: fragment("notes_list.html", job_name=job, notes_places=(), **told)
        for told in lists
        if told["notes_at"] == at or at.startswith("panel ")
    }


def _way_back(job: str, at: str) -> str:
    kind, _, which = at.partition(" ")
    stage = {"panel": "set-out", "card": "bench"}.get(kind, "overview")
    told = f"?{urlencode({kind: which})}" if which and stage != "overview" else ""
    return f"/job/{quote(job)}/{stage}{told}"


def photo(request: Request) -> Response:
    """Answer with a photo; its name is made from what is in it, so that it never changes."""
    found = desk_of(request).beside.photo(request.path_params["job"], request.path_params["photo"])
    if found is None:
        raise HTTPException(404, "There is no such photo.")
    return Response(found[0], media_type=found[1], headers={"Cache-Control": _PHOTO_CACHED})


async def have(request: Request) -> Response:
    """Tick a line of the buying list as being there (`line`, `have`), or take the tick back."""
    desk, job = desk_of(request), request.path_params["job"]
    body = await body_of(request)
    line, ticked = body.get("line"), body.get("have")
    if not isinstance(line, str) or not isinstance(ticked, bool):
        raise JobError(
            Fault(
                code="sent",
                field="line",
                found="no line of a buying list",
                allowed="a line, and whether you have it",
                do="Load the page again.",
            )
        )
    await asyncio.to_thread(desk.beside.set_have, job, line, have=ticked)
    return answer()


routes: tuple[BaseRoute, ...] = (
    Route("/job/{job}/notes", keep, methods=["POST"]),
    Route("/job/{job}/photos/{photo}", photo),
    Route("/job/{job}/have", have, methods=["POST"]),
)
