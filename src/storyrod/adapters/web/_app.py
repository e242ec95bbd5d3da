"""The app: its routes, what it shares, and what it says when something goes wrong."""

from __future__ import annotations

import asyncio
import contextlib
import logging
from collections.abc import AsyncIterator, Callable
from pathlib import Path
from typing import Final

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.middleware.gzip import DEFAULT_EXCLUDED_CONTENT_TYPES, GZipMiddleware
from starlette.requests import ClientDisconnect, Request
from starlette.responses import PlainTextResponse, Response
from starlette.routing import BaseRoute, Mount, Route
from starlette.staticfiles import StaticFiles

from storyrod.adapters.web._desk import Desk
from storyrod.adapters.web._guard import Gate, Guard
from storyrod.adapters.web._render import faults_answer, page, wants_json
from storyrod.adapters.web._settings import Settings
from storyrod.adapters.web._socket import routes as socket_routes
from storyrod.adapters.web._watch import watch
from storyrod.adapters.web.views import ALL
from storyrod.faults import JobError

_LOG = logging.getLogger("storyrod.page")
_HERE = Path(__file__).parent
_FONTS = _HERE.parent.parent / "data" / "fonts"

_LOG_SENT_WRONG: Final = frozenset({"log-twice", "log-span", "log-count", "log-plan", "log-import"})
"""Faults told by the log of what it was given; all others are of the log itself."""

_COMPRESSING = Middleware(
    GZipMiddleware,
    minimum_size=1000,
    compresslevel=6,  # the highest level saves a twentieth more
    exclude_content_types=(*DEFAULT_EXCLUDED_CONTENT_TYPES, "application/pdf"),
)
"""What is text goes compressed to a browser that takes it so; what is compressed already, and sockets, as they are."""


def make_app(settings: Settings, *, admits: Callable[[str], bool] | None = None) -> Guard:
    """Return the whole page as one app, its guard around it."""
    return Guard(bare_app(settings), Gate(hosts=settings.hosts, admits=admits))


def bare_app(settings: Settings) -> Starlette:
    """Return the page without its guard: for one process that listens at two gates."""
    desk = Desk(settings)

    @contextlib.asynccontextmanager
    async def lifespan(_: Starlette) -> AsyncIterator[None]:
        watching = asyncio.create_task(watch(desk))
        try:
            yield
        finally:
            watching.cancel()
            with contextlib.suppress(asyncio.CancelledError):
                await watching
            await desk.network.close()
            desk.close()

    routes: list[BaseRoute] = [
        Route("/static/drawing.css", _drawing_styles),
        Mount("/static/fonts", StaticFiles(directory=_FONTS)),
        Mount("/static", StaticFiles(directory=_HERE / "static")),
    ]
    routes += socket_routes
    for view in ALL:
        routes += view.routes
    app = Starlette(
        routes=routes,
        middleware=[_COMPRESSING],
        lifespan=lifespan,
        exception_handlers={
            JobError: _job_error,
            HTTPException: _http_error,
            ClientDisconnect: _went_away,
            Exception: _ours,
        },
    )
    app.state.desk = desk
    return app


def _drawing_styles(_: Request) -> Response:
    """Answer with the rules that colour drawings, from the same tints that paper has."""
    from storyrod.adapters.svg import page_styles

    return Response(page_styles(), media_type="text/css", headers={"Cache-Control": "max-age=3600"})


def _job_error(request: Request, error: Exception) -> Response:
    assert isinstance(error, JobError)  # noqa: S101  # the handler is for these
    status = _status(error)
    if wants_json(request):
        answer: Response = faults_answer(error, status)
    else:
        heading = "This cannot be shown yet"
        answer = page(request, "told.html", status=status, heading=heading, faults=error.faults, words="")
    if status == 503:
        answer.headers["Retry-After"] = "2"
    return answer


def _status(error: JobError) -> int:
    """Return 404 for a job that is not there, 503 where the log cannot do it now, 422 for all that is sent wrong.

    A tablet sends again after a 503; a new fault of the log counts as one, so that none makes it give a tick up.
    """
    codes = {f.code for f in error.faults}
    if codes == {"job-missing"}:
        return 404
    return 503 if any(c.startswith("log-") and c not in _LOG_SENT_WRONG for c in codes) else 422


def _http_error(request: Request, error: Exception) -> Response:
    assert isinstance(error, HTTPException)  # noqa: S101  # the handler is for these
    if wants_json(request) or request.url.path.startswith("/static"):
        return PlainTextResponse(str(error.detail), error.status_code)
    words = "There is nothing at this address." if error.status_code == 404 else str(error.detail)
    return page(request, "told.html", status=error.status_code, heading=words, faults=(), words="")


def _went_away(_: Request, __: Exception) -> Response:
    """Answer whoever went away before all was sent: nobody hears it, and nothing was done."""
    return Response(status_code=400)


def _ours(request: Request, error: Exception) -> Response:
    """Say that the mistake is ours; where it happened goes to the terminal, not to the maker."""
    _LOG.exception("at %s", request.url.path, exc_info=error)
    words = "This is a mistake in storyrod, not in your job; your files are as they were."
    if wants_json(request):
        return PlainTextResponse(words, 500)
    return page(request, "told.html", status=500, heading="Something went wrong here", faults=(), words=words)
