"""The brief: the front elevation is the editor."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.web._desk import desk_of
from storyrod.adapters.web._render import job_page


def show(request: Request) -> Response:
    """Show the brief."""
    worked = desk_of(request).job(request.path_params["job"])
    return job_page(request, "job.html", worked, "brief")


def first(request: Request) -> Response:
    """Send on to the brief."""
    worked = desk_of(request).job(request.path_params["job"])
    return RedirectResponse(f"/job/{worked.name}/brief", 303)


routes: tuple[BaseRoute, ...] = (Route("/job/{job}", first), Route("/job/{job}/brief", show))
