"""Pictures of the case: as it stands, pulled apart, small, and from the front."""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest

from storyrod.drawing import (
    Dimension,
    Path,
    Shown,
    Tint,
    View,
    case_elevation,
    case_exploded,
    case_thumbnail,
    case_view,
)
from storyrod.drawing._drawers_out import drawers_beside
from storyrod.drawing._drawing import bounds_of
from storyrod.drawing._projection import corners_of
from storyrod.drawing._pulled_apart import OF_A_DRAWER, moved_apart
from storyrod.drawing._types import Bounds
from storyrod.model.panel import Panel, Role
from tests.unit.drawing.cabinets import BOARDS, detailed
from tests.unit.drawing.checks import check, groups_of, texts_of


def test_every_panel_is_in_the_view_and_can_be_tapped() -> None:
    case = detailed()

    shown = {g.id for g in groups_of(case_view(case, Shown(boards=BOARDS)).items, "panel")}

    assert shown == {p.id for p in case.panels}


def test_without_fronts_one_sees_inside() -> None:
    case = detailed()

    shown = {g.id for g in groups_of(case_view(case, Shown(fronts=False)).items, "panel")}

    assert {p.id for p in case.panels} - shown == {
        p.id for p in case.panels if p.role in {Role.DOOR, Role.DRAWER_FRONT}
    }


@pytest.mark.parametrize("room", [(170.0, 130.0), (80.0, 60.0)])
def test_pictures_fit_their_room(room: tuple[float, float]) -> None:
    case = detailed()
    for drawing in (case_view(case, room=room), case_exploded(case, room=room), case_elevation(case, room=room)):
        width, height = drawing.paper_size
        assert width <= room[0] + 1e-6
        assert height <= room[1] + 1e-6
        check(drawing)


def test_boards_differ_by_tint_and_by_pattern() -> None:
    fills = {
        (item.fill.tint, item.fill.hatch)
        for item in case_view(detailed(), Shown(boards=BOARDS)).flat()
        if isinstance(item, Path) and item.fill is not None and item.fill.tint is not Tint.INK
    }

    assert len({tint for tint, _ in fills}) == len({hatch for _, hatch in fills}) == len(fills) == 3


def test_pulled_apart_nothing_touches_but_a_drawers_own_panels() -> None:
    panels = detailed().panels
    boxes = moved_apart(panels)

    for (a, box_a), (b, box_b) in combinations(zip(panels, boxes, strict=True), 2):
        if a.body != b.body or a.body == "carcass":
            assert box_a.overlap(box_b) is None, (a.name, b.name)


def test_pulled_apart_panels_keep_size_and_order() -> None:
    panels = detailed().panels
    for panel, box in zip(panels, moved_apart(panels), strict=True):
        assert box.volume == pytest.approx(panel.box.volume)
    moved = dict(zip((p.role for p in panels), moved_apart(panels), strict=True))
    assert moved[Role.SIDE_LEFT].high.x < moved[Role.SIDE_RIGHT].low.x
    assert moved[Role.BASE].high.z < moved[Role.TOP].low.z
    assert moved[Role.DOOR].high.y < moved[Role.BACK].low.y


def test_every_panel_in_sight_is_named_and_the_rest_are_told() -> None:
    case = detailed()
    drawing = case_exploded(case)
    written = {t.text for t in texts_of(drawing)}
    told = " ".join(drawing.notes)

    for panel in case.panels:
        assert panel.mark in written or f"{panel.mark} {panel.name}" in told
    assert len(written) > 0.8 * len(case.panels)


def test_a_thumbnail_fills_one_panel() -> None:
    case = detailed()
    for panel in case.panels:
        drawing = case_thumbnail(case, panel.id)
        inked = [i for i in drawing.flat() if isinstance(i, Path) and i.fill and i.fill.tint is Tint.INK]
        assert len(inked) == 3
        width, height = drawing.paper_size
        assert max(width, height) == pytest.approx(38.0)


def test_the_elevation_gives_width_and_height_over_all() -> None:
    drawing = case_elevation(detailed())

    assert [d.text for d in drawing.items if isinstance(d, Dimension)] == ["900", "900"]
    check(drawing)


def test_openings_are_named_with_their_clear_size() -> None:
    case = detailed()
    drawing = case_elevation(case, fronts=False)
    words = [t.text for t in texts_of(drawing)]
    check(drawing)

    assert "423 × 140" in words
    assert "door, 2 loose shelves" in words
    assert {g.id for g in groups_of(drawing.items, "opening")} == {o.id for o in case.built.openings if not o.children}


def test_hand_holds_are_drawn_in_the_fronts() -> None:
    fronts = [g for g in groups_of(case_elevation(detailed()).items, "panel") if len(g.items) > 1]

    assert len(fronts) == 4


def test_pictures_say_what_they_show_to_who_cannot_see_them() -> None:
    case = detailed()

    assert "A1 left side" in case_exploded(case).alt
    assert "900 wide" in case_elevation(case).alt
    assert "filled in" in case_thumbnail(case, case.panels[0].id).alt


def test_pulled_apart_each_drawer_is_a_box_of_its_own_beside_the_case() -> None:
    panels, view = detailed().panels, View()
    told = drawers_beside(panels, view, (165.0, 110.0))
    seen: dict[str, list[Bounds]] = {}
    for panel, box in zip(panels, told.boxes, strict=True):
        assert box.volume == pytest.approx(panel.box.volume)
        name = panel.opening if panel.role in OF_A_DRAWER else "case"
        seen.setdefault(name, []).append(bounds_of([Path(points=tuple(map(view.on, corners_of(box))))], 1.0))
    whole = [
        (min(b.left for b in own), min(b.bottom for b in own), max(b.right for b in own), max(b.top for b in own))
        for own in seen.values()
    ]

    assert len(whole) == 1 + len(detailed().built.drawers) > 2
    for (left, bottom, right, top), other in combinations(whole, 2):
        assert right < other[0] or other[2] < left or top < other[1] or other[3] < bottom
    assert sorted(name for name, _ in told.names) == sorted(d.name for d in detailed().built.drawers)


def test_pulled_apart_every_part_of_a_drawer_is_in_sight() -> None:
    case = detailed()
    written = {t.text for t in texts_of(case_exploded(case, room=(165.0, 113.0)))}

    assert {p.mark for p in case.panels if p.role in OF_A_DRAWER} <= written


def test_drawers_below_each_other_are_pulled_out_like_stairs_each_in_one_piece() -> None:
    panels = detailed().panels
    out = dict(zip((p.id for p in panels), moved_apart(panels), strict=True))
    boxes = {Role.DRAWER_SIDE, Role.DRAWER_BACK, Role.DRAWER_BOX_FRONT, Role.DRAWER_BOTTOM}
    columns: dict[str, list[Panel]] = {}
    for panel in panels:
        if panel.role in boxes:
            columns.setdefault(panel.body, []).append(panel)
    forward = {body: {out[p.id].low.y - p.box.low.y for p in own} for body, own in columns.items()}
    assert len(forward) > 1
    assert all(max(by) - min(by) < 1e-6 for by in forward.values())  # a box comes out whole
    from_the_top = sorted(columns, key=lambda body: -max(p.box.high.z for p in columns[body]))
    fronts = [out[columns[body][0].id].low.y for body in from_the_top]
    assert all(low < high - 50.0 for high, low in pairwise(fronts))
