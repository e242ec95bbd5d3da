"""A job written and read again is the same job, in millimetres and in inches."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from storyrod.adapters.files import job_from_text, packaged_workshop
from storyrod.adapters.files._values import length
from storyrod.adapters.files.editing import job_to_toml
from storyrod.measure.length import Unit, parse_length
from storyrod.model.job import Gluing, Job, Loads, Use
from tests import builders
from tests.places import EXAMPLES
from tests.strategies import jobs


@settings(max_examples=25)
@given(job=jobs())
def test_a_job_written_and_read_again_is_the_same_job(job: Job) -> None:
    text = job_to_toml(job)

    assert job_from_text(text, name="job.toml", workshop=builders.workshop()).job == job


@settings(max_examples=25)
@given(job=jobs(packaged_workshop()))
def test_so_is_one_with_the_packaged_workshop_methods(job: Job) -> None:
    assert job_from_text(job_to_toml(job), name="job.toml").job == job


def test_who_glues_up_and_in_how_many_goes_is_written_and_read() -> None:
    job = replace(builders.job(), gluing=Gluing(people=2, goes=3))

    assert job_from_text(job_to_toml(job), name="job.toml", workshop=builders.workshop()).job == job


def test_every_figure_of_how_it_is_used_is_written_and_read() -> None:
    use = Use(
        sag_limit=300,
        tip_margin=1.5,
        child_kg=40,
        pull_n=100,
        fix_above=500,
        step_shows=0.2,
        front_gap=0.8,
        fixed_to_wall=True,
        loads=Loads(
            books_kg_m=35,
            crockery_kg_dm2=0.9,
            tools_kg_dm2=3,
            clothes_kg_dm2=0.5,
            light_kg_dm2=0.2,
            top_kg_dm2=0,
            drawers_kg_m3=200,
        ),
    )
    job = replace(builders.job(), use=use)

    assert job_from_text(job_to_toml(job), name="job.toml", workshop=builders.workshop()).job == job


@settings(max_examples=25)
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
