"""Minutes: what is counted, and that every view of it adds up."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from storyrod.adapters.files import packaged_workshop, read_job
from storyrod.faults import JobError
from storyrod.ledger import account, list_work
from storyrod.ledger._times import Times
from storyrod.model.account import JOINERY
from storyrod.model.act import Act
from storyrod.model.method import Cut, CutKind
from storyrod.model.work import Minutes, Stage, Work, WorkItem, total_minutes
from storyrod.planning import Plan
from tests import builders
from tests.places import EXAMPLES
from tests.unit.ledger import small


def minutes(work: Work, *stages: Stage) -> float:
    return total_minutes(work.of(*stages)).usual


def test_one_box_by_hand() -> None:
    """Four panels; four joints of three stations: twelve pegs.

    Cutting 4 x 4 = 16. Marking: 4 x (0.5 + 0.2) to read and mark faces, 4 x 0.5 lines, 12 x 0.1 pegs = 6.0. Machining:
    12 x (0.2 + 0.3) = 6.0, setting up 4.0, a trial joint 3.0 = 13.0. Fitting 12 x 0.1 = 1.2. Assembling: 4 lines at
    1.0, diagonals 1.0, clearing up 1.0 = 6.0.
    """
    workshop = small.shop()
    work = list_work(small.boxes(workshop), workshop)

    told = {s: round(minutes(work, s), 6) for s in Stage if minutes(work, s)}
    assert told == {Stage.CUT: 16.0, Stage.MARK: 6.0, Stage.MACHINE: 13.0, Stage.FIT: 1.2, Stage.ASSEMBLE: 6.0}


def test_a_batch_sets_up_once() -> None:
    """Ten boxes: everything tenfold but the setting up and the trial joint, 7 minutes."""
    workshop = small.shop()
    one = list_work(small.boxes(workshop), workshop)
    ten = list_work(small.boxes(workshop, small.box(count=10)), workshop)

    assert minutes(ten, *Stage) == pytest.approx(10 * (minutes(one, *Stage) - 7) + 7)
    assert ten.set_ups == one.set_ups == ("pegs, faces", "pegs, edges")


def test_two_cases_of_like_board_share_their_set_ups_and_another_board_changes_the_depth() -> None:
    """A second thickness of board is a change of depth of 1.5 min for each half."""
    shallow = (Cut(kind=CutKind.HOLE, diameter=6, depth=8),)
    thin = replace(small.method().sizes[0], low=10, high=15, receiving=shallow)
    thick = replace(small.method().sizes[0], low=15, high=30)
    workshop = small.shop(methods=(small.method(sizes=(thin, thick)),))
    alike = list_work(small.boxes(workshop, small.box(code="A"), small.box(code="B", height=500.0)), workshop)
    apart = list_work(small.boxes(workshop, small.box(code="A"), small.box(code="B", board="b12")), workshop)

    def settings(work: Work) -> float:
        return math.fsum(i.usual_min for i in work.items if i.setting)

    assert settings(alike) == pytest.approx(7.0)
    assert settings(apart) == pytest.approx(7.0 + 2 * 1.5)


def test_closing_a_joint_takes_the_method_s_own_time_where_that_is_longer() -> None:
    slow = small.method(work=replace(small.method().work, per_joint_min=2.5))
    workshop = small.shop(methods=(slow,))

    assert minutes(list_work(small.boxes(workshop), workshop), Stage.ASSEMBLE) == pytest.approx(4 * 2.5 + 2)


def test_glue_is_wiped_off_and_clamps_take_no_labour() -> None:
    workshop = small.shop(methods=(small.method(glue=True, clamps=True),))
    work = list_work(small.boxes(workshop), workshop)

    assert minutes(work, Stage.ASSEMBLE) == pytest.approx(6.0 + 4 * 0.3)
    assert total_minutes(work.items, waiting=True).usual == 45.0


def test_spreads_of_one_act_add_plainly_and_of_different_acts_by_squares() -> None:
    """Ten times one act (0.9, 1.0, 1.3): 9 to 13. With another (8, 10, 14) beside it: root of sums of squares."""
    one = WorkItem(act="a", stage=Stage.FIT, each=Minutes(low=0.9, usual=1.0, high=1.3), count=4)
    same = replace(one, count=6)
    other = WorkItem(act="b", stage=Stage.FIT, each=Minutes(low=8, usual=10, high=14))

    tenfold = total_minutes([one, same])
    assert (tenfold.low, tenfold.usual, tenfold.high) == pytest.approx((9, 10, 13))
    both = total_minutes([one, same, other])
    assert (both.low, both.usual, both.high) == pytest.approx((20 - math.hypot(1, 2), 20, 20 + math.hypot(3, 4)))


@pytest.fixture(scope="module", params=["low-units", "rehearsal-room"])
def plan(request: pytest.FixtureRequest) -> Plan:
    read = read_job(EXAMPLES / f"{request.param}.toml")
    return Plan(read.job, read.workshop)


@pytest.mark.parametrize("with_run", [False, True])
def test_every_view_of_the_minutes_adds_up(plan: Plan, with_run: bool) -> None:
    told = account(plan.details, plan.workshop, run=plan.machining if with_run else None)

    for view in (told.by_stage, told.by_set_up, told.by_panel):
        assert math.fsum(m.minutes.usual for m in view) == pytest.approx(told.minutes.usual)
    assert math.fsum(c.minutes.usual for c in told.cases) == pytest.approx(told.minutes.usual)
    assert told.batches[0].each_min * told.work.carcasses == pytest.approx(told.minutes.usual)
    assert told.minutes.low < told.minutes.usual < told.minutes.high


def test_the_run_is_taken_whole(plan: Plan) -> None:
    """All minutes of machining's run are among ours, and nothing of it is counted a second time."""
    run = plan.machining
    work = list_work(plan.details, plan.workshop, run=run)

    assert math.fsum(i.usual_min for i in work.items if i.set_up) == pytest.approx(run.minutes)
    assert set(work.set_ups) == {s.id for s in run.set_ups if s.operations}
    beside = {i.act for i in work.items if not i.set_up}
    assert not beside & {"mark a joint line", "cut a panel, track saw", "read the card, per panel"}


