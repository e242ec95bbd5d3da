"""Direction of feed and the order of widening passes, worked by hand, and the check that would not let a climb pass.

By hand: a router held above the work turns clockwise from above. Pushed to the right with the wood beyond it, its far
teeth run to the right, against the wood that comes from there. A table's cutter turns the other way, and the work is
pushed: everything is mirrored.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storyrod.drawing.feed_plan import feed_plan
from storyrod.machining import check_run
from storyrod.machining._cautions import cautions_for
from storyrod.machining._check_feed import channel_faults, round_faults
from storyrod.machining._feed import feed_like, passes_beside
from storyrod.machining._minutes import side_passes
from storyrod.machining._ways import Choice
from storyrod.measure.space import PanelAxis
from storyrod.measure.writing import METRIC
from storyrod.model.bench_lines import FEED_WORDS, LINE_WORDS, LineKind, bench_line
from storyrod.model.feature import Channel, CutOut
from storyrod.model.feed import FeedKind, FeedWay, GuideSide, Moves, Spin
from storyrod.model.job import Back, BackKind, Drawers, Holds, MethodChoice
from storyrod.model.machining import Setting, Wall
from storyrod.model.workshop import Along, Cutter, CutterKind, Registration, Tool, ToolKind, Way
from tests import builders
from tests.unit.machining.shops import SHOP, box, job, made, shop, worked

LINE, EDGE = Registration.LINE, Registration.EDGE
FENCE = {LINE: 69.0, EDGE: 10.0}


def choice(tool: ToolKind, registration: Registration, diameter: float) -> Choice:
    way = Way(
        code="w", name="w", tool=tool, makes=("groove", "rebate"), registration=registration, along=Along.RUN,
        cutter=CutterKind.STRAIGHT,
    )  # fmt: skip
    cutter = Cutter(code="c", kind=CutterKind.STRAIGHT, diameter=diameter, reach=50)
    return Choice(way, Tool(code="t", kind=tool, name="t", base_half=75), cutter, None, 0.0)


def channel(width: float, kind: str = "groove") -> Channel:
    return Channel(kind=kind, length=400, width=width, depth=6, run=PanelAxis.U)


def setting(tool: ToolKind, registration: Registration, kind: FeedKind, shape: Channel, diameter: float) -> Setting:
    taken = choice(tool, registration, diameter)
    fence = 0.0 if shape.kind == "rebate" and registration is EDGE else FENCE[registration]
    return Setting(
        way="w", way_name="w", tool="t", tool_name="t", tool_kind=tool, registration=registration, along=Along.RUN,
        cutter="c", cutter_name="straight", cutter_diameter=diameter, fence=fence,
        beside=passes_beside(taken, shape, SHOP), feed=feed_like(kind), passes=(1, side_passes(taken, shape)),
    )  # fmt: skip


THREE = [
    (ToolKind.ROUTER, LINE, FeedKind.ALONG_STRAIGHT_EDGE),
    (ToolKind.ROUTER, EDGE, FeedKind.ALONG_SIDE_FENCE),
    (ToolKind.ROUTER_TABLE, EDGE, FeedKind.PAST_TABLE_FENCE),
]


def wrong(s: Setting, shape: Channel) -> list[str]:
    return [f for f in channel_faults(s, shape) if f is not None]


@pytest.mark.parametrize(("tool", "registration", "kind"), THREE)
@given(width=st.floats(5, 60), diameter=st.floats(3, 25), rebate=st.booleans())
def test_no_pass_climbs_and_the_passes_cut_the_whole_width(
    tool: ToolKind, registration: Registration, kind: FeedKind, width: float, diameter: float, *, rebate: bool
) -> None:
    shape = channel(max(width, diameter), "rebate" if rebate else "groove")
    s = setting(tool, registration, kind, shape, diameter)

    assert wrong(s, shape) == []


@pytest.mark.parametrize(("tool", "registration", "kind"), THREE)
def test_the_other_order_of_passes_climbs(tool: ToolKind, registration: Registration, kind: FeedKind) -> None:
    shape = channel(18)
    s = setting(tool, registration, kind, shape, 12)

    assert wrong(replace(s, beside=s.beside[::-1]), shape) == ["a pass climbs"]


@pytest.mark.parametrize(("tool", "registration", "kind"), THREE)
def test_the_other_direction_climbs_and_runs_from_its_guide(
    tool: ToolKind, registration: Registration, kind: FeedKind
) -> None:
    shape = channel(18)
    s = setting(tool, registration, kind, shape, 12)
    assert s.feed is not None
    other = FeedWay.LEFT if s.feed.way is FeedWay.RIGHT else FeedWay.RIGHT

    found = wrong(replace(s, feed=replace(s.feed, way=other)), shape)
    assert found == ["a pass climbs", "the cutter pulls it away from its guide"]


def test_the_rule_of_the_hand_is_wrong_at_a_table() -> None:
    """A table fed as a router is pushed, from left to right, climbs."""
    shape = channel(18)
    s = setting(ToolKind.ROUTER_TABLE, EDGE, FeedKind.PAST_TABLE_FENCE, shape, 12)
    assert s.feed is not None
    fed_wrong = replace(s.feed, way=FeedWay.RIGHT)

    assert "a pass climbs" in wrong(replace(s, feed=fed_wrong), shape)


def test_passes_that_leave_a_rib_or_cut_too_wide_are_found() -> None:
    shape = channel(30)
    s = setting(ToolKind.ROUTER, LINE, FeedKind.ALONG_STRAIGHT_EDGE, shape, 12)
    far, middle, near = s.beside
    too_wide = (replace(far, offset=20.0), middle, near)

    assert any("its passes cut" in f for f in wrong(replace(s, beside=(far, near)), shape))
    assert any("its passes cut" in f for f in wrong(replace(s, beside=too_wide), shape))
    assert wrong(replace(s, beside=()), shape) == ["its direction of feed or its passes are not said"]


def test_a_rebate_by_hand_is_widened_from_its_open_edge_inward() -> None:
    s = setting(ToolKind.ROUTER, LINE, FeedKind.ALONG_STRAIGHT_EDGE, channel(20, "rebate"), 12)

    assert [(p.wall, p.offset) for p in s.beside] == [(Wall.OPEN, 8), (Wall.NEAR, 0)]


def test_a_housing_by_hand_takes_the_far_wall_first_over_a_strip() -> None:
    """18.1 with a cutter of 12: a strip of 6.1 between straight edge and base, then none."""
    _, work = worked(job(box(), methods=MethodChoice(corner="dowels", mid_panel="housing")))
    (housings,) = made(work, "housings")
    s = housings.setting

    assert s is not None
    assert [p.wall for p in s.beside] == [Wall.FAR, Wall.NEAR]
    assert s.beside[0].strip is not None
    assert s.beside[0].strip.made == pytest.approx(6.1, abs=0.05)
    assert s.beside[1].strip is None
    assert s.feed is not None
    assert (s.feed.moves, s.feed.way, s.feed.guide_side) == (Moves.TOOL, FeedWay.RIGHT, GuideSide.BEYOND)
    assert LineKind.WIDEN_FAR_FIRST in [c.kind for c in housings.cautions]


def test_a_groove_on_a_router_table_is_fed_from_right_to_left_near_wall_first() -> None:
    drawer = replace(
        box(),
        inside=replace(builders.opening(), holds=Holds.DRAWER),
        drawers=Drawers(board="b12", bottom_board="b6"),
    )
    _, work = worked(job(drawer), shop(tools=tuple(t for t in SHOP.tools if t.kind is not ToolKind.ROUTER)))
    grooves = made(work, "grooves")[0]
    s = grooves.setting

    assert s is not None
    assert s.tool_kind is ToolKind.ROUTER_TABLE
    assert [p.wall for p in s.beside] == [Wall.NEAR, Wall.FAR]
    assert s.feed is not None
    assert (s.feed.moves, s.feed.way, s.feed.spin) == (Moves.WORK, FeedWay.LEFT, Spin.ANTICLOCKWISE)
    assert LineKind.WIDEN_NEAR_FIRST in [c.kind for c in grooves.cautions]


def test_two_widths_with_one_cutter_are_two_settings() -> None:
    """Housings for boards of 18 and of 15 want strips of their own, though fence, cutter and depth are the same."""
    boards = (*builders.boards(), replace(builders.board(thickness=15.0), code="b15"))
    other = replace(box("B"), board="b15")
    _, work = worked(replace(job(box(), other, methods=MethodChoice(mid_panel="housing")), boards=boards))
    widths = {s.title.split()[1]: s.setting for s in made(work, "housings")}

    for s in made(work, "housings"):
        assert s.setting is not None
        for o in s.operations:
            assert o.what.split()[1].rstrip(",") == s.title.split()[1].rstrip(",")
    assert len(widths) == len(made(work, "housings"))


def test_round_an_opening_the_bush_goes_clockwise() -> None:
    s = setting(ToolKind.ROUTER, LINE, FeedKind.ROUND_OPENING, channel(12), 12)

    assert list(round_faults(s)) == [None]
    assert s.feed is not None


@pytest.mark.parametrize(
    ("length", "height", "kind", "width"),
    [
        (110, 28, LineKind.CORE_CLEARED, "4.0 mm"),  # 28 less 12 on either side
        (100, 24, None, ""),  # the cutter's way round leaves nothing
        (400, 300, LineKind.CORE_SCREWED, ""),
        (400, 64, LineKind.CORE_SCREWED, ""),  # 40, the least that holds a screw
        (400, 63, LineKind.CORE_CLEARED, "39.0 mm"),
    ],
)
def test_what_stands_within_an_opening_is_screwed_down_or_cleared_away(
    length: float, height: float, kind: LineKind | None, width: str
) -> None:
    """A sliver has no room for a screw beside the cutter, and would be thrown."""
    shape = CutOut(outline="slot", length=length, height=height, corner=6, depth=18, run=PanelAxis.U)
    s = replace(setting(ToolKind.ROUTER, LINE, FeedKind.ROUND_OPENING, channel(12), 12), through=True)
    told = {c.kind: c.text for c in cautions_for(s, (), shape, METRIC, cap=6)}

    assert ({LineKind.CORE_CLEARED, LineKind.CORE_SCREWED} & set(told)) == ({kind} if kind else set())
    assert width in told.get(kind, "") if kind else not width


def test_a_large_bit_in_a_drill_press_is_told_to_clamp_at_the_end_that_nothing_stops() -> None:
    """Turning clockwise it throws the left end beyond, to the fence, and the right end toward the person."""
    words = FEED_WORDS[FeedKind.DRILL_PRESS]
    drawn = {getattr(e, "text", "") for e in feed_plan(feed_like(FeedKind.DRILL_PRESS)).items}

    assert "right at you: clamp the work" in words.more
    assert {"fence", "clamp", "long end"} <= drawn


def test_the_check_of_the_run_names_a_set_up_that_climbs() -> None:
    plan, work = worked(job(box(), methods=MethodChoice(corner="dowels", mid_panel="housing")))
    (housings,) = made(work, "housings")
    assert housings.setting is not None
    turned = replace(housings, setting=replace(housings.setting, beside=housings.setting.beside[::-1]))
    broken = replace(work, set_ups=tuple(turned if s.id == housings.id else s for s in work.set_ups))

    assert check_run(work, plan.details, plan.set_out).faults == ()
    found = check_run(broken, plan.details, plan.set_out).faults
    assert found
    assert all(housings.id in f.found for f in found)
    assert all("climbs" in f.found for f in found)


def test_every_set_up_says_its_direction() -> None:
    back = Back(kind=BackKind.REBATED, board="b6")
    _, work = worked(job(replace(box(), back=back)), shop())
    for s in work.set_ups:
        if s.setting is not None:
            assert s.setting.feed is not None
            assert s.setting.feed.text.endswith(".")


def test_every_kind_of_line_has_one_sentence_and_every_gap_a_filler() -> None:
    assert set(LINE_WORDS) == set(LineKind)
    assert set(FEED_WORDS) == set(FeedKind)
    with pytest.raises(KeyError):
        bench_line(LineKind.SPEED)


SAID: dict[FeedKind, tuple[str, ...]] = {
    FeedKind.ALONG_STRAIGHT_EDGE: ("The router goes from left to right,", "straight edge beyond it", "turns clockwise"),
    FeedKind.ALONG_SIDE_FENCE: ("The router goes from left to right,", "toward you", "turns clockwise"),
    FeedKind.PAST_TABLE_FENCE: ("The work goes from right to left,", "fence beyond it", "turns anticlockwise"),
    FeedKind.ROUND_OPENING: ("The router goes clockwise round the inside", "The other way round it would climb"),
    FeedKind.IN_SLOT: ("The router goes along the slot, away from you", "let the cutter stop, then lift"),
    FeedKind.KEYHOLE: ("goes to the narrow end and comes back", "let the cutter stop, then lift"),
    FeedKind.UNDERCUT_SLOT: ("goes to the other end and comes back", "let the cutter stop, then lift"),
    FeedKind.DRILL_PRESS: ("fence beyond the work and the work clamped", "on the right at you"),
    FeedKind.SAW_TABLE: (
        "The work goes away from you, past the blade, with the fence to the right",
        "Stand to the left",
    ),
}
"""What a maker reads, worked by hand from which way the cutter turns: the words, not only what is drawn of them."""


@pytest.mark.parametrize("kind", SAID)
def test_the_sentence_on_the_card_says_the_way_that_was_worked_out(kind: FeedKind) -> None:
    feed = feed_like(kind)
    told = f"{feed.text} {feed.more}"

    for words in SAID[kind]:
        assert words in told
    assert told.startswith("The work" if feed.moves is Moves.WORK else ("The router", "The drill"))


def test_the_way_that_would_climb_is_named_as_the_one_that_climbs() -> None:
    """Each sentence names its own way first and the other as the one that climbs, never its own."""
    for kind, (way, other) in {
        FeedKind.ALONG_STRAIGHT_EDGE: ("left to right", "right to left"),
        FeedKind.ALONG_SIDE_FENCE: ("left to right", "right to left"),
        FeedKind.PAST_TABLE_FENCE: ("right to left", "left to right"),
    }.items():
        feed = feed_like(kind)
        assert feed.way.value == way
        assert f"from {way}" in feed.text
        assert f"from {other} it would climb" in feed.more
