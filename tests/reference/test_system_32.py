"""Rows of holes, hinges and runners on the 32 mm system, against figures from outside the project.

Sources:
- "Methods of 32 mm system layout" and a maker's pages on 32 mm drilling, as told in a trade knowledge base: rows of
  holes 5 mm across, 32 apart, the first column 37 behind the front edge; 37 more than the front's thickness where
  fronts are inset; runners on the same column.
- Measuring guides of several drawer-box suppliers, and a trade exam question on side-mounted guides: side-mounted
  runners need 12.5 to 13 mm (1/2 in) each side, so that the box is 25 to 27 narrower than its opening; under-mounted
  ones leave the inside of the drawer 42 narrower than the opening.
- Hinge figures (cup 35 across and about 13 deep, centre 20.5 to 23.5 from the door's edge, plate 37 from the front
  edge with its holes 32 apart) and the counts K1 to K3 are from memory; the arithmetic is checked here by hand.
"""

from __future__ import annotations

import pytest

from storyrod.carcass import build
from storyrod.measure.space import Axis
from storyrod.model.carcass import BuiltCase
from storyrod.model.feature import Hole
from storyrod.model.job import Drawers, FrontKind, Fronts, LooseShelves
from storyrod.model.workshop import Hinge, Runner, RunnerMount
from tests.builders import board, boards, case, door, drawer, job, shelves, side_runner, under_runner, workshop


def row_of(clear_height: float) -> list[float]:
    """Return the heights, above the opening's floor, of one column of holes in an opening this high."""
    of = build(job(case(height=clear_height + 36, inside=shelves(1))), workshop()).cases[0]
    return sorted({round(f.at.u - 18, 6) for f in of.fittings if f.panel == "A.side-left"})


def test_k1_row_in_720_has_19_holes() -> None:
    """First at 64 or more, last at 720 - 64 or less: (720 - 128) / 32 = 18.5, so 18 gaps of 32; the 16 over halved."""
    levels = row_of(720)

    assert len(levels) == 19
    assert levels[-1] - levels[0] == 576
    assert (levels[0], 720 - levels[-1]) == (72, 72)


def test_k2_row_in_2000_has_59_holes() -> None:
    levels = row_of(2000)

    assert len(levels) == 59
    assert levels[0] >= 64
    assert 2000 - levels[-1] >= 64


def test_first_column_is_37_behind_the_front_and_behind_an_inset_one() -> None:
    plain = build(job(case(inside=shelves(1))), workshop()).cases[0]
    inset_door = case(inside=door(loose_shelves=1), fronts=Fronts(kind=FrontKind.INSET, gap=2.0))
    inset = build(job(inset_door), workshop()).cases[0]

    assert min(f.at.v for f in plain.fittings) == 37
    assert min(f.at.v for f in inset.fittings if f.panel == "A.side-right") == 18 + 37


def test_defaults_of_the_system_row() -> None:
    row = LooseShelves()

    assert (row.hole, row.pitch, row.from_front) == (5, 32, 37)
    assert 12 <= row.hole_depth <= 13


@pytest.mark.parametrize(("each_side", "box"), [(12.7, 538.6), (13.0, 538.0)])
def test_k3_box_between_side_mounted_runners(each_side: float, box: float) -> None:
    """600 outside less two sides of 18 is 564; less twice the runner's room."""
    shop = workshop(runners=(side_runner(room_each_side=each_side),))
    of = build(job(case(width=600, inside=drawer(), drawers=Drawers(board="b12", bottom_board="b6"))), shop).cases[0]

    assert of.inside.size(Axis.X) == 564
    assert of.drawers[0].box.size(Axis.X) == pytest.approx(box)


def test_side_mounted_default_lies_in_the_suppliers_range() -> None:
    assert 12.5 <= Runner(code="r", name="", mount=RunnerMount.SIDE, lengths=()).room_each_side <= 13


@pytest.mark.parametrize("side", [12.0, 15.0, 16.0])
def test_inside_of_a_drawer_on_under_mounted_runners_is_42_less_whatever_its_sides_are(side: float) -> None:
    """Suppliers say the same as `opening - 10` for sides of 16 and `opening - 12` for 15, outside."""
    of = build(
        job(
            case(inside=drawer(), drawers=Drawers(runner="under", board="sides", bottom_board="b6")),
            boards=(*boards(), board("sides", side)),
        ),
        workshop(runners=(under_runner(),)),
    ).cases[0]

    assert of.drawers[0].inside.size(Axis.X) == pytest.approx(564 - 42)
    outside = {16.0: 10, 15.0: 12}.get(side)
    if outside is not None:
        assert of.drawers[0].box.size(Axis.X) == pytest.approx(564 - outside)


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
