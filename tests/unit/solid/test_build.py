"""Panels as solids: what each feature takes away, in every surface, in both hands, and in its place in the case."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from storyrod.adapters.solid import case_solids, panel_solid, placed
from storyrod.adapters.solid._build import pieces_of
from storyrod.adapters.solid._profile import disc_segment, round_ended, signed_area
from storyrod.measure.space import AXES, PANEL_AXES, Direction, Frame, PanelPoint
from storyrod.model.feature import (
    AngledPocket,
    Channel,
    CutOut,
    Feature,
    FeatureId,
    Hole,
    Keyhole,
    SegmentPocket,
    Shape,
    Slot,
    UndercutSlot,
)
from storyrod.model.panel import Panel, Role, Surface, frame_in
from storyrod.model.removal import removed, volume
from tests.unit.proof import small

U, V, W = PANEL_AXES

HANDS = {
    "left side": small.UPRIGHT_LEFT,
    "right side": small.UPRIGHT_RIGHT,
    "shelf": small.FLAT,
    "front": (Direction.RIGHT, Direction.UP, Direction.BACKWARD),
    "drawer side": (Direction.BACKWARD, Direction.UP, Direction.LEFT),
}

SHAPES: dict[str, tuple[Shape, Surface, tuple[float, float, float]]] = {
    "cup": (Hole(diameter=35, depth=13), Surface.FACE, (50, 50, 0)),
    "countersunk": (Hole(diameter=5, depth=18, through=True, countersink=10), Surface.FAR_FACE, (150, 60, 18)),
    "end bore": (Hole(diameter=8, depth=25), Surface.DATUM_END, (0, 100, 9)),
    "far end bore": (Hole(diameter=8, depth=25), Surface.FAR_END, (600, 120, 7)),
    "slot": (Slot(length=40, width=8, depth=10, run=V), Surface.FACE, (100, 300, 0)),
    "edge pocket": (SegmentPocket(disc=100, depth=12, width=4, run=U), Surface.FACE_EDGE, (300, 0, 9)),
    "face pocket": (SegmentPocket(disc=100, depth=12, width=4, run=V), Surface.FAR_FACE, (250, 200, 18)),
    "undercut": (
        UndercutSlot(length=60, width=7, undercut_width=9, lip=5, depth=11, run=U),
        Surface.FAR_EDGE,
        (200, 400, 9),
    ),
    "keyhole": (
        Keyhole(entry_diameter=12, slot_width=6, undercut_width=10, lip=5, depth=12, travel=16, run=V, lock_sign=1),
        Surface.FACE,
        (400, 300, 0),
    ),
    "groove": (Channel(kind="groove", length=400, width=6, depth=6, run=V), Surface.FACE, (500, 200, 0)),
    "rebate": (Channel(kind="rebate", length=600, width=9, depth=6, run=U), Surface.FAR_EDGE, (300, 400, 4.5)),
    "scoop": (
        CutOut(outline="scoop", length=100, height=30, corner=12, depth=18, run=U),
        Surface.FACE,
        (350, 0, 0),
    ),
    "hand slot": (
        CutOut(outline="slot", length=100, height=30, corner=15, depth=18, run=U),
        Surface.FACE,
        (200, 150, 0),
    ),
}


def board(hand: str) -> Panel:
    """Return a panel of 600 x 400 x 18 with one corner somewhere in the case."""
    ways = HANDS[hand]
    box = small.box((10, 20), (30, 40), (50, 60))
    for way, size in zip(ways, (600.0, 400.0, 18.0), strict=True):
        low = box.low.along(way.axis)
        box = box.with_span(way.axis, low, low + size)
    return small.panel(Role.SHELF, hand, box, ways, frame=frame_in(box, Frame(small.NOWHERE, *ways)))


def cut(panel: Panel, shape: Shape, surface: Surface, at: tuple[float, float, float]) -> Feature:
    return Feature(id=FeatureId("f"), panel=panel.id, surface=surface, at=PanelPoint(*at), shape=shape)


@pytest.mark.parametrize("hand", HANDS)
@pytest.mark.parametrize("name", SHAPES)
def test_each_shape_takes_its_volume_in_every_hand(name: str, hand: str) -> None:
    """The solid loses what `volume` says, less what flat sides leave out, and nothing is left hanging."""
    panel = board(hand)
    feature = cut(panel, *SHAPES[name])

    solid = placed(panel_solid(panel, [feature]), panel)
    missing = 600 * 400 * 18 - solid.volume()

    left_out = sum(p.left_out for p in pieces_of(panel, feature))
    assert -1e-3 <= volume(feature) - missing <= left_out + 1e-3
    assert len(solid.decompose()) == 1


@pytest.mark.parametrize("hand", HANDS)
def test_a_panel_stands_where_its_box_says(hand: str) -> None:
    panel = board(hand)

    bounds = placed(panel_solid(panel, []), panel).bounding_box()

    assert bounds[:3] == pytest.approx([panel.box.low.along(a) for a in AXES])
    assert bounds[3:] == pytest.approx([panel.box.high.along(a) for a in AXES])


@pytest.mark.parametrize("hand", HANDS)
@pytest.mark.parametrize("name", SHAPES)
def test_wood_is_gone_just_where_the_frame_puts_the_cut(name: str, hand: str) -> None:
    """The cut alone, as a solid in the case, lies in the box to which the panel's frame takes its bounds."""
    panel = board(hand)
    feature = cut(panel, *SHAPES[name])
    whole, less = (placed(panel_solid(panel, f), panel) for f in ([], [feature]))

    bounds = (whole - less).bounding_box()

    corners = [panel.frame.to_case(c) for p in removed(feature) for c in (p.bounds.low, p.bounds.high)]
    for i, axis in enumerate(AXES):
        assert bounds[i] == pytest.approx(min(c.along(axis) for c in corners), abs=0.1)  # flat sides fall short
        assert bounds[i + 3] == pytest.approx(max(c.along(axis) for c in corners), abs=0.1)


