"""Whatever job can be built is proven, by arithmetic and by the solids; and what is put wrong in it is told."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from storyrod import carcass, joinery, setout
from storyrod.adapters.files import packaged_workshop, read_job
from storyrod.adapters.solid import witness
from storyrod.faults import JobError
from storyrod.measure.space import PANEL_AXES
from storyrod.model.detail import Choices, Details
from storyrod.model.feature import AngledPocket
from storyrod.model.job import Job
from storyrod.model.proof import Claim
from storyrod.proof import prove
from tests.places import EXAMPLES
from tests.strategies import jobs
from tests.unit.proof import small

SHOP = packaged_workshop()


def detailed(job: Job) -> Details:
    """Return the job with every cut; a job that a maker would be told to change is left out."""
    try:
        return joinery.detail(joinery.join(carcass.build(job, SHOP), SHOP), Choices())
    except JobError:
        assume(condition=False)
        raise


@given(job=jobs(SHOP))
@settings(max_examples=12)
def test_what_can_be_built_is_proven(job: Job) -> None:
    details = detailed(job)

    proof = prove(details, setout.set_out(details))

    assert proof.passed, proof.faults


@given(job=jobs(SHOP, most_cases=1), more=st.integers(1, 9))
@settings(max_examples=25)
def test_boards_measured_to_a_thousandth_are_proven_too(job: Job, more: int) -> None:
    """What callipers in inches say, 45/64, is no whole hundredth of a millimetre."""
    boards = tuple(replace(b, measured=b.measured - more / 1000) for b in job.boards)
    details = detailed(replace(job, boards=boards))

    proof = prove(details, setout.set_out(details))

    assert proof.passed, proof.faults


@given(job=jobs(SHOP, most_cases=1))
@settings(max_examples=8)
def test_the_solids_bear_the_proof_out(job: Job) -> None:
    seen = witness(detailed(job))

    assert seen.passed, seen.faults


@given(job=jobs(SHOP, most_cases=1), data=st.data())
@settings(max_examples=10)
def test_any_half_shifted_by_half_a_millimetre_is_told(job: Job, data: st.DataObject) -> None:
    details = detailed(job)
    mated = [f for f in details.cases[0].features if f.mate and not isinstance(f.shape, AngledPocket)]
    assume(mated)
    half = data.draw(st.sampled_from(mated))
    axis = data.draw(st.sampled_from([a for a in PANEL_AXES if a is not half.surface.axis]))
    wrong = small.with_feature(details, half.id, lambda f: small.moved(f, axis, 0.5))

    finding = prove(wrong, setout.set_out(wrong)).of(Claim.MATES)

    assert not finding.passed
    assert finding.worst == pytest.approx(0.5)


@pytest.mark.parametrize("name", ["first-box", "music-stand-shelf-inches", "percussion-chest", "rehearsal-room"])
def test_the_examples_are_proven_both_ways(name: str) -> None:
    told = read_job(EXAMPLES / f"{name}.toml")
    details = joinery.detail(joinery.join(carcass.build(told.job, told.workshop), told.workshop), Choices())

    proof = prove(details, setout.set_out(details))
    seen = witness(details)

    assert proof.passed, proof.faults
    assert seen.passed, seen.faults
    assert all(line[0].isdigit() for line in (*proof.lines(), *seen.lines()))
