"""Lets go of what is no longer needed while nobody waits: looking through the plans that are kept takes long.

Python looks through all that is in memory every now and then, also in the midst of an edit, and a few kept plans make
that a tenth of a second. Here it looks through what is young only; the rest is done once no job is being worked out.
"""

from __future__ import annotations

import gc
import time
from collections.abc import Callable
from typing import Final

YOUNG: Final = (20_000, 20)
"""So many new things, and so many looks through them, before Python looks again."""

NEVER: Final = 1_000_000_000

RESTS_S: Final = 3.0
"""So long nothing was worked out: nobody waits for the next drawing."""

LATEST_S: Final = 120.0
"""So long it is put off at the most while one edit follows the other."""


class Tidying:
    """Notes when something was worked out, and collects what that left once it is quiet."""

    def __init__(self, collect: Callable[[], object] = gc.collect) -> None:
        self._collect = collect
        self._is_ours = False
        self._worked_at: float | None = None
        self._since = 0.0

    def begin(self) -> None:
        """Take it over from Python, for this process: all that was loaded so far stays for good."""
        gc.collect()
        gc.freeze()
        gc.set_threshold(*YOUNG, NEVER)
        self._is_ours = True

    def worked(self, now: float | None = None) -> None:
        """Note that something was worked out just now."""
        at = time.monotonic() if now is None else now
        if self._worked_at is None:
            self._since = at
        self._worked_at = at

    def look(self, now: float) -> bool:
        """Collect where it is time; return whether that was done."""
        if not self._is_ours or self._worked_at is None:
            return False
        if now - self._worked_at < RESTS_S and now - self._since < LATEST_S:
            return False
        self._worked_at = None
        self._collect()
        return True


TIDYING: Final = Tidying()
"""The one of this process."""
