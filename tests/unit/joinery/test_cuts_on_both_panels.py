"""Every packaged method on a small case: what is cut where, hand right, mates on one axis, connectors counted."""

from __future__ import annotations

import math
from typing import Any

import pytest

from storyrod.measure.space import Direction, PanelAxis
from storyrod.model.detail import ConnectorCount, DetailedCase, SlideChoice
from storyrod.model.feature import AngledPocket, Hole, Keyhole, SegmentPocket, Slot, UndercutSlot
from storyrod.model.job import Back, BackKind, Plinth
from storyrod.model.joint import JointId
from storyrod.model.panel import Surface
from tests import builders
from tests.unit.joinery.boxes import between, choice, cuts, detailed, named

STATIONED = (
    "dowels", "biscuits", "loose tenons", "carcass screws", "plain screws", "pocket screws", "cam and bolt",
    "one-part keyhole connector", "two-part clip connector",
)  # fmt: skip


def boxed(code: str, *slides: SlideChoice, **more: Any) -> DetailedCase:
    return detailed(builders.case(depth=400, height=720, methods=choice(corner=code), **more), None, *slides)


@pytest.mark.parametrize("code", STATIONED)
def test_mates_lie_on_one_axis_and_name_each_other(code: str) -> None:
    case = boxed(code)
    by_id = {f.id: f for f in case.features}

    mated = [f for f in case.features if f.mate is not None]
    assert bool(mated) is (code != "pocket screws")
    for f in mated:
        mate = by_id[f.mate]  # type: ignore[index]
        assert mate.mate == f.id
        assert (mate.joint, mate.station) == (f.joint, f.station)
        joint = next(j for j in case.joints if j.id == f.joint)
        here, there = (case.panel(x.panel).frame.to_case(x.at) for x in (f, mate))
        across = [a for a in ("x", "y", "z") if a != joint.home.axis.value]
        assert all(abs(getattr(here, a) - getattr(there, a)) < 1e-6 for a in across)


def test_dowels() -> None:
    case = boxed("dowels")
    joint = between(case, "right side", "top")

    assert joint.stations == (50.0, 210.0, 370.0)
    face = cuts(case, joint, joint.receiving)
    assert [(f.surface, f.at.u, f.at.v, f.at.w) for f in face] == [
        (Surface.FACE, 711.0, 50.0, 0.0),
        (Surface.FACE, 711.0, 210.0, 0.0),
        (Surface.FACE, 711.0, 370.0, 0.0),
    ]
    assert face[0].shape == Hole(diameter=8, depth=13)
    edge = cuts(case, joint, joint.entering)
    assert [(f.surface, f.at.u, f.at.v, f.at.w) for f in edge] == [
        (Surface.FAR_END, 564.0, 50.0, 9.0),
        (Surface.FAR_END, 564.0, 210.0, 9.0),
        (Surface.FAR_END, 564.0, 370.0, 9.0),
    ]
    assert edge[0].shape == Hole(diameter=8, depth=24)
    assert (face[0].id, edge[0].id) == ("A.side-right:J3.1r", "A.top:J3.1e")
    assert (face[0].item, face[0].why) == ("dowel 8 x 35", "dowels of top in right side")
    assert case.connectors == (ConnectorCount(method="dowels", item="dowel 8 x 35", count=12),)


def test_biscuits_lie_along_the_joint() -> None:
    case = boxed("biscuits")
    joint = between(case, "left side", "base")

    (face,), (edge,) = (cuts(case, joint, p, 1) for p in (joint.receiving, joint.entering))
    assert face.shape == SegmentPocket(disc=100, depth=12.3, width=4, run=PanelAxis.V)
    assert edge.shape == SegmentPocket(disc=100, depth=12.3, width=4, run=PanelAxis.V)


def test_loose_tenons_lie_along_the_joint() -> None:
    case = boxed("loose tenons")
    joint = between(case, "left side", "base")

    (face,), (edge,) = (cuts(case, joint, p, 1) for p in (joint.receiving, joint.entering))
    assert face.shape == Slot(length=22, width=5, depth=12, run=PanelAxis.V)
    assert edge.shape == Slot(length=22, width=5, depth=18, run=PanelAxis.V)


