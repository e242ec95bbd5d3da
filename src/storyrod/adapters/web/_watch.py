"""Looks at the disk while pages are open, so that a job changed by hand is seen at once."""

from __future__ import annotations

import asyncio
import time

from storyrod.adapters.web._desk import Desk
from storyrod.adapters.web._tidying import TIDYING
from storyrod.adapters.web._worked import version_of
from storyrod.adapters.web._workshops import version_on_disk, workshop_of
from storyrod.faults import JobError


async def watch(desk: Desk) -> None:
    """Tell open pages of each job whose file changes, or whose workshop's file, until cancelled."""
    seen: dict[str, str] = {}
    shops: dict[str, str] = {}
    while True:
        await asyncio.sleep(desk.settings.polling_s)
        await asyncio.to_thread(desk.absences.look, time.monotonic())
        TIDYING.look(time.monotonic())
        open_now = desk.live.names()
        for name in open_now:
            version, shop_version = await asyncio.to_thread(_versions, desk, name)
            if seen.get(name, desk.shown.get(name, version)) != version:
                desk.live.tell(name, {"kind": "job", "version": version})
            elif shops.get(name, shop_version) != shop_version and desk.is_news(name, shop_version):
                desk.live.tell(name, {"kind": "workshop"})
            seen[name], shops[name] = version, shop_version
        seen = {name: seen[name] for name in open_now}
        shops = {name: shops[name] for name in open_now}


def _versions(desk: Desk, name: str) -> tuple[str, str]:
    """Return the version of a job's text, and that of the workshop file beside the jobs that it names."""
    try:
        text = desk.shelf.text(name)
    except JobError:
        return "", ""
    shop = workshop_of(text)
    return version_of(text), version_on_disk(desk.settings.jobs / shop) if shop else ""
