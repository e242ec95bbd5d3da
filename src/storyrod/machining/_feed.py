"""Direction of feed, and the order of the passes that widen a channel.

A router held in the hand turns clockwise seen from above: it cuts against its rotation where the wood lies to the left
of its way. The cutter of a table turns anticlockwise: there the wood lies to the right of the cutter's way over the
work. So a channel is widened toward the guide by hand, and away from the fence on a table. Source of the rule: a router
workshop's page on direction; the geometry is proven anew by `_check_feed`.
"""

from __future__ import annotations

from typing import Final

from storyrod.machining._minutes import side_passes
from storyrod.machining._packers import stack_packers
from storyrod.machining._ways import Choice
from storyrod.model.bench_lines import feed_words
from storyrod.model.feature import Channel, CutOut, Hole, Keyhole, Shape, Slot, UndercutSlot
from storyrod.model.feed import Feed, FeedKind, FeedWay, Guide, GuideSide, Moves, Spin
from storyrod.model.machining import SidePass, Wall
from storyrod.model.workshop import Along, Cutter, CutterKind, Registration, ToolKind, Workshop

STRIP_NEAR: Final = 0.05
"""How near a strip between straight edge and base comes to its thickness (mm): a housing's fit depends on it."""

_DONE: Final = 0.05  # a cutter this near to the width of a cut makes it in one pass

_HAND: Final = Spin.CLOCKWISE
_TABLE: Final = Spin.ANTICLOCKWISE
_NONE: Final = Spin.NONE

_FEEDS: Final[dict[FeedKind, tuple[Moves, FeedWay, Guide, GuideSide, Spin]]] = {
    FeedKind.ALONG_STRAIGHT_EDGE: (Moves.TOOL, FeedWay.RIGHT, Guide.STRAIGHT_EDGE, GuideSide.BEYOND, _HAND),
    FeedKind.ALONG_SIDE_FENCE: (Moves.TOOL, FeedWay.RIGHT, Guide.SIDE_FENCE, GuideSide.TOWARD_YOU, _HAND),
    FeedKind.PAST_TABLE_FENCE: (Moves.WORK, FeedWay.LEFT, Guide.FENCE, GuideSide.BEYOND, _TABLE),
    FeedKind.ROUND_OPENING: (Moves.TOOL, FeedWay.CLOCKWISE, Guide.TEMPLATE, GuideSide.AROUND, _HAND),
    FeedKind.IN_SLOT: (Moves.TOOL, FeedWay.AWAY, Guide.TEMPLATE, GuideSide.AROUND, _HAND),
    FeedKind.INTO_HOLE: (Moves.TOOL, FeedWay.IN, Guide.TEMPLATE, GuideSide.AROUND, _HAND),
    FeedKind.KEYHOLE: (Moves.TOOL, FeedWay.THERE_AND_BACK, Guide.TEMPLATE, GuideSide.AROUND, _HAND),
    FeedKind.UNDERCUT_SLOT: (Moves.TOOL, FeedWay.THERE_AND_BACK, Guide.TEMPLATE, GuideSide.AROUND, _HAND),
    FeedKind.UNDERCUT_FROM_BASE: (Moves.TOOL, FeedWay.IN, Guide.BASE, GuideSide.NONE, _NONE),
    FeedKind.PLUNGE: (Moves.TOOL, FeedWay.IN, Guide.BASE, GuideSide.NONE, _NONE),
    FeedKind.DRILL: (Moves.TOOL, FeedWay.IN, Guide.LINES, GuideSide.NONE, _NONE),
    FeedKind.DRILL_PRESS: (Moves.TOOL, FeedWay.IN, Guide.FENCE, GuideSide.BEYOND, _HAND),
    FeedKind.POCKET: (Moves.TOOL, FeedWay.IN, Guide.JIG, GuideSide.NONE, _NONE),
    FeedKind.SAW_TABLE: (Moves.WORK, FeedWay.AWAY, Guide.FENCE, GuideSide.RIGHT, _NONE),
    FeedKind.SAW_RAIL: (Moves.TOOL, FeedWay.AWAY, Guide.RAIL, GuideSide.LEFT, _NONE),
    FeedKind.HAND_SAW: (Moves.TOOL, FeedWay.AWAY, Guide.LINES, GuideSide.NONE, _NONE),
    FeedKind.JIGSAW: (Moves.TOOL, FeedWay.AWAY, Guide.LINES, GuideSide.NONE, _NONE),
    FeedKind.PROGRAM: (Moves.TOOL, FeedWay.PROGRAM, Guide.MACHINE, GuideSide.NONE, _HAND),
}

