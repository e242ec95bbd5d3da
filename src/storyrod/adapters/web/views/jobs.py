"""The list of jobs: new, copied, opened, renamed, deleted and brought back."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.web._desk import desk_of
from storyrod.adapters.web._render import page


def show(request: Request) -> Response:
    """Show the list."""
    desk = desk_of(request)
    return page(request, "jobs.html", entries=desk.shelf.entries(), deleted=desk.shelf.deleted())


routes: tuple[BaseRoute, ...] = (Route("/", show),)
