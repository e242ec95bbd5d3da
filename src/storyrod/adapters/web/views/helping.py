"""Help at hand: what each stage is for, which keys do what, and the words of the trade; a page and a panel alike."""

from __future__ import annotations

from typing import Any, Final

from starlette.requests import Request
from starlette.responses import HTMLResponse, Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.web._glossary import chapters
from storyrod.adapters.web._render import fragment, page
from storyrod.adapters.web._stages import STAGES

KEYS: Final = (
    ("anywhere", (("?", "this help"), ("Ctrl+Z", "undo"), ("Ctrl+Y", "do again"))),
    (
        "Brief, in the drawing",
        (
            ("arrow keys", "to the next opening or panel that way"),
            ("Page Down, Page Up", "through all of them"),
            ("Enter", "change it; Escape comes back"),
        ),
    ),
    ("Panels", (("arrow keys", "turn the case"), ("+ and -", "nearer and farther"))),
    ("Set-out", (("up and down", "from mark to mark in the table"),)),
    ("Assembly", (("right and left", "next step and the one before"),)),
)
"""Where, and which keys do what there: `docs/page.md` tells the same."""


def show(request: Request) -> Response:
    """Show the help as a page; with `part=1` only what stands in it, for the panel."""
    values: dict[str, Any] = {"chapters": chapters(), "keys": KEYS, "stages": STAGES}
    if request.query_params.get("part") == "1":
        return HTMLResponse(fragment("help_matter.html", **values))
    return page(request, "help.html", **values)


routes: tuple[BaseRoute, ...] = (Route("/help", show),)
