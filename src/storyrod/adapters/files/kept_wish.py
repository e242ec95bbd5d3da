"""The wish that a job came of, kept in the folder beside it, so that it goes with the job: `NAME.notes/wish.toml`."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from storyrod.adapters.files._open import read_text
from storyrod.adapters.files.wishing import WishFile, wish_from_text

FILE: Final = "wish.toml"
"""What the wish is called there."""


def wish_path(job: Path) -> Path:
    """Return where the wish of a job file is kept."""
    return job.with_name(f"{job.stem}.notes") / FILE


def kept_wish(job: Path, *, inside: bool = False) -> WishFile | None:
    """Return the wish kept beside a job file, None where there is none; its workshop file is beside the job.

    `inside`: whether only a workshop file of the job's folder itself is read.

    Raises:
        JobError: every fault of the wish file.
    """
    path = wish_path(job)
    if not path.is_file():
        return None
    name = f"{path.parent.name}/{FILE}"
    return wish_from_text(read_text(path, "wish"), name=name, folder=job.parent, inside=inside)