def test_slots_of_a_joint_along_a_panel_run_along_it() -> None:
    case = detailed(builders.case(plinth=Plinth(height=80, setback=50), methods=choice(plinth="loose tenons")))
    joint = between(case, "base", "plinth")

    (face,), (edge,) = (cuts(case, joint, p, 1) for p in (joint.receiving, joint.entering))
    assert (face.surface, face.shape.run) == (Surface.FAR_FACE, PanelAxis.U)  # type: ignore[union-attr]
    assert (edge.surface, edge.shape.run) == (Surface.FAR_EDGE, PanelAxis.U)  # type: ignore[union-attr]
    assert (face.at.v, edge.at.w) == (50 + 9, 9)


@pytest.mark.parametrize(
    ("code", "clearance", "countersink", "pilot", "deep"),
    [("carcass screws", 7.0, 10.0, 5.0, 37.0), ("plain screws", 4.5, 8.5, 2.5, 37.0)],
)
def test_screws_go_through_from_the_outside(
    code: str, clearance: float, countersink: float, pilot: float, deep: float
) -> None:
    case = boxed(code)
    joint = between(case, "left side", "top")

    (outside,), (edge,) = (cuts(case, joint, p, 1) for p in (joint.receiving, joint.entering))
    assert outside.shape == Hole(diameter=clearance, depth=18, through=True, countersink=countersink)
    assert (outside.surface, outside.at.w) == (Surface.FAR_FACE, 18.0)
    assert edge.shape == Hole(diameter=pilot, depth=deep)


def test_pocket_screws_are_bored_in_the_underside_toward_the_edge() -> None:
    case = boxed("pocket screws")
    for side, end, sign in (("left side", 0.0, -1), ("right side", 564.0, 1)):
        joint = between(case, side, "top")
        assert cuts(case, joint, joint.receiving) == []
        (pocket,) = cuts(case, joint, joint.entering, 1)
        assert isinstance(pocket.shape, AngledPocket)
        assert (pocket.surface, pocket.at.w) == (Surface.FAR_FACE, 18.0)
        assert (pocket.shape.run, pocket.shape.sign) == (PanelAxis.U, sign)
        inset = 9 / math.tan(math.radians(15))
        assert pocket.at.u == pytest.approx(end - sign * inset)
        assert inset * math.tan(math.radians(pocket.shape.angle_deg)) == pytest.approx(9.0)
    assert case.connectors[0].item == "pocket screw 4 x 32"


def test_a_drawers_box_front_hides_its_pockets_behind_the_front() -> None:
    case = detailed(builders.case(depth=560, inside=builders.drawer(), methods=choice(drawer_box="pocket screws")))
    pockets = {f.panel: f.surface for f in case.features if f.kind == "angled pocket"}

    assert pockets == {"A.drawer-1.box-front": Surface.FACE, "A.drawer-1.box-back": Surface.FAR_FACE}


def test_a_cam_stands_in_the_underside_over_the_bolts_bore_with_a_dry_dowel_behind() -> None:
    case = boxed("cam and bolt")
    joint = between(case, "left side", "top")

    assert joint.stations == (60.0, 340.0)
    bolt, dowel = cuts(case, joint, joint.receiving, 1)
    assert (bolt.shape, bolt.at.v, bolt.item) == (Hole(diameter=5, depth=12), 60.0, "bolt")
    assert (dowel.shape, dowel.at.v, dowel.item) == (Hole(diameter=8, depth=13), 92.0, "dowel")
    entering = {f.item: f for f in cuts(case, joint, joint.entering, 1)}
    cam = entering["cam"]
    assert (cam.surface, cam.at.u, cam.at.v, cam.depth, cam.mate) == (Surface.FAR_FACE, 24.0, 60.0, 13.5, None)
    assert entering["bolt"].mate == bolt.id
    assert entering["dowel"].mate == dowel.id
    assert {c.item: c.count for c in case.connectors} == {"cam 15": 8, "cam bolt": 8, "dowel 8 x 35": 8}


def test_keyholes_lock_toward_the_back_or_down_unless_chosen() -> None:
    case = detailed(
        builders.case(
            depth=400,
            plinth=Plinth(height=120, setback=50),
            methods=choice(corner="one-part keyhole connector", plinth="one-part keyhole connector"),
        )
    )
    locks = {(named_in(case, j.receiving), named_in(case, j.entering)): j.lock for j in case.joints if j.lock}

    assert locks["left side", "top"] is Direction.BACKWARD
    assert locks["left side", "plinth"] is Direction.DOWN
    assert locks["base", "plinth"] is Direction.RIGHT


def named_in(case: DetailedCase, panel_id: str) -> str:
    return next(p.name for p in case.panels if p.id == panel_id)


