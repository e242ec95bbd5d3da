"""Distances between pieces of wood taken away."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from storyrod.proof._shapes import Cone, Piece, Prism, Segment, SlopedBore, Vec, _gap_of_convex, gap_between

U, V, W = 0, 1, 2


def bore(axis: int, low: float, high: float, centre: tuple[float, float], radius: float) -> Prism:
    return Prism(axis, low, high, centre, centre, radius)


def test_two_bores_side_by_side_keep_what_is_between_their_rims() -> None:
    one, other = bore(W, 0, 13, (50, 50), 4), bore(W, 0, 10, (80, 90), 2.5)

    assert gap_between(one, other) == pytest.approx(50 - 6.5, abs=1e-12)


def test_two_bores_end_to_end_keep_the_skin_between_their_bottoms() -> None:
    assert gap_between(bore(W, 0, 6, (50, 50), 4), bore(W, 10, 18, (52, 50), 4)) == pytest.approx(4, abs=1e-12)


def test_bores_that_cross_at_right_angles() -> None:
    """Axes 15 apart, radii 4 and 2.5, both long past each other: 8.5 mm is left."""
    one = bore(U, 0, 100, (50, 5), 4)  # along u at v 50, w 5
    other = bore(V, 0, 100, (40, 20), 2.5)  # along v at u 40, w 20

    assert gap_between(one, other) == pytest.approx(8.5, abs=1e-6)
    assert gap_between(other, one) == pytest.approx(8.5, abs=1e-6)


def test_a_bore_in_an_end_below_a_cup_in_the_face() -> None:
    """The cup's bottom rim is 13 down, the bore's top 5: the bore ends 10.5 short of the rim, so they pass."""
    cup = bore(W, 0, 13, (50, 100), 17.5)
    end_bore = bore(U, 0, 22, (100, 9), 4)

    assert gap_between(cup, end_bore) == pytest.approx(10.5, abs=1e-6)


def test_a_groove_and_a_bore_across_it() -> None:
    groove = Prism(W, 0, 6, (0, 280), (600, 286), 0.0)
    end_bore = bore(U, 0, 25, (270, 9), 4)  # its axis 10 short of the groove and 9 down: 3 below the bottom's level

    assert gap_between(groove, end_bore) == pytest.approx(math.hypot(10, 3) - 4, abs=1e-6)


def test_a_disc_cutters_pocket_is_nearest_at_its_deepest_place() -> None:
    pocket = Segment(axis=W, run=U, cross=V, chord_at=0, inward=1, middle=100, across=50, width=4, radius=50, depth=12)
    below = bore(V, 0, 100, (100, 16), 1)

    assert gap_between(pocket, below) == pytest.approx(16 - 1 - 12, abs=1e-6)


def test_a_drills_point_counts() -> None:
    point = Cone(W, 13, 15, (50, 50), 4, 0)
    far = bore(W, 16, 18, (50, 50), 4)

    assert gap_between(point, far) == pytest.approx(1, abs=1e-6)


def test_a_sloped_bore_is_as_far_as_its_axis_less_its_radius() -> None:
    """Axis from (0, 0, 0) at 45 degrees down; a bore along v whose axis passes (20, 0): sqrt(200) from it."""
    slope = SlopedBore((-20, 50, -20), (40, 50, 40), 3)
    other = bore(V, 0, 100, (20, 0), 2)

    assert gap_between(slope, other) == pytest.approx(20 / math.sqrt(2) - 5, abs=1e-6)


def test_pieces_that_share_wood_have_no_distance() -> None:
    assert gap_between(bore(U, 0, 30, (50, 9), 4), bore(W, 0, 13, (20, 52), 7.5)) == 0.0


coordinates = st.floats(-60, 60)
sizes = st.floats(0.5, 20)


@st.composite
def prisms(draw: st.DrawFn) -> Prism:
    low, a, b = draw(coordinates), draw(coordinates), draw(coordinates)
    core = (draw(st.just(0.0) | sizes), draw(st.just(0.0) | sizes))
    radius = draw(st.just(0.0) | sizes)
    return Prism(draw(st.sampled_from([U, V, W])), low, low + draw(sizes), (a, b), (a + core[0], b + core[1]), radius)


@st.composite
def segments(draw: st.DrawFn) -> Segment:
    axis, run, cross = draw(st.permutations([U, V, W]))
    radius = draw(st.floats(20, 60))
    return Segment(
        axis=axis,
        run=run,
        cross=cross,
        chord_at=draw(coordinates),
        inward=draw(st.sampled_from([-1, 1])),
        middle=draw(coordinates),
        across=draw(coordinates),
        width=draw(st.floats(2, 8)),
        radius=radius,
        depth=draw(st.floats(2, 18)),
    )


@st.composite
def cones(draw: st.DrawFn) -> Cone:
    low = draw(coordinates)
    centre = (draw(coordinates), draw(coordinates))
    axis = draw(st.sampled_from([U, V, W]))
    return Cone(axis, low, low + draw(sizes), centre, draw(sizes), draw(st.just(0.0) | sizes))


@st.composite
def slopes(draw: st.DrawFn) -> SlopedBore:
    start = (draw(coordinates), draw(coordinates), draw(coordinates))
    way = (draw(st.floats(5, 30)), 0.0, draw(st.floats(5, 30)))
    return SlopedBore(start, (start[0] + way[0], start[1], start[2] + way[2]), draw(st.floats(1, 6)))


pieces = prisms() | segments() | cones() | slopes()
ways = st.tuples(*[st.floats(-1, 1)] * 3).filter(lambda d: math.hypot(*d) > 0.1)


@given(one=prisms(), other=prisms())
def test_closing_in_agrees_with_the_closed_form(one: Prism, other: Prism) -> None:
    """The general method gives what the closed form gives, for prisms along one axis."""
    turned = Prism(one.axis, other.low, other.high, other.core_low, other.core_high, other.radius)

    assert _gap_of_convex(one, turned) == pytest.approx(gap_between(one, turned), abs=2e-5)


@given(one=pieces, other=pieces)
def test_distance_is_the_same_both_ways_and_never_less_than_that_of_the_boxes(one: Piece, other: Piece) -> None:
    gap = gap_between(one, other)

    assert gap == pytest.approx(gap_between(other, one), abs=2e-5)
    assert gap >= one.bounds.gap(other.bounds) - 2e-5


@given(one=pieces, other=pieces, samples=st.lists(st.tuples(ways, ways), min_size=1, max_size=20))
@settings(max_examples=30)
def test_no_two_points_are_nearer_than_the_distance(one: Piece, other: Piece, samples: list[tuple[Vec, Vec]]) -> None:
    """Outermost points in any directions, and all between them, are no nearer."""
    gap = gap_between(one, other)
    for a, b in samples:
        assert math.dist(one.support(a), other.support(b)) >= gap - 2e-5


@given(piece=pieces, way=ways)
def test_the_farthest_point_is_within_the_bounds(piece: Piece, way: Vec) -> None:
    bounds = piece.bounds
    for low, x, high in zip(bounds.low, piece.support(way), bounds.high, strict=True):
        assert low - 1e-9 <= x <= high + 1e-9


@given(piece=pieces, by=st.floats(0.1, 30))
def test_moved_away_by_its_own_size_and_more_it_is_that_much_apart(piece: Piece, by: float) -> None:
    """A block set `by` beyond the piece's highest place along w is exactly `by` away."""
    top = piece.bounds.high[2]
    block = Prism(W, top + by, top + by + 5, (-200, -200), (200, 200), 0.0)

    gap = gap_between(piece, block)

    assert by - 1e-5 <= gap <= by + 1e-9
