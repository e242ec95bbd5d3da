"""Figures that a load hangs on, each held by a sum worked by hand: a tenth more or less of any is noticed."""

from __future__ import annotations

from dataclasses import fields

import pytest

from storyrod.faults import JobError
from storyrod.model.joint import JointId
from storyrod.model.soundness import Capacity, JointLoad
from storyrod.model.thresholds import GRAVITY, Thresholds
from storyrod.soundness._joints import joint_cautions
from storyrod.soundness._plate import plate_sag
from storyrod.soundness._section import Part
from storyrod.soundness._span import greatest_span
from storyrod.trade.lifting import persons_by_mass
from tests.unit.soundness.pieces import BOARDS, BOOKCASE, found
from tests.unit.soundness.test_racking_weights_movement import DRAWER
from tests.unit.soundness.test_tipping import CHEST, LOW_SHELVES, test_of
from tests.unit.soundness.test_wall import fixing_of

THRESHOLDS = {
    "sag_limit": 240, "stress_share": 1 / 3, "lasting_share": 0.8, "top_kg_dm2": 0.65, "top_reach": 1400,
    "tip_margin": 1.25, "child_kg": 27.2, "fill_kg_m3": 136.157, "pull_n": 44.5, "pull_height": 1422, "block": 10.9,
    "anchor_above": 600, "fixing_n": 200, "push_n": 89, "lean": 200, "step_shows": 0.3, "step_chance": 0.2,
    "front_gap": 0.5, "one_person_kg": None,
}  # fmt: skip
"""Where each comes from stands in `THRESHOLD_SOURCES`; those of tests for tipping in `tests/reference` as well."""


def test_what_is_reckoned_with() -> None:
    used = Thresholds()

    assert GRAVITY == 9.80665  # CGPM 1901
    assert {f.name: getattr(used, f.name) for f in fields(used) if f.name != "lengths"} == pytest.approx(THRESHOLDS)


@pytest.mark.parametrize(
    ("contents", "kg"),
    [("books", 23.81), ("crockery", 24.0), ("tools", 48.0), ("clothes", 15.6), ("light things", 7.2)],
)
def test_what_lies_on_a_shelf_of_800_by_300(contents: str, kg: float) -> None:
    """29.76 kg a metre of books; 1.0, 2.0, 0.65 and 0.3 kg on each of 24 dm2."""
    it = found(BOOKCASE + f'[cases.inside]\nrows = [{{contents = "{contents}"}}, {{contents = "{contents}"}}]\n')

    assert it.sag("shelf 1").load_kg == pytest.approx(kg, abs=0.005)


def test_what_is_put_on_a_top_of_800_by_300() -> None:
    assert found(BOOKCASE).sag("top").load_kg == pytest.approx(0.65 * 24)


def test_screws_in_the_edges_of_oak() -> None:
    """Oak of 750 kg/m3 is of gravity 0.6696; 32 of a 4 x 50 beyond 18: 108.25 G2 4 32 is 6213 N, in end grain 4660.

    Seven tenths of it are reckoned with at the least, thirteen at the most: common practice, no source.
    """
    oak = BOARDS.replace(
        '[boards.mdf18]\nkind = "mdf"', '[boards.mdf18]\nkind = "solid wood"\nname = "white oak"\ndensity_kg_m3 = 750'
    )
    text = '[methods]\nmid_panel = "plain screws"\n' + BOOKCASE + "[cases.inside]\nrows = [{}, {}]\n"
    pulls = {j.pull_out for j in found(text, oak).case.joints if j.about == "shelf 1 to left side"}
    (pull,) = pulls

    assert pull is not None
    assert (pull.low_n, pull.usual_n, pull.high_n) == pytest.approx((3262, 4660, 6058), abs=1)


def test_screws_in_the_edges_of_boards_hold_a_spread_of_what_is_stated() -> None:
    pulled = [j for j in found(DRAWER.replace("GAP", "3").replace("LOAD", "30")).case.joints if j.capacity]

    assert pulled
    for capacity in (j.capacity for j in pulled):
        assert capacity is not None
        assert (capacity.low_n, capacity.usual_n, capacity.high_n) == pytest.approx((595, 850, 1105))


@pytest.mark.parametrize(("each_n", "told"), [(99.0, 0), (101.0, 1)])
def test_a_joint_is_told_from_the_least_that_its_connectors_hold(each_n: float, told: int) -> None:
    hold = Capacity(low_n=100, usual_n=150, high_n=200, source="a test of one's own")
    load = JointLoad(
        joint=JointId("A.J1"), number="J1", about="shelf to side", how="on connectors", force_n=2 * each_n,
        connectors=2, each_n=each_n, capacity=hold, unknown="",
    )  # fmt: skip

    assert len(list(joint_cautions("case A", (load,)))) == told


@pytest.mark.parametrize(
    ("what", "least", "most"), [("width", 0.1, 6000), ("height", 0.1, 1000), ("stiffness_n_mm2", 10, 30_000)]
)
def test_no_plank_is_reckoned_with_beyond_what_boards_are(what: str, least: float, most: float) -> None:
    usual = {"width": 300.0, "height": 18.0, "stiffness_n_mm2": 2200.0}
    for fits in (least, most):
        Part(**(usual | {what: fits}))
    for beyond in (least * 0.99, most * 1.01):
        with pytest.raises(JobError, match=what):
            Part(**(usual | {what: beyond}))


def test_the_sag_of_a_plate() -> None:
    """600 x 400 x 6 of E 2500 with 20 kg on it: D = 2500 6^3 / 12 / 0.91 = 49451; b^4 q / D with 0.00772 of 1.5.

    The constant of a plate half as long again as it is wide is from memory of tables of plates.
    """
    q = 20 * 9.80665 / (600 * 400)

    assert plate_sag(600, 400, 6, q, 2500, 2500) == pytest.approx(0.00772 * q * 400**4 / 49_451, rel=2e-3)


