"""The files of the jobs' folder that a page may read and write: plain ones, in it, with a name that can be written.

Whatever else lies there is passed over: pipes and devices, which would never end; links that lead out of the folder;
names that are no text.
"""

from __future__ import annotations

import stat
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from storyrod.adapters.files.editing import parsed, plain_bytes
from storyrod.faults import Fault, JobError


def made(folder: Path, what: str) -> Path:
    """Return a folder that is there from now on; `what` it is for, in a word.

    Raises:
        JobError: it cannot be made.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise JobError(
            Fault(
                code="write",
                field="",
                found=f'no room for {what} in "{folder.parent}" ({error.strerror})',
                allowed="a place that can be written to",
                do="Make room, or see who may write there. Nothing was changed.",
            )
        ) from None
    return folder


def files_of(folder: Path) -> Iterator[Path]:
    """Yield the TOML files of a folder, hidden ones left out."""
    try:
        found = sorted(folder.glob("*.toml"))
        root = folder.resolve()
    except (OSError, ValueError):
        return
    for path in found:
        if not path.name.startswith(".") and _is_text(path.name) and _is_plain(path, root):
            yield path


def _is_text(name: str) -> bool:
    try:
        name.encode()
    except UnicodeEncodeError:  # bytes that the system gives as halves of letters
        return False
    return True


def _is_plain(path: Path, root: Path) -> bool:
    try:
        return stat.S_ISREG(path.stat().st_mode) and path.resolve().is_relative_to(root)
    except (OSError, ValueError, RuntimeError):  # gone meanwhile, or a link in a ring
        return False


def tables_in(path: Path) -> dict[str, Any] | None:
    """Return the tables of a TOML file; None where it cannot be read, or not be understood."""
    try:
        return parsed(plain_bytes(path).decode("utf-8"))
    except (JobError, OSError, ValueError):
        return None
