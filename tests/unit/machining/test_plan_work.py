"""What holds for the work planned for any job, and how a plan is checked by code of its own."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given, reject, settings

from storyrod.adapters.files import read_job
from storyrod.faults import JobError
from storyrod.machining import check_run, plan_work
from storyrod.model.bench_lines import LineKind
from storyrod.model.job import Job, MethodChoice
from storyrod.model.machining import Hand, RunStep, SetUp, Sureness, WorkPlan, WorkStage
from storyrod.model.workshop import ToolKind
from storyrod.planning import Plan
from tests.places import EXAMPLES
from tests.strategies import jobs
from tests.unit.machining.shops import SHOP, box, job, ladder_shop, owned_jig, shop, with_plinth, worked

JOBS = sorted(p for p in EXAMPLES.glob("*.toml") if "workshop" not in p.name)


NOT_PROVEN = frozenset({"Counter for sheet music"})
"""The examples whose order of work is the best that was found, and said to be no more."""


@pytest.fixture(scope="module", params=JOBS, ids=lambda p: p.stem)
def example(request: pytest.FixtureRequest) -> Plan:
    read = read_job(request.param)
    return Plan(read.job, read.workshop)


def test_an_example_is_planned_and_found_right(example: Plan) -> None:
    work = plan_work(example.details, example.set_out, example.workshop)
    check = check_run(work, example.details, example.set_out, example.workshop.jigs)

    assert [f.found for f in check.faults] == []
    assert len(check.held) == 15
    for told in check.held:
        count, noun = told.split()[:2]
        assert noun.rstrip(",").endswith("s") == (count != "1"), told
    sure = {Sureness.PROVEN_BEST, Sureness.FOUND} if example.job.title in NOT_PROVEN else {Sureness.PROVEN_BEST}
    assert work.run.sureness in sure
    assert work.run.changes_min <= work.run.nearest_min + 1e-6
    assert work.run.changes_min < work.run.panel_by_panel_min + 1e-6
    assert work.reconciliation.agrees


def test_the_same_job_gives_the_same_plan(example: Plan) -> None:
    first, second = (plan_work(example.details, example.set_out, example.workshop) for _ in range(2))

    assert first == second


@settings(max_examples=8)
@given(a_job=jobs(SHOP))
def test_any_job_is_planned_right_or_told_what_is_missing(a_job: Job) -> None:
    plan = Plan(a_job, SHOP)
    try:
        details, set_out = plan.details, plan.set_out
    except JobError:
        reject()
    try:
        work = plan_work(details, set_out, SHOP, limit_s=0.2)
    except JobError as error:
        if not all(f.code == "no-way" and f.do.startswith(("Get a", "Add a way")) for f in error.faults):
            raise
        return
    features = Counter(f for o in work.operations for f in o.features)
    assert set(features.values()) <= {1}
    assert set(features) == {f.id for c in details.cases for f in c.features}
    assert [f.found for f in check_run(work, details, set_out).faults] == []


# --- a plan that was tampered with ------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def good() -> tuple[Plan, WorkPlan]:
    return worked(job(with_plinth()), ladder_shop())


def spoilt(work: WorkPlan, title: str, **operation: object) -> WorkPlan:
    """Return a plan whose first operation of a set-up is changed."""
    set_up = next(s for s in work.set_ups if title in s.title)
    first, *rest = set_up.operations
    changed = replace(set_up, operations=(replace(first, **operation), *rest))  # type: ignore[arg-type]
    return replace(work, set_ups=tuple(changed if s is set_up else s for s in work.set_ups))


def found(good: tuple[Plan, WorkPlan], bad: WorkPlan) -> str:
    return " | ".join(f.found for f in check_run(bad, good[0].details, good[0].set_out).faults)


def test_a_missing_half_is_found(good: tuple[Plan, WorkPlan]) -> None:
    features = next(s for s in good[1].set_ups if "24 deep" in s.title).operations[0].features

    assert "is made 0 times" in found(good, spoilt(good[1], "24 deep", features=features[1:]))
    assert "is made 2 times" in found(good, spoilt(good[1], "24 deep", features=(*features, features[0])))


def test_a_mirrored_placing_is_found(good: tuple[Plan, WorkPlan]) -> None:
    hand = next(s for s in good[1].set_ups if "24 deep" in s.title).operations[0].hand
    other = Hand.TURNED if hand is Hand.AS_DRAWN else Hand.AS_DRAWN

    assert "would be cut mirrored" in found(good, spoilt(good[1], "24 deep", hand=other))


def test_a_stop_that_slipped_is_found(good: tuple[Plan, WorkPlan]) -> None:
    assert "misses" in found(good, spoilt(good[1], "24 deep", stop_offset=0.2))


def test_a_set_up_left_out_or_done_twice_is_found(good: tuple[Plan, WorkPlan]) -> None:
    steps = good[1].run.steps
    for changed, words in ((steps[1:], "is 0 times"), ((*steps, steps[-1]), "is 2 times")):
        bad = replace(good[1], run=replace(good[1].run, steps=changed))
        assert words in found(good, bad)


def test_grooves_after_bores_are_found() -> None:
    read = read_job(EXAMPLES / "rehearsal-room.toml")
    plan = Plan(read.job, read.workshop)
    work = plan_work(plan.details, plan.set_out, read.workshop)

    def late(step: RunStep) -> bool:
        return "grooves" in work.set_up(step.set_up).title

    machine = [s for s in work.run.steps if work.set_up(s.set_up).stage is WorkStage.MACHINE]
    rest = [s for s in work.run.steps if s not in machine]
    order = (*rest[:3], *(s for s in machine if not late(s)), *(s for s in machine if late(s)), *rest[3:])
    bad = replace(work, run=replace(work.run, steps=order))

    assert "bored before its grooves" in " ".join(f.found for f in check_run(bad, plan.details, plan.set_out).faults)


def test_a_packer_that_is_off_is_found(good: tuple[Plan, WorkPlan]) -> None:
    def off(s: SetUp) -> SetUp:
        if s.setting is None or s.setting.packer is None:
            return s
        return replace(s, setting=replace(s.setting, packer=replace(s.setting.packer, pieces=(0.5,))))

    assert "packer is 0.5 mm off" in found(good, replace(good[1], set_ups=tuple(off(s) for s in good[1].set_ups)))


# --- what is missing, and what is owned -------------------------------------------------------------------------------


def faults_of(workshop: object) -> str:
    with pytest.raises(JobError) as caught:
        worked(job(box()), workshop)  # type: ignore[arg-type]
    return " ".join(f.do for f in caught.value.faults)


def test_a_missing_drill_is_named_with_its_reach() -> None:
    """Through a 9 mm template the straight cutter must reach 33, through a 25 mm jig the drill 49."""
    none = tuple(c for c in SHOP.cutters if c.diameter != 8)
    told = faults_of(shop(cutters=none))

    assert "an 8 mm drill with at least 24 mm reach" in told
    assert "an 8 mm drill with at least 49 mm reach" in told
    assert "an 8 mm straight cutter with at least 33 mm reach" in told


def test_a_missing_bush_is_named() -> None:
    straight = tuple(c for c in SHOP.cutters if c.kind.value == "straight")

    assert "a guide bush with a bore of 9 mm or more" in faults_of(shop(cutters=straight, bushes=()))


def test_a_missing_tool_is_named() -> None:
    assert "a drill jig" in faults_of(shop(tools=()))


def test_no_packers_are_told_and_milled() -> None:
    _, work = worked(job(box(depth=300)), shop(packers=(), tools=tuple(
        replace(t, base_to_centre=11.0) if t.code == "dowel jig" else t for t in SHOP.tools)))  # fmt: skip

    (told,) = [c for c in work.cautions if c.code == "packer-to-mill"]
    assert told.about == "packer of 2 mm"
    assert "No packers are in the workshop file" in told.text


def test_a_jig_already_made_is_used_first() -> None:
    _, work = worked(job(box()), ladder_shop(jigs=(owned_jig(),)))
    owned = [j for j in work.jigs if j.owned]

    assert [j.name for j in owned] == ["old ladder"]
    assert owned[0].making_min == 0
    assert {j.kind.value for j in work.jigs if not j.owned} == {"line jig"}


def test_a_jig_too_short_for_the_joint_is_told_and_not_used() -> None:
    short = owned_jig(stations=(50.0, 210.0), length=280.0)
    _, work = worked(job(box()), ladder_shop(jigs=(short,)))

    (told,) = [c for c in work.cautions if c.code == "jig-does-not-reach"]
    assert "shorter than joint" in told.text
    assert "210" in told.text and "370" in told.text  # noqa: PT018  # one sentence
    assert not any(j.owned for j in work.jigs)


def test_ten_are_worked_otherwise_than_one() -> None:
    """Marking every dowel pays for one case; a ladder of stations for its sides and shelves pays for thirty."""
    _, one = worked(job(box(depth=900)))
    _, ten = worked(job(box(depth=900, count=30)))

    assert not one.jigs
    assert ten.jigs
    assert ten.run.lot.size * ten.run.lot.lots >= 10
    assert min(lot.minutes for lot in ten.run.lot_table) == ten.run.lot.minutes


def test_same_face_is_better_than_centre_lines() -> None:
    _, work = worked(job(box()), ladder_shop())

    for step in work.steps_expected:
        assert step.same_face
        assert step.across.rss < step.centre_line.rss
        assert step.across.rss <= step.across.worst


def test_every_card_carries_its_cautions() -> None:
    """Router, saw and board: the check value L3 asks that a card that names one carries its line."""
    read = read_job(EXAMPLES / "percussion-chest.toml")
    plan = Plan(read.job, read.workshop)
    work = plan_work(plan.details, plan.set_out, read.workshop)

    for s in work.set_ups:
        if s.stage is WorkStage.MACHINE:
            assert s.setting is not None
            assert s.cautions[-1].kind is LineKind.REMINDER
            powered = {LineKind.UNPLUG, LineKind.EYES_EARS, LineKind.DUST, LineKind.FREED_WASTE}
            kinds = {c.kind for c in s.cautions}
            assert powered & kinds == (set() if s.setting.tool_kind is ToolKind.HAND_SAW else powered)
            assert all("plywood" in c.text for c in s.cautions if c.kind is LineKind.DUST)
            assert "{" not in "".join(c.text for c in s.cautions)
            if "router" in s.setting.tool_kind.value:
                assert {LineKind.CUTTER_IN_COLLET, LineKind.SPEED} <= {c.kind for c in s.cautions}


# --- names ------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("code", "first"), [("A", "S1"), ("S", "S101"), ("S10", "S201")])
def test_no_set_up_has_the_name_of_a_panel(code: str, first: str) -> None:
    """Panels of a case S are S1, S2 and so on; those of a case S10 are S101 and on."""
    plan, work = worked(job(box(code)))
    names = [s.id for s in work.set_ups]

    assert names[0] == first
    assert len(names) == len(set(names)) > 5
    assert not {p.mark for c in plan.details.cases for p in c.panels} & set(names)


@pytest.mark.parametrize(("code", "first"), [("J", "J101"), ("j", "J101"), ("G", "J1")])
def test_no_joint_jig_or_gang_has_the_name_of_a_panel(code: str, first: str) -> None:
    """A case J has panels J1, J2 and so on: its joints, and those of every case beside it, begin at J101."""
    plan, work = worked(job(box(), box(code)), ladder_shop())
    marks = {p.mark.upper() for c in plan.details.cases for p in c.panels}
    joints = [j.number for c in plan.details.cases for j in c.joints]
    names = {*joints, *(j.id for j in work.jigs), *(g.id for g in plan.set_out.gangs)}

    assert joints[0] == first
    assert work.jigs
    assert not marks & names


def test_connectors_are_fitted_in_the_panel_that_holds_them_until_the_joint_closes() -> None:
    """Cams and dowels go into what enters, bolts into what receives; of a clip, half into each."""
    wanted = {
        "cam and bolt": {"cam 15", "cam bolt", "dowel 8 x 35"},
        "two-part clip connector": {"one half", "the other"},
    }
    for method, words in wanted.items():
        plan, work = worked(job(box(), methods=MethodChoice(corner=method, mid_panel=method)))
        joints = {j.id: j for c in plan.details.cases for j in c.joints}
        (fit,) = (s for s in work.set_ups if s.stage is WorkStage.FIT)
        for o in fit.operations:
            joint = joints[o.joint]  # type: ignore[index]
            receives = "cam bolt" in o.what or "the other half" in o.what
            assert o.panel == (joint.receiving if receives else joint.entering), o.what
        assert all(any(w in o.what for o in fit.operations) for w in words)