def test_twins_are_mirror_images_of_each_other() -> None:
    """The same cuts in a left and a right side: turned over on x, one solid covers the other fully."""
    parts = {p.name: p for p in small.panels()}
    left, right = (
        placed(panel_solid(p, [cut(p, *SHAPES[n]) for n in ("cup", "slot", "keyhole")]), p)
        for p in (replace(parts["left side"], box=small.box((0, 18), (0, 400), (0, 600))),
                  replace(parts["right side"], box=small.box((582, 600), (0, 400), (0, 600))))
    )  # fmt: skip

    turned = left.mirror((1, 0, 0)).translate((600, 0, 0))

    assert (turned ^ right).volume() == pytest.approx(right.volume(), rel=1e-9)


def test_an_angled_pocket_opens_its_mouth_and_stays_in_the_board() -> None:
    """A round bore cut off on a slope through its axis has the volume of one that ends at its axis."""
    panel = board("shelf")
    pocket = AngledPocket(diameter=9.5, pilot=3.5, angle_deg=15, length=25, run=U, sign=-1)
    feature = cut(panel, pocket, Surface.FAR_FACE, (60, 100, 18))

    missing = 600 * 400 * 18 - panel_solid(panel, [feature]).volume()

    assert missing == pytest.approx(math.pi * 9.5**2 / 4 * 25, rel=0.005)


@given(radius=st.floats(1, 60), length=st.floats(0.5, 100), share=st.floats(0.05, 0.95))
@settings(max_examples=25)
def test_flat_sides_leave_out_a_little_and_never_add(radius: float, length: float, share: float) -> None:
    for profile in (
        round_ended((0, 0), (0, 0), radius),
        round_ended((0, 0), (length, 0), radius),
        round_ended((0, 0), (0, length), radius),
        disc_segment(radius, 2 * radius * share),
    ):
        assert 0 < profile.left_out < 0.0017 * math.pi * radius**2
        assert abs(signed_area(profile.points)) > 0


def test_a_whole_case_in_place() -> None:
    told = small.details()

    solids = case_solids(told.cases[0])

    assert list(solids) == [p.id for p in told.cases[0].panels]
    assert sum(s.volume() for s in solids.values()) == pytest.approx(
        2 * 400 * 300 * 18 + 3 * 564 * 300 * 18 - 12 * math.pi * 16 * (13 + 23), rel=1e-5
    )
