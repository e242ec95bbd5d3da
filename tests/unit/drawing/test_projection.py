"""What stands before what: tried by rays through the picture."""

from __future__ import annotations

import random
from collections.abc import Sequence

import pytest

from storyrod.drawing import View, painted
from storyrod.measure.space import AXES, Axis, Box, Point
from tests.unit.drawing.cabinets import detailed


def box(x: float, y: float, z: float, dx: float, dy: float, dz: float) -> Box:
    return Box(Point(x, y, z), Point(x + dx, y + dy, z + dz))


def met_first(boxes: Sequence[Box], at: tuple[float, float], view: View) -> int | None:
    """The box that a ray from the viewer through a place of the picture meets first, by exact geometry.

    A point on the ray: found by solving for the place in the plane y = 0, then moving along the way of looking.
    """
    ca, sa, ce, se = view._parts
    x = at[0] / ca
    z = (at[1] + x * sa * se) / ce
    start = Point(x, 0.0, z)
    # Moving by this keeps the place in the picture: from the viewer inward (y grows, x and z fall).
    way = Point(-sa, ca, -se / ce * (ca * ca + sa * sa))
    assert view.on(start) == pytest.approx(at)
    assert view.on(start + way) == pytest.approx(at)
    best: tuple[float, int] | None = None
    for n, b in enumerate(boxes):
        enter, leave = -1e9, 1e9
        for axis in AXES:
            lo, hi = b.span(axis)
            s, d = start.along(axis), way.along(axis)
            t = sorted(((lo - s) / d, (hi - s) / d))
            enter, leave = max(enter, t[0]), min(leave, t[1])
        if enter < leave - 1e-6 and (best is None or enter < best[0]):
            best = (enter, n)
    return None if best is None else best[1]


def painted_last(boxes: Sequence[Box], at: tuple[float, float], view: View) -> int | None:
    """The thing whose picture is painted last over a place."""
    across = []
    for axis in AXES:
        ex, ey = view.on(Point(0.0, 0.0, 0.0).with_(axis, 1.0))
        across.append(at[0] * ey - at[1] * ex)
    top = None
    for piece in painted(boxes, view):
        if all(lo < x < hi for x, (lo, hi) in zip(across, view.spans(piece.box), strict=True)):
            top = piece.thing
    return top


def probe(boxes: Sequence[Box], view: View, chance: random.Random, rays: int) -> int:
    """How many rays of chance meet another box first than the one painted last."""
    spans = [[f(b.span(a)) for b in boxes] for a in AXES for f in (min, max)]
    wrong = 0
    for _ in range(rays):
        p = Point(*(chance.uniform(min(spans[2 * k]), max(spans[2 * k + 1])) for k in range(3)))
        at = view.on(p)
        wrong += met_first(boxes, at, view) != painted_last(boxes, at, view)
    return wrong


@pytest.mark.parametrize("seed", range(6))
def test_boxes_of_chance_that_do_not_overlap_are_painted_right(seed: int) -> None:
    chance = random.Random(seed)
    boxes: list[Box] = []
    while len(boxes) < 14:
        size = [chance.choice([18.0, 60.0, 200.0, 400.0]) for _ in range(3)]
        new = box(*(chance.uniform(0, 600) for _ in range(3)), *size)
        if not any(new.intersects(other) for other in boxes):
            boxes.append(new)

    assert probe(boxes, View(), chance, 120) == 0


@pytest.mark.parametrize("view", [View(), View(turn_deg=45.0, tilt_deg=35.0), View(turn_deg=10.0, tilt_deg=60.0)])
def test_three_bars_in_a_ring_are_cut_and_painted_right(view: View) -> None:
    """Each bar lies before the next: no order of whole boxes is right."""
    ring = [
        box(0.0, -30.0, 80.0, 100.0, 20.0, 20.0),
        box(80.0, -100.0, 0.0, 20.0, 100.0, 20.0),
        box(20.0, -110.0, 10.0, 20.0, 20.0, 100.0),
    ]

    assert probe(ring, view, random.Random(1), 400) == 0


def test_a_ring_is_found_and_cut() -> None:
    a, b = 100.0, 10.0
    ring = [box(-10, 0, 30, a, b, b), box(30, -10, 0, b, a, b), box(0, 30, -10, b, b, a)]
    found = []
    for turn in (20.0, 35.0, 45.0, 60.0):
        view = View(turn_deg=turn, tilt_deg=30.0)
        found.append(len(painted(ring, view)))
        assert probe(ring, view, random.Random(3), 300) == 0

    assert max(found) >= 3


def test_a_cabinet_with_butt_joints_is_painted_right() -> None:
    boxes = [p.box for p in detailed().panels]

    assert probe(boxes, View(), random.Random(5), 250) == 0


def test_the_order_of_input_does_not_change_what_is_seen() -> None:
    boxes = [p.box for p in detailed().panels]
    view, chance = View(), random.Random(7)
    back = list(reversed(boxes))

    for _ in range(60):
        at = view.on(Point(chance.uniform(0, 900), chance.uniform(0, 420), chance.uniform(0, 900)))
        one, other = painted_last(boxes, at, view), painted_last(back, at, view)
        assert (None if one is None else boxes[one]) == (None if other is None else back[other])


def test_up_is_up_and_right_is_right() -> None:
    view = View()
    x0, y0 = view.on(Point(0, 0, 0))

    assert view.on(Point(100, 0, 0))[0] > x0
    assert view.on(Point(0, 0, 100)) == pytest.approx((x0, y0 + 100 * view._parts[2]))
    assert view.on(Point(0, 100, 0))[1] > y0
    assert Axis.X in AXES
