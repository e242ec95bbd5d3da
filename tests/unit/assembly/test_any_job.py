"""What holds for any job: its plan replays, nothing is left out, order of input and mirror do not matter."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import assume, given, settings

from storyrod import carcass, joinery
from storyrod.adapters.files import job_from_text, packaged_workshop, read_job
from storyrod.assembly import check_plan, plan_assembly, try_assembly
from storyrod.faults import JobError
from storyrod.measure.space import Direction
from storyrod.model.assembly import StepKind, Verdict
from storyrod.model.detail import Choices, Joined, SlideChoice
from storyrod.model.feature import Channel
from storyrod.model.job import Job
from tests import builders
from tests.places import EXAMPLES
from tests.strategies import jobs
from tests.unit.assembly.pieces import DOWELS, KEYHOLES, LEFT, RIGHT, H, T, across, both_sides, joined, shop

SHOP = packaged_workshop()


def joined_or_left_out(job: Job) -> Joined:
    try:
        return joinery.join(carcass.build(job, SHOP), SHOP)
    except JobError:
        assume(False)
        raise


@settings(max_examples=20)
@given(jobs(SHOP))
def test_every_plan_replays_and_every_fault_has_a_way_out(job: Job) -> None:
    made = joined_or_left_out(job)
    plan = try_assembly(made, SHOP)

    for case in plan.cases:
        assert bool(case.steps) is not bool(case.shut_out)
        for out in case.shut_out:
            assert out.fault.field
            assert out.fault.do
    for replay in check_plan(made, plan):
        assert replay.faults == ()


REBATED_DRAWERS = """
[methods]
drawer_box = "rebate"
[boards.birch18]
kind = "plywood"
thickness = 18
[boards.birch12]
kind = "plywood"
thickness = 12
[boards.birch6]
kind = "plywood"
thickness = 6
[[cases]]
code = "A"
board = "birch18"
width = 500
height = 700
depth = 450
[cases.drawers]
board = "birch12"
bottom_board = "birch6"
bottom = "grooved"
[cases.inside]
rows = [{ holds = "drawer" }, { holds = "drawer" }]
"""


def test_a_groove_runs_out_of_the_end_of_a_panel_that_its_joint_made_longer() -> None:
    """Front and back of a rebated drawer box are longer than they were when the bottom's groove was cut."""
    made = joined_or_left_out(job_from_text(REBATED_DRAWERS, name="rebated.toml").job)
    grown = {p.id: p for p in made.cases[0].panels}
    grooves = [f for f in made.cases[0].fittings if str(f.id).endswith("back.bottom-groove")]
    plan = try_assembly(made, SHOP)

    assert len(grooves) == 2
    for groove in grooves:
        assert isinstance(groove.shape, Channel)
        assert groove.shape.length == pytest.approx(grown[groove.panel].length)
        assert groove.at.u == pytest.approx(grown[groove.panel].length / 2)
    assert [r.faults for r in check_plan(made, plan)] == [()]


@settings(max_examples=10)
@given(jobs(SHOP, most_cases=1))
def test_every_panel_and_joint_comes_up_once(job: Job) -> None:
    made = joined_or_left_out(job)
    plan = try_assembly(made, SHOP).cases[0]
    assume(plan.steps)
    case = made.cases[0]
    closed = [j for s in plan.steps for j in s.joints]
    assert sorted(closed) == sorted(j.id for j in case.joints)
    merged = sum(1 for s in plan.steps if s.kind is StepKind.JOIN)
    bodies = {p.body for p in case.panels}
    jointed = [b for b in bodies if sum(1 for p in case.panels if p.body == b) > 1]
    assert merged == sum(sum(1 for p in case.panels if p.body == b) - 1 for b in jointed)


def example_jobs() -> list[Path]:
    return sorted(p for p in EXAMPLES.glob("*.toml") if "[[cases]]" in p.read_text(encoding="utf-8"))


@pytest.mark.parametrize("path", example_jobs(), ids=lambda p: p.stem)
def test_every_example_gets_a_plan_that_is_proven_and_replays(path: Path) -> None:
    read = read_job(path)
    made = joinery.join(carcass.build(read.job, read.workshop), read.workshop)

    plan = plan_assembly(made, read.workshop)
    details = joinery.detail(made, plan.choices)

    assert all(c.verdict is Verdict.PROVEN_BEST for c in plan.cases)
    assert [r.faults for r in check_plan(made, plan, details=details)] == [()] * len(made.cases)


def plain() -> Joined:
    panels = {"left": LEFT, "right": RIGHT, "base": across(0), "top": across(H - T), "shelf": across(300)}
    return joined(panels, [j for name in ("base", "top", "shelf") for j in both_sides(name, DOWELS)])


