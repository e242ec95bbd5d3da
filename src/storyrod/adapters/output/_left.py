"""What a run that was killed left behind is cleared by the next one; what a running one works on is let be."""

from __future__ import annotations

import contextlib
import os
import shutil
import sys
from collections.abc import Iterator
from pathlib import Path


@contextlib.contextmanager
def hold(aside: Path) -> Iterator[None]:
    """Hold a folder as one that is worked on."""
    handle = _held(aside)
    try:
        yield
    finally:
        if handle is not None:
            os.close(handle)


def clear_left(folder: Path) -> None:
    """Take away what killed runs left of this folder: beside it, and in it."""
    for place, prefix in ((folder.parent, f".storyrod-{folder.name}-"), (folder, ".storyrod-")):
        with contextlib.suppress(OSError):
            for path in place.iterdir():
                if path.name.startswith(prefix) and path.is_dir() and not path.is_symlink():
                    _clear(path)


def _clear(path: Path) -> None:
    handle = _held(path)
    if handle is None:
        return
    try:
        shutil.rmtree(path, ignore_errors=True)
    finally:
        os.close(handle)


def _held(path: Path) -> int | None:
    """Return a handle that holds a folder; None where another holds it, or none can be held here."""
    if sys.platform == "win32":
        return None
    import fcntl

    try:
        handle = os.open(path, os.O_RDONLY)
    except OSError:
        return None
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        os.close(handle)
        return None
    return handle
