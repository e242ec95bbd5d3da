"""Sheets."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.web._desk import desk_of
from storyrod.adapters.web._render import job_page


def show(request: Request) -> Response:
    """Show the stage."""
    worked = desk_of(request).job(request.path_params["job"])
    return job_page(request, "job.html", worked, "sheets")


routes: tuple[BaseRoute, ...] = (Route("/job/{job}/sheets", show),)
