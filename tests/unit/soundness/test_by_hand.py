"""Load paths, levers and signs followed by hand, from the panels' own boxes and weights."""

from __future__ import annotations

from dataclasses import replace

import pytest

from storyrod.measure.space import Axis
from storyrod.model.detail import DetailedCase
from storyrod.model.panel import Grain, Role
from storyrod.model.soundness import CaseSoundness, TipTest
from storyrod.model.thresholds import GRAVITY, Thresholds
from storyrod.model.weight import panel_mass_kg
from storyrod.planning import Plan
from storyrod.soundness import examine
from storyrod.soundness._beam import Line, PointLoad, Spread, Support, bend
from storyrod.soundness._boards import strength_of
from storyrod.soundness._mend import alone, below
from storyrod.soundness._racking import LOCATES, STIFFENS, racking_of
from tests.unit.soundness.pieces import BOOKCASE, found, plan_of

DEEP = BOOKCASE.replace("depth = 300", "depth = 450")
DRAWERS = '[cases.drawers]\nboard = "mdf18"\nbottom_board = "mdf6"\n'
BACK = '[cases.back]\nkind = "rebated"\nboard = "mdf6"\n'


def looked_at(text: str) -> tuple[Plan, DetailedCase, CaseSoundness]:
    plan = plan_of(text)
    told = examine(plan.carcass, plan.details, plan.workshop)
    return plan, plan.details.cases[0], told.cases[0]


def conditions_of(told: CaseSoundness) -> tuple[TipTest, ...]:
    assert told.tipping is not None
    return told.tipping.tests


def kg_of(plan: Plan, case: DetailedCase, *ids: str | None) -> float:
    boards = {b.code: b for b in plan.job.boards}
    return sum(panel_mass_kg(p, boards[p.board], case.on(p.id)) for p in case.panels if p.id in ids)


def test_half_of_each_drawer_hangs_on_the_divider_and_goes_down_to_the_shelf() -> None:
    left, right = (f'{{holds = "drawer", load_kg = {kg}}}' for kg in (20, 12))
    text = f"[cases.inside]\nrows = [{{columns = [{left}, {right}]}}, {{}}]\n"
    plan, case, told = looked_at(DEEP + DRAWERS + text)
    drawers = case.built.drawers
    own = [kg_of(plan, case, *d.panels, d.front) for d in drawers]

    planks = [s for s in told.sags if s.name in {"top", "shelf 1"}]
    at_sides = sum(r.force_n for s in planks for r in s.rests if r.panel != "A.divider-1") / GRAVITY
    lies = sum(s.own_kg + s.load_kg for s in planks) + kg_of(plan, case, "A.divider-1")
    assert at_sides == pytest.approx(lies + (own[0] + 20) / 2 + (own[1] + 12) / 2, rel=1e-6)


def test_planks_that_an_upright_joins_are_judged_over_their_whole_span() -> None:
    it = found(BOOKCASE + "[cases.inside]\nrows = [{columns = [{}, {}]}, {}]\n")

    assert it.sag("shelf 1").span == pytest.approx(800)
    assert it.sag("top").span == pytest.approx(800)


def test_an_upright_rests_below_and_may_hang_above() -> None:
    """The shelf below is loaded and the top too high to be: the divider then hangs from the top, and pulls at it."""
    tall = BOOKCASE.replace("height = 900", "height = 1600")
    it = found(tall + "[cases.inside]\nrows = [{height = 400, columns = [{load_kg = 90}, {load_kg = 90}]}, {}]\n")
    how = {j.about: j for j in it.case.joints}

    assert how["divider 1 to top"].how == "pulled apart"
    assert how["divider 1 to shelf 1"].how == "pulled apart"
    low = found(BOOKCASE + "[cases.inside]\ncolumns = [{}, {}]\n")
    assert next(j for j in low.case.joints if j.about == "divider 1 to top").how == "rests"


def test_a_plank_taken_alone_hangs_as_it_did_among_the_others() -> None:
    supports = (Support(x=0), Support(x=350, level="divider"), Support(x=900))
    lines = [
        Line(
            start=0,
            end=900,
            rigidity_n_mm2=3e8 * k,
            supports=supports,
            spreads=(Spread(start=0, end=900, n_per_mm=w),),
            points=(PointLoad(x=600, n=40),),
        )
        for k, w in ((1.0, 0.3), (2.0, 0.05))
    ]
    for bent in bend(lines, {"divider": 30.0}):
        by_itself = alone(bent)
        assert below(by_itself, 0, 900) == pytest.approx(bent.lowest(0, 900)[1], rel=1e-6)


DOOR = BOOKCASE.replace("width = 836", "width = 500") + BACK + '[cases.inside]\nholds = "door"\n'


def test_an_open_door_stands_before_the_case() -> None:
    """At right angles its middle lies half its width before its own rear face; everything else stays."""
    plan, case, told = looked_at(DOOR)
    door = case.panel(case.built.doors[0].panel)
    rest = sum(kg_of(plan, case, p.id) * p.box.centre.y for p in case.panels if p.id != door.id)
    middle = door.box.centre.y - door.length / 2
    opened = next(t for t in conditions_of(told) if t.code == "all-open-hard-floor")

    assert middle < 0
    assert opened.ratio == pytest.approx(rest / (kg_of(plan, case, door.id) * -middle))


