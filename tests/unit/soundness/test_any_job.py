"""What holds for any job that can be built; and that each caution has its paragraph."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, reject, settings

from storyrod import carcass
from storyrod.adapters.files import job_from_text, read_job
from storyrod.adapters.files._job_text import job_to_toml
from storyrod.faults import JobError
from storyrod.joinery import detail, join
from storyrod.model.carcass import Carcass
from storyrod.model.detail import Choices, Details
from storyrod.model.job import Climate, Contents, Floor, Job
from storyrod.model.thresholds import GRAVITY, THRESHOLD_SOURCES, Thresholds
from storyrod.planning import Plan
from storyrod.soundness import examine
from tests.places import EXAMPLES, ROOT
from tests.strategies import jobs
from tests.unit.joinery.boxes import workshop

SHOP = workshop()


def planned(job: Job) -> tuple[Carcass, Details]:
    """Return the job detailed; leave out the ones that cannot be built."""
    try:
        built = carcass.build(job, SHOP)
        return built, detail(join(built, SHOP), Choices())
    except JobError:
        return reject()


@settings(max_examples=20)
@given(jobs(SHOP))
def test_figures_are_figures_and_nothing_gets_lost(job: Job) -> None:
    built, details = planned(job)
    told = examine(built, details, SHOP, trials=200)

    assert [c.case for c in told.cases] == [c.code for c in job.cases]
    for case in told.cases:
        for sag in case.sags:
            assert sag.at_once is None or 0 <= sag.at_once < 1e5
            assert sag.lasting is None or sag.at_once is None or sag.lasting >= sag.at_once
            assert 0 <= sag.bending_share <= 1 + 1e-9
        for joint in case.joints:
            assert joint.force_n >= 0
            assert joint.capacity is not None or joint.unknown
        assert (case.tipping is None) == (case.hanging is not None)
        assert case.tipping is None or case.tipping.margin >= 0
        if case.hanging is not None:
            assert case.hanging.each_pull_n >= case.hanging.floor_n
            assert case.hanging.down_n >= case.weights.loaded_kg * GRAVITY - 1e-6
        assert case.weights.loaded_kg >= case.weights.empty_kg > 0
        for step in case.steps:
            assert step.most <= step.worst + 1e-9
            assert step.rss <= step.worst + 1e-9
        for caution in case.cautions:
            assert caution.text.endswith((".", ")"))
            assert caution.do
    assert examine(built, details, SHOP, trials=200) == told


@settings(max_examples=6)
@given(jobs(SHOP))
def test_a_case_by_itself_gives_the_same_figures(job: Job) -> None:
    from dataclasses import replace

    built, details = planned(job)
    whole = examine(built, details, SHOP, trials=100)
    for n, case in enumerate(details.cases):
        alone = examine(built, replace(details, cases=(case,)), SHOP, trials=100)
        assert alone.cases[0] == whole.cases[n]


@cache
def codes_told_in_docs() -> frozenset[str]:
    text = (ROOT / "docs" / "soundness.md").read_text(encoding="utf-8")
    return frozenset(re.findall(r"^### `([a-z-]+)`", text, re.MULTILINE))


def test_every_caution_has_its_paragraph() -> None:
    source = "".join(p.read_text(encoding="utf-8") for p in (ROOT / "src" / "storyrod" / "soundness").glob("*.py"))
    codes = set(re.findall(r'code="([a-z-]+)"', source)) | {"heavy-case", "heavy-panel"}
    codes -= {"climate", "pull", "press", "worktop"}  # A fault of the job; conditions of tipping.

    assert codes == set(codes_told_in_docs())


def test_every_threshold_says_where_it_comes_from_and_stands_in_the_docs() -> None:
    names = set(Thresholds.__dataclass_fields__) - {"lengths"}  # how what is said writes lengths: no figure
    text = (ROOT / "docs" / "soundness.md").read_text(encoding="utf-8")

    assert names == set(THRESHOLD_SOURCES)
    assert all(f"`{name}`" in text for name in names)


JOBS = [p for p in sorted(EXAMPLES.glob("*.toml")) if "[[cases]]" in p.read_text(encoding="utf-8")]


@pytest.mark.parametrize("path", JOBS, ids=lambda p: p.stem)
def test_every_example_is_examined(path: Path) -> None:
    told = read_job(path)
    plan = Plan(told.job, told.workshop)
    found = examine(plan.carcass, plan.details, told.workshop)

    assert len(found.cases) == len(told.job.cases)
    assert "not a certificate" in found.estimate


def test_how_a_piece_is_used_is_read_and_written() -> None:
    text = """
[use]
sag_limit = 384
tip_margin = 1.5
step_shows = 0.2
floor = "hard"
fixed_to_wall = true
climate = "humid"
humidity_low = 40
humidity_high = 60
[boards.b]
kind = "mdf"
thickness = 18
[[cases]]
code = "A"
width = 800
height = 720
depth = 400
[cases.inside]
contents = "tools"
"""
    job = job_from_text(text, name="job.toml").job
    again = job_from_text(job_to_toml(job), name="job.toml").job

    assert (job.use.sag_limit, job.use.floor, job.use.fixed_to_wall) == (384, Floor.HARD, True)
    assert (job.use.tip_margin, job.use.step_shows) == (1.5, 0.2)
    assert (job.use.climate, job.use.humidity_low, job.use.humidity_high) == (Climate.HUMID, 40, 60)
    assert job.cases[0].inside.contents is Contents.TOOLS
    assert again.use == job.use
    assert again.cases[0].inside == job.cases[0].inside


def test_humidity_the_wrong_way_round_is_told() -> None:
    text = (
        "[use]\nhumidity_low = 70\nhumidity_high = 40\n[boards.b]\nkind = 'mdf'\nthickness = 18\n"
        "[[cases]]\ncode = 'A'\nwidth = 600\nheight = 720\ndepth = 400\n"
    )
    with pytest.raises(JobError, match=r"use\.humidity_low"):
        job_from_text(text, name="job.toml")
