"""Changing jigs over: counted by hand, by every order, and as the card and the panel-by-panel order see it."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise, permutations

from hypothesis import given, settings
from hypothesis import strategies as st

from storyrod.machining import check_run
from storyrod.machining._order import find_order
from storyrod.machining._order_problem import OrderProblem
from storyrod.machining._turns import Wants, fewest_turns, turns_in, with_turns
from storyrod.model.machining import Hand
from tests.unit.machining.shops import SHOP, box, job, ladder_shop, worked

DRAWN, OVER, BOTH = frozenset({Hand.AS_DRAWN}), frozenset({Hand.TURNED}), frozenset(Hand)

WANTS = st.builds(Wants, jig=st.sampled_from(["", "G1", "G2"]), hands=st.sampled_from([DRAWN, OVER, BOTH]))


def in_all(run: list[Wants]) -> int:
    """Return how often jigs are changed over in a run."""
    return sum(t.count for t in turns_in(run))


def test_a_jig_stays_as_it_was_left() -> None:
    """Both hands, then something else, then both: once in each, the second time from turned over to as drawn."""
    first, other, second = turns_in([Wants("G1", BOTH), Wants("", frozenset()), Wants("G1", BOTH)])

    assert (first.count, first.hands) == (1, (Hand.AS_DRAWN, Hand.TURNED))
    assert other.count == 0
    assert (second.count, second.hands) == (1, (Hand.TURNED, Hand.AS_DRAWN))


def test_a_set_up_of_one_hand_may_find_its_jig_the_other_way() -> None:
    assert [t.count for t in turns_in([Wants("G1", OVER), Wants("G1", DRAWN), Wants("G1", DRAWN)])] == [1, 1, 0]
    assert [t.count for t in turns_in([Wants("G1", BOTH), Wants("G1", OVER), Wants("G2", OVER)])] == [1, 0, 1]


@settings(max_examples=60)
@given(wanted=st.lists(WANTS, min_size=1, max_size=5))
def test_no_order_changes_jigs_over_less_often(wanted: list[Wants]) -> None:
    assert fewest_turns(wanted) == min(in_all(list(order)) for order in permutations(wanted))


@settings(max_examples=60)
@given(data=st.data(), wanted=st.lists(WANTS, min_size=2, max_size=5), each=st.integers(0, 9))
def test_an_order_said_to_be_best_is(data: st.DataObject, wanted: list[Wants], each: int) -> None:
    """Judged by every order that keeps one before another."""
    n = len(wanted) + 1
    costs = [[0 if j == 0 else data.draw(st.integers(0, 9)) for j in range(n)] for _ in range(n)]
    before = [(1, 2)] if data.draw(st.booleans()) else []
    problem = OrderProblem(costs, before)
    order = with_turns(find_order(costs, before), problem, wanted, each)

    def cost(path: tuple[int, ...]) -> int:
        return sum(costs[a][b] for a, b in pairwise((0, *path))) + each * in_all([wanted[i - 1] for i in path])

    best = min(cost(p) for p in permutations(range(1, n)) if not before or p.index(1) < p.index(2))
    assert order.cost == cost(order.path[1:])
    assert order.bound <= best <= order.cost


def test_the_plain_box_counts_its_turns() -> None:
    """Two sides are a pair, so each set-up with a jig has both hands: ends and edges with the edge jig, and the line.

    Three set-ups, three times 2 minutes. Panel by panel each side, and each edge, wants its own hand.
    """
    plan, work = worked(job(box()), ladder_shop())
    slow = replace(next(t for t in SHOP.times if t.act == "change a jig over"), usual_min=7.0, high_min=9.0)
    times = (*(t for t in SHOP.times if t.act != slow.act), slow)
    _, slower = worked(job(box()), ladder_shop(times=times))

    with_jig = [s for s in work.set_ups if s.setting and s.setting.jig]
    assert [s.turns for s in with_jig] == [1] * len(with_jig)
    assert [s.turn_min for s in work.run.steps if s.turn_min] == [2.0] * len(with_jig)
    assert slower.run.changes_min - work.run.changes_min == (7 - 2) * len(with_jig)
    assert slower.run.panel_by_panel_min - work.run.panel_by_panel_min > 5 * len(with_jig)
    assert work.run.bound_min == work.run.changes_min
    assert check_run(work, plan.details, plan.set_out).passed


def test_placings_of_one_hand_stand_together_in_the_order_of_the_card() -> None:
    _, work = worked(job(box("A"), box("B", depth=560)), ladder_shop())
    for set_up in work.set_ups:
        if set_up.hands:
            assert tuple(dict.fromkeys(o.hand for o in set_up.operations)) == set_up.hands


def test_the_check_finds_a_jig_that_was_not_changed_over() -> None:
    plan, work = worked(job(box()), ladder_shop())
    wrong = tuple(replace(s, turns=0) for s in work.set_ups)
    check = check_run(replace(work, set_ups=wrong), plan.details, plan.set_out)

    assert any("is changed over 1 times, the card says 0" in f.found for f in check.faults)
