"""How cases stand: levers by hand, what decides, and the laws of row D9."""

from __future__ import annotations

import json
import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storyrod.model.panel import PanelId
from storyrod.model.soundness import TipTest
from storyrod.model.thresholds import GRAVITY
from storyrod.soundness import examine
from storyrod.soundness._balance import Body, balance, tilt
from storyrod.telling.plain import plain
from tests.unit.soundness.pieces import BOOKCASE, Found, found, plan_of

CHEST = (
    BOOKCASE.replace("depth = 300", "depth = 450")
    + '[cases.back]\nkind = "rebated"\nboard = "mdf6"\n[cases.drawers]\nboard = "mdf18"\nbottom_board = "mdf6"\n'
    + '[cases.inside]\nrows = [{holds = "drawer", parted = false}, {holds = "drawer", parted = false},'
    + ' {holds = "drawer"}]\n'
)
LOW_SHELVES = (
    BOOKCASE.replace("height = 900", "height = 400").replace("depth = 300", "depth = 450")
    + '[cases.back]\nkind = "applied"\nboard = "mdf6"\n'
)


def test_of(it: Found, code: str) -> TipTest:
    return next(t for t in it.tipping.tests if t.code == code)


test_of.__test__ = False  # type: ignore[attr-defined]  # a look-up, not a test


def test_a_chest_of_drawers_is_to_be_fixed_to_the_wall() -> None:
    it = found(CHEST)

    assert it.tipping.fix_to_wall
    assert it.tipping.margin < 1
    told = it.told("tip-fix-to-wall")
    assert "Fix it to the wall" in told
    assert "not a certificate" in told
    assert all(code.startswith("tip") for code in it.codes if "tip" in code)


def test_the_childs_weight_by_hand() -> None:
    """About the sides' front edge (y = 0), from the panels' own boxes: one drawer out as a whole, a child on it."""
    plan = plan_of(CHEST)
    case = plan.details.cases[0]
    it = Found(whole := examine(plan.carcass, plan.details, plan.workshop), whole.cases[0])
    kg = {str(h.ids[0]): h.kg for h in it.case.weights.panels}
    boxes = {d.id: {*d.panels, d.front} for d in case.built.drawers}
    within = set().union(*boxes.values())
    rest = [(kg[p.id], p.box.centre.y) for p in case.panels if p.id not in within]

    def whole_of(ids: set[PanelId | None]) -> tuple[float, float]:
        parts = [(kg[p.id], p.box.centre.y) for p in case.panels if p.id in ids]
        mass = sum(m for m, _ in parts)
        return mass, sum(m * y for m, y in parts) / mass

    ratios = []
    for drawer in case.built.drawers:
        levers = [*rest]
        for each, ids in boxes.items():
            mass, y = whole_of(ids)
            levers.append((mass, y - (drawer.extension if each == drawer.id else 0.0)))
        front = case.panel(drawer.front or drawer.panels[0]).box.low.y - drawer.extension
        levers.append((27.2, front))
        behind, before = (sum(m * y * s for m, y in levers if y * s > 0) for s in (1, -1))
        ratios.append(behind / before)

    assert test_of(it, "child-hard-floor").ratio == pytest.approx(min(ratios))
    assert test_of(it, "child-hard-floor").anchor_n > 0


def test_low_shelves_stand_and_are_left_alone() -> None:
    it = found(LOW_SHELVES)

    assert not it.tipping.fix_to_wall
    assert "tip-fix-to-wall" not in it.codes
    assert it.tipping.margin > 2


def test_tall_things_are_always_told() -> None:
    tall = LOW_SHELVES.replace("height = 400", "height = 700").replace("depth = 450", "depth = 560")
    it = found(tall)

    assert it.tipping.margin > it.tipping.wanted
    assert "it is tall or has drawers" in it.told("tip-fix-to-wall")


