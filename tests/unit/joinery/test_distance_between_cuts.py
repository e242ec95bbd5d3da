"""The distance between two solids of wood taken away, against sums done by hand."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storyrod.joinery._distance import Solid, are_closer, gap_between, nearest_in
from storyrod.measure.space import PanelAxis, PanelPoint
from storyrod.model.removal import Bar, Capsule, Cone, Cylinder, Primitive, Segment, Slant

U, V, W = PanelAxis.U, PanelAxis.V, PanelAxis.W


def at(u: float, v: float, w: float = 0.0) -> PanelPoint:
    return PanelPoint(u, v, w)


def bore(u: float, v: float, radius: float = 4, low: float = 0, high: float = 13) -> Cylinder:
    return Cylinder(at(u, v), W, low, high, radius)


@pytest.mark.parametrize(
    ("one", "other", "expected"),
    [
        (bore(0, 0), bore(20, 0), 12.0),
        (bore(0, 0), bore(6, 8), 2.0),
        (bore(0, 0, high=5), bore(0, 0, low=8, high=12), 3.0),
        (bore(0, 0, high=5), bore(12, 0, low=8, high=12), 5.0),  # 4 apart beside, 3 apart in depth
        (bore(0, 0), Bar(at(10, -5, 0), at(20, 5, 6)), 6.0),
        (bore(0, 0), Capsule(at(10, -20), at(10, 20), W, 0, 5, 2), 4.0),
        # A bore down from the face and one in from the end, whose axes cross at a distance.
        (bore(40, 0), Cylinder(at(0, 0, 9), U, 0, 24, 4), 12.0),
        (bore(20, 12), Cylinder(at(0, 0, 9), U, 0, 24, 4), 4.0),
        (Cone(at(0, 0), W, 1, 3, 5, 2), bore(12, 0, radius=4, low=0, high=1), 3.0),
        # From the cone's slope, which falls 1 in 1: the nearest is across it.
        (Cone(at(0, 0), W, 1, 3, 5, 2), Bar(at(6, -1, 3), at(8, 1, 5)), math.sqrt(8.0)),
        # A disc of 50 plunged 8 deep along u: half its chord is 27.13.
        (Segment(at(0, 0, -42), V, -2, 2, 50, W, 1, 0), bore(40, 0, radius=4, high=1), 40 - 4 - 27.1293),
        (Slant(at(0, 0, 0), at(10, 0, 0), 2), bore(5, 10, radius=3, low=-5, high=5), 5.0),
        (Slant(at(0, 0, 0), at(10, 0, 10), 1), Bar(at(10, -1, 0), at(12, 1, 1)), 9 / math.sqrt(2) - 1),
    ],
)
def test_distances_worked_by_hand(one: Primitive, other: Primitive, expected: float) -> None:
    assert gap_between(one, other) == pytest.approx(expected, abs=2e-4)
    assert gap_between(other, one) == pytest.approx(expected, abs=2e-4)


def test_solids_that_meet_are_no_distance_apart() -> None:
    assert gap_between(bore(0, 0), bore(7, 0)) == pytest.approx(0.0, abs=1e-6)
    assert gap_between(bore(0, 0), Cylinder(at(0, 0, 9), U, 0, 24, 4)) == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize(("away", "closer"), [(9.9, True), (10.0, False), (10.1, False)])
def test_just_enough_room_is_enough(away: float, closer: bool) -> None:
    one, other = (Solid(bore(0, 0)),), (Solid(bore(away, 0)),)

    assert are_closer(one, other, 2.0) is closer


coordinate = st.floats(-60, 60)
points = st.tuples(coordinate, coordinate, coordinate)
solids = st.sampled_from(
    [
        Bar(at(-5, -8, -3), at(9, 4, 6)),
        Cylinder(at(3, 4, 0), W, -5, 9, 6),
        Cylinder(at(3, 4, 2), U, -20, 9, 3),
        Capsule(at(-10, 4), at(14, 4), W, 0, 7, 5),
        Cone(at(0, 0), W, 1, 3, 5, 2),
        Cone(at(0, 0, 18), W, -1, 4, 6, 2),
        Segment(at(0, 0, -42), V, -2, 2, 50, W, 1, 0),
        Slant(at(0, 0, 0), at(20, 0, 8), 4.75),
    ]
)


@given(solid=solids, point=points)
def test_the_nearest_point_is_in_the_solid_and_none_is_nearer(
    solid: Primitive, point: tuple[float, float, float]
) -> None:
    """Of a convex set: seen from its nearest point, no other of its points lies on the asked one's side."""
    nearest = nearest_in(solid)
    found = nearest(point)

    assert nearest(found) == pytest.approx(found, abs=1e-9)
    away = [a - b for a, b in zip(point, found, strict=True)]
    for corner in [(0, 0, 0), (90, 0, 0), (-90, 0, 0), (0, 90, 0), (0, -90, 0), (0, 0, 90), (0, 0, -90), (40, 40, 40)]:
        other = nearest((float(corner[0]), float(corner[1]), float(corner[2])))
        assert sum(a * (o - f) for a, o, f in zip(away, other, found, strict=True)) <= 1e-6
