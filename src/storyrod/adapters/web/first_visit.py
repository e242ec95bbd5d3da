"""The first visit: a folder for jobs, with an example in it to look at and to change."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from pathlib import Path

from storyrod.adapters.files import write_text_safely

EXAMPLE = "folder-cabinet"


def prepare(jobs: Path) -> str:
    """Make the folder for jobs where it is not there yet; return the example's name, or nothing where it was there."""
    if jobs.exists():
        return ""
    jobs.mkdir(parents=True)
    write_text_safely(jobs / f"{EXAMPLE}.toml", example_text())
    return EXAMPLE


def is_example(text: str) -> bool:
    """Return whether a job file is the example as it came, unchanged."""
    return text == example_text()


@cache
def example_text() -> str:
    """Return the text of the example job that comes with the package."""
    return (files("storyrod") / "data" / "example-job.toml").read_text(encoding="utf-8")