def test_a_carpet_counts_unless_the_floor_is_hard() -> None:
    soft, hard = found(CHEST), found('[use]\nfloor = "hard"\n' + CHEST)

    assert test_of(soft, "child-carpet").ratio < test_of(soft, "child-hard-floor").ratio
    assert test_of(hard, "child-carpet").ratio == pytest.approx(test_of(soft, "child-carpet").ratio)
    assert test_of(soft, "child-carpet").counts
    assert not test_of(hard, "child-carpet").counts
    assert hard.tipping.margin >= soft.tipping.margin
    assert soft.tipping.tilt_deg == pytest.approx(math.degrees(math.atan(10.9 / 450)))


def test_what_is_hung_on_a_drawer_and_how_hard_it_is_pulled_can_be_set() -> None:
    usual, heavier = found(CHEST), found("[use]\nchild_kg = 54.4\npull_n = 89\n" + CHEST)
    light, heavy = (test_of(f, "child-hard-floor") for f in (usual, heavier))

    assert heavy.ratio < light.ratio
    assert "54.4 kg on its front" in heavy.what
    assert any("pulled outward with 89 N" in t.what for t in heavier.tipping.tests)


def test_from_which_height_on_a_case_is_always_fixed_can_be_set() -> None:
    tall = LOW_SHELVES.replace("height = 400", "height = 700").replace("depth = 450", "depth = 560")

    assert found(tall).tipping.fix_to_wall
    assert not found("[use]\nfix_above = 720\n" + tall).tipping.fix_to_wall


def test_saying_that_it_will_be_fixed_keeps_the_caution_and_says_so() -> None:
    it = found("[use]\nfixed_to_wall = true\n" + CHEST)

    assert "The job says that it is fixed" in it.told("tip-fix-to-wall")


def test_a_pull_at_the_highest_hold() -> None:
    """Empty low shelves: their weight times their lever against 44.5 N at the top edge."""
    it = found(LOW_SHELVES)
    tipping = it.tipping
    pull = test_of(it, "pull")

    moment = tipping.body_kg * GRAVITY * tipping.centre.y
    assert pull.ratio == pytest.approx(moment / (44.5 * 400), rel=1e-6)
    assert pull.most_n == pytest.approx(moment / 400, rel=1e-6)


def test_one_full_drawer_open_of_a_loaded_chest_stands_better_than_all_open() -> None:
    it = found(CHEST)

    assert test_of(it, "one-open-full-hard-floor").ratio > test_of(it, "all-open-full-hard-floor").ratio
    assert test_of(it, "all-open-hard-floor").ratio > test_of(it, "all-open-carpet").ratio


bodies = st.lists(
    st.builds(Body, kg=st.floats(0.1, 50), lever=st.floats(-500, 500), height=st.floats(0, 2000)),
    min_size=1,
    max_size=8,
)


@given(masses=bodies, by=st.floats(0, 300))
def test_d9_a_pivot_further_forward_never_lowers_the_ratio(masses: list[Body], by: float) -> None:
    moved = [replace(b, lever=b.lever + by) for b in masses]

    assert balance(moved).ratio >= balance(masses).ratio


@given(masses=bodies, kg=st.floats(0, 100), lever=st.floats(0, 600))
def test_d9_mass_at_the_back_never_lowers_the_ratio(masses: list[Body], kg: float, lever: float) -> None:
    assert balance([*masses, Body(kg, lever)]).ratio >= balance(masses).ratio


@given(masses=bodies, base=st.floats(200, 600), more=st.floats(0, 400))
def test_d9_a_deeper_base_leans_less_on_a_carpet(masses: list[Body], base: float, more: float) -> None:
    shallow, deep = (balance(masses, angle=tilt(10.9, b)).ratio for b in (base, base + more))

    assert deep >= shallow - 1e-9 * min(shallow, 1e6)


def test_the_whole_finding_is_plain_data_without_endless_figures() -> None:
    for text in (CHEST, LOW_SHELVES):
        whole = found(text).whole
        assert json.loads(json.dumps(plain(whole), allow_nan=False))["estimate"] == whole.estimate