def test_what_a_chest_is_fixed_by() -> None:
    """836 wide: two fixings, 100 from each end of an 800 top; 50 under the top's upper face, or 30 over it."""
    shelves = fixing_of(BOOKCASE.replace("depth = 300", "depth = 250"))

    assert (shelves.height, shelves.places, shelves.under) == (850, (120, 720), True)


def test_a_narrow_case_has_its_fixings_at_the_quarters() -> None:
    """236 wide, 200 inside: a quarter of 200 from each end, 68 and 168, set on steps of 5."""
    narrow = fixing_of(BOOKCASE.replace("width = 836", "width = 236"))

    assert narrow.places == (70, 170)


@pytest.mark.parametrize(("width", "count"), [(1036, 2), (1040, 3)])
def test_fixings_stand_no_more_than_800_apart(width: int, count: int) -> None:
    """A top of 1000 leaves 800 between the outermost two; one of 1004 leaves 804."""
    assert len(fixing_of(BOOKCASE.replace("width = 836", f"width = {width}")).places) == count


@pytest.mark.parametrize(("column", "place"), [(521, 500), (523, 520), (465, 445), (463, 520)])
def test_a_fixing_keeps_20_from_a_divider_or_goes_40_to_its_left(column: int, place: int) -> None:
    """1040 wide: the middle one of three at 520. The divider begins at 18 and the column, and is 18 thick."""
    wide = BOOKCASE.replace("width = 836", "width = 1040") + f"[cases.inside]\ncolumns = [{{width = {column}}}, {{}}]\n"

    assert fixing_of(wide).places == (120, place, 920)


def test_under_a_thick_top_the_screw_in_the_wall_is_25_below_it() -> None:
    """900 less a top of 38 less 25; under a thin one 50 below its upper face."""
    thick = BOARDS + '[boards.mdf38]\nkind = "mdf"\nthickness = 38\nmeasured = 38\n'
    fixing = found(BOOKCASE.replace("mdf18", "mdf38"), thick).tipping.fixing

    assert fixing is not None
    assert fixing.height == 837


@pytest.mark.parametrize(("depth", "fixed"), [(195, True), (205, False)])
def test_a_case_is_fixed_from_twice_its_depth_on(depth: int, fixed: bool) -> None:
    low = LOW_SHELVES.replace("depth = 450", f"depth = {depth}")
    tipping = found("[use]\npull_n = 10\n" + low).tipping  # 400 high; hardly pulled at, so that this decides

    assert tipping.margin > tipping.wanted
    assert tipping.fix_to_wall == fixed


def test_how_many_lift() -> None:
    assert [persons_by_mass(kg, 20) for kg in (1, 20, 20.1, 40, 40.1)] == [1, 1, 2, 2, 3]


def test_a_panel_is_lifted_from_30_cm_to_a_bench_of_90() -> None:
    """MDF 18 carried upright: hands 25.9 cm away; 23 x 25/25.9 x 0.865 x 0.895 x 0.95 is 16.33 kg."""
    side = next(p for p in found(BOOKCASE).case.weights.panels if p.name == "left side")

    assert side.recommended_kg == pytest.approx(16.33, abs=0.01)


def test_hands_are_taken_no_farther_away_than_the_equation_goes() -> None:
    """A carcass 800 deep has them 65 cm away; 63 are looked at: 23 x 25/63 x 0.865 x 0.895 x 0.95 is 6.71."""
    carcass = found(BOOKCASE.replace("depth = 300", "depth = 800")).case.weights.carcass

    assert carcass.recommended_kg == pytest.approx(6.71, abs=0.005)


def test_a_hand_presses_with_75_n_on_a_drawer_out_by_two_thirds() -> None:
    press = test_of(found(CHEST), "press")

    assert press.asked_n == 75
    assert "75 N down" in press.what


@pytest.mark.parametrize(("width", "in_scope"), [(280, True), (268, False)])
def test_sizes_of_clothing_storage_are_looked_at_by_what_is_enclosed(width: int, in_scope: bool) -> None:
    """Three rooms of 244 or 232 by 450 by 284.2 or so: 93.6 and 89.0 dm3; the scope begins at 90.6 (3.2 ft3)."""
    it = found(CHEST.replace("width = 836", f"width = {width}"))

    assert it.tipping.in_scope == in_scope


@pytest.mark.parametrize(("pull_n", "words"), [(88, "It only just stands"), (98, "It would tip over")])
def test_a_case_hardly_stands_from_where_nothing_is_left_over(pull_n: int, words: str) -> None:
    """44.5 N of pull leave 2.0957 times its moment: 88 leave 1.06, 98 leave 0.95."""
    it = found(f"[use]\npull_n = {pull_n}\n" + LOW_SHELVES)

    assert it.told("tip-fix-to-wall").split(": ", 1)[1].startswith(words)


def test_the_lean_of_a_bookcase_without_a_back_and_its_diagonals() -> None:
    """EI = 2200 x 300 x 18^3 / 12 = 3.2076e8 all round: 89 x 900^2 / 24 x (836 + 900) / EI is 16.26.

    One that leans 1 over its height has diagonals 2 x 836 / 1228.4 apart: 1.361.
    """
    racking = found(BOOKCASE).case.racking

    assert racking.lean_frame == pytest.approx(16.257, abs=0.005)
    assert racking.diagonals == pytest.approx(1.361, abs=0.001)


def test_no_span_is_looked_for_beyond_6_m() -> None:
    assert greatest_span(0.0, 3e8, 240) == greatest_span(1e-9, 3e8, 240) == 6000
