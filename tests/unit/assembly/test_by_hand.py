"""Fittings come on at the moment when they can, with their screws; nothing that is bought is missing from the steps."""

from __future__ import annotations

import csv
import io
import re
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pytest
from hypothesis import given, reject, settings

from storyrod.adapters.files import packaged_workshop, read_job
from storyrod.adapters.output._lists import connector_list
from storyrod.assembly import check_plan
from storyrod.faults import JobError
from storyrod.machining import check_run
from storyrod.model.assembly import ByHand, HandAct, Step, StepKind
from storyrod.model.job import FrontKind, Fronts, Job
from storyrod.model.machining import WorkStage
from storyrod.planning import Plan
from storyrod.telling.cards import cards_of
from storyrod.telling.connectors import connector_items
from tests import builders
from tests.places import EXAMPLES
from tests.strategies import jobs

JOBS = sorted(p.name for p in EXAMPLES.glob("*.toml") if not p.name.endswith("workshop.toml"))


@cache
def example(name: str) -> Plan:
    read = read_job(EXAMPLES / name)
    return Plan(read.job, read.workshop)


@cache
def cabinet() -> Plan:
    """Two drawers beside a door with a loose shelf; screwed back."""
    inside = builders.columns(
        builders.rows(builders.drawer(160.0), builders.drawer()), builders.door(loose_shelves=1, hinged="right")
    )
    made = builders.case(width=900.0, inside=inside, fronts=Fronts(kind=FrontKind.OVERLAY, gap=2.5))
    return Plan(builders.job(made), packaged_workshop())


def steps() -> tuple[Step, ...]:
    return cabinet().assembly.cases[0].steps


def done(act: HandAct) -> list[tuple[Step, ByHand]]:
    return [(s, one) for s in steps() for one in s.by_hand if one.act is act]


def faults(change: Callable[[tuple[Step, ...]], tuple[Step, ...]]) -> str:
    """Return what the checker says of the cabinet's plan with its steps changed."""
    plan = cabinet()
    (case,) = plan.assembly.cases
    broken = replace(plan.assembly, cases=(replace(case, steps=change(case.steps)),))
    return " | ".join(f.found for f in check_plan(plan.joined, broken)[0].faults)


@pytest.mark.parametrize("name", JOBS)
def test_what_the_steps_use_is_what_is_bought(name: str) -> None:
    """Every connector, screw, pin and hinge: used by hand in the steps = on the lists, all copies counted."""
    plan = example(name)
    used: Counter[str] = Counter()
    for case in plan.assembly.cases:
        for step in case.steps:
            used.update({c.item: 0 for c in step.fit_first})
            for one in step.fit_first:
                used[one.item] += one.count * case.count
            for thing in (u for one in step.by_hand for u in one.uses):
                used[thing.item] += thing.count * case.count
    bought = connector_items(plan)
    for detailed in plan.details.cases:
        for line in detailed.built.hardware:
            if line.unit == "piece":
                bought[line.item] += line.count * detailed.built.case.count

    assert used == bought
    assert all(replay.passed for replay in check_plan(plan.joined, plan.assembly, details=plan.details))


@settings(max_examples=12, deadline=None)
@given(job=jobs(packaged_workshop()))
def test_of_any_job_what_is_used_is_bought_and_has_its_size_and_price(job: Job) -> None:
    """Screws, pins, hinges and connectors: what the steps use is what connectors.csv and plan.json have."""
    plan = Plan(job, packaged_workshop())
    try:
        assembly, detailed = plan.assembly, plan.details.cases
    except JobError:
        reject()
    used: Counter[str] = Counter()
    for case in assembly.cases:
        for step in case.steps:
            for one in step.fit_first:
                used[one.item] += one.count * case.count
            for thing in (u for one in step.by_hand for u in one.uses):
                used[thing.item] += thing.count * case.count
    listed: Counter[str] = Counter()
    names = {h.name: h.item for c in detailed for h in c.built.hardware}
    for row in csv.DictReader(io.StringIO(connector_list(plan))):
        if row["unit"] == "piece":
            listed[names.get(row["item"], row["item"])] += int(row["count"])

    assert used == listed
    priced = {p.item for p in plan.workshop.prices} | {h.code for h in plan.workshop.hinges}
    priced |= {r.code for r in plan.workshop.clothes_rails} | {f.code for f in plan.workshop.feet}
    assert set(used) <= priced
    assert all(re.search(r" [\d.]+ x [\d.]+$", item) for item in used if "screw" in item)


