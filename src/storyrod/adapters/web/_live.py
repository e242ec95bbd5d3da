"""Open pages and what they are told: that a job has changed, that something was ticked, that a clock runs.

A page opens one socket for its job. Words are small JSON objects with a `kind`; a page that is slow to take them is let
go, and asks for everything anew when it comes back.
"""

from __future__ import annotations

import asyncio
import contextlib
from collections import defaultdict
from collections.abc import AsyncIterator, Mapping
from typing import Any, Final

MOST_WAITING: Final = 200

type Word = Mapping[str, Any]


class Live:
    """Who listens to which job; all its methods are called on the event loop, but `tell_from_thread`."""

    def __init__(self) -> None:
        self._listening: dict[str, set[asyncio.Queue[Word | None]]] = defaultdict(set)
        self._loop: asyncio.AbstractEventLoop | None = None

    def names(self) -> tuple[str, ...]:
        """Return the jobs of which a page is open."""
        return tuple(name for name, pages in self._listening.items() if pages)

    def count(self, name: str) -> int:
        """Return how many pages of a job are open."""
        return len(self._listening.get(name, ()))

    @contextlib.asynccontextmanager
    async def listening(self, name: str) -> AsyncIterator[asyncio.Queue[Word | None]]:
        """Give a queue of the words about a job; None in it says that the page was too slow."""
        self._loop = asyncio.get_running_loop()
        queue: asyncio.Queue[Word | None] = asyncio.Queue()
        self._listening[name].add(queue)
        try:
            yield queue
        finally:
            self._listening[name].discard(queue)

    def tell(self, name: str, word: Word) -> None:
        """Tell every open page of a job."""
        for queue in tuple(self._listening.get(name, ())):
            if queue.qsize() >= MOST_WAITING:
                self._listening[name].discard(queue)
                queue.put_nowait(None)
            else:
                queue.put_nowait(word)

    def tell_from_thread(self, name: str, word: Word) -> None:
        """Tell every open page of a job, from a view that runs in a thread."""
        loop = self._loop
        if loop is not None and not loop.is_closed():
            loop.call_soon_threadsafe(self.tell, name, word)