_BY_TOOL: Final[dict[ToolKind, FeedKind]] = {
    ToolKind.ROUTER_TABLE: FeedKind.PAST_TABLE_FENCE,
    ToolKind.DISC_CUTTER: FeedKind.PLUNGE,
    ToolKind.LOOSE_TENON_CUTTER: FeedKind.PLUNGE,
    ToolKind.UNDERCUT_CUTTER: FeedKind.UNDERCUT_FROM_BASE,
    ToolKind.HAND_DRILL: FeedKind.DRILL,
    ToolKind.DRILL_JIG: FeedKind.DRILL,
    ToolKind.DRILL_PRESS: FeedKind.DRILL_PRESS,
    ToolKind.POCKET_JIG: FeedKind.POCKET,
    ToolKind.TABLE_SAW: FeedKind.SAW_TABLE,
    ToolKind.TRACK_SAW: FeedKind.SAW_RAIL,
    ToolKind.HAND_SAW: FeedKind.HAND_SAW,
    ToolKind.JIGSAW: FeedKind.JIGSAW,
    ToolKind.NC_ROUTER: FeedKind.PROGRAM,
}


def feed_of(choice: Choice, shape: Shape) -> Feed:
    """Return which way tool or work goes for a cut made this way."""
    kind = _router_kind(choice, shape) if choice.tool.kind is ToolKind.ROUTER else _BY_TOOL[choice.tool.kind]
    return feed_like(kind, guide=_drill_guide(choice) if kind is FeedKind.DRILL else None)


def feed_like(kind: FeedKind, *, guide: Guide | None = None) -> Feed:
    """Return the feed of a kind; `guide` where it is another than the usual one."""
    moves, way, usual, side, spin = _FEEDS[kind]
    words = feed_words(kind)
    return Feed(
        kind=kind,
        moves=moves,
        way=way,
        guide=guide or usual,
        guide_side=side,
        spin=spin,
        text=words.line,
        more=words.more,
    )


def _router_kind(choice: Choice, shape: Shape) -> FeedKind:
    if choice.way.registration is Registration.LINE:
        return FeedKind.ALONG_STRAIGHT_EDGE
    if choice.way.registration is Registration.EDGE and isinstance(shape, Channel):
        return FeedKind.ALONG_SIDE_FENCE
    if isinstance(shape, Keyhole):
        return FeedKind.KEYHOLE
    if isinstance(shape, UndercutSlot):
        return FeedKind.UNDERCUT_SLOT
    return _template_kind(choice.cutter, shape)


def _template_kind(cutter: Cutter | None, shape: Shape) -> FeedKind:
    size = cutter.diameter if cutter is not None else 0.0
    if isinstance(shape, Hole):
        return FeedKind.INTO_HOLE if shape.diameter - size <= _DONE else FeedKind.ROUND_OPENING
    if isinstance(shape, Slot):
        return FeedKind.IN_SLOT if shape.width - size <= _DONE else FeedKind.ROUND_OPENING
    if isinstance(shape, CutOut) and shape.outline == "slot" and shape.height - size <= _DONE:
        return FeedKind.IN_SLOT
    return FeedKind.ROUND_OPENING


def _drill_guide(choice: Choice) -> Guide:
    if choice.way.registration is Registration.MATE:
        return Guide.MATE
    return Guide.JIG if choice.way.along is Along.JIG or choice.tool.kind is ToolKind.DRILL_JIG else Guide.LINES


def cut_width(cutter: Cutter) -> float:
    """Return how wide one pass of a cutter is: the kerf of a blade, the diameter of the others."""
    return cutter.width if cutter.kind is CutterKind.SAW_BLADE and cutter.width else cutter.diameter


def passes_beside(choice: Choice, shape: Shape, workshop: Workshop) -> tuple[SidePass, ...]:
    """Return the passes of a channel beside each other, in an order in which none of them climbs."""
    if not isinstance(shape, Channel) or choice.cutter is None or choice.tool.kind is ToolKind.NC_ROUTER:
        return ()
    count = side_passes(choice, shape)
    over = max(0.0, shape.width - cut_width(choice.cutter))
    if count == 1:
        return (SidePass(offset=0.0, wall=Wall.BOTH),)
    by_strip = choice.way.registration is Registration.LINE
    passes = []
    for n in range(count):
        offset = round(over * n / (count - 1), 3)
        strip = stack_packers(offset, workshop.packers, STRIP_NEAR) if by_strip and offset else None
        wall = Wall.NEAR if n == 0 else Wall.FAR if n == count - 1 else Wall.NONE
        is_open = shape.kind == "rebate" and wall is (Wall.FAR if by_strip else Wall.NEAR)
        passes.append(SidePass(offset=offset, wall=Wall.OPEN if is_open else wall, strip=strip))
    return tuple(reversed(passes)) if by_strip else tuple(passes)
