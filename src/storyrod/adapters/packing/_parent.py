"""Our end: starts the child, reads its plans line by line, ends it.

The child is another process, because the library cannot be stopped within its own limit, and a crash of it must
not be ours. What it says is never believed: the sheets stage turns it into a tree of its own and judges that.
"""

from __future__ import annotations

import importlib.util
import json
import os
import queue
import subprocess
import sys
import threading
from collections.abc import Sequence
from typing import IO

from storyrod.sheets import PlainSheet, PlainTask


def is_installed() -> bool:
    """Tell whether the library is there; it has wheels for the usual machines only."""
    return importlib.util.find_spec("packingsolver") is not None


def cores() -> int:
    """Return how many cores this process may use."""
    if hasattr(os, "sched_getaffinity"):  # Linux: a container or a caller may have bound us to a few.
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


class PackingEngine:
    """Starts the packing library beside our own search; a `SecondEngine`."""

    def start(self, task: PlainTask, limit_s: float) -> RunningChild | None:
        """Start it for `limit_s` seconds; None where it is not installed or cannot be started."""
        if not is_installed():
            return None
        try:
            child = subprocess.Popen(
                [sys.executable, "-m", "storyrod.adapters.packing._child"],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
                text=True,
            )
        except OSError:
            return None
        return RunningChild(child, {"sheets": task.sheets, "parts": task.parts, "limit_s": limit_s})


class RunningChild:
    """The child at work; a `Running`."""

    def __init__(self, child: subprocess.Popen[str], question: dict[str, object]) -> None:
        self._child = child
        self._lines: queue.SimpleQueue[str] = queue.SimpleQueue()
        if child.stdin is None or child.stdout is None:
            raise ValueError("the child was started without pipes")
        try:
            child.stdin.write(json.dumps(question) + "\n")
            child.stdin.close()
        except OSError:  # It ended before it was asked: then nothing will come.
            pass
        self._reader = threading.Thread(target=self._read, args=(child.stdout,), daemon=True)
        self._reader.start()

    @property
    def shares_core(self) -> bool:
        """Whether this process, and its child with it, may use one core alone."""
        return cores() < 2

    def _read(self, pipe: IO[str]) -> None:
        for line in pipe:
            self._lines.put(line)

    def better(self) -> Sequence[PlainSheet] | None:
        """Return the newest plan since the last time asked, or None."""
        newest: Sequence[PlainSheet] | None = None
        while not self._lines.empty():
            plan = _understood(self._lines.get())
            newest = plan if plan is not None else newest
        return newest

    def stop(self) -> None:
        """End the child at once."""
        if self._child.poll() is None:
            self._child.kill()
        self._child.wait()
        self._reader.join(timeout=1.0)
        if self._child.stdout is not None:
            self._child.stdout.close()


def _understood(line: str) -> Sequence[PlainSheet] | None:
    """Return the plan on a line, or None where the line was cut short or is no plan."""
    try:
        told = json.loads(line)
        return [(int(s), tuple((int(k), int(x), int(y), int(w), int(h)) for k, x, y, w, h in ps)) for s, ps in told]
    except (ValueError, TypeError):
        return None
