"""Choices for a glue-up that takes longer than the glue stays open: tried behind the page, written when pressed."""

from __future__ import annotations

import asyncio
from typing import Final
from urllib.parse import quote, urlencode

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.web._desk import desk_of
from storyrod.adapters.web._glue_ways import keep_choice, with_choices
from storyrod.adapters.web._render import answer, body_of, fragment
from storyrod.adapters.web._shelf import StaleError
from storyrod.adapters.web._workshops import workshops_of

ASKED_AT: Final = ("overview", "assembly")
"""The stages that show the choices."""


def show(request: Request) -> Response:
    """Answer the page's script with the choices of every late glue-up, as the stage that asks shows them."""
    worked = desk_of(request).job(request.path_params["job"])
    back = request.query_params.get("at", "")
    late = with_choices(worked)
    common = {"job_name": worked.name, "back": back if back in ASKED_AT else ASKED_AT[0]}
    if back == ASKED_AT[0]:
        return answer({"glue-late": fragment("glue_late.html", late=late, **common)}, version=worked.version)
    pieces = {one.key: fragment("glue_choices.html", one=one, **common) for one in late}
    return answer(pieces, version=worked.version)


async def keep(request: Request) -> Response:
    """Write the choice that was pressed, and go back to where it was shown."""
    name = request.path_params["job"]
    sent = {k: v for k, v in (await body_of(request)).items() if isinstance(v, str)}
    try:
        await asyncio.to_thread(_keep, request, name, sent)
    except StaleError:
        raise HTTPException(409, "The job or the workshop was being changed at this moment: try again.") from None
    stage = sent.get("back", "")
    place = {k: sent[k] for k in ("case", "step") if stage == "assembly" and sent.get(k)}
    told = f"?{urlencode(place)}" if place else ""
    return RedirectResponse(f"/job/{quote(name)}/{stage if stage in ASKED_AT else ASKED_AT[0]}{told}", 303)


def _keep(request: Request, name: str, sent: dict[str, str]) -> None:
    desk = desk_of(request)
    keep_choice(desk, workshops_of(request), desk.job(name), sent)


routes: tuple[BaseRoute, ...] = (
    Route("/job/{job}/glue-up", show),
    Route("/job/{job}/glue-up", keep, methods=["POST"]),
)