@pytest.mark.parametrize("name", ["left side", "right side"])
def test_both_sides_lock_the_same_way_and_the_entry_lies_against_it(name: str) -> None:
    case = boxed("one-part keyhole connector")
    joint = between(case, name, "top")

    (keyhole,), (hole,) = (cuts(case, joint, p, 1) for p in (joint.receiving, joint.entering))
    assert isinstance(keyhole.shape, Keyhole)
    assert (keyhole.shape.run, keyhole.shape.lock_sign, keyhole.at.v) == (PanelAxis.V, 1, 50.0)
    assert keyhole.shape.entry(keyhole.at).v == 40.0
    assert (hole.shape, hole.at.v) == (Hole(diameter=8, depth=32), 50.0)


def test_a_chosen_lock_turns_the_keyholes_round() -> None:
    slide = SlideChoice(joint=JointId("A.J1"), lock=Direction.FORWARD)
    case = boxed("one-part keyhole connector", slide)
    signs = {j.id: {f.shape.lock_sign for f in cuts(case, j, j.receiving)} for j in case.joints}  # type: ignore[union-attr]

    assert case.joints[0].lock is Direction.FORWARD
    assert signs == {"A.J1": {-1}, "A.J2": {1}, "A.J3": {1}, "A.J4": {1}}


def test_no_joint_can_lock_across_itself() -> None:
    slide = SlideChoice(joint=JointId("A.J1"), lock=Direction.UP)
    with pytest.raises(ValueError, match=r"A\.J1 cannot slide up"):
        boxed("one-part keyhole connector", slide)


def test_clips_lie_in_undercut_slots_of_both_panels() -> None:
    case = boxed("two-part clip connector")
    joint = between(case, "left side", "top")

    both = [cuts(case, joint, p, 2)[0].shape for p in (joint.receiving, joint.entering)]
    assert both == [UndercutSlot(length=46, width=5.5, undercut_width=8, lip=5, depth=10.5, run=PanelAxis.V)] * 2


def test_glue_alone_cuts_nothing_and_consumes_nothing() -> None:
    case = boxed("glued butt")

    assert case.features == ()
    assert case.connectors == ()
    assert all(j.glue for j in case.joints)


def test_a_back_is_screwed_into_the_edges_that_it_covers() -> None:
    case = detailed(builders.case(depth=400, height=720, back=Back(kind=BackKind.APPLIED, board="b6")))
    joint = between(case, "back", "right side")

    (through,), (pilot,) = (cuts(case, joint, p, 1) for p in (joint.receiving, joint.entering))
    assert (through.surface, through.shape) == (Surface.FAR_FACE, Hole(diameter=3.5, depth=6, through=True))
    assert (through.at.u, through.at.v) == (600 - 9, 50.0)
    assert (pilot.surface, pilot.at.u, pilot.at.v, pilot.at.w) == (Surface.FAR_EDGE, 50.0, 394.0, 9.0)


def test_a_rebated_back_is_screwed_into_the_middle_of_what_it_covers_of_the_shoulder() -> None:
    """The rebate leaves 9 of 18; the back, 1 smaller in all, covers 8.5 of it: 4.25."""
    case = detailed(builders.case(depth=400, height=720, back=Back(kind=BackKind.REBATED, board="b6")))
    joint = between(case, "back", "left side")

    (through,), (pilot,) = (cuts(case, joint, p, 1) for p in (joint.receiving, joint.entering))
    assert (pilot.surface, pilot.at.v) == (Surface.FAR_EDGE, 394.0)
    assert pilot.at.w == pytest.approx(4.25)
    assert through.at.u == pytest.approx(4.25)


def test_counts_are_of_one_case_however_many_are_made() -> None:
    one = boxed("dowels")
    many = boxed("dowels", count=7)

    assert one.connectors == many.connectors


def test_features_come_in_order_of_surface_and_place() -> None:
    case = detailed(builders.case(depth=400, inside=builders.rows(builders.opening(), builders.shelves(2))))
    order = [
        s.value
        for s in (
            Surface.DATUM_END,
            Surface.FAR_END,
            Surface.FACE_EDGE,
            Surface.FAR_EDGE,
            Surface.FACE,
            Surface.FAR_FACE,
        )
    ]
    keys = [(order.index(f.surface.value), f.at.u, f.at.v) for f in case.on(named(case, "left side").id)]

    assert keys == sorted(keys)
