"""What the terminal is told while the page is served: each thing in a line, and not without end."""

from __future__ import annotations

import asyncio
import errno
import logging
import time
from collections.abc import Callable
from typing import Any, Final

MOST_LINES: Final = 20
EACH_S: Final = 60.0

_LOG = logging.getLogger("storyrod.page")
_REFUSED: Final = "ASGI callable returned without completing handshake."
"""What the server says of each socket that was turned away, as it should be."""

_OUT_OF_HANDLES: Final = frozenset({errno.EMFILE, errno.ENFILE})


class Seldom(logging.Filter):
    """Lets so many lines through a minute; the first of the next minute tells how many were left out."""

    def __init__(
        self, most: int = MOST_LINES, each_s: float = EACH_S, clock: Callable[[], float] = time.monotonic
    ) -> None:
        super().__init__()
        self._most, self._each_s, self._clock = most, each_s, clock
        self._began = clock()
        self._told = self._left_out = 0

    def filter(self, record: logging.LogRecord) -> bool:
        """Return whether a line is told."""
        if record.msg == _REFUSED:
            return False
        now = self._clock()
        if now - self._began >= self._each_s:
            if self._left_out:
                record.msg, record.args = f"{record.getMessage()} ({self._left_out} lines before were left out)", ()
            self._began, self._told, self._left_out = now, 0, 0
        self._told += 1
        self._left_out += self._told > self._most
        return self._told <= self._most


def quieten() -> None:
    """Have the server and the page tell no more lines than somebody would read."""
    for name in ("uvicorn.error", "storyrod.page", "asyncio"):
        log = logging.getLogger(name)
        if not any(isinstance(f, Seldom) for f in log.filters):
            log.addFilter(Seldom())


def on_trouble(loop: asyncio.AbstractEventLoop, context: dict[str, Any]) -> None:
    """Tell what went wrong beside all requests: in a line where the machine is out of something, else in full."""
    error = context.get("exception")
    if isinstance(error, OSError) and error.errno in _OUT_OF_HANDLES:
        _LOG.warning("Too many files and connections are open: new ones wait. Close some pages, or other programs.")
    elif isinstance(error, ConnectionError):
        pass  # a page went away in the middle of a word
    else:
        loop.default_exception_handler(context)
