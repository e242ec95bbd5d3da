"""Job and workshop files: read strictly, every fault at once, and written back without losing a comment.

The modules that write are only imported when something is written.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from storyrod.adapters.files._file import (
    JobFile,
    job_from_text,
    packaged_workshop,
    read_job,
    read_workshop,
    workshop_from_text,
)
from storyrod.adapters.files._open import data_text
from storyrod.model.job import Job

if TYPE_CHECKING:
    from pathlib import Path

    from storyrod.adapters.files._edit import Change
    from storyrod.adapters.files._new_job import NewJob

__all__ = [
    "JobFile",
    "edit_job",
    "glossary_text",
    "job_from_text",
    "job_to_toml",
    "new_job_text",
    "packaged_workshop",
    "packaged_workshop_text",
    "read_job",
    "read_workshop",
    "sound_part",
    "workshop_from_text",
    "write_bytes_safely",
    "write_text_safely",
]


def edit_job(text: str, changes: Sequence[Change]) -> str:
    """Return the text of a file with `changes` made: see `storyrod.adapters.files.editing`."""
    from storyrod.adapters.files import _edit

    return _edit.edit_job(text, changes)


def job_to_toml(job: Job, *, workshop: str = "") -> str:
    """Return the text of a job file that reads as `job`, referring to the workshop file of that name if given."""
    from storyrod.adapters.files import _job_text

    return _job_text.job_to_toml(job, workshop=workshop)


def new_job_text(answers: NewJob) -> str:
    """Return the text of a first job file: see `storyrod.adapters.files.editing`."""
    from storyrod.adapters.files import _new_job

    return _new_job.new_job_text(answers)


def packaged_workshop_text() -> str:
    """Return the text of the workshop file that comes with the package."""
    return data_text("workshop.toml")


def glossary_text() -> str:
    """Return the words of the trade and our own, as the docs show them."""
    return data_text("glossary.md")


def sound_part(path: Path | str) -> JobFile | None:
    """Return what can be built of a job file that has faults: its cases that no fault touches; None where none is."""
    from storyrod.adapters.files import _sound_part

    return _sound_part.sound_part(path)


def write_bytes_safely(path: Path, data: bytes) -> None:
    """Write `data` to `path`: aside, safe on the disk, then in the place of what stood there.

    Raises:
        JobError: the place cannot be written to, or the disk is full; what stood there is unharmed.
    """
    from storyrod.adapters.files import _write

    _write.write_bytes_safely(path, data)


def write_text_safely(path: Path | str, text: str, *, over_unreadable: bool = False) -> None:
    """Write `text` to `path`: aside first, then in the place of what stood there.

    Raises:
        JobError: the place cannot be written to, the disk is full, or a TOML file there cannot be understood.
    """
    from storyrod.adapters.files import _write

    _write.write_text_safely(path, text, over_unreadable=over_unreadable)
