"""An independent check of the direction of feed: a small model of a cutter that turns while it is moved over a board.

It shares no code with what sets the feed, and believes neither its words nor what it says of the cutter's turning: it
knows only that a router held in the hand has its motor above the work and a table has it below. From above the one
turns clockwise, the other anticlockwise.

Axes, seen from above by the person at the tool: x to the right, y away. The guide touches the line y = 0. Each pass is
a strip across y; what it cuts anew is what no earlier pass has cut. A tooth at that side of the cutter moves by the
spin; where it moves against the wood that comes to it, the pass is a conventional cut; where it moves with it, a climb
cut. In front of the cutter the teeth drive the wood to one side, and the tool to the other.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import Final

from storyrod.model.feature import Channel
from storyrod.model.machining import Setting
from storyrod.model.workshop import Registration, ToolKind

Vector = tuple[float, float]
Strip = tuple[float, float]  # from low to high y

_MOTOR_ABOVE: Final = (ToolKind.ROUTER,)
_MOTOR_BELOW: Final = (ToolKind.ROUTER_TABLE,)
_SAME: Final = 0.06  # mm: finer than any strip

_WAYS: Final[dict[str, Vector]] = {
    "left to right": (1.0, 0.0),
    "right to left": (-1.0, 0.0),
    "away from you": (0.0, 1.0),
}


def channel_faults(setting: Setting, shape: Channel) -> Iterator[str | None]:
    """Yield for every pass of a routed channel, and for the whole of it, what is wrong; None for what is right."""
    turn = _turn(setting.tool_kind)
    if turn is None:
        return
    feed = setting.feed
    if feed is None or feed.way.value not in _WAYS or not setting.beside:
        yield "its direction of feed or its passes are not said"
        return
    over_work = _over_work(feed.moves.value, _WAYS[feed.way.value])
    away = -1.0 if feed.guide_side.value == "beyond" else 1.0
    near = setting.fence if setting.fence is not None else 0.0
    free = _board(setting, shape, near)
    width = setting.cutter_diameter
    cut: list[Strip] = []
    for one in setting.beside:
        start = near + one.offset
        strip = (start, start + width)
        new = _left_of(strip, free, cut)
        cut.append(strip)
        yield _pass_fault(new, strip, turn=turn, over_work=over_work, away=away)
    yield _whole_fault(cut, near, shape.width, open_far=free[1] < near + shape.width + _SAME)
    yield _pull_fault(turn, over_work, away, tool_moves=feed.moves.value == "tool", at_edge=_at_edge(setting))


def round_faults(setting: Setting) -> Iterator[str | None]:
    """Yield whether a router that goes round the inside of an opening cuts against its rotation."""
    turn = _turn(setting.tool_kind)
    feed = setting.feed
    if turn is None or feed is None or "clockwise" not in feed.way.value:
        return
    # At the far side of the opening the wall lies beyond; clockwise from above is to the right there.
    along = -1.0 if "anti" in feed.way.value else 1.0
    climbs = _climbs(turn, (0.0, 1.0), (along, 0.0))
    yield "it climbs round the opening" if climbs else None


def _turn(kind: ToolKind) -> float | None:
    """Return the sense of turning from above: -1 clockwise, 1 anticlockwise; None where the axis is not upright."""
    if kind in _MOTOR_ABOVE:
        return -1.0
    return 1.0 if kind in _MOTOR_BELOW else None


def _over_work(moves: str, way: Vector) -> Vector:
    """Return how the cutter moves over the work, whichever of them is pushed."""
    return way if moves == "tool" else (-way[0], -way[1])


def _board(setting: Setting, shape: Channel, near: float) -> Strip:
    """Return where there is board, by distance from the guide: a rebate has none beyond its open side."""
    if shape.kind == "rebate" and setting.registration is Registration.LINE:
        return (-1e6, near + shape.width)
    if setting.registration is Registration.EDGE:
        return (0.0, 1e6)
    return (-1e6, 1e6)


def _left_of(strip: Strip, free: Strip, cut: list[Strip]) -> list[Strip]:
    """Return what of a strip is board that no earlier pass has cut."""
    pieces = [(max(strip[0], free[0]), min(strip[1], free[1]))]
    for low, high in cut:
        pieces = [p for a, b in pieces for p in ((a, min(b, low)), (max(a, high), b))]
    return [(a, b) for a, b in pieces if b - a > _SAME]


def _pass_fault(new: list[Strip], strip: Strip, *, turn: float, over_work: Vector, away: float) -> str | None:
    if not new:
        return "a pass cuts nothing"
    at_near = new[0][0] - strip[0] < _SAME
    at_far = strip[1] - new[-1][1] < _SAME
    if at_near == at_far:  # both walls at once: in solid wood neither side outweighs the other
        return None if at_near else "a pass cuts no wall"
    side = (0.0, -away if at_near else away)
    return "a pass climbs" if _climbs(turn, side, over_work) else None


def _climbs(turn: float, side: Vector, over_work: Vector) -> bool:
    """Return whether the teeth at one side of the cutter move with the wood that comes to it."""
    tooth = (-turn * side[1], turn * side[0])
    wood = (-over_work[0], -over_work[1])
    return tooth[0] * wood[0] + tooth[1] * wood[1] > 0


def _whole_fault(cut: list[Strip], near: float, width: float, *, open_far: bool) -> str | None:
    cut = sorted(cut)
    gaps = any(b[0] - a[1] > _SAME for a, b in pairwise(cut))
    high = max(b for _, b in cut)
    short = high < near + width - _SAME
    wide = not open_far and high > near + width + _SAME
    right = abs(cut[0][0] - near) <= _SAME and not gaps and not short and not wide
    return None if right else f"its passes cut {cut[0][0]:g} to {high:g}, not {near:g} to {near + width:g}"


def _at_edge(setting: Setting) -> bool:
    """Return whether the guide is on the tool and runs on the board's edge from outside."""
    return setting.registration is Registration.EDGE and setting.tool_kind in _MOTOR_ABOVE


def _pull_fault(turn: float, over_work: Vector, away: float, *, tool_moves: bool, at_edge: bool) -> str | None:
    """The teeth in front drive the wood one way and the tool the other: that must press it on the guide."""
    front_y = turn * over_work[0]  # of the tooth ahead of the cutter, across the feed
    on_mover = -front_y if tool_moves else front_y
    toward_guide = away if at_edge else -away
    return None if on_mover * toward_guide > 0 else "the cutter pulls it away from its guide"
