"""Two files or folders change places in one step, where the system has a call for that."""

from __future__ import annotations

import ctypes
import os
import sys
from pathlib import Path


def exchanged(one: Path, other: Path) -> bool:
    """Exchange two files, or two folders, so that nobody ever sees neither; return whether that could be done.

    By renameat2(2) of Linux and renamex_np(2) of macOS. Other systems, and some drives, know no such step.
    """
    if sys.platform == "win32":
        return False
    library = ctypes.CDLL(None, use_errno=True)
    a, b = os.fsencode(one), os.fsencode(other)
    if sys.platform == "darwin":
        call = getattr(library, "renamex_np", None)
        return call is not None and call(a, b, 2) == 0  # RENAME_SWAP
    call = getattr(library, "renameat2", None)
    here, exchange = -100, 2  # AT_FDCWD, RENAME_EXCHANGE
    return call is not None and call(here, a, here, b, exchange) == 0


def keep_folder(folder: Path) -> None:
    """Have a folder know its new entries after a power cut as well, where the system can be asked for that."""
    if sys.platform == "win32":
        return
    try:
        handle = os.open(folder, os.O_RDONLY)
    except OSError:
        return
    try:
        os.fsync(handle)
    except OSError:  # some drives know no such wish
        pass
    finally:
        os.close(handle)
