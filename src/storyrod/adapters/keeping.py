"""Jigs worth keeping from their files: jobs, or one job at several depths; and written into a workshop file."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from storyrod.adapters.files import JobFile, read_job, read_workshop, write_text_safely
from storyrod.adapters.files.batching import read_batch
from storyrod.adapters.files.studying import resized
from storyrod.adapters.files.workshop_editing import START, group_of, set_item
from storyrod.adapters.files.workshop_words import Value
from storyrod.faults import Fault, JobError, raise_if_any
from storyrod.measure.length import parse_length
from storyrod.model.batch import Member
from storyrod.model.job import Job
from storyrod.model.workshop import Jig, Workshop
from storyrod.planning import Family, FamilyJob, owned_jigs, plan_family

MOST_DEPTHS = 20
"""More depths than this are a slip of the pen."""


@dataclass(frozen=True, slots=True, kw_only=True)
class KeepAsked:
    """What jigs are asked for: job files, or one at several depths; how often a year each is made.

    Attributes:
        more: depths that are not made yet: what a jig would cost that serves them too.
        years: how long a jig is kept; None for as long as the workshop writes its tools off.
    """

    jobs: tuple[Path, ...]
    a_year: tuple[float, ...] = (1.0,)
    depths: tuple[str, ...] = ()
    more: tuple[str, ...] = ()
    years: float | None = None


def family_of(asked: KeepAsked) -> Family:
    """Return the jigs worth keeping for what is asked.

    Raises:
        JobError: every fault of every job; numbers a year that do not go with the jobs; a depth that is no length.
    """
    if len(asked.jobs) > 1:
        raise_if_any(_depths_of_several(asked))
        read = read_batch(asked.jobs)
        times = _times(asked.a_year, len(read.members))
        jobs = [FamilyJob(member=m, a_year=n) for m, n in zip(read.members, times, strict=True)]
        return plan_family(jobs, read.workshop, years=asked.years)
    one = read_job(asked.jobs[0])
    try:
        return plan_family(_at_depths(one, asked), one.workshop, years=asked.years)
    except JobError as error:
        raise one.located(error) from None


def _at_depths(read: JobFile, asked: KeepAsked) -> list[FamilyJob]:
    depths = [_length(d, read.job, "--depths") for d in asked.depths]
    more = [_length(d, read.job, "--one-more") for d in asked.more]
    if len(depths) + len(more) > MOST_DEPTHS:
        raise JobError(_many(len(depths) + len(more)))
    times = _times(asked.a_year, max(len(depths), 1))
    made = [_deep(read, d, "--depths") for d in depths] or [read.job]
    family = [(job, n) for job, n in zip(made, times, strict=True)] + [
        (_deep(read, d, "--one-more"), 0.0) for d in more
    ]
    return [
        FamilyJob(member=Member(mark=str(n), name=f"job {n}", job=job), a_year=often)
        for n, (job, often) in enumerate(family, start=1)
    ]


def _deep(read: JobFile, depth: float, field: str) -> Job:
    """Return the job with every case so deep; a depth that no case can have is told as of the option that gave it."""
    name = read.path.name if read.path else ""
    try:
        return resized(read, None, "depth", depth)
    except JobError as error:
        told = dict.fromkeys(replace(f, field=field, line=None, file=name) for f in error.faults)
        raise JobError(*told) from None


def _length(words: str, job: Job, field: str) -> float:
    try:
        return parse_length(words, job.unit)
    except JobError as error:
        raise JobError(*(replace(f, field=field) for f in error.faults)) from None


def _times(a_year: Sequence[float], count: int) -> list[float]:
    if len(a_year) == 1:
        return [a_year[0]] * count
    if len(a_year) != count:
        raise JobError(
            Fault(
                code="keep-a-year",
                field="--a-year",
                found=f"{len(a_year)} numbers for {count} jobs or depths",
                allowed=f"one number for all, or {count} of them",
                do="Say how often a year each is made, in their order.",
            )
        )
    return list(a_year)


def _depths_of_several(asked: KeepAsked) -> list[Fault]:
    if not (asked.depths or asked.more):
        return []
    return [
        Fault(
            code="keep-depths",
            field="--depths",
            found=f"depths for {len(asked.jobs)} jobs",
            allowed="depths of one job",
            do="Name one job with its depths, or several jobs as they are.",
        )
    ]


def _many(count: int) -> Fault:
    return Fault(
        code="keep-depths",
        field="--depths",
        found=f"{count} depths",
        allowed=f"{MOST_DEPTHS} at most",
        do="Name fewer depths.",
    )


def own_in(path: Path, family: Family) -> tuple[Jig, ...]:
    """Write the jigs into a workshop file as owned ones, and return them as they are there; a new file is begun.

    Raises:
        JobError: the file cannot be understood; it is left as it is.
    """
    text = path.read_text(encoding="utf-8") if path.exists() else START
    shop: Workshop = read_workshop(path) if path.exists() else family.plans[0].workshop
    group = group_of("jigs")
    assert group is not None  # noqa: S101  # the group of owned jigs is always there
    jigs = owned_jigs(family.standing.jigs, shop)
    for jig in jigs:
        values: dict[str, Value | None] = {
            "name": jig.name,
            "stations": list(jig.stations),
            "opening_width": jig.opening_width,
            "opening_length": jig.opening_length,
            "length": jig.length,
            "thickness": jig.thickness,
            "behind_stop": jig.behind_stop,
            "near": jig.near,
            "far": jig.far,
            "for_mid_panel": jig.for_mid_panel,
        }
        text = set_item(text, group, jig.code, values)
    write_text_safely(path, text)
    return jigs
