"""Sections through joints: both boards, what is cut in each, and how the board goes home."""

from __future__ import annotations

import math

import pytest

from storyrod.drawing import Path, Pen, gang_stack, joint_detail
from storyrod.drawing._section import section_of
from storyrod.measure.space import PanelAxis, PanelPoint
from storyrod.model.feature import Feature, FeatureId, Hole, Keyhole, SegmentPocket, Shape
from storyrod.model.mark import Hand
from storyrod.model.panel import Role, Surface
from tests.unit.drawing.cabinets import BOARDS, detailed, folder_cabinet
from tests.unit.drawing.checks import check, texts_of
from tests.unit.drawing.samples import panel

BOARD = panel(Role.SHELF, length=600.0, width=400.0)


def area(points: tuple[tuple[float, float], ...]) -> float:
    pairs = zip(points, points[1:] + points[:1], strict=True)
    return abs(sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairs)) / 2


def cut(shape: Shape) -> Feature:
    return Feature(
        id=FeatureId("f"), panel=BOARD.id, surface=Surface.FACE, at=PanelPoint(300.0, 200.0, 0.0), shape=shape
    )


def taken(shape: Shape, run: PanelAxis = PanelAxis.V) -> float:
    chains = section_of(cut(shape), BOARD, run)
    across = PanelAxis.U if run is PanelAxis.V else PanelAxis.V
    return sum(area(tuple((p.along(across), p.w) for p in chain)) for chain in chains)


def test_a_bore_takes_its_diameter_by_its_depth() -> None:
    assert taken(Hole(diameter=8.0, depth=13.0)) == pytest.approx(8.0 * 13.0)


def test_a_through_hole_takes_the_whole_thickness_and_its_countersink() -> None:
    sunk = Hole(diameter=4.0, depth=18.0, through=True, countersink=8.0)

    assert taken(sunk) == pytest.approx(4.0 * 18.0 + 2.0 * 2.0)


def test_a_keyhole_is_a_tee_across_and_reaches_from_entry_to_lock_along() -> None:
    key = Keyhole(
        entry_diameter=10.0,
        slot_width=5.0,
        undercut_width=8.0,
        lip=3.0,
        depth=11.0,
        travel=14.0,
        run=PanelAxis.V,
        lock_sign=1,
    )

    assert taken(key, PanelAxis.V) == pytest.approx(5.0 * 3.0 + 8.0 * 8.0)
    assert taken(key, PanelAxis.U) == pytest.approx((14.0 + 5.0 + 2.5) * 3.0 + (14.0 + 5.0 + 4.0) * 8.0)


def test_a_disc_cutters_pocket_is_a_segment_of_its_circle() -> None:
    """Area of a segment: r^2 acos(1 - d/r) - (r - d) sqrt(2 r d - d^2) (geometry of the circle)."""
    pocket = SegmentPocket(disc=100.0, depth=12.0, width=4.0, run=PanelAxis.U)
    r, d = 50.0, 12.0
    exact = r * r * math.acos(1 - d / r) - (r - d) * math.sqrt(2 * r * d - d * d)

    assert taken(pocket, PanelAxis.V) == pytest.approx(exact, rel=0.01)
    assert taken(pocket, PanelAxis.U) == pytest.approx(4.0 * 12.0)


@pytest.mark.parametrize(
    ("corner", "mid_panel"),
    [
        ("dowels", "dowels"),
        ("biscuits", "two-part clip connector"),
        ("one-part keyhole connector", "one-part keyhole connector"),
        ("pocket screws", "loose tenons"),
    ],
)
def test_every_joint_of_a_cabinet_can_be_drawn_and_read(corner: str, mid_panel: str) -> None:
    details, _ = folder_cabinet(corner, mid_panel)
    case = details.cases[0]
    for joint in case.joints:
        drawing = joint_detail(case, joint, boards=BOARDS)
        check(drawing)
        words = " ".join(t.text for t in texts_of(drawing))
        assert case.panel(joint.receiving).mark in words
        assert case.panel(joint.entering).mark in words
        width, height = drawing.paper_size
        assert width <= 120.0
        assert height <= 98.0


def test_both_halves_of_a_dowel_meet_in_one_bore() -> None:
    case = detailed()
    joint = next(j for j in case.joints if j.method == "dowels")
    drawing = joint_detail(case, joint)

    cuts = [i for i in drawing.flat() if isinstance(i, Path) and i.pen is Pen.FEATURE and i.closed]
    heights = [{round(y, 6) for _, y in c.points} for c in cuts]

    assert len(cuts) == 2
    assert heights[0] == heights[1]  # one axis, one diameter
    xs = [sorted(x for x, _ in c.points) for c in cuts]
    assert min(xs[0][-1], xs[1][-1]) == pytest.approx(max(xs[0][0], xs[1][0]))


def test_the_slide_after_entry_is_told() -> None:
    details, _ = folder_cabinet("one-part keyhole connector", "dowels")
    case = details.cases[0]
    joint = next(j for j in case.joints if j.method == "one-part keyhole connector")

    assert "then slides back" in joint_detail(case, joint).notes[0]


def test_gangs_are_drawn_with_every_mark() -> None:
    details, set_out = folder_cabinet()
    panels = [p for c in details.cases for p in c.panels]
    drawn = [g for g in set_out.gangs if len(g.panels) > 1]
    for gang in drawn:
        drawing = gang_stack(gang, panels)
        check(drawing)
        marks = {p.mark for p in panels if p.id in gang.panels}
        assert marks == {t.text for t in texts_of(drawing)}
    assert {g.hand for g in drawn} == {Hand.SAME, Hand.MIRRORED}
