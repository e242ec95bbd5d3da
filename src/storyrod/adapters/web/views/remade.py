"""A job whose file was gone and came back as another: whether it goes on with the ticks of the one before."""

from __future__ import annotations

import asyncio
import time
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.web._desk import desk_of
from storyrod.adapters.web._render import body_of
from storyrod.faults import Fault, JobError


async def begin(request: Request) -> Response:
    """Go on with what the bench log holds under the job's name (`"how": "on"`), or begin afresh (`"afresh"`).

    What there was is kept in the log under another name, and the earlier texts beside the deleted jobs.
    """
    desk, name = desk_of(request), request.path_params["job"]
    how = str((await body_of(request)).get("how", ""))
    desk.shelf.path(name)
    if how not in {"on", "afresh"}:
        do = "Use one of the two buttons."
        raise JobError(Fault(code="sent", field="how", found=f'"{how[:60]}"', allowed="on or afresh", do=do))

    def done() -> None:
        if how == "afresh" and desk.absences.asks(name):
            token = f"{time.time_ns():x}"
            desk.set_log_aside(name, desk.title(name), f"before {token}")
            desk.shelf.begin_anew(name, token)
        desk.absences.forget(name)

    await asyncio.to_thread(done)
    return RedirectResponse(f"/job/{quote(name)}/brief", 303)


routes: tuple[BaseRoute, ...] = (Route("/job/{job}/begin", begin, methods=["POST"]),)
