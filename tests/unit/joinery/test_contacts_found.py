"""Which panels meet in which joint, and what sort of joint it is."""

from __future__ import annotations

import random

import pytest

from storyrod.joinery import join
from storyrod.measure.space import Direction
from storyrod.model.job import Back, BackKind, BetweenOrOver, Plinth
from storyrod.model.joint import JointKind
from storyrod.model.panel import Role, Surface
from tests import builders
from tests.unit.joinery.boxes import between, by_hand, joined, panel, workshop


def test_a_plain_box_has_four_corners_along_its_depth() -> None:
    case = joined(builders.case(width=600, height=720, depth=400))

    assert [(j.kind, j.at_corner, j.length) for j in case.joints] == [(JointKind.CORNER, True, 400.0)] * 4
    joint = between(case, "left side", "top")
    assert (joint.receiving_surface, joint.entering_surface) == (Surface.FACE, Surface.DATUM_END)
    assert (joint.home, joint.run) == (Direction.LEFT, Direction.BACKWARD)
    assert joint.contact.low.x == joint.contact.high.x == 18.0
    assert (joint.contact.low.z, joint.contact.high.z) == (702.0, 720.0)


def test_a_base_over_a_plinth_is_no_corner() -> None:
    case = joined(builders.case(plinth=Plinth(height=80, setback=50)))

    assert between(case, "left side", "base").kind is JointKind.MID_PANEL
    assert between(case, "left side", "plinth").kind is JointKind.PLINTH
    under = between(case, "base", "plinth")
    assert (under.kind, under.run, under.length) == (JointKind.PLINTH, Direction.RIGHT, 564.0)


def test_a_set_back_plinth_shifts_the_receiving_panel() -> None:
    case = joined(builders.case(plinth=Plinth(height=80, setback=50)))

    joint = between(case, "base", "plinth")
    assert (joint.start, joint.shift) == (18.0, 0.0)
    assert joint.contact.low.y == 50.0


def test_a_shelf_behind_an_inset_front_shifts_the_receiving_panel() -> None:
    side = panel("left side", Role.SIDE_LEFT, (0, 0, 0), (18, 400, 720))
    shelf = panel("shelf 1", Role.SHELF, (18, 20, 300), (582, 394, 318))
    case = join(by_hand(side, shelf), workshop()).cases[0]

    joint = case.joints[0]
    assert (joint.start, joint.shift, joint.length) == (20.0, 20.0, 374.0)
    assert joint.stations == (50.0, 210.0, 324.0)


def test_a_top_over_the_sides_receives_them() -> None:
    case = joined(builders.case(top=BetweenOrOver.OVER_SIDES))

    joint = between(case, "top", "left side")
    assert (joint.kind, joint.home, joint.receiving_surface) == (JointKind.CORNER, Direction.UP, Surface.FAR_FACE)


@pytest.mark.parametrize("kind", [BackKind.APPLIED, BackKind.REBATED])
def test_a_back_over_the_edges_receives_all_that_it_covers(kind: BackKind) -> None:
    case = joined(
        builders.case(back=Back(kind=kind, board="b6"), inside=builders.rows(builders.opening(), builders.opening()))
    )

    entering = [j.entering for j in case.joints if j.kind is JointKind.BACK]
    assert entering == ["A.side-left", "A.side-right", "A.top", "A.base", "A.shelf-1"]
    assert all(
        j.receiving == "A.back" and j.home is Direction.BACKWARD for j in case.joints if j.kind is JointKind.BACK
    )


def test_a_rebated_back_is_held_on_the_shoulder_that_the_rebate_leaves() -> None:
    case = joined(builders.case(depth=400, back=Back(kind=BackKind.REBATED, board="b6")))

    contact = between(case, "back", "left side").contact
    assert (contact.low.x, contact.high.x) == (0 + 9.0 + 0.5, 18.0)  # half of the back's clearance of 1
    assert contact.low.y == contact.high.y == 394.0


def test_a_grooved_back_enters_the_panels_that_carry_its_groove_and_passes_the_rest() -> None:
    case = joined(
        builders.case(
            back=Back(kind=BackKind.GROOVED, board="b6", inset=20),
            inside=builders.rows(builders.opening(), builders.opening()),
        )
    )

    backs = [j for j in case.joints if j.kind is JointKind.BACK]
    assert [j.receiving for j in backs] == ["A.side-left", "A.side-right", "A.top", "A.base"]
    assert {j.entering for j in backs} == {"A.back"}
    assert {j.method for j in backs} == {"groove"}
    assert all(j.stations == () for j in backs)
    assert [round(j.enters, 6) for j in backs] == [5.5] * 4


def test_a_back_between_is_held_like_a_shelf() -> None:
    case = joined(builders.case(back=Back(kind=BackKind.BETWEEN, board="b18", inset=10)))

    backs = [j for j in case.joints if j.kind is JointKind.BACK]
    assert [(j.receiving, j.entering, j.method) for j in backs] == [
        ("A.side-left", "A.back", "dowels"),
        ("A.side-right", "A.back", "dowels"),
        ("A.top", "A.back", "dowels"),
        ("A.base", "A.back", "dowels"),
    ]


def test_drawer_boxes_are_joined_among_themselves_only() -> None:
    case = joined(builders.case(depth=560, inside=builders.drawer()))

    boxes = [j for j in case.joints if j.kind is JointKind.DRAWER_BOX]
    assert len(boxes) == 8
    assert all(j.receiving.startswith("A.drawer-1.") and j.entering.startswith("A.drawer-1.") for j in boxes)
    assert sorted(j.method for j in boxes) == ["dowels"] * 4 + ["groove"] * 4
    assert not any("front" in {j.receiving, j.entering} for j in case.joints)


def test_face_to_face_and_edge_to_edge_are_no_joints() -> None:
    one = panel("left side", Role.SIDE_LEFT, (0, 0, 0), (18, 400, 720))
    doubled = panel("divider 1", Role.DIVIDER, (18, 0, 0), (36, 400, 720))
    rail = panel("rail 1", Role.RAIL, (36, 0, 0), (500, 100, 18))
    next_to_it = panel("rail 2", Role.RAIL, (36, 100, 0), (500, 200, 18))
    case = join(by_hand(one, doubled, rail, next_to_it), workshop()).cases[0]

    assert [(j.receiving, j.entering) for j in case.joints] == [
        ("A.divider-1", "A.rail-1"),
        ("A.divider-1", "A.rail-2"),
    ]


def test_a_patch_of_a_millimetre_is_no_joint() -> None:
    side = panel("left side", Role.SIDE_LEFT, (0, 0, 0), (18, 400, 720))
    touching = panel("shelf 1", Role.SHELF, (18, 399, 300), (582, 800, 318))

    assert join(by_hand(side, touching), workshop()).cases[0].joints == ()


def test_the_order_in_which_panels_come_does_not_matter() -> None:
    inside = builders.columns(
        builders.rows(builders.drawer(), builders.opening()), builders.rows(builders.opening(), builders.opening())
    )
    built = builders.case(depth=500, inside=inside, back=Back(kind=BackKind.APPLIED, board="b6"))
    from storyrod import carcass

    shop = workshop()
    plain = carcass.build(builders.job(built), shop)
    panels = list(plain.cases[0].panels)
    random.Random(4).shuffle(panels)
    from dataclasses import replace

    mixed = replace(plain, cases=(replace(plain.cases[0], panels=tuple(panels)),))

    assert join(mixed, shop).cases[0].joints == join(plain, shop).cases[0].joints