def test_the_same_input_gives_the_same_plan_whatever_the_seed() -> None:
    assert plan_assembly(plain(), shop(), seed=1) == plan_assembly(plain(), shop(), seed=2)


def test_the_order_of_panels_and_joints_does_not_change_the_cost() -> None:
    made = plain()
    case = made.cases[0]
    turned = replace(case, panels=case.panels[::-1], joints=case.joints[::-1])

    one, other = (try_assembly(replace(made, cases=(c,)), shop()).cases[0] for c in (case, turned))

    assert one.cost == other.cost


def test_a_case_that_is_made_many_times_is_planned_once() -> None:
    made = plain()
    built = made.cases[0].built
    many = replace(made, cases=(replace(made.cases[0], built=replace(built, case=replace(built.case, count=100))),))

    plan = plan_assembly(many, shop())

    assert [c.count for c in plan.cases] == [100]
    assert plan.cases[0].steps == plan_assembly(made, shop()).cases[0].steps


def test_without_time_there_is_still_a_sound_plan_that_is_not_called_best() -> None:
    inside = builders.columns(*(builders.rows(*(builders.opening() for _ in range(4))) for _ in range(3)))
    job = builders.job(builders.case(width=1800.0, height=1900.0, inside=inside))
    made = joinery.join(carcass.build(job, SHOP), SHOP)

    plan = plan_assembly(made, SHOP, work=0)

    (result,) = plan.cases[0].bodies
    assert result.verdict is Verdict.FOUND
    assert result.bound < result.cost
    assert plan.cases[0].gap == result.cost - result.bound
    easier = (result.cost - result.bound) / result.cost
    assert f"at most {easier:.0%} easier" in plan.cases[0].easiest
    assert check_plan(made, plan)[0].passed


def test_more_work_never_finds_a_worse_order_and_never_shows_less() -> None:
    """Work is counted, so the same allowance gives the same answer; more of it narrows the gap from both sides."""
    made = plain()
    found = [try_assembly(made, shop(), work=work).cases[0].bodies[0] for work in (0, 300, 3_000, 60_000)]

    assert [b.cost for b in found] == sorted((b.cost for b in found), reverse=True)
    assert found[-1].verdict is Verdict.PROVEN_BEST
    assert all(b.bound <= found[-1].cost for b in found)
    assert try_assembly(made, shop(), work=300).cases[0].bodies[0] == found[1]


def test_more_than_sixteen_panels_get_a_plan_that_is_not_called_best() -> None:
    inside = builders.columns(*(builders.rows(*(builders.opening() for _ in range(5))) for _ in range(3)))
    job = builders.job(builders.case(width=1800.0, height=1900.0, inside=inside))
    made = joinery.join(carcass.build(job, SHOP), SHOP)

    plan = plan_assembly(made, SHOP)

    (result,) = plan.cases[0].bodies
    assert result.panels == 18
    assert result.verdict is Verdict.FOUND
    assert check_plan(made, plan)[0].passed


def test_a_body_of_one_panel_needs_no_plan() -> None:
    made = joined({"left": LEFT}, [])

    plan = plan_assembly(made, shop())

    assert plan.cases[0].steps == ()
    assert check_plan(made, plan)[0].passed


def test_a_stronger_helper_changes_nothing_but_the_persons() -> None:
    """A workshop in which one person lifts less never gets a cheaper plan."""
    weak = try_assembly(plain(), shop(one_person_kg=5.0)).cases[0]
    strong = try_assembly(plain(), shop(one_person_kg=50.0)).cases[0]

    assert weak.cost >= strong.cost
    assert {s.persons for s in strong.steps if not s.cautions} == {1}
    assert all("more than one person" not in dict(s.price.parts) for s in strong.steps)
    assert max(s.persons for s in weak.steps) > 1


def test_slow_glue_never_costs_more() -> None:
    costs = [try_assembly(plain(), shop(open_time_min=m)).cases[0].cost for m in (1.0, 3.0, 10.0)]

    assert costs == sorted(costs, reverse=True)
    assert costs[0] > costs[-1]


def test_slots_lock_to_the_back_unless_they_are_settled_already() -> None:
    """Locks may be settled before: a lock to the front is taken as it is, and costs more."""
    panels = {"left": LEFT, "right": RIGHT, "base": across(0), "top": across(H - T)}
    made = joined(panels, [j for n in ("base", "top") for j in both_sides(n, KEYHOLES)])
    front = Choices(slides=tuple(SlideChoice(joint=j.id, lock=Direction.FORWARD) for j in made.cases[0].joints))
    free, forced = try_assembly(made, shop()).cases[0], try_assembly(made, shop(), fixed=front).cases[0]

    assert {s.lock for s in free.choices.slides} == {Direction.BACKWARD}
    assert {s.lock for s in forced.choices.slides} == {Direction.FORWARD}
    assert forced.cost == free.cost + 4 * 3