def test_runners_and_plates_are_fixed_while_a_panel_lies_flat_by_itself() -> None:
    first_join = next(s.number for s in steps() if s.kind is StepKind.JOIN)
    flat = [*done(HandAct.RUNNER_CASE), *done(HandAct.PLATES)]

    assert len(flat) == 5  # two runners on either side of two drawers, and the plates of one door
    assert all(s.kind is StepKind.FIT and s.number < first_join and len(s.onto) == 1 for s, _ in flat)
    assert all(one.panel == s.onto[0] for s, one in flat)


def test_a_panel_lies_with_the_face_up_that_gets_the_fittings() -> None:
    panels = {p.id: p for p in cabinet().details.cases[0].panels}
    features = {f.id: f for f in cabinet().details.cases[0].features}
    fixings = {(str(f.panel), f.about): f for f in cabinet().details.cases[0].built.fixings}
    flat = [*done(HandAct.RUNNER_CASE), *done(HandAct.PLATES), *done(HandAct.HINGES)]

    assert len(flat) == 6
    for step, one in flat:
        worked = features[fixings[one.panel, one.about].features[0]].surface
        assert panels[step.onto[0]].surface_toward(step.down.reverse.value) is worked
        assert f"{worked.value} up" in step.text


def test_a_drawers_runners_come_after_its_box_and_before_it_goes_in() -> None:
    for step, one in done(HandAct.RUNNER_DRAWER):
        box = [s.number for s in steps() if s.kind in {StepKind.JOIN, StepKind.TURN} and s.body == one.about]
        goes_in = next(s.number for s in steps() if s.kind is StepKind.DRAWER and s.body == one.about)
        assert max(box) < step.number < goes_in
    assert len(done(HandAct.RUNNER_DRAWER)) == 4


def test_a_door_gets_its_hinges_is_hung_and_is_set() -> None:
    ((pressed, hinges),), ((hung, setting),) = done(HandAct.HINGES), done(HandAct.SET_DOOR)

    assert pressed.number < hung.number
    assert pressed.kind is StepKind.FIT
    assert hung.kind is StepKind.DOOR
    assert {u.item: u.count for u in hinges.uses} == {"cup hinge": 2, "countersunk screw 3.5 x 16": 4}
    for word in ("height", "side", "depth", "a gap of 2.5 mm", "1.5 mm at the case's outside"):
        assert word in setting.text


def test_every_screw_has_its_size_and_its_pilot_in_the_text() -> None:
    acts = (HandAct.RUNNER_CASE, HandAct.RUNNER_DRAWER, HandAct.PLATES, HandAct.HINGES, HandAct.FRONT)
    for act in acts:
        for _, one in done(act):
            screws = next(u for u in one.uses if " screw " in u.item)
            assert f"{screws.count} \u00d7 {screws.item}" in one.text
            assert " mm deep" in one.text


def test_the_back_is_screwed_with_pilots_bored_through_it_in_place() -> None:
    (case,) = example("rehearsal-room.toml").assembly.cases
    driven = [(s, o) for s in case.steps for o in s.by_hand if o.act is HandAct.DRIVE]
    (step,) = {s.number: s for s, _ in driven}.values()

    assert {u.item for _, o in driven for u in o.uses} == {"screw 3 x 25"}
    assert sum(u.count for _, o in driven for u in o.uses) == 24
    assert ["through the holes in the back: 2 mm, 22 mm deep" in o.text for _, o in driven].index(True) == 0
    assert step.kind is StepKind.JOIN


@pytest.mark.parametrize("name", ["rehearsal-room", "low-units", "percussion-chest", "robe-cupboard"])
def test_what_is_bored_is_told_before_what_is_driven(name: str) -> None:
    """A step is read, and done, from the top down."""
    plan = example(f"{name}.toml")
    texts = [o.text.lower() for c in plan.assembly.cases for s in c.steps for o in s.by_hand]
    bored = [t for t in texts if "drill " in t]

    assert bored
    assert all(t.index("drill ") < t.index("drive ") for t in bored)


def test_screws_are_ticked_and_counted_joint_by_joint() -> None:
    """Two joints of one size were one line, called by the first of them."""
    (case,) = example("robe-cupboard.toml").assembly.cases
    driven = [o for s in case.steps for o in s.by_hand if o.act is HandAct.DRIVE]

    assert len({o.about for o in driven}) == len(driven)
    found = {o.name: (o.uses[0].count, o.text) for o in driven}
    assert found["screws of J14"] == (5, "Drive 5 \u00d7 pocket screw 4 x 32 at J14.")
    assert found["screws of J15"] == (5, "Drive 5 \u00d7 pocket screw 4 x 32 at J15.")


