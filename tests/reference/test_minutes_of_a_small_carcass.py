"""Source: common practice, no source: the minutes of a small carcass.

Where: no book: a carcass of six panels is machined and put together in a little under an hour, 55 minutes, give or take
ten.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from storyrod.adapters.files import packaged_workshop, read_job
from storyrod.ledger import by_method, list_work
from storyrod.model.account import JOINERY
from storyrod.model.comparison import Comparison
from storyrod.model.job import JointClass
from storyrod.model.joint import JointKind
from storyrod.model.work import total_minutes
from storyrod.planning import Plan


@pytest.fixture(scope="module")
def job_file() -> Path:
    return Path(__file__).parents[2] / "examples" / "hymn-book-unit.toml"


@pytest.fixture(scope="module")
def comparison(job_file: Path) -> Comparison:
    """The carcass by the dowelling jig and by the loose-tenon cutter, with the shipped minutes."""
    plan = Plan(read_job(job_file).job, packaged_workshop())
    return plan.compared(methods=("dowels", "loose tenons"))


def test_the_carcass_that_the_check_value_is_set_on(job_file: Path) -> None:
    """Two bays without drawer or plinth: sides, top, base, divider and one fixed shelf, dowelled."""
    (case,) = Plan(read_job(job_file).job, packaged_workshop()).details.cases
    joints = [j for j in case.joints if j.kind in {JointKind.CORNER, JointKind.MID_PANEL}]
    joined = {p for j in joints for p in (j.receiving, j.entering)}

    assert not case.built.drawers
    assert len(joined) == 6
    assert len(joints) == 8
    assert sum(len(j.stations) for j in joints) == 24


def test_machining_and_assembly_take_45_to_65_minutes_by_both(comparison: Comparison) -> None:
    minutes = {r.candidate.method: r.minutes.usual for r in comparison.rows}

    assert set(minutes) == {"dowels", "loose tenons"}
    assert minutes == {code: pytest.approx(55, abs=10) for code in minutes}


def test_so_they_do_by_the_figures_of_the_methods_without_a_run(job_file: Path) -> None:
    job, shop = read_job(job_file).job, packaged_workshop()
    for code in ("dowels", "loose tenons"):
        plan = Plan(by_method(job, code, [JointClass.CORNER, JointClass.MID_PANEL]), shop)
        assert total_minutes(list_work(plan.details, shop).of(*JOINERY)).usual == pytest.approx(55, abs=10)
