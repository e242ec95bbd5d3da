"""Source: common practice, no source: concealed hinges.

Where: no book, from memory: cup 35 across and about 13 deep, centre 20.5 to 23.5 from the door's edge, plate 37 from
the front edge with its holes 32 apart. Measure yours.
"""

from __future__ import annotations

from storyrod.adapters.files import packaged_workshop
from storyrod.carcass import build
from storyrod.model.carcass import BuiltCase
from storyrod.model.feature import Hole
from storyrod.model.workshop import Hinge
from tests.builders import case, door, job, workshop


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
