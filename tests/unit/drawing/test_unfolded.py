"""A board cannot be mirrored by drawing it: what the maker sees is where the drawing shows it."""

from __future__ import annotations

import pytest

from storyrod.drawing import Circle, Pen
from storyrod.drawing._unfolded import EDGES, FACES, Unfolded
from storyrod.measure.space import Axis, Direction, PanelAxis, PanelPoint, Point
from storyrod.model.feature import Feature, FeatureId, Hole
from storyrod.model.panel import Panel, Role, Surface
from tests.unit.drawing.samples import panel

ROLES = (Role.SIDE_LEFT, Role.SIDE_RIGHT, Role.SHELF)


def unfolded(of: Panel, face: Surface = Surface.FACE) -> Unfolded:
    return Unfolded(panel=of, face=face, gap=30.0, stretch=1.0)


def vector(way: Direction) -> Point:
    return Point(0.0, 0.0, 0.0).with_(way.axis, float(way.sign))


def cross(a: Point, b: Point) -> Point:
    return Point(a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x)


@pytest.mark.parametrize("role", ROLES)
@pytest.mark.parametrize("face", FACES)
def test_right_and_up_on_the_drawing_point_at_the_viewer(role: Role, face: Surface) -> None:
    """In the case, (right on the drawing) x (up on the drawing) is the way the face looks, toward the maker."""
    board = panel(role)
    view = unfolded(board, face)
    right = vector(board.frame.u) if view.way > 0 else vector(board.frame.u.reverse)
    out = vector(board.frame.into.reverse if face is Surface.FACE else board.frame.into)

    assert cross(right, vector(board.frame.v)) == out


def test_a_left_side_has_its_datum_at_the_right_and_its_twin_at_the_left() -> None:
    assert unfolded(panel(Role.SIDE_LEFT)).way == -1
    assert unfolded(panel(Role.SIDE_RIGHT)).way == 1
    assert unfolded(panel(Role.SHELF)).way == 1
    assert unfolded(panel(Role.SHELF), Surface.FAR_FACE).way == -1


def test_the_face_edge_lies_below_and_the_datum_end_outside_the_datum() -> None:
    view = unfolded(panel(Role.SHELF, length=564.0, width=380.0))

    assert view.on(Surface.FACE, PanelPoint(100.0, 50.0, 0.0)) == (100.0, 50.0)
    assert view.on(Surface.FACE_EDGE, PanelPoint(100.0, 0.0, 9.0)) == (100.0, -39.0)
    assert view.on(Surface.FAR_EDGE, PanelPoint(100.0, 380.0, 9.0)) == (100.0, 380.0 + 39.0)
    assert view.on(Surface.DATUM_END, PanelPoint(0.0, 50.0, 9.0)) == (-39.0, 50.0)
    assert view.on(Surface.FAR_END, PanelPoint(564.0, 50.0, 9.0)) == (564.0 + 39.0, 50.0)


def test_with_the_far_face_up_the_far_face_is_next_to_the_fold() -> None:
    view = unfolded(panel(Role.SHELF), Surface.FAR_FACE)

    near_far_face = view.on(Surface.FACE_EDGE, PanelPoint(100.0, 0.0, 16.0))
    near_face_side = view.on(Surface.FACE_EDGE, PanelPoint(100.0, 0.0, 2.0))

    assert near_far_face[1] == -32.0
    assert near_face_side[1] == -46.0


@pytest.mark.parametrize("role", ROLES)
@pytest.mark.parametrize("edge", EDGES)
def test_a_bore_in_an_edge_is_drawn_within_that_edge(role: Role, edge: Surface) -> None:
    board = panel(role)
    view = unfolded(board)
    at = PanelPoint(120.0, 80.0, 7.0).with_(edge.axis, board.extent(edge.axis) if edge.is_far else 0.0)
    bore = Feature(id=FeatureId("b"), panel=board.id, surface=edge, at=at, shape=Hole(diameter=6.0, depth=20.0))

    (circle,) = view.drawn(bore, edge, pen=Pen.FEATURE)
    (left, low), _, (right, high), _ = view.rectangle(edge)

    assert isinstance(circle, Circle)
    assert circle.radius == 3.0
    assert left + 3.0 <= circle.centre[0] <= right - 3.0
    assert low + 3.0 <= circle.centre[1] <= high - 3.0


def test_axes_are_of_length_one_and_square() -> None:
    for face in FACES:
        view = unfolded(panel(Role.SIDE_LEFT), face)
        for edge in EDGES:
            a, b = (axis for axis in PanelAxis if axis is not edge.axis)
            (ax, ay), (bx, by) = view.axis(edge, a), view.axis(edge, b)
            assert ax * bx + ay * by == 0.0
            assert abs(ax) + abs(ay) == abs(bx) + abs(by) == 1.0


def test_samples_are_as_long_as_they_say() -> None:
    assert panel(Role.SIDE_LEFT, length=720.0).box.size(Axis.Z) == 720.0
