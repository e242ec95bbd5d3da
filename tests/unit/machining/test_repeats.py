"""Cases written twice are planned once, and told for each."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from hypothesis import given, reject, settings

from storyrod.faults import JobError
from storyrod.machining import check_run, plan_work
from storyrod.machining._repeats import find_repeats
from storyrod.model.job import Job
from storyrod.model.machining import Hand
from storyrod.planning import Plan
from tests.strategies import jobs
from tests.unit.machining.shops import SHOP, box, job, ladder_shop, with_plinth, worked


def test_two_like_cases_are_planned_as_one_made_twice() -> None:
    plan, twice = worked(job(with_plinth("A"), with_plinth("B")), ladder_shop())
    _, counted = worked(job(with_plinth("A", count=2)), ladder_shop())

    assert [s.title for s in twice.set_ups] == [s.title for s in counted.set_ups]
    assert twice.run == counted.run
    assert [s.cuts for s in twice.set_ups] == [s.cuts for s in counted.set_ups]
    assert [j.stations for j in twice.jigs] == [j.stations for j in counted.jigs]
    assert check_run(twice, plan.details, plan.set_out).passed


def test_each_case_has_its_own_ticks() -> None:
    plan, work = worked(job(with_plinth("A"), with_plinth("B")), ladder_shop())
    cuts = Counter(o.case for o in work.operations for _ in o.features)
    marks = {p.id: p.mark for c in plan.details.cases for p in c.panels}

    assert cuts["A"] == cuts["B"] > 0
    assert all(o.panel_mark == marks[o.panel] and o.panel.startswith(f"{o.case}.") for o in work.operations)
    for set_up in work.set_ups:
        hands = set_up.hands or tuple(Hand)
        cases = [(hands.index(o.hand), o.case) for o in set_up.operations]
        assert cases == sorted(cases)  # a jig is turned over once; one case after the other
        assert [o.id for o in set_up.operations] == [f"{set_up.id}.{n}" for n in range(1, len(cases) + 1)]
    joints = {j for e in work.steps_expected for j in e.joints}
    assert {j.id for c in plan.details.cases for j in c.joints if j.connectors} == joints


def test_a_jig_says_how_many_cases_are_like_the_one_it_names() -> None:
    _, work = worked(job(box("A"), box("B"), box("C", depth=560)), ladder_shop())
    words = work.jigs[0].serves

    assert "A J1 and 1 like it" in words
    assert "C J1" in words


def test_what_differs_is_not_taken_together() -> None:
    plan = Plan(job(box("A"), box("B", depth=560), box("C"), box("D", height=701)), SHOP)
    repeats = find_repeats(plan.details, plan.set_out)

    assert {code: [n.code for n in names] for code, names in repeats.like.items()} == {
        "A": ["A", "C"],
        "B": ["B"],
        "D": ["D"],
    }
    assert [c.built.case.count for c in repeats.details.cases] == [2, 1, 1]


def test_counts_of_like_cases_add_up() -> None:
    plan = Plan(job(box("A", count=3), box("B", count=4)), SHOP)
    (first,) = find_repeats(plan.details, plan.set_out).details.cases

    assert first.built.case.count == 7


@settings(max_examples=5)
@given(a_job=jobs(SHOP, most_cases=1))
def test_any_case_written_twice_is_machined_right(a_job: Job) -> None:
    (case,) = a_job.cases
    twice = replace(a_job, cases=(case, replace(case, code="Z", field="cases[1]")), overrides=())
    plan = Plan(twice, SHOP)
    try:
        work = plan_work(plan.details, plan.set_out, SHOP, limit_s=0.2)
    except JobError:
        reject()

    assert [f.found for f in check_run(work, plan.details, plan.set_out).faults] == []
    assert len(find_repeats(plan.details, plan.set_out).like) == 1
