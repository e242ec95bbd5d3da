"""The first visit: a folder with an example in it, and never a second one over what is there."""

from __future__ import annotations

from pathlib import Path

from storyrod.adapters.files import job_from_text
from storyrod.adapters.web.first_visit import EXAMPLE, example_text, prepare
from storyrod.planning import Plan
from tests.places import EXAMPLES


def test_the_example_is_the_one_of_the_examples() -> None:
    assert example_text() == (EXAMPLES / "rehearsal-room.toml").read_text(encoding="utf-8")


def test_the_example_can_be_built() -> None:
    read = job_from_text(example_text(), name="example")

    assert Plan(read.job, read.workshop).faults == ()


def test_the_folder_is_made_once(tmp_path: Path) -> None:
    jobs = tmp_path / "home" / "jobs"

    assert prepare(jobs) == EXAMPLE
    (jobs / f"{EXAMPLE}.toml").unlink()
    assert prepare(jobs) == ""
    assert list(jobs.iterdir()) == []
