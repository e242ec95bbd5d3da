"""Source: common practice, no source: concealed hinges.

Where: no book, from memory: cup 35 across and about 13 deep, centre 20.5 to 23.5 from the door's edge, plate 37 from
the front edge with its holes 32 apart. A straight arm brings a door about 18 over the side of a plate 0 high, a
half-cranked one about 9, a cranked one to its edge; a plate takes off what it is high. A door of 4 to 6 kg hangs on
two hinges, of 12 on three, of 17 on four or five. Measure yours.
"""

from __future__ import annotations

import pytest

from storyrod.adapters.files import packaged_workshop
from storyrod.carcass import build
from storyrod.model.carcass import BuiltCase
from storyrod.model.feature import Hole
from storyrod.model.job import FrontKind, Fronts
from storyrod.model.workshop import Hinge
from storyrod.trade.hinges import Arm, hinges_by_weight, reach_for
from tests.builders import board, boards, case, columns, door, job, workshop


def doored() -> BuiltCase:
    shop = workshop(hinges=(Hinge(code="cup", name="cup hinge"),))
    return build(job(case(inside=door(hinged="left"))), shop).cases[0]


def test_hinge_cups_are_35_across_13_deep_and_their_edge_3_to_6_from_the_doors() -> None:
    cups = [f for f in doored().fittings if isinstance(f.shape, Hole) and f.shape.diameter == 35]

    assert {f.depth for f in cups} == {13}
    assert all(3 <= f.at.u - 17.5 <= 6 for f in cups)
    assert {f.at.u for f in cups} == {22.5}


def test_hinge_plates_stand_37_from_the_front_with_holes_32_apart() -> None:
    plates = [f.at for f in doored().fittings if f.panel == "A.side-left"]

    assert {p.v for p in plates} == {37}
    assert [plates[1].u - plates[0].u, plates[3].u - plates[2].u] == [32, 32]


def test_the_cup_hinge_has_usual_figures() -> None:
    (hinge,) = packaged_workshop().hinges

    assert (hinge.cup, hinge.plate_in, hinge.plate_pitch) == (35.0, 37.0, 32.0)
    assert 20.5 <= hinge.cup_in <= 23.5
    assert 11.0 <= hinge.cup_depth <= 13.5


CUP = Hinge(code="cup", name="cup hinge")


@pytest.mark.parametrize(
    ("lap", "arm", "plate"),
    [
        (18.0, Arm.STRAIGHT, 0.0),
        (16.5, Arm.STRAIGHT, 2.0),  # a side of 18 with 1.5 left showing: 18 - 2 is 0.5 off
        (20.0, Arm.STRAIGHT, 0.0),  # and 2 by its screw
        (7.5, Arm.HALF_CRANKED, 2.0),  # two doors on a divider of 18, 3 apart: 18 - 9 - 2 is 0.5 off
        (9.0, Arm.HALF_CRANKED, 0.0),
        (0.0, Arm.CRANKED, 0.0),
        (-2.0, Arm.CRANKED, 2.0),  # an inset door, 2 beside its side
        (-8.0, Arm.CRANKED, 6.0),
    ],
)
def test_arm_and_plate_follow_from_how_far_the_door_lies_over_the_side(lap: float, arm: Arm, plate: float) -> None:
    found = reach_for(CUP, lap)

    assert found is not None
    assert (found.arm, found.plate) == (arm, plate)


def test_what_no_arm_reaches_is_none() -> None:
    assert reach_for(CUP, 20.01) is None
    assert reach_for(CUP, -8.01) is None
    assert reach_for(Hinge(code="cup", name="cup hinge", plates=(0.0,)), 14.0) is None


def test_the_nearest_reach_is_taken_whatever_comes_first() -> None:
    """10 over: a straight arm on a plate of 6 gives 12, a half-cranked one on none 9."""
    found = reach_for(CUP, 10.0)

    assert found is not None
    assert (found.arm, found.lap) == (Arm.HALF_CRANKED, 9.0)


@pytest.mark.parametrize(("kg", "count"), [(4, 1), (8, 2), (8.1, 3), (12, 3), (17, 5)])
def test_a_hinge_carries_4_kg(kg: float, count: int) -> None:
    assert hinges_by_weight(CUP, kg) == count


def test_a_heavy_door_takes_more_hinges_than_by_its_height() -> None:
    """597 x 869 x 30 of 650 kg/m3: 10.1 kg, on three where two do by its height."""
    heavy = (*boards(), board("b30", 30.0))
    made = case(height=900.0, inside=door(), fronts=Fronts(board="b30"))
    of = build(job(made, boards=heavy), workshop()).cases[0]

    assert [d.hinges for d in of.doors] == [3]
    assert [d.hinges for d in build(job(case(height=900.0, inside=door())), workshop()).cases[0].doors] == [2]


def test_each_door_of_a_case_says_which_arm_and_plate_it_takes() -> None:
    """An overlay case of two columns: each door at its side 16.5 over, at the divider (18 - 3) / 2 = 7.5 over."""
    inside = columns(door(hinged="left"), door(hinged="left"))
    of = build(job(case(width=900.0, inside=inside)), workshop()).cases[0]
    inset = build(job(case(inside=door(), fronts=Fronts(kind=FrontKind.INSET, gap=2.0))), workshop()).cases[0]

    assert [(d.arm, d.plate) for d in of.doors] == [("straight arm", 2), ("half-cranked arm", 2)]
    assert [(d.arm, d.plate) for d in inset.doors] == [("cranked arm", 2)]
    assert {f.name for f in of.fixings if "hinge" in f.name} >= {
        "cup hinge, straight arm",
        "plates of the cup hinge, 2 mm high",
    }


def test_a_door_that_no_arm_reaches_is_told() -> None:
    thick = (*boards(), board("b25", 25.0))
    of = build(job(case(board="b25", inside=door()), boards=thick), workshop()).cases[0]

    assert [(d.arm, d.plate) for d in of.doors] == [("", None)]
    (told,) = (c for c in of.cautions if c.code == "hinge-reach")
    assert "23.5 mm over the side" in told.text
    assert "8 mm short of the side to 20 mm over it" in told.do
