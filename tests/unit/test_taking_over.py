"""A plan after an earlier one takes over what an edit has not changed, and equals one worked out from the start."""

from __future__ import annotations

import copy
import pickle
import threading
from collections.abc import Callable
from dataclasses import fields, replace
from functools import cache

import pytest

from storyrod.adapters.files import packaged_workshop, read_job
from storyrod.adapters.output import plan_document
from storyrod.faults import JobError
from storyrod.model.job import Case, Gluing, Job, Paper, Spread
from storyrod.model.use import Loads, Use
from storyrod.model.workshop import Workshop
from storyrod.planning import Plan
from tests.places import EXAMPLES

SHOP = packaged_workshop()

BUILDING = {
    "carcass",
    "joined",
    "assembly",
    "choices",
    "sharing",
    "details",
    "set_out",
    "proof",
    "replays",
    "machining",
}
SHEETS = {"parts", "stock", "cut_rules", "sheets", "saw_lists", "part_labels"}


@cache
def first_box() -> Plan:
    """A plan that is worked out whole."""
    plan = Plan(read_job(EXAMPLES / "first-box.toml").job, SHOP)
    plan_document(plan)
    return plan


def _dearer(job: Job) -> Job:
    sheets = [tuple(replace(s, price_cents=(s.price_cents or 0) + 100) for s in b.sheets) for b in job.boards]
    return replace(job, boards=tuple(replace(b, sheets=s) for b, s in zip(job.boards, sheets, strict=True)))


def _case(job: Job, **changes: object) -> Job:
    return replace(job, cases=(replace(job.cases[0], **changes), *job.cases[1:]))  # type: ignore[arg-type]


def _used_otherwise(job: Job) -> Job:
    loads = replace(job.use.loads, books_kg_m=60.0, top_kg_dm2=3.0)
    return replace(job, use=replace(job.use, humidity_low=31.0, tip_margin=1.5, sag_limit=300.0, loads=loads))


EDITS: dict[str, tuple[Callable[[Job], Job], set[str]]] = {
    "nothing": (lambda job: job, set()),
    "whom it is for": (lambda job: replace(job, customer="the choir"), {"version", "account"}),
    "title and note": (lambda job: replace(job, title="Box", note="Soon"), {"version", "account"}),
    "who glues up": (lambda job: replace(job, gluing=Gluing(people=2, goes=2)), {"version", "assembly", "account"}),
    "paper": (lambda job: replace(job, paper=Paper.LETTER), {"version", "account"}),
    "price of sheets": (_dearer, {"version", "account", "stock", "sheets", "saw_lists", "part_labels"}),
    "name of the case": (lambda job: _case(job, name="Low box"), BUILDING | {"account", "sketch"}),
    "how many": (lambda job: _case(job, count=3), BUILDING | {"parts", "sheets", "account"}),
    "width": (lambda job: _case(job, width=job.cases[0].width + 7), BUILDING | SHEETS | {"soundness", "account"}),
    "the air and what it carries": (_used_otherwise, {"version", "soundness", "tipping", "walls", "account"}),
    "stations": (lambda job: replace(job, spread=Spread.EVEN), BUILDING - {"carcass"} | {"account"}),
    "step of marks": (lambda job: replace(job, mark_to=1.0), BUILDING | {"account"}),
}


@pytest.mark.parametrize("edit", EDITS)
def test_after_an_edit_only_what_hangs_on_it_is_worked_out(edit: str) -> None:
    made, may_run = EDITS[edit]
    before = first_box()
    plan, anew = Plan(made(before.job), SHOP, before), Plan(made(before.job), SHOP)

    assert plan_document(plan) == plan_document(anew)
    assert {s for s in ("carcass", "machining", "sheets", "account") if s in plan.ran} == may_run & {
        "carcass",
        "machining",
        "sheets",
        "account",
    }
    if edit in {"nothing", "whom it is for", "title and note", "paper", "the air and what it carries"}:
        assert not set(plan.ran) & (BUILDING | SHEETS)
    if edit in {"nothing", "whom it is for", "title and note", "paper"}:
        assert set(plan.ran) <= may_run
    for stage in ("carcass", "joined", "details"):
        assert getattr(plan, stage).job == plan.job


