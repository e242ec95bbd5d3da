"""Racking, weights, joints and movement of small cases."""

from __future__ import annotations

import warnings

import pytest

from storyrod.soundness._racking import LOCATES, NONE, STIFFENS, frame_lean, shear_lean
from tests.unit.soundness.pieces import BOARDS, BOOKCASE, found


@pytest.mark.parametrize(
    ("back", "gives", "code"),
    [
        ("", NONE, "racking-no-back"),
        ('[cases.back]\nkind = "grooved"\nboard = "mdf6"\ninset = 12\n', LOCATES, "racking-loose-back"),
        ('[cases.back]\nkind = "rebated"\nboard = "mdf6"\n', STIFFENS, None),
        ('[cases.back]\nkind = "applied"\nboard = "mdf6"\n', STIFFENS, None),
    ],
)
def test_what_a_back_gives_by_its_fixing(back: str, gives: str, code: str | None) -> None:
    it = found(BOOKCASE + back)

    assert it.case.racking.back == gives
    assert [c for c in it.codes if c.startswith("racking")] == ([code] if code else [])
    assert (it.case.racking.lean_back is not None) == (gives == STIFFENS)


def test_corners_take_a_quarter_of_push_times_height_each() -> None:
    assert found(BOOKCASE).case.racking.corner_nm == pytest.approx(89 * 0.9 / 4)


def test_lean_of_a_closed_frame_as_a_frame_program_has_it() -> None:
    """Two equal levels and two equal uprights, pushed at the top; an open-source frame program (PyNite)."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        from Pynite import FEModel3D

        model = FEModel3D()
        for name, x, y in (("A", 0, 0), ("B", 800, 0), ("C", 0, 900), ("D", 800, 900)):
            model.add_node(name, x, y, 0)
        model.add_material("board", 2200, 850, 0.3, 0)
        model.add_section("plank", 1e8, 145_800, 145_800, 3e5)
        for name, a, b in (("base", "A", "B"), ("top", "C", "D"), ("left", "A", "C"), ("right", "B", "D")):
            model.add_member(name, a, b, "board", "plank")
        model.def_support("A", True, True, True, True, True, False)
        model.def_support("B", False, True, True, True, True, False)
        for node in "CD":
            model.def_support(node, False, False, True, True, True, False)
        model.add_node_load("C", "FX", 44.5)
        model.add_node_load("D", "FX", 44.5)
        model.analyze(check_statics=False)
        theirs = (
            sum(model.nodes[n].DX["Combo 1"] for n in "CD") / 2 - sum(model.nodes[n].DX["Combo 1"] for n in "AB") / 2
        )

    ei = 2200 * 145_800.0
    assert frame_lean(89, 800, 900, ei, ei) == pytest.approx(theirs, rel=0.005)


def test_lean_of_a_sheet_in_shear() -> None:
    """89 N over 600 x 6 mm of G 140 N/mm2: 0.177 N/mm2 / 140 over 900 high."""
    assert shear_lean(89, 600, 900, 6, 140) == pytest.approx(89 / (600 * 6) / 140 * 900)


def test_weights_add_up_and_heavy_things_are_told() -> None:
    it = found(BOOKCASE.replace("width = 836", "width = 1600").replace("height = 900", "height = 2000"))
    weights = it.case.weights

    assert sum(p.kg for p in weights.panels) == pytest.approx(weights.empty_kg)
    assert weights.loaded_kg > weights.empty_kg
    side = next(p for p in weights.panels if p.name == "left side")
    assert side.kg == pytest.approx(2.0 * 0.3 * 0.018 * 730, rel=0.01)
    assert side.persons == 2  # 7.9 kg only, but 2 m tall.
    assert weights.carcass.persons == 2
    assert "heavy-case" in it.codes


def test_the_workshops_own_limit_decides_who_lifts() -> None:
    plain = found(BOOKCASE).case.weights.carcass
    assert (plain.persons, found(BOOKCASE).codes.count("heavy-case")) == (1, 0)
    assert plain.kg < 20


def test_connectors_are_told_their_load_and_that_nothing_is_known_across_them() -> None:
    it = found('[methods]\nmid_panel = "dowels"\n' + BOOKCASE + "[cases.inside]\nrows = [{}, {}]\n")
    load = next(j for j in it.case.joints if j.about == "shelf 1 to left side")

    assert load.how == "on connectors"
    assert load.each_n * load.connectors == pytest.approx(132.2, abs=0.1)
    assert load.capacity is None
    assert load.used is None
    assert load.unknown.startswith("not known")
    assert load.pull_out is not None
    assert load.pull_out.low_n < load.pull_out.usual_n < load.pull_out.high_n
    assert "tests of dowels in boards" in load.pull_out.source


def test_a_shelf_in_a_housing_rests() -> None:
    it = found('[methods]\nmid_panel = "housing"\n' + BOOKCASE + "[cases.inside]\nrows = [{}, {}]\n")
    load = next(j for j in it.case.joints if j.about == "shelf 1 to left side")

    assert load.how == "in its housing"
    assert load.connectors == 0


DRAWER = (
    BOOKCASE.replace("depth = 300", "depth = 450")
    + '[cases.fronts]\nkind = "inset"\ngap = GAP\n[cases.drawers]\nboard = "mdf18"\nbottom_board = "mdf18"\n'
    + 'bottom = "applied"\n[cases.inside]\nrows = [{holds = "drawer", height = 200, load_kg = LOAD}, {}]\n'
)


def test_screws_under_a_drawer_are_pulled_and_told_when_it_is_too_much() -> None:
    """MDF holds 850 N an edge screw, 595 at the least; the drawer's screws share its load and its bottom's weight."""
    fine = found(DRAWER.replace("GAP", "3").replace("LOAD", "30"))
    pulled = [j for j in fine.case.joints if j.how == "pulled apart"]

    assert pulled
    assert all(j.capacity is not None and j.capacity.low_n == pytest.approx(595) for j in pulled)
    bottom = fine.sag("drawer 1 bottom")
    assert sum(j.force_n for j in pulled) == pytest.approx((30 + bottom.own_kg) * 9.80665)
    assert "joint-over-capacity" not in fine.codes
    assert "joint-over-capacity" in found(DRAWER.replace("GAP", "3").replace("LOAD", "1000")).codes


def test_an_inset_front_may_bind_in_damp_weather() -> None:
    """MDF, 0.4 % from 35 to 85 % humidity: over 30 points and about 795 mm, 1.9 mm."""
    narrow = found(DRAWER.replace("GAP", "1").replace("LOAD", "5"))
    wide = found(DRAWER.replace("GAP", "3").replace("LOAD", "5"))

    (across,) = [m for m in narrow.case.movements if m.what.endswith("wide")]
    assert across.grows == pytest.approx(across.size * 0.004 * 30 / 50)
    assert across.gap_left == pytest.approx(2 - across.grows)
    assert "movement-front-binds" in narrow.codes
    assert "movement-front-binds" not in wide.codes


def test_a_solid_side_moves_across_its_grain() -> None:
    """White oak, 300 wide, 35 to 65 %: 300 x 0.00365 x 5.02."""
    oak = BOARDS.replace(
        '[boards.mdf18]\nkind = "mdf"', '[boards.mdf18]\nkind = "solid wood"\nname = "white oak"\ndensity_kg_m3 = 750'
    )
    it = found(BOOKCASE, oak)
    side = next(m for m in it.case.movements if m.name == "left side")

    assert side.grows == pytest.approx(300 * 0.00365 * 5.02, abs=0.02)
    assert "movement-solid-panel" in it.codes