def test_cams_are_turned_in_the_step_that_closes_their_joint() -> None:
    turned = [(s, o) for c in example("percussion-chest.toml").assembly.cases for s in c.steps for o in s.by_hand]
    turned = [(s, o) for s, o in turned if o.act is HandAct.TURN]

    assert turned
    for step, one in turned:
        assert one.about in step.joints
        assert "clockwise, a quarter to half a turn, until they grip" in one.text
        assert any("missed its bolt" in h for h in step.hold)


def test_in_an_inch_job_the_gap_and_the_pilots_are_in_inches() -> None:
    plan = example("music-stand-shelf-inches.toml")
    texts = [o.text for c in plan.assembly.cases for s in c.steps for o in s.by_hand]

    assert texts
    assert all(" mm deep" not in t for t in texts)


def test_a_runner_that_is_forgotten_is_found() -> None:
    assert "fixed or set" in faults(
        lambda made: tuple(replace(s, by_hand=()) if s.kind is StepKind.FIT else s for s in made)
    )


def test_fittings_that_come_too_late_are_found() -> None:
    def last(made: tuple[Step, ...]) -> tuple[Step, ...]:
        return tuple(replace(s, number=n) for n, s in enumerate((*made[1:], made[0]), start=1))

    told = faults(last)
    assert "its fittings cannot be reached" in told
    assert "which needs it" in told


def test_cams_that_are_not_turned_are_found() -> None:
    plan = example("percussion-chest.toml")
    (case,) = plan.assembly.cases
    loose = tuple(replace(s, by_hand=tuple(o for o in s.by_hand if o.act is not HandAct.TURN)) for s in case.steps)
    broken = replace(plan.assembly, cases=(replace(case, steps=loose),))

    assert "are not turned when it closes" in check_plan(plan.joined, broken)[0].faults[0].found


def test_what_is_bored_through_its_mate_waits_for_the_assembly() -> None:
    """The pilots of a screwed back come after everything else of the run, connectors put in included."""
    work = example("rehearsal-room.toml").machining
    stages = [s.stage for s in work.set_ups]

    assert stages[-1] is WorkStage.IN_PLACE
    assert stages.index(WorkStage.IN_PLACE) > stages.index(WorkStage.FIT)
    assert "during the assembly" in work.set_ups[-1].title
    assert "during assembly, not before" in work.set_ups[-1].why


def test_a_hole_bored_through_its_mate_at_the_machines_is_found() -> None:
    plan = example("rehearsal-room.toml")
    early = tuple(
        replace(s, stage=WorkStage.MACHINE) if s.stage is WorkStage.IN_PLACE else s for s in plan.machining.set_ups
    )
    told = check_run(replace(plan.machining, set_ups=early), plan.details, plan.set_out)

    assert any("before the assembly holds it in place" in f.found for f in told.faults)


def test_everything_done_by_hand_is_ticked_once() -> None:
    """Screws are ticked with the joint or front they hold; all else by itself, named for the count sheet."""
    cards = cards_of(cabinet())
    ids = [r.thing.id for c in cards for r in c.rows]

    assert len(ids) == len(set(ids))
    for act, number in (
        (HandAct.RUNNER_CASE, 4),
        (HandAct.RUNNER_DRAWER, 4),
        (HandAct.PLATES, 1),
        (HandAct.HINGES, 1),
        (HandAct.SET_DOOR, 1),
        (HandAct.PINS, 1),
        (HandAct.FRONT, 0),
        (HandAct.DRIVE, 0),
    ):
        assert sum(i.startswith(f"{act.value} ") for i in ids) == number, act
    names = {r.thing.name for c in cards for r in c.rows}
    assert any(n.startswith("runner of drawer 1 on A") for n in names)


def test_a_front_in_which_nothing_is_cut_gets_a_handle_and_each_is_told_its_gap() -> None:
    fronts = [s for s in steps() if s.kind in {StepKind.FRONT, StepKind.DOOR}]
    told = [s.text + " ".join(one.text for one in s.by_hand) for s in fronts]

    assert len(told) == len(cabinet().details.cases[0].built.fronts_to_handle) == 3
    assert all("first fit 1 handle or knob of your own choice" in words for words in told)
    assert all("screws from behind through 18 mm" in words for words in told)
    assert all("Aim for a gap of 2.5 mm to its neighbours" in words for words in told)


def test_a_front_with_a_hand_hold_gets_no_handle() -> None:
    plan = example("rehearsal-room.toml")

    assert not plan.details.cases[0].built.fronts_to_handle
    assert not [s for s in plan.assembly.cases[0].steps if "handle" in s.text]