def test_the_greatest_force_on_an_open_doors_edge() -> None:
    plan, case, told = looked_at(DOOR)
    door = case.panel(case.built.doors[0].panel)
    masses = [(kg_of(plan, case, p.id), p.box.centre.y) for p in case.panels if p.id != door.id]
    masses.append((kg_of(plan, case, door.id), door.box.centre.y - door.length / 2))
    edge = door.length - door.box.high.y
    press = next(t for t in conditions_of(told) if t.code == "press")

    assert press.most_n == pytest.approx(sum(m * y for m, y in masses) * GRAVITY / edge)


def test_the_greatest_force_on_a_drawer_out_by_two_thirds() -> None:
    plan, case, told = looked_at(DEEP + BACK + DRAWERS + '[cases.inside]\nrows = [{holds = "drawer"}, {}]\n')
    (drawer,) = case.built.drawers
    out = {*drawer.panels, drawer.front}
    by = drawer.extension * 2 / 3
    moment = sum(
        kg_of(plan, case, p.id) * (p.box.centre.y - (by if p.id in out else 0.0)) * GRAVITY for p in case.panels
    )
    front = next(p for p in case.panels if p.id == drawer.front)
    press = next(t for t in conditions_of(told) if t.code == "press")

    assert press.most_n == pytest.approx(moment / (by - front.box.low.y))
    assert press.asked_n == 75


def test_pushing_it_over_its_rear_edge() -> None:
    plan, case, told = looked_at(BOOKCASE + BACK)
    body = [p for p in case.panels if p.body == "carcass"]
    moment = sum(kg_of(plan, case, p.id) * (300 - p.box.centre.y) for p in body) * GRAVITY

    assert told.weights.turn_n == pytest.approx(moment / 900)


def test_a_back_held_along_two_edges_only_does_not_stiffen() -> None:
    plan, case, _ = looked_at(BOOKCASE + BACK)
    backs = [j for j in case.joints if Role.BACK in {case.panel(j.receiving).role, case.panel(j.entering).role}]
    others = [j for j in case.joints if j not in backs]
    assert len(backs) >= 4

    for kept, gives in ((2, LOCATES), (3, STIFFENS)):
        held = replace(case, joints=(*others, *backs[:kept]))
        assert racking_of(held, plan.details, Thresholds()).back == gives


def test_plywood_bears_less_across_its_grain() -> None:
    plan, case, _ = looked_at(BOOKCASE.replace("mdf18", "ply") + '[boards.ply]\nkind = "plywood"\nthickness = 18\n')
    shelf, board = case.panels[0], plan.job.board("ply")
    along, across = (strength_of(replace(shelf, grain=g), board) for g in (Grain.ALONG, Grain.ACROSS))

    assert along == pytest.approx(33.7)
    assert across == pytest.approx(33.7 * 0.65)


def test_half_of_a_loose_shelf_hangs_on_the_divider_and_goes_down_to_the_shelf() -> None:
    """Of 40 kg in its opening the loose shelf carries 20, and the fixed one under it the rest."""
    text = "[cases.inside]\nrows = [{columns = [{loose_shelves = 1, load_kg = 40}, {load_kg = 10}]}, {}]\n"
    plan, case, told = looked_at(BOOKCASE + text)
    loose = next(p for p in case.panels if p.role is Role.LOOSE_SHELF)

    planks = [s for s in told.sags if s.name in {"top", "shelf 1"}]
    at_sides = sum(r.force_n for s in planks for r in s.rests if r.panel != "A.divider-1") / GRAVITY
    lies = sum(s.own_kg + s.load_kg for s in planks) + kg_of(plan, case, "A.divider-1")
    assert at_sides == pytest.approx(lies + (kg_of(plan, case, loose.id) + 20) / 2, rel=1e-6)


def test_what_fills_drawers_is_by_their_room() -> None:
    """Every drawer out and full of 136.157 kg/m3, about the sides' front edge (y = 0)."""
    plan, case, told = looked_at(DEEP + BACK + DRAWERS + '[cases.inside]\nrows = [{holds = "drawer"}, {}]\n')
    (drawer,) = case.built.drawers
    out = {*drawer.panels, drawer.front}
    wide, deep, high = (drawer.inside.size(axis) for axis in (Axis.X, Axis.Y, Axis.Z))
    fill = wide / 1000 * deep / 1000 * high / 1000 * 136.157
    full = next(t for t in conditions_of(told) if t.code == "all-open-full-hard-floor")

    whole = {True: 0.0, False: 0.0}
    for panel in case.panels:
        if panel.id not in out:
            moment = kg_of(plan, case, panel.id) * panel.box.centre.y
            whole[moment >= 0] += abs(moment)
    box = sum(kg_of(plan, case, p.id) * (p.box.centre.y - drawer.extension) for p in case.panels if p.id in out)
    for moment in (box, fill * (drawer.inside.centre.y - drawer.extension)):
        whole[moment >= 0] += abs(moment)
    assert full.ratio == pytest.approx(whole[True] / whole[False])
