"""Source: PyNite 3.2, an open-source frame program.

Where: reactions, moments and deflections of its members; it is Euler-Bernoulli, so shear is left out on our side.
Allowed: 0.5 % of the greatest sag, since it samples along each member; 1e-6 for reactions and moments. Rows C3 to C6
were worked out with it. Unless said: E 2200 N/mm2, 300 wide, 18 thick (I 145 800 mm4), 0.30 N/mm.
"""

from __future__ import annotations

import warnings
from typing import Any

import pytest

from storyrod.soundness._beam import Line, Spread, Support, bend
from tests.reference.planks import CASES, EI_I, Case, even


def test_c3_one_shelf_on_three_supports() -> None:
    (shelf,) = bend([even(1600, 0, 800, 1600)])

    at, down = shelf.lowest(0, 800)
    assert at == pytest.approx(337.2, abs=0.1)
    assert down == pytest.approx(2.07486, rel=1e-5)
    assert shelf.reactions_n == pytest.approx((90, 300, 90))
    assert shelf.moment(800) == pytest.approx(-24_000)
    assert max(shelf.moment(x) for x in range(801)) == pytest.approx(13_500, rel=1e-5)


def test_c4_three_equal_spans() -> None:
    (shelf,) = bend([even(1800, 0, 600, 1200, 1800)])

    assert shelf.lowest(0, 600)[1] == pytest.approx(0.83442, abs=5e-5)
    assert shelf.down(900) == pytest.approx(0.06315, abs=5e-5)
    assert shelf.reactions_n == pytest.approx((72, 198, 198, 72))


def test_c5_unequal_spans_lift_the_short_one() -> None:
    (shelf,) = bend([even(1200, 0, 500, 1200)])

    assert shelf.reactions_n == pytest.approx((45.75, 230.143, 84.107), abs=1e-3)
    assert shelf.moment(500) == pytest.approx(-14_625, rel=1e-6)
    assert shelf.lowest(500, 1200)[1] == pytest.approx(1.5527, rel=1e-3)
    assert min(shelf.down(x) for x in range(0, 501, 5)) == pytest.approx(-0.0985, rel=2e-3)


def test_c6_overhanging_ends_tip_up() -> None:
    (shelf,) = bend([even(900, 150, 750)])

    assert shelf.down(450) == pytest.approx(1.1047, abs=2e-4)
    assert shelf.down(0) == pytest.approx(-0.730, abs=1e-3)
    assert shelf.reactions_n == pytest.approx((135, 135))


def frame_model(case: Case) -> Any:
    """The same plank as a frame program has it."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # What another program's libraries warn of is not ours to mend.
        from Pynite import FEModel3D

        model = FEModel3D()
        places = sorted({0.0, case.length, *(x for x, _ in case.supports)})
        for i, x in enumerate(places):
            model.add_node(f"N{i}", x, 0, 0)
        model.add_material("board", case.e, case.e / 2.6, 0.3, 0)
        model.add_section("plank", 5400, EI_I, EI_I, 2 * EI_I)
        model.add_member("M", "N0", f"N{len(places) - 1}", "board", "plank")
        for i, (x, clamped) in enumerate(case.supports):
            model.def_support(f"N{places.index(x)}", i == 0, True, True, i == 0, clamped, clamped)
        for a, b, w in case.spreads:
            model.add_member_dist_load("M", "Fy", -w, -w, a, b)
        for x, n in case.points:
            model.add_member_pt_load("M", "Fy", -n, x)
        model.analyze(check_statics=False)
    return model, places


@pytest.mark.parametrize("case", CASES, ids=lambda c: c.name)
def test_sags_and_reactions_of_a_frame_program(case: Case) -> None:
    model, places = frame_model(case)
    ours = case.ours()

    member = model.members["M"]
    xs = [case.length * i / 40 for i in range(41)]
    theirs = [-member.deflection("dy", x) for x in xs]
    scale = max(abs(t) for t in theirs)
    assert [ours.down(x) for x in xs] == pytest.approx(theirs, abs=0.005 * scale)
    for (x, _), force in zip(case.supports, ours.reactions_n, strict=True):
        assert force == pytest.approx(model.nodes[f"N{places.index(x)}"].RxnFY["Combo 1"], rel=1e-6, abs=1e-6)


def test_uprights_that_go_down_with_what_they_stand_on() -> None:
    """A divider between base and top, checked as a frame: two planks and a stiff post on hinges between them."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        from Pynite import FEModel3D

        model = FEModel3D()
        for name, x, y in (
            ("A", 0, 0),
            ("B", 400, 0),
            ("C", 1000, 0),
            ("D", 0, 700),
            ("E", 400, 700),
            ("F", 1000, 700),
        ):
            model.add_node(name, x, y, 0)
        model.add_material("board", 2200, 850, 0.3, 0)
        model.add_section("plank", 5400, EI_I, EI_I, 2 * EI_I)
        model.add_section("post", 1e7, EI_I, EI_I, 2 * EI_I)
        for name, a, b in (("b1", "A", "B"), ("b2", "B", "C"), ("t1", "D", "E"), ("t2", "E", "F")):
            model.add_member(name, a, b, "board", "plank")
        model.add_member("post", "B", "E", "board", "post")
        model.def_releases("post", Rzi=True, Rzj=True)
        for node in "ACDF":
            model.def_support(node, True, True, True, True, True, False)
        for name in ("t1", "t2"):
            model.add_member_dist_load(name, "Fy", -0.3, -0.3)
        model.add_node_load("E", "FY", -50)
        for node in "BE":
            model.def_support(node, False, False, True, True, True, False)
        model.analyze(check_statics=False)
        down = {n: -model.nodes[n].DY["Combo 1"] for n in "BE"}
        base_left = model.nodes["A"].RxnFY["Combo 1"]

    supports = (Support(x=0), Support(x=400, level="divider"), Support(x=1000))
    base = Line(start=0, end=1000, rigidity_n_mm2=2200 * EI_I, supports=supports)
    top = Line(
        start=0,
        end=1000,
        rigidity_n_mm2=2200 * EI_I,
        supports=supports,
        spreads=(Spread(start=0, end=1000, n_per_mm=0.3),),
    )
    bent_base, bent_top = bend([base, top], {"divider": 50.0})

    assert bent_base.down(400) == pytest.approx(down["B"], rel=0.005)
    assert bent_top.down(400) == pytest.approx(down["E"], rel=0.005)
    assert bent_base.reactions_n[0] == pytest.approx(base_left, rel=0.005)
