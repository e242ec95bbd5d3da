"""A job written and read again is the same job, in millimetres and in inches."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from storyrod.adapters.files import job_from_text, packaged_workshop
from storyrod.adapters.files._values import length
from storyrod.adapters.files.editing import job_to_toml
from storyrod.measure.length import Unit, parse_length
from storyrod.model.job import Job
from tests import builders
from tests.places import EXAMPLES
from tests.strategies import jobs


@given(job=jobs())
def test_a_job_written_and_read_again_is_the_same_job(job: Job) -> None:
    text = job_to_toml(job)

    assert job_from_text(text, name="job.toml", workshop=builders.workshop()).job == job


@given(job=jobs(packaged_workshop()))
def test_so_is_one_with_the_packaged_workshop_methods(job: Job) -> None:
    assert job_from_text(job_to_toml(job), name="job.toml").job == job


@given(job=jobs())
def test_writing_twice_changes_nothing(job: Job) -> None:
    text = job_to_toml(job)

    assert job_to_toml(job_from_text(text, name="job.toml", workshop=builders.workshop()).job) == text


def test_the_examples_survive_being_written() -> None:
    for path in sorted(EXAMPLES.glob("*.toml")):
        if path.name == "choir-workshop.toml":
            continue
        read = job_from_text(path.read_text(encoding="utf-8"), name=path.name, folder=EXAMPLES)
        name = read.workshop_path.name if read.workshop_path else ""
        text = job_to_toml(read.job, workshop=name)
        again = job_from_text(text, name=path.name, folder=EXAMPLES)
        assert again.job == read.job
        assert again.workshop == read.workshop


@given(mm=st.floats(0.05, 5000), unit=st.sampled_from(list(Unit)))
def test_any_length_is_read_back_to_the_last_bit(mm: float, unit: Unit) -> None:
    assert parse_length(length(mm, unit), unit) == mm


@given(parts=st.integers(1, 64 * 100))
def test_a_fraction_of_an_inch_is_written_as_one(parts: int) -> None:
    written = length(parts / 64 * 25.4, Unit.INCH)

    assert isinstance(written, str)
    assert written.endswith('"')
