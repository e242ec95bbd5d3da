"""The wish that a job came of, kept beside it: `NAME.wish.toml` beside `NAME.toml`."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from storyrod.adapters.files.wishing import WishFile, read_wish

ENDING: Final = ".wish.toml"


def wish_path(job: Path) -> Path:
    """Return where the wish of a job file is kept."""
    return job.with_name(f"{job.stem}{ENDING}")


def kept_wish(job: Path) -> WishFile | None:
    """Return the wish kept beside a job file; None where there is none.

    Raises:
        JobError: every fault of the wish file.
    """
    path = wish_path(job)
    return read_wish(path) if path.is_file() else None
