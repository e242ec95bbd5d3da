"""The small plan of a direction of feed: what is drawn is read back and judged, not the words."""

from __future__ import annotations

import pytest

from storyrod.drawing import Circle, Drawing, Path, Pen, Text, Tint, bounds_of
from storyrod.drawing.feed_plan import feed_plan
from storyrod.machining._feed import feed_like
from storyrod.model.feed import FeedKind
from tests.unit.drawing.checks import check


def arrows(kind: FeedKind) -> list[tuple[float, float]]:
    """Return the ways of the arrows of movement, each shaft as a vector."""
    shafts = [i for i in feed_plan(feed_like(kind)).items if isinstance(i, Path) and i.pen is Pen.MOVE]
    return [
        (s.points[1][0] - s.points[0][0], s.points[1][1] - s.points[0][1])
        for s in shafts
        if len(s.points) == 2 and (s.points[1][0] != s.points[0][0]) != (s.points[1][1] != s.points[0][1])
    ]


def heads(kind: FeedKind) -> list[Path]:
    return [i for i in feed_plan(feed_like(kind)).items if isinstance(i, Path) and i.pen is Pen.FEATURE and not i.fill]


def guide_is_beyond(kind: FeedKind) -> bool:
    items = feed_plan(feed_like(kind)).items
    guide = next(i for i in items if isinstance(i, Path) and i.fill is not None and i.fill.tint is Tint.JIG)
    (shaft,) = [i for i in items if isinstance(i, Path) and i.pen is Pen.MOVE and len(i.points) == 2]
    return min(y for _, y in guide.points) > shaft.points[0][1]


def test_router_and_work_are_drawn_going_opposite_ways_with_the_guide_beyond() -> None:
    ((hand, level),) = arrows(FeedKind.ALONG_STRAIGHT_EDGE)
    ((table, table_level),) = arrows(FeedKind.PAST_TABLE_FENCE)

    assert hand > 0 > table
    assert level == table_level == 0
    assert guide_is_beyond(FeedKind.ALONG_STRAIGHT_EDGE)
    assert guide_is_beyond(FeedKind.PAST_TABLE_FENCE)
    assert not guide_is_beyond(FeedKind.ALONG_SIDE_FENCE)


def test_the_cutter_is_drawn_turning_the_right_way() -> None:
    """The head points down at the right of a cutter that turns clockwise, up at the right of the other."""
    for kind, sense in ((FeedKind.ALONG_STRAIGHT_EDGE, -1), (FeedKind.PAST_TABLE_FENCE, 1)):
        head = next(h for h in heads(kind) if len(h.points) == 3)
        (ax, ay), (tx, ty), (bx, by) = head.points
        way = tx - (ax + bx) / 2, ty - (ay + by) / 2
        circles = [i for i in feed_plan(feed_like(kind)).items if isinstance(i, Circle) and i.pen is Pen.FEATURE]
        middle = circles[0].centre
        lever = tx - middle[0], ty - middle[1]
        assert (lever[0] * way[1] - lever[1] * way[0]) * sense > 0


def test_round_an_opening_the_far_arrow_goes_right_and_the_near_one_left() -> None:
    (far, near) = arrows(FeedKind.ROUND_OPENING)

    assert far[0] > 0 > near[0]


@pytest.mark.parametrize("kind", list(FeedKind))
def test_every_kind_has_its_plan_with_you_at_the_foot(kind: FeedKind) -> None:
    drawing = feed_plan(feed_like(kind))
    width, height = drawing.paper_size

    assert width <= 68
    assert height <= 54
    you = next(i for i in drawing.items if isinstance(i, Text) and i.text == "you")
    assert you.at[1] < 0
    assert bounds_of(drawing.items, 1.0).bottom < -6
    assert feed_like(kind).text in drawing.alt


def test_stop_blocks_meet_the_base_and_not_the_cutter() -> None:
    """A stop's face is half a base beyond the end of the cut; with two, the other as far before its beginning."""
    feed = feed_like(FeedKind.ALONG_STRAIGHT_EDGE)
    none, one, two = (feed_plan(feed, stops) for stops in (0, 1, 2))

    def blocks(drawing: Drawing) -> list[Path]:
        wood = [i for i in drawing.items if isinstance(i, Path) and i.fill is not None and i.fill.tint is Tint.JIG]
        return wood[1:]  # after the straight edge

    def across(path: Path) -> tuple[float, float]:
        return min(x for x, _ in path.points), max(x for x, _ in path.points)

    assert [len(blocks(d)) for d in (none, one, two)] == [0, 1, 2]
    base = next(across(i) for i in two.items if isinstance(i, Path) and i.pen is Pen.THIN)
    half = (base[1] - base[0]) / 2
    (ends_at,) = {across(i)[0] for i in two.items if isinstance(i, Path) and i.pen is Pen.CUT}
    channel = next(i for i in two.items if isinstance(i, Path) and i.pen is Pen.FEATURE and i.fill is not None)
    last, first = blocks(two)
    cutter = next(i.radius for i in two.items if isinstance(i, Circle) and i.pen is Pen.FEATURE)
    assert across(last)[0] == pytest.approx(ends_at + half)
    assert across(first)[1] == pytest.approx(across(channel)[0] + cutter - half)
    assert "stop block at either end" in two.alt
    assert feed_plan(feed_like(FeedKind.IN_SLOT), 2) == feed_plan(feed_like(FeedKind.IN_SLOT))
    check(two)
