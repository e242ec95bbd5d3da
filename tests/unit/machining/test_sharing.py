"""Stations that joints share: the fewest, judged by trying all, and what must stay as it is when they are moved."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations, pairwise

import pytest
from hypothesis import given, reject, settings
from hypothesis import strategies as st

from storyrod.adapters.files import job_from_text, read_job
from storyrod.faults import JobError
from storyrod.joinery import detail, join, station_rooms
from storyrod.machining import check_run, plan_work, share_stations
from storyrod.machining._shared_search import StationRow, bound_of, fewest_shared, place, tightened
from storyrod.model.detail import Choices
from storyrod.model.job import Job, JointOverride, MethodChoice, Spread
from storyrod.planning import Plan
from tests.places import EXAMPLES
from tests.strategies import jobs
from tests.unit.machining.shops import DOWELS, SHOP, box, job, ladder_shop

SHARED = Spread.SHARED

# --- the search ------------------------------------------------------------------------------------------------------


@st.composite
def rows(draw: st.DrawFn) -> StationRow:
    """Draw a row of one to three stations on a short rule, in windows round where it stands."""
    gaps = draw(st.lists(st.integers(2, 4), min_size=0, max_size=2))
    start = draw(st.integers(0, 4))
    base = [start]
    for gap in gaps:
        base.append(base[-1] + gap)
    windows = tuple((b - draw(st.integers(0, 2)), b + draw(st.integers(0, 2))) for b in base)
    return StationRow(tuple(base), windows, 2, (5,) * len(gaps), draw(st.integers(1, 3)))


def fewest_of_all(some: list[StationRow]) -> int:
    """Return the fewest places that serve all rows, by trying every set of them."""
    every = sorted({p for r in some for a, b in r.windows for p in range(a, b + 1)})
    return next(
        n
        for n in range(1, len(every) + 1)
        for c in combinations(every, n)
        if all(place(r, c) is not None for r in some)
    )


@settings(max_examples=60)
@given(some=st.lists(rows(), min_size=1, max_size=3))
def test_hardly_fewer_stations_serve_and_each_row_has_what_it_needs(some: list[StationRow]) -> None:
    found, fewest = fewest_shared(some), fewest_of_all(some)

    assert found.bound <= fewest <= len(found.stations) <= fewest + 1
    for row, taken in zip(some, found.rows, strict=True):
        assert set(taken) <= set(found.stations)
        assert all(low <= p <= high for p, (low, high) in zip(taken, row.windows, strict=True))
        assert all(row.gap_min <= b - a <= gap for (a, b), gap in zip(pairwise(taken), row.gaps, strict=True))


@settings(max_examples=40)
@given(some=st.lists(rows(), min_size=1, max_size=4))
def test_the_quick_search_never_says_proven_wrongly(some: list[StationRow]) -> None:
    tight = [tightened(r) for r in some]
    quick = fewest_shared(some)

    assert bound_of(tight) <= fewest_of_all(some) <= len(quick.stations)
    assert len(quick.stations) <= len({p for r in some for p in r.base})


def test_what_is_not_moved_stays_nearest_to_where_it_was() -> None:
    """Two joints may meet at 6 or 7; three stand at 6 and one at 7, so all four take 6."""
    found = fewest_shared([StationRow((6,), ((5, 8),), 0, (), 3), StationRow((7,), ((6, 9),), 0, (), 1)])

    assert found.stations == (6,)


# --- whole jobs ------------------------------------------------------------------------------------------------------


def shared(a_job: Job) -> Job:
    return replace(a_job, spread=SHARED)


def stations(plan: Plan) -> set[float]:
    return {s for c in plan.details.cases for j in c.joints for s in j.stations}


SHALLOW = box("A", depth=394)
"""Stations 50, 210 and, since 184 are left, 344; the last may go from there to 394 - 25 = 369."""

DEEPER = box("B", depth=400)
"""Stations 50, 210, 370; the last may go from 400 - 50 = 350 to 400 - 25 = 375."""


def test_a_jig_of_fewer_stations_comes_of_it() -> None:
    plain = Plan(job(SHALLOW, DEEPER), ladder_shop())
    moved = Plan(shared(job(SHALLOW, DEEPER)), ladder_shop())

    assert stations(plain) == {50, 210, 344, 370}
    assert stations(moved) == {50, 210, 350}  # the first place that both last ones can take
    (edge,) = [j for j in moved.machining.jigs if j.has_fence]
    assert list(edge.stations) == [50, 210, 350]
    (told,) = moved.machining.stations
    assert told.asked
    assert told.proven
    assert "3 stations instead of 4, at 50, 210, 350. 12 joints" in told.text


def test_where_the_last_stations_can_not_meet_nothing_is_moved() -> None:
    """420 deep: the last one at 370 may go up to 395 and not back, since 50 are left behind it."""
    plan = Plan(shared(job(SHALLOW, box("B", depth=420))), SHOP)
    (row,) = plan.sharing.rows

    assert (row.now, len(row.stations), row.proven, row.moved) == (4, 4, True, 0)
    assert stations(plan) == {50, 210, 344, 370}


def test_where_it_is_not_asked_for_the_plan_says_what_it_would_save() -> None:
    cases = (SHALLOW, DEEPER)
    plan = Plan(job(*cases), ladder_shop())
    (told,) = plan.machining.stations

    assert not plan.sharing.moved
    assert (told.now, told.fewest, told.moved) == (4, 3, 12)
    assert "spread = “shared” in the job file 3 would do" in told.text


def test_nothing_is_moved_where_that_saves_no_station() -> None:
    cases = (box("A", depth=450), box("B", depth=560), box("C", depth=600))
    plain, moved = Plan(job(*cases), SHOP), Plan(shared(job(*cases)), SHOP)

    assert not moved.sharing.moved
    assert stations(moved) == stations(plain) == {50, 210, 370, 530}
    assert moved.sharing.rows[0].proven


def test_a_joint_that_says_ladder_keeps_its_stations() -> None:
    cases = (SHALLOW, DEEPER)
    keep = JointOverride(case="A", between=("left side", "top"), spread=Spread.LADDER, field="joints[0]")
    plan = Plan(replace(shared(job(*cases)), overrides=(keep,)), SHOP)
    names = {p.id: p.name for c in plan.details.cases for p in c.panels}
    kept = [
        j.stations
        for c in plan.details.cases
        for j in c.joints
        if j.case == "A" and {names[j.receiving], names[j.entering]} == {"left side", "top"}
    ]

    assert kept == [(50, 210, 344)]


def test_screws_are_not_moved() -> None:
    """They are driven through holes of the mate and need no jig of their own."""
    screws = MethodChoice(corner="carcass screws", mid_panel="carcass screws")
    plan = Plan(shared(job(SHALLOW, DEEPER, methods=screws)), SHOP)

    assert not plan.sharing.moved


def test_both_mates_and_both_hands_move_alike() -> None:
    plan = Plan(shared(job(SHALLOW, DEEPER)), SHOP)

    for case in plan.details.cases:
        for joint in case.joints:
            assert joint.stations == (50, 210, 350)
        for panel in case.panels:
            if panel.twin is not None:
                mine = sorted(round(f.at.v, 6) for f in case.on(panel.id))
                assert mine == sorted(round(f.at.v, 6) for f in case.on(panel.twin))


@settings(max_examples=12)
@given(a_job=jobs(SHOP))
def test_any_job_shares_without_a_new_clash_and_with_the_same_connectors(a_job: Job) -> None:
    try:
        plain, plan = Plan(replace(a_job, spread=Spread.LADDER), SHOP), Plan(shared(a_job), SHOP)
        before, after = plain.details, plan.details
    except JobError:
        reject()
    assert [c.connectors for c in before.cases] == [c.connectors for c in after.cases]
    assert plan.proof.passed, plan.proof.faults
    asked = {j.id for c in after.cases for j in c.joints if j.shares}
    assert {m.joint for m in plan.sharing.moved} <= asked
    for case in after.cases:
        for joint in case.joints:
            rules = after.method(joint.method).rules
            if joint.id not in asked or rules is None or len(joint.stations) < 2:
                continue
            assert joint.stations[0] >= rules.end_min - 1e-6
            assert joint.stations[-1] <= joint.length - rules.end_min + 1e-6
            assert all(b - a >= rules.gap_min - 1e-6 for a, b in pairwise(joint.stations))
    rooms = {r.joint: r for r in station_rooms(plan.joined, plan.choices)}
    for move in plan.sharing.moved:
        spans = rooms[move.joint].spans
        assert all(low - 1e-6 <= s <= high + 1e-6 for s, (low, high) in zip(move.stations, spans, strict=True))
    for row in plan.sharing.rows:
        assert row.bound <= len(row.stations) <= row.now


@settings(max_examples=4)
@given(a_job=jobs(SHOP, most_cases=1))
def test_a_shared_job_is_machined_right(a_job: Job) -> None:
    """Every cut in one operation, every set-up once, the stations of jigs within 0.05 mm, the right hand."""
    plan = Plan(shared(replace(a_job, methods=DOWELS)), ladder_shop())
    try:
        details, set_out = plan.details, plan.set_out
        work = plan_work(details, set_out, plan.workshop, sharing=plan.sharing, limit_s=0.2)
    except JobError:
        reject()

    assert [f.found for f in check_run(work, details, set_out).faults] == []


def test_sharing_needs_no_order_of_assembly() -> None:
    """The functions by themselves, as a script would call them."""
    built = Plan(shared(job(SHALLOW, DEEPER)), SHOP).carcass
    joined = join(built, SHOP)
    sharing = share_stations(joined, station_rooms(joined, Choices()))
    details = detail(joined, Choices(), sharing)

    assert len(sharing.moved) == sum(len(c.joints) for c in details.cases)
    assert {s for c in details.cases for j in c.joints for s in j.stations} == {50, 210, 350}


@pytest.mark.parametrize("step", [0.1, 0.5, 1.0])
def test_shared_stations_lie_on_the_marking_step(step: float) -> None:
    plan = Plan(replace(shared(job(box("A", depth=393.3), box("B", depth=400))), mark_to=step), SHOP)

    for move in plan.sharing.moved:
        assert all(abs(s / step - round(s / step)) < 1e-6 for s in move.stations)


def test_twelve_uneven_depths_share_one_row() -> None:
    """The ladder's 50, 210, 370, 530, 690, and a last one at L - 50 wherever more than 160 are left behind."""
    depths = (384, 388, 394, 400, 541, 546, 552, 560, 701, 706, 712, 720)
    plain = Plan(job(*(box(f"C{n}", depth=depth) for n, depth in enumerate(depths))), SHOP)
    plan = Plan(shared(plain.job), SHOP)
    (row,) = plan.sharing.rows

    assert stations(plain) == {50, 210, 370, 530, 690, 334, 338, 344, 491, 496, 502, 651, 656, 662}
    assert row.proven
    assert len(stations(plan)) == len(row.stations) == row.bound == 5


