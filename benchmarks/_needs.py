"""What a benchmark may need that is not part of the project."""

from __future__ import annotations

import os
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent


class NotHereError(Exception):
    """Something that a benchmark needs is not on this machine; the message says what, and where to put it."""


def find_shared_data() -> Path | None:
    """Return the folder of public benchmark sets, if it is there.

    It is named by the environment variable STORYROD_DATA, or lies as `shared/data` beside the project's folder.
    """
    named = os.environ.get("STORYROD_DATA")
    folder = Path(named) if named else ROOT.parent / "shared" / "data"
    return folder if folder.is_dir() else None


def shared_data(*parts: str) -> Path:
    """Return a file or folder of the public benchmark sets.

    Raises:
        NotHereError: it is not there.
    """
    folder = find_shared_data()
    if folder is None or not folder.joinpath(*parts).exists():
        what = "/".join(("shared", "data", *parts))
        raise NotHereError(f"{what} is not beside the project's folder, nor in the folder named by STORYROD_DATA.")
    return folder.joinpath(*parts)