@pytest.mark.parametrize(
    ("edit", "stays"),
    [
        (lambda shop: replace(shop, money=replace(shop.money, rate_cents_per_h=9900)), BUILDING | SHEETS),
        (lambda shop: replace(shop, prices=shop.prices[1:]), BUILDING | SHEETS),
        (lambda shop: replace(shop, rack=()), BUILDING | {"parts"}),
        (lambda shop: replace(shop, saw=replace(shop.saw, kerf=4.0)), BUILDING - {"machining"} | {"parts"}),
        (lambda shop: replace(shop, packers=()), BUILDING - {"machining"} | SHEETS),
    ],
)
def test_after_an_edit_of_the_workshop_what_does_not_hang_on_it_stays(
    edit: Callable[[Workshop], Workshop], stays: set[str]
) -> None:
    before = first_box()
    shop = edit(SHOP)
    plan = Plan(before.job, shop, before)

    assert plan_document(plan) == plan_document(Plan(before.job, shop))
    assert not set(plan.ran) & stays


@pytest.fixture(scope="module")
def three() -> Job:
    """Three cases that differ."""
    read = read_job(EXAMPLES / "rehearsal-room.toml").job
    (case,) = read.cases
    return replace(read, cases=tuple(_numbered(case, n) for n in range(3)))


def _numbered(case: Case, number: int) -> Case:
    return replace(case, code="ABC"[number], field=f"cases[{number}]", width=case.width + 10 * number)


def test_only_the_cases_that_changed_are_built_joined_and_put_together_anew(three: Job) -> None:
    before = Plan(three, SHOP)
    before.sketch  # noqa: B018  # worked out when first asked for
    before.details  # noqa: B018  # worked out when first asked for
    other = replace(three, cases=(three.cases[0], replace(three.cases[1], height=900.0), three.cases[2]))
    plan, anew = Plan(other, SHOP, before), Plan(other, SHOP)

    assert plan.sketch == anew.sketch
    assert plan.details == anew.details
    assert plan.assembly == anew.assembly
    assert plan.ran == {"carcass": 1, "joined": 1, "sketch": 1, "assembly": 1, "choices": 1, "sharing": 1, "details": 1}
    assert plan.sketch.cases[0] is before.sketch.cases[0]


def test_a_case_gone_or_added_is_seen(three: Job) -> None:
    before = Plan(three, SHOP)
    before.sketch  # noqa: B018  # worked out when first asked for
    for cases in (three.cases[:1], (*three.cases, replace(three.cases[0], code="D", field="cases[3]"))):
        plan = Plan(replace(three, cases=cases), SHOP, before)
        assert plan.sketch == Plan(replace(three, cases=cases), SHOP).sketch
        assert plan.ran["sketch"] == len(cases) - min(len(cases), 3)


def test_faults_are_those_of_the_whole_and_found_once(three: Job) -> None:
    before = Plan(three, SHOP)
    before.sketch  # noqa: B018  # worked out when first asked for
    broken = replace(three, cases=(three.cases[0], replace(three.cases[1], width=150.0), three.cases[2]))
    with pytest.raises(JobError) as whole:
        _ = Plan(broken, SHOP).sketch
    plan = Plan(broken, SHOP, before)
    for _ in range(2):
        with pytest.raises(JobError) as part:
            _ = plan.sketch
        assert part.value.faults == whole.value.faults
    assert plan.ran == {"carcass": 1}
    mended = Plan(three, SHOP, plan)  # over the plan between, which has nothing to take over
    assert mended.sketch == before.sketch
    assert mended.ran == {}


def test_threads_that_ask_at_once_get_one_result() -> None:
    plan = Plan(first_box().job, SHOP)
    got: list[object] = []
    go = threading.Barrier(6)

    def ask(name: str) -> None:
        go.wait()
        got.append(getattr(plan, name))

    threads = [threading.Thread(target=ask, args=(name,)) for name in ("machining", "proof", "sketch") * 2]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    assert len({id(one) for one in got}) == 3
    assert set(plan.ran.values()) == {1}