def test_a_job_file_asks_for_it_with_one_word() -> None:
    text = """
spread = "shared"
[boards.b18]
kind = "plywood"
thickness = 18
measured = 18
[methods]
corner = "dowels"
[[cases]]
code = "A"
board = "b18"
width = 600
height = 700
depth = 394
back = { kind = "none" }
[[cases]]
code = "B"
board = "b18"
width = 600
height = 700
depth = 400
back = { kind = "none" }
"""
    read = job_from_text(text, name="two.toml")
    plan = Plan(read.job, read.workshop)

    assert stations(plan) == {50, 210, 350}
    assert not plan.faults


def test_the_example_pays() -> None:
    """Depths 384, 394, 400, openings 27 long: three stations a jig instead of eight, 2 minutes each."""
    told = read_job(EXAMPLES / "score-shelves.toml")
    asked = Plan(told.job, told.workshop).machining
    as_set_out = Plan(replace(told.job, spread=Spread.LADDER), told.workshop).machining

    assert told.job.spread is Spread.SHARED
    assert [len(j.stations) for j in asked.jigs] == [3, 3]
    assert [len(j.stations) for j in as_set_out.jigs] == [8, 8]
    assert sum(j.making_min for j in as_set_out.jigs) - sum(j.making_min for j in asked.jigs) == 2 * 5 * 2
    assert asked.run.minutes == pytest.approx(as_set_out.run.minutes)
