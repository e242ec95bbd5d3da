"""A paper that is asked for: the tab shows how far it is, with a way to stop, and goes on to it once it is made."""

from __future__ import annotations

from typing import Any, Final
from urllib.parse import quote

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.printing import ALL
from storyrod.adapters.web._desk import desk_of
from storyrod.adapters.web._making import Making, makings_of
from storyrod.adapters.web._printed import texts_of, wishes_of
from storyrod.adapters.web._render import answer, fragment, job_page, wants_json
from storyrod.adapters.web._worked import Worked

SOON_S: Final = 0.6
"""So long the tab waits before it shows how far the paper is: what was made before is there by then."""

_ARCHIVE: Final = "All files in one archive"


def show(request: Request) -> Response:
    """Begin to make the paper, and show how far it is; go on to it where it is made. A script is told the same."""
    worked = desk_of(request).job_soon(request.path_params["job"])
    title = title_of(request.path_params["paper"])
    making = _making(request, worked, begin=not wants_json(request))
    if making is not None and not wants_json(request):
        making.wait(SOON_S)
    return _told(request, worked, title, making)


def stop(request: Request) -> Response:
    """Make it no further."""
    worked = desk_of(request).job_soon(request.path_params["job"])
    title = title_of(request.path_params["paper"])
    making = makings_of(request).of(worked, request.path_params["paper"], request.url.query)
    if making is not None:
        making.stop()
    if not wants_json(request):
        return RedirectResponse(f"/job/{quote(worked.name)}/print", 303)
    return _told(request, worked, title, making)


def title_of(name: str) -> str:
    """Return what a file that is made here is called.

    Raises:
        HTTPException: no such file is.
    """
    from storyrod.adapters.packet import PRINTS

    if name == ALL:
        return _ARCHIVE
    about = next((one.about for one in PRINTS.values() if one.file == name), None)
    if about is None:
        raise HTTPException(404, "There is no such file of this job.")
    return about.partition(":")[0]


def _making(request: Request, worked: Worked, *, begin: bool) -> Making | None:
    """Return the making of the paper; a page that is open goes on with the one it saw, also if that was stopped."""
    name, query = request.path_params["paper"], request.url.query
    wishes = wishes_of(request)  # what the address says wrongly is told, whatever is made by now
    if worked.plan is None:
        return None
    making = makings_of(request).of(worked, name, query)
    if begin or making is None:
        making = makings_of(request).begin(worked, name, query, texts_of(worked), wishes)
    return making


def _told(request: Request, worked: Worked, title: str, making: Making | None) -> Response:
    name, query = request.path_params["paper"], request.url.query
    tail = f"{quote(name)}{'?' * bool(query)}{query}"
    href = f"/job/{quote(worked.name)}/files/{tail}"
    is_made = making is not None and making.data is not None
    working = worked.waits or (making is not None and not making.is_done and not making.is_stopped)
    values: dict[str, Any] = {
        "job_name": worked.name,
        "title": title,
        "file": href,
        "again": f"/job/{quote(worked.name)}/making/{tail}",
        "made": is_made,
        "is_archive": name == ALL,
        "working": working and not is_made,
        "stopped": making is not None and making.is_stopped,
        "said": making.said if making is not None else "Working out the job.",
        "parts": making.parts if making is not None else (0, 0),
        "why_not": making.faults if making is not None else worked.faults,
        "trouble": making.trouble if making is not None else "",
    }
    if wants_json(request):
        swap = {"making": fragment("making_now.html", **values)}
        return answer(swap, working=values["working"], made=href if is_made else "")
    if is_made:
        return RedirectResponse(href, 303)
    return job_page(request, "making.html", worked, "print", **values)


routes: tuple[BaseRoute, ...] = (
    Route("/job/{job}/making/{paper:path}", show),
    Route("/job/{job}/making/{paper:path}", stop, methods=["POST"]),
)
