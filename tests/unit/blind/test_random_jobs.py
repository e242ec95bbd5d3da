"""Random jobs in mm and in inches, built from their paper alone: all is read, and nothing new is found.

Each job is drawn from a seed of its own, so that a job that fails can be drawn again by itself. The seeds are the same
in each run: what is found is a fault of what was changed, never of chance. `STORYROD_BLIND_SEED` draws others. A job
that once showed something is kept in `kept/`, with its reason at the top.
"""

from __future__ import annotations

import os
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st

from storyrod.adapters.files import job_from_text, packaged_workshop
from storyrod.faults import JobError, raise_if_any
from storyrod.measure.length import Unit
from storyrod.measure.writing import LengthWriter
from storyrod.model.job import Job
from storyrod.planning import Plan
from storyrod_blind import Finding, FindingKind, build
from tests.strategies import jobs
from tests.unit.blind.papers import printed, printed_jigs

SHOP = packaged_workshop()
KEPT = sorted((Path(__file__).parent / "kept").glob("*.toml"))
MANY = int(os.environ.get("STORYROD_BLIND_JOBS", "2"))
"""How many jobs are drawn in each unit: set STORYROD_BLIND_JOBS=200 to look further."""
FIRST = int(os.environ.get("STORYROD_BLIND_SEED", "0"))
"""Seed of the first job; each further one has the next."""
_DRAWN = 3  # jobs drawn from one seed, of which the last that can be built is taken: the first are very plain
_DUST = 1e-6  # mm
WORST = {Unit.MM: 0.02, Unit.INCH: 0.0102}
"""No sum is off by more, whatever its length (mm): two hundredths of a mm, or four ten-thousandths of an inch."""


def job_of(own: int, unit: Unit) -> Plan | None:
    """Return the plan of the job of a seed; None where it draws none that can be built."""
    drawn: list[Job] = []

    @seed(own)
    @settings(
        max_examples=_DRAWN,
        database=None,
        derandomize=False,
        phases=[Phase.generate],
        deadline=None,
        suppress_health_check=list(HealthCheck),
    )
    @given(job=jobs(SHOP, most_cases=1))
    def draw(job: Job) -> None:
        drawn.append(job)

    draw()
    for job in reversed(drawn):
        plan = Plan(replace(job, unit=unit), SHOP)
        try:
            raise_if_any((*plan.faults, *plan.proof.faults))
            _ = plan.machining, plan.assembly, plan.sheets  # a job that wants more board than there is has no packet
        except JobError:
            continue
        return plan
    return None


def is_open(finding: Finding, unit: Unit) -> bool:
    """Return whether a difference is no more than what the last digits of the figures that it is a sum of leave open.

    Each is within half its last digit of the exact figure (`test_each_printed_figure_is_within_half_its_last_digit`),
    and the exact ones have no difference: `proof` shows that of each of these plans before it is printed.
    """
    leeway = finding.figures * LengthWriter(unit).half_digit
    return 0.0 < abs(finding.by_mm) <= min(leeway, WORST[unit]) + _DUST


@pytest.mark.parametrize("unit", list(Unit))
def test_a_random_job_is_read_whole_and_shows_nothing_new(unit: Unit) -> None:
    built = 0
    for own in range(FIRST, FIRST + MANY):
        plan = job_of(own, unit)
        if plan is None:
            continue
        built += 1
        report = build(printed(plan), jigs=printed_jigs(plan))
        marks = [m for c in plan.set_out.cases for p in c.panels for m in p.marks]
        new = [f for f in report.findings if not is_open(f, unit)]
        told = "\n".join(f"{f.kind.name} {f.about}: {f.words} {f.by_mm:+.4f}" for f in new)
        which = f"the job of seed {own} in {unit.value}:\n{plan.job!r}\n{told}"

        assert report.cuts == len(marks), which
        assert report.mates == sum(bool(m.mate) for m in marks) / 2, which
        assert report.joints == sum(len(c.joints) for c in plan.details.cases), which
        assert not new, which
    assert built >= MANY / 2


@given(st.floats(0, 3000), st.sampled_from([16, 32, 64]))
def test_each_printed_figure_is_within_half_its_last_digit(mm: float, fraction: int) -> None:
    for unit in Unit:
        writer = LengthWriter(unit, fraction)
        assert abs(writer.printed(mm) - mm) <= writer.half_digit + _DUST


def test_halves_of_a_joint_have_no_such_leeway() -> None:
    """They meet to the last digit: nothing that the builder finds of two mates is told as a sum."""
    assert Finding(FindingKind.MATES_APART, "A1.1", "", 0.01).figures == 0
    assert not is_open(Finding(FindingKind.MATES_APART, "A1.1", "", 0.01), Unit.MM)
    assert not is_open(Finding(FindingKind.UNREAD, "A1", "what is left unsaid is no difference"), Unit.MM)
    assert is_open(Finding(FindingKind.RUNNER_OFF, "drawer 1", "", 0.01, 4), Unit.MM)
    assert not is_open(Finding(FindingKind.RUNNER_OFF, "drawer 1", "", 0.03, 40), Unit.MM)


@pytest.mark.parametrize("path", KEPT, ids=lambda p: p.stem)
def test_what_a_random_job_showed_once_is_read_now(path: Path) -> None:
    plan = Plan(job_from_text(path.read_text(encoding="utf-8"), name=path.name).job, SHOP)
    report = build(printed(plan), jigs=printed_jigs(plan))

    assert report.cuts == sum(len(p.marks) for c in plan.set_out.cases for p in c.panels)
    assert [f for f in report.findings if not is_open(f, plan.job.unit)] == []
