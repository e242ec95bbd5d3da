"""Prices filled in where a sum lacks them, and the way back to the page that asked."""

from __future__ import annotations

import asyncio
from typing import Final
from urllib.parse import quote

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.web._desk import desk_of
from storyrod.adapters.web._prices import keep_prices
from storyrod.adapters.web._render import body_of
from storyrod.adapters.web._shelf import StaleError
from storyrod.adapters.web._workshops import workshops_of

ASKED_AT: Final = ("overview", "costs", "print", "sheets")
"""The stages that ask for prices."""


async def keep(request: Request) -> Response:
    """Write the prices that were filled in, and go back to where they were asked for."""
    name = request.path_params["job"]
    sent = {k: v for k, v in (await body_of(request)).items() if isinstance(v, str)}
    try:
        await asyncio.to_thread(_keep, request, name, sent)
    except StaleError:
        raise HTTPException(409, "The job or the workshop was being changed at this moment: try again.") from None
    return RedirectResponse(back_to(name, sent.get("back", "")), 303)


def _keep(request: Request, name: str, sent: dict[str, str]) -> None:
    desk = desk_of(request)
    keep_prices(desk, workshops_of(request), desk.job(name), sent)


def back_to(job: str, stage: str) -> str:
    """Return the address of the stage that asked; the first page of the job where that is none."""
    return f"/job/{quote(job)}/{stage if stage in ASKED_AT else ASKED_AT[0]}"


routes: tuple[BaseRoute, ...] = (Route("/job/{job}/prices", keep, methods=["POST"]),)
