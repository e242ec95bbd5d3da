"""The longer search for a better layout, as the page shows it and has it begun and stopped."""

from __future__ import annotations

import math
from typing import Any

from starlette.requests import Request

from storyrod.adapters.web._desk import Desk
from storyrod.adapters.web._rack_page import wrong
from storyrod.adapters.web._searching import LEAST_S, MOST_S, Searches, searches_of
from storyrod.adapters.web._worked import Worked
from storyrod.faults import JobError


def search_shown(request: Request, worked: Worked) -> dict[str, Any]:
    """Return how the longer search stands, and how long it may take (seconds)."""
    found = searches_of(request).of(worked)
    return {"search": found.seen() if found is not None else None, "least_s": LEAST_S, "most_s": MOST_S}


def search_on(desk: Desk, searches: Searches, name: str, body: dict[str, Any]) -> None:
    """Begin a longer search, or stop the one that runs, as a page's body says.

    Raises:
        JobError: the seconds are not within what is allowed, or the job cannot be read.
    """
    worked = desk.job(name)
    if body.get("stop"):
        found = searches.of(worked)
        if found is not None:
            found.stop()
        return
    text = str(body.get("seconds", "")).replace(",", ".").strip()
    try:
        seconds = float(text)
    except ValueError:
        seconds = math.nan
    if not LEAST_S <= seconds <= MOST_S:
        raise wrong("seconds", text, f"{LEAST_S:g} to {MOST_S:g} seconds")
    if worked.plan is None:
        raise JobError(*worked.faults)
    searches.start(worked, seconds, lambda: desk.live.tell_from_thread(worked.name, {"kind": "sheets"}))
