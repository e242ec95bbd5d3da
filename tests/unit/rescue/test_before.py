"""Before it happens: what laying a panel the wrong way round would come to.

The box's holes in its sides stand 50 and 210 mm from the front of 250: turned end for end they fall at 200 and 40, 10
beside.
"""

from __future__ import annotations

from dataclasses import replace

from storyrod.model.mark import PanelSetOut
from storyrod.planning import Plan
from storyrod.rescue import wrong_ways
from storyrod.telling.before import all_before, before_card, before_on_paper, before_panel
from tests.unit.machining.shops import box as jig_box
from tests.unit.machining.shops import job, ladder_shop


def out(plan: Plan, mark: str) -> PanelSetOut:
    return next(p for p in plan.set_out.cases[0].panels if p.panel.mark == mark)


def test_a_side_turned_end_for_end_has_its_holes_ten_beside(plan: Plan) -> None:
    told = before_panel(out(plan, "A1"), plan.job.lengths)

    assert told[0] == "A1 turned end for end: the cuts miss their mates by up to 10 mm."
    assert "far face" in told[1]
    assert len(told) == 2


def test_what_makes_no_difference_is_said(plan: Plan) -> None:
    told = before_panel(out(plan, "A5"), plan.job.lengths)

    assert told[-1] == "It makes no difference whether A5 is turned over end for end."


def test_a_panel_that_is_alike_all_ways_round_cannot_go_wrong(plan: Plan) -> None:
    shelf = out(plan, "A5")
    width = shelf.panel.width
    marks = tuple(replace(m, v={50.0: 50.0, 210.0: width - 50.0}[m.v]) for m in shelf.marks)

    told = before_panel(replace(shelf, marks=marks), plan.job.lengths)
    assert told == ("A5 cannot go wrong: its cuts come right whichever way round it lies.",)


def test_a_panel_without_cuts_has_nothing_to_mind(plan: Plan) -> None:
    assert before_panel(replace(out(plan, "A5"), marks=()), plan.job.lengths) == ()


def test_nearest_misses_come_first(plan: Plan) -> None:
    side = out(plan, "A1")
    ways = [w for w in wrong_ways(side.panel, [m.feature for m in side.marks]) if not w.is_right]

    assert [w.off for w in ways] == sorted(w.off for w in ways)


def test_each_card_says_what_to_mind(plan: Plan) -> None:
    told = all_before(plan)
    drilling = next(
        s for s in plan.machining.set_ups if s.is_cut and any(o.panel == "A.side-left" for o in s.operations)
    )

    assert told[drilling.id][0] == "A1, A2 turned end for end: the cuts miss their mates by up to 10 mm."
    assert all(len(lines) <= 3 for lines in told.values())


def test_a_jig_that_is_turned_over_is_told_by_how_much(plan: Plan) -> None:
    """Stations 50, 210 and 370 of 400: with the stop at the other end 30, 190 and 350, each 20 beside one."""
    jigs = Plan(job(jig_box()), ladder_shop())
    set_up = next(s for s in jigs.machining.set_ups if s.hands and s.is_cut)

    told = before_card(jigs, set_up)
    assert any(line.endswith("with the jig turned over: the cuts miss their mates by up to 20 mm.") for line in told)


def test_a_printed_card_has_the_slip_noticed_last_in_a_few_words(plan: Plan) -> None:
    lines = {before_on_paper(plan, s) for s in plan.machining.set_ups}

    assert {
        "Watch A1 and 1 other: turned end for end, the cuts are 10 mm out.",
        "Watch A3 and 2 others: turned end for end, the cuts are 10 mm out.",
    } <= lines
    assert max(map(len, lines)) < 70, "it stands in one line with how many cuts there are"
