"""Choices for a glue-up that takes longer than the glue stays open: tried behind the page, written when pressed."""

from __future__ import annotations

from typing import Final
from urllib.parse import quote, urlencode

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.web._desk import desk_of
from storyrod.adapters.web._glue_ways import keep_choice, with_choices
from storyrod.adapters.web._kept import kept
from storyrod.adapters.web._render import answer, fragment

ASKED_AT: Final = ("overview", "assembly", "stand")
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
    name, sent = request.path_params["job"], await kept(request, keep_choice)
    stage = sent.get("back", "")
    place = {k: sent[k] for k in ("case", "step") if stage == "assembly" and sent.get(k)}
    told = f"?{urlencode(place)}" if place else ""
    return RedirectResponse(f"/job/{quote(name)}/{stage if stage in ASKED_AT else ASKED_AT[0]}{told}", 303)


routes: tuple[BaseRoute, ...] = (
    Route("/job/{job}/glue-up", show),
    Route("/job/{job}/glue-up", keep, methods=["POST"]),
)
