"""Prices filled in where a sum lacks them, and the way back to the page that asked."""

from __future__ import annotations

from typing import Final
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.web._kept import kept
from storyrod.adapters.web._prices import keep_prices

ASKED_AT: Final = ("overview", "costs", "print", "sheets")
"""The stages that ask for prices."""


async def keep(request: Request) -> Response:
    """Write the prices that were filled in, and go back to where they were asked for."""
    sent = await kept(request, keep_prices)
    return RedirectResponse(back_to(request.path_params["job"], sent.get("back", "")), 303)


def back_to(job: str, stage: str) -> str:
    """Return the address of the stage that asked; the first page of the job where that is none."""
    return f"/job/{quote(job)}/{stage if stage in ASKED_AT else ASKED_AT[0]}"


routes: tuple[BaseRoute, ...] = (Route("/job/{job}/prices", keep, methods=["POST"]),)
