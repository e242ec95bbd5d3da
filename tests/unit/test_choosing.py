"""Another method for a place: what is written for it, and what it comes to, before it is chosen."""

from __future__ import annotations

import pytest

from storyrod.adapters.choosing import (
    Place,
    changes_for,
    chooses_itself,
    chosen_at,
    effect_now,
    effect_of,
    joints_at,
    methods_for,
    place_of,
    places_of,
)
from storyrod.adapters.files import JobFile, job_from_text, read_job
from storyrod.adapters.files.editing import edit_job
from storyrod.model.job import JointClass
from storyrod.planning import Plan
from tests.places import EXAMPLES

PATH = EXAMPLES / "low-units.toml"


@pytest.fixture(scope="module")
def read() -> JobFile:
    return read_job(PATH)


@pytest.fixture(scope="module")
def plan(read: JobFile) -> Plan:
    return Plan(read.job, read.workshop)


def changed(read: JobFile, place: Place, method: str) -> JobFile:
    text = edit_job(read.text, changes_for(place, method, read.job))
    return job_from_text(text, name=PATH.name, folder=PATH.parent, path=PATH)


def place(plan: Plan, key: str) -> Place:
    found = place_of(key, plan.job, plan.joined.cases)
    assert found is not None
    assert found.key == key
    return found


def test_every_class_with_joints_has_a_place_and_cases_that_choose_for_themselves_another(plan: Plan) -> None:
    keys = [p.key for p in places_of(plan.job, plan.joined.cases)]
    assert keys == ["together", "corner", "mid_panel", "mid_panel@U", "plinth", "back", "drawer_box"]
    assert [p.key for p in places_of(plan.job, ())] == keys


def test_every_joint_follows_from_one_class_place_at_the_most(plan: Plan) -> None:
    places = [p for p in places_of(plan.job, plan.joined.cases) if p.key != "together"]
    seen = [j.id for p in places for j in joints_at(p, plan.job, plan.joined.cases)]
    assert len(seen) == len(set(seen)) == sum(len(c.joints) for c in plan.joined.cases)


@pytest.mark.parametrize("key", ["", "nowhere", "corner@X", "D.J99", "../corner", "mid-panel"])
def test_a_place_that_is_not_there_is_none(plan: Plan, key: str) -> None:
    assert place_of(key, plan.job, plan.joined.cases) is None


@pytest.mark.parametrize("key", ["corner", "together", "mid_panel@U", "plinth@D", "D.J3"])
def test_what_is_written_is_what_is_then_chosen(read: JobFile, plan: Plan, key: str) -> None:
    here = place(plan, key)
    after = changed(read, here, "glued butt")
    other = Plan(after.job, after.workshop)
    assert chosen_at(here, other) == ("glued butt",)
    held = {j.method for j in joints_at(here, after.job, other.joined.cases)}
    assert held == {"glued butt"}


def test_a_choice_for_one_joint_is_taken_back_without_a_trace(read: JobFile, plan: Plan) -> None:
    here = place(plan, "D.J3")
    assert not chooses_itself(here, plan.job)
    assert changes_for(here, "", plan.job) == []
    after = changed(read, here, "pocket screws")
    assert chooses_itself(here, after.job)
    twice = changed(after, place(plan, "D.J7"), "pocket screws")
    assert [o.method for o in twice.job.overrides] == ["pocket screws", "pocket screws"]
    back = changed(changed(twice, here, ""), place(plan, "D.J7"), "")
    assert back.job == read.job


def test_a_joint_keeps_its_spread_when_its_method_is_taken_back(read: JobFile, plan: Plan) -> None:
    spread = '\n[[joints]]\ncase = "D"\nbetween = ["left side", "base"]\nspread = "even"\n'
    here = place(plan, "D.J3")
    spaced = job_from_text(read.text + spread, name=PATH.name, folder=PATH.parent, path=PATH)
    assert changes_for(here, "", spaced.job) == []
    after = changed(spaced, here, "pocket screws")
    assert len(after.job.overrides) == 1
    assert changed(after, here, "").job == spaced.job


def test_only_methods_made_for_all_of_a_place_are_told(plan: Plan) -> None:
    codes = {m.code for m in methods_for(place(plan, "together"), plan.workshop.methods)}
    assert "dowels" in codes
    assert not codes & {"housing", "rebate", "screwed back"}


def test_the_effect_is_that_of_the_changed_file_planned_anew(read: JobFile, plan: Plan) -> None:
    here = place(plan, "plinth")
    method = next(m for m in plan.workshop.methods if m.code == "glued butt")
    after = changed(read, here, method.code)
    told = effect_of(plan, after.job, here, method)
    anew = Plan(after.job, after.workshop).account
    assert told.fits
    assert (told.cost_cents, told.minutes, told.outlay_cents) == (anew.cost_cents, anew.minutes, anew.outlay_cents)
    assert told.connectors == 0
    now = effect_now(plan, here)
    assert now.fits
    assert now.connectors == 26
    assert now.cost_cents == plan.account.cost_cents


def test_a_method_that_can_not_serve_is_told_in_words(read: JobFile, plan: Plan) -> None:
    here = place(plan, "plinth")
    methods = {m.code: m for m in plan.workshop.methods}
    low = effect_of(plan, changed(read, here, "cam and bolt").job, here, methods["cam and bolt"])
    assert not low.fits
    assert "60 mm long" in low.why_not[0]
    biscuits = effect_of(plan, plan.job, here, methods["biscuits"])
    assert "disc cutter" in biscuits.why_not[0]


def test_a_tool_that_is_only_thought_of_is_told_as_to_be_bought(read: JobFile, plan: Plan) -> None:
    here = place(plan, "together")
    method = next(m for m in plan.workshop.methods if m.code == "loose tenons")
    told = effect_of(plan, changed(read, here, method.code).job, here, method)
    assert told.buy == ("loose-tenon cutter",)
    assert told.outlay_cents > 90_000


def test_joints_settled_by_the_back_say_so(read: JobFile) -> None:
    text = read.text.replace('kind = "applied"\nboard = "birch6"', 'kind = "grooved"\nboard = "birch6"\ninset = 10', 1)
    text = text.replace('corner = "one-part keyhole connector"', 'corner = "glued butt"')
    text = text.replace('mid_panel = "one-part keyhole connector"', 'mid_panel = "glued butt"')
    grooved = job_from_text(text, name=PATH.name, folder=PATH.parent, path=PATH)
    plan = Plan(grooved.job, grooved.workshop)
    here = place(plan, "back")
    method = next(m for m in plan.workshop.methods if m.code == "glued butt")
    told = effect_of(plan, changed(grooved, here, method.code).job, here, method)
    assert not told.fits
    assert "whatever is chosen here" in told.why_not[0]
    assert here.kinds == (JointClass.BACK,)
