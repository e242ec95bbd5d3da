"""One writer of a folder at a time, across threads and processes: who looks and then replaces is not come between.

The folder itself is locked where the system knows that, so that nothing of ours lies in it; else a file elsewhere.
"""

from __future__ import annotations

import os
import sys
import threading
import time
from functools import cache
from pathlib import Path
from types import TracebackType
from typing import Final

from storyrod.faults import Fault, JobError

if sys.platform == "win32":
    import msvcrt

    def _try(handle: int) -> None:
        msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
else:
    import fcntl

    def _try(handle: int) -> None:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)


WAIT_S: Final = 20.0
"""So long another process may hold the folder; each holds it for some milliseconds."""

_STEP_S: Final = 0.01


class FolderLock:
    """Held by one thread of one process at a time; the same thread may take it again."""

    def __init__(self, folder: Path, instead: Path) -> None:
        self.folder = folder
        self.instead = instead
        self._threads = threading.RLock()
        self._depth = 0
        self._handle: int | None = None

    def __enter__(self) -> None:
        """Wait for the folder, and hold it.

        Raises:
            JobError: another process holds it for too long.
        """
        self._threads.acquire()
        if self._depth == 0:
            try:
                self._handle = self._held()
            except BaseException:
                self._threads.release()
                raise
        self._depth += 1

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Let it go."""
        self._depth -= 1
        if self._depth == 0 and self._handle is not None:
            os.close(self._handle)  # which unlocks it
            self._handle = None
        self._threads.release()

    def _held(self) -> int | None:
        """Return the handle that holds it; None where nothing can be locked here, as on some network drives."""
        for opened in (self._folder, self._file):
            try:
                handle = opened()
            except OSError:
                continue
            if self._wait(handle):
                return handle
        return None

    def _folder(self) -> int:
        return os.open(self.folder, os.O_RDONLY)  # which Windows allows for no folder

    def _file(self) -> int:
        self.instead.parent.mkdir(parents=True, exist_ok=True)
        return os.open(self.instead, os.O_RDWR | os.O_CREAT, 0o600)

    def _wait(self, handle: int) -> bool:
        """Wait until it is locked; return whether it can be locked at all."""
        end = time.monotonic() + WAIT_S
        while True:
            try:
                _try(handle)
            except (BlockingIOError, PermissionError):
                if time.monotonic() < end:
                    time.sleep(_STEP_S)
                    continue
                os.close(handle)
                raise JobError(_busy(self.folder)) from None
            except OSError:
                os.close(handle)
                return False
            return True


def _busy(folder: Path) -> Fault:
    return Fault(
        code="folder-busy",
        field="",
        found=f'another program that holds the folder "{folder.name}"',
        allowed="one writer at a time, each for a moment",
        do="Nothing was changed. Close the other program, then do it again.",
    )


def lock_of(folder: Path, instead: Path) -> FolderLock:
    """Return the lock of a folder, the same for all who ask in this process; `instead` is a file that stands for it."""
    return _lock_of(folder.absolute(), instead)


@cache
def _lock_of(folder: Path, instead: Path) -> FolderLock:
    return FolderLock(folder, instead)