def test_what_is_known_is_told_while_another_stage_is_worked_out(monkeypatch: pytest.MonkeyPatch) -> None:
    from storyrod import setout

    plan = Plan(first_box().job, SHOP)
    known = plan.sketch
    begun, go_on, asked = threading.Event(), threading.Event(), setout.set_out

    def slow(*words: object) -> object:
        begun.set()
        assert go_on.wait(60)
        return asked(*words)  # type: ignore[arg-type]

    monkeypatch.setattr(setout, "set_out", slow)
    thread = threading.Thread(target=lambda: plan.proof)
    thread.start()
    assert begun.wait(60)
    assert plan.sketch is known
    assert not plan.knows("set_out")
    go_on.set()
    thread.join()
    assert plan.knows("proof")


def test_a_copy_and_another_process_are_given_what_is_known() -> None:
    plan = first_box()
    for other in (copy.copy(plan), pickle.loads(pickle.dumps(plan))):
        assert plan_document(other) == plan_document(plan)
        assert other.ran == {}


def test_stages_need_no_other_in_a_ring_and_each_comes_after_what_it_needs() -> None:
    seen: set[str] = set()
    for name, stage in Plan.STAGES.items():
        assert set(stage.needs) <= seen, name
        seen.add(name)
    of_sheets = {"saw_lists", "part_labels", "sheet_changes", "account", "buying_faults", "comparison"}
    assert set(Plan.hanging_on("sheets")) == of_sheets


READ: set[str] = set()


class NotedJob(Job):
    """A job that notes which of its fields are read."""

    def __getattribute__(self, name: str) -> object:
        READ.add(f"job.{name}")
        return super().__getattribute__(name)


class NotedUse(Use):
    """A use that notes which of its fields are read."""

    def __getattribute__(self, name: str) -> object:
        READ.add(f"use.{name}")
        return super().__getattribute__(name)


class NotedLoads(Loads):
    """Loads that note which of their fields are read."""

    def __getattribute__(self, name: str) -> object:
        READ.add(f"loads.{name}")
        return super().__getattribute__(name)


class NotedWorkshop(Workshop):
    """A workshop that notes which of its fields are read."""

    def __getattribute__(self, name: str) -> object:
        READ.add(f"workshop.{name}")
        return super().__getattribute__(name)


def test_a_stage_reads_nothing_of_job_and_workshop_but_what_it_says() -> None:
    """What a stage reads and does not say would be taken over after an edit of it."""
    known = read_job(EXAMPLES / "rehearsal-room.toml").job
    loads = NotedLoads(**{f.name: getattr(known.use.loads, f.name) for f in fields(Loads)})
    use = NotedUse(**{f.name: getattr(known.use, f.name) for f in fields(Use)} | {"loads": loads})
    plan = Plan(
        NotedJob(**{f.name: getattr(known, f.name) for f in fields(Job)} | {"use": use}),
        NotedWorkshop(**{f.name: getattr(SHOP, f.name) for f in fields(Workshop)}),
    )
    every = {f"{of}.{f.name}" for of, kind in (("job", Job), ("workshop", Workshop)) for f in fields(kind)}
    papers = {"job.title", "job.maker", "job.customer", "job.note", "job.currency", "job.paper"}
    by_joints = {"job.methods", "job.overrides", "job.spread"}
    used = {f"{of}.{f.name}" for of, kind in (("use", Use), ("loads", Loads)) for f in fields(kind)}
    built_by = {"use.fix_above", "use.loads", "loads.drawers_kg_m3", "loads.rail_kg_m"}
    with_money = {"sheets", *Plan.hanging_on("sheets"), "by_methods", "sheets_costed", "sheets_counted"}
    with_money |= {"stock", "cut_rules", "version"}
    for name, stage in Plan.STAGES.items():
        if name in with_money:
            continue
        for need in stage.needs:
            getattr(plan, need)
        READ.clear()
        of_job = {n for n in every if n.startswith("job.")} - papers if stage.reads(plan) else set()
        says = of_job | {n for n in READ if n.startswith("workshop.")}
        READ.clear()
        stage.work(plan, *([{}] if stage.cases else []))
        assert READ & every <= says - (by_joints if name == "carcass" else set()), name
        assert READ & used <= built_by or name in {"soundness", "tipping", "walls"}, name
