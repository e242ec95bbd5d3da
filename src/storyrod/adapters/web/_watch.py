"""Looks at the disk while pages are open, so that a job changed by hand is seen at once."""

from __future__ import annotations

import asyncio

from storyrod.adapters.web._desk import Desk
from storyrod.adapters.web._worked import version_of
from storyrod.faults import JobError


async def watch(desk: Desk) -> None:
    """Tell open pages of each job whose file changes, until cancelled."""
    seen: dict[str, str] = {}
    while True:
        await asyncio.sleep(desk.settings.polling_s)
        open_now = desk.live.names()
        for name in open_now:
            version = await asyncio.to_thread(_version, desk, name)
            if seen.get(name, desk.shown.get(name, version)) != version:
                desk.live.tell(name, {"kind": "job", "version": version})
            seen[name] = version
        seen = {name: seen[name] for name in open_now}


def _version(desk: Desk, name: str) -> str:
    try:
        return version_of(desk.shelf.text(name))
    except JobError:
        return ""