def test_larger_batches_take_less_a_carcass(plan: Plan) -> None:
    told = account(plan.details, plan.workshop)
    each = [b.each_min for b in told.batches]

    assert each == sorted(each, reverse=True)
    assert each[0] > each[-1]


def test_one_made_alone_takes_no_less_than_its_share_of_the_batch(plan: Plan) -> None:
    for case in account(plan.details, plan.workshop).cases:
        assert case.alone_min >= case.minutes.usual / case.count - 1e-9


def test_a_drawer_box_lies_within_the_trade_s_range() -> None:
    """One drawer box, machined and glued: 12 to 35 minutes; common practice, no source."""
    read = read_job(EXAMPLES / "rehearsal-room.toml")
    shop = packaged_workshop()
    details = Plan(read.job, shop).details
    boxes = sum(len(case.built.drawers) * case.built.case.count for case in details.cases)

    assert boxes == 4
    assert boxes * 12 <= minutes(list_work(details, shop), Stage.DRAWERS) <= boxes * 35


def test_only_the_joinery_changes_with_the_method() -> None:
    read = read_job(EXAMPLES / "rehearsal-room.toml")
    shop = packaged_workshop()
    other = replace(read.job, methods=replace(read.job.methods, corner="biscuits", mid_panel="biscuits"))
    one, two = (list_work(Plan(j, shop).details, shop) for j in (read.job, other))

    rest = [s for s in Stage if s not in JOINERY]
    assert minutes(one, *rest) == pytest.approx(minutes(two, *rest))
    assert minutes(one, *JOINERY) != pytest.approx(minutes(two, *JOINERY))


def test_an_act_without_minutes_is_a_fault_and_never_counts_nothing() -> None:
    with pytest.raises(JobError) as caught:
        Times(builders.workshop()).of(Act.HANG_DOOR)

    assert [(f.code, f.field) for f in caught.value.faults] == [("unknown-act", "times")]
    assert "hang a door" in caught.value.faults[0].found
