"""Whether a planned job keeps a wish: every thing is put into its opening, box by box, among the panels as planned.

It shares no code with the search. It reads the built cases alone: clear boxes after runners, backs, doors and loose
shelves, and each panel where it stands.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from storyrod.measure.space import Axis, Box, Point
from storyrod.model.carcass import BuiltCase, OpeningPlace
from storyrod.model.job import Holds
from storyrod.model.panel import Role
from storyrod.model.wish import (
    DRAWER_ROOM,
    HAND_ROOM,
    HANG_ROOM,
    REACH_HEIGHTS,
    Bound,
    Goods,
    Misfit,
    Reach,
    Stand,
    Way,
    Wish,
    Zone,
)

DUST: Final = 1e-6
"""Float dust of sums of sizes (mm)."""

ROUNDED: Final = 1.0
"""A place is filled where no more than this is left beside the case (mm): a case is set in by the eye."""

_CLOSED: Final = {Holds.DOOR, Holds.PAIR_OF_DOORS}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Room:
    """Clear boxes of one opening, in which things of one kind stand alike: `levels` from the top down."""

    opening: OpeningPlace
    levels: tuple[Box, ...]
    drawer: bool
    rail: float | None
    rail_y: float


def check_fit(
    cases: Sequence[BuiltCase], goods: Sequence[Goods], stands: Sequence[Stand], wish: Wish
) -> tuple[Misfit, ...]:
    """Return every wish that planned cases do not keep with the things standing as they are said to."""
    found = [*_of_place(cases, wish)]
    placed = [0] * len(goods)
    for stand in stands:
        case = next((c for c in cases if c.case.code == stand.case), None)
        opening = None if case is None else next((o for o in case.openings if o.cause == stand.opening), None)
        if case is None or opening is None:
            found.append(Misfit(code="opening", goods=stand.goods, where=stand.opening, wanted=1, found=0))
            continue
        own = goods[stand.goods]
        room = _room(case, opening)
        found += _of_reach(case, room, own, stand.goods)
        found += _of_zone(room, own, stand.goods, wish)
        boxes = _packed(room, own)[: stand.count]
        if len(boxes) < stand.count:
            code, where = "size", opening.cause
            found.append(Misfit(code=code, goods=stand.goods, where=where, wanted=stand.count, found=len(boxes)))
        found += _of_collisions(case, boxes, stand.goods, opening.cause)
        placed[stand.goods] += len(boxes)
    for number, own in enumerate(goods):
        if placed[number] < own.count:
            found.append(Misfit(code="count", goods=number, where="", wanted=own.count, found=placed[number]))
    return tuple(found)


def things_in(case: BuiltCase, own: Goods, stand: Stand) -> tuple[Box, ...]:
    """Return a box for each thing that stands in an opening, as they are packed; none where the opening is gone."""
    opening = next((o for o in case.openings if o.cause == stand.opening), None)
    return () if opening is None else tuple(_packed(_room(case, opening), own)[: stand.count])


def check_room(cases: Sequence[BuiltCase], goods: Sequence[Goods], wish: Wish) -> tuple[Misfit, ...]:
    """Return every wish that planned cases do not keep wherever the things are put: what no longer fits in.

    One opening takes things of one kind. All ways to share openings out are tried; of those the one that leaves the
    fewest things over is told.
    """
    holds = [_holds(case, opening, goods, wish) for case in cases for opening in _leaves(case)]
    left = _shared_out(holds, tuple(g.count for g in goods))
    return (
        *_of_place(cases, wish),
        *(
            Misfit(code="count", goods=n, where="", wanted=goods[n].count, found=goods[n].count - over)
            for n, over in enumerate(left)
            if over
        ),
    )


def _shared_out(holds: Sequence[Mapping[int, int]], wanted: tuple[int, ...]) -> tuple[int, ...]:
    """Return how many things of each kind are left over where openings are shared out best."""
    states = {wanted}
    for room in holds:
        after = set(states)
        for left in states:
            for number, count in room.items():
                if left[number]:
                    after.add((*left[:number], max(0, left[number] - count), *left[number + 1 :]))
        states = after
        if any(not any(left) for left in states):
            return tuple(0 for _ in wanted)
    return min(states, key=lambda left: (sum(left), left))


def _holds(case: BuiltCase, opening: OpeningPlace, goods: Sequence[Goods], wish: Wish) -> dict[int, int]:
    """Return how many things of each kind an opening holds; only of kinds that may stand there."""
    room = _room(case, opening)
    found = {}
    for number, own in enumerate(goods):
        if any(True for _ in _of_reach(case, room, own, number)) or any(
            True for _ in _of_zone(room, own, number, wish)
        ):
            continue
        boxes = _packed(room, own)
        free = [box for box in boxes if not any(_meet(box, panel.box) for panel in case.panels)]
        if free:
            found[number] = len(free)
    return found


def _leaves(case: BuiltCase) -> Iterator[OpeningPlace]:
    yield from (o for o in case.openings if not o.children)


# --- The room of an opening -------------------------------------------------------------------------------------------


def _room(case: BuiltCase, opening: OpeningPlace) -> _Room:
    drawer = next((d for d in case.drawers if d.opening == opening.id), None)
    if drawer is not None:
        return _Room(opening=opening, levels=(drawer.inside,), drawer=True, rail=None, rail_y=0.0)
    rail = next((r for r in case.rails if r.opening == opening.id), None)
    if rail is not None:
        middle = rail.box.centre
        return _Room(opening=opening, levels=(opening.box,), drawer=False, rail=middle.z, rail_y=middle.y)
    shelves = [p.box for p in case.panels if p.role is Role.LOOSE_SHELF and p.opening == opening.id]
    levels, top = [], opening.box.high.z
    for shelf in sorted(shelves, key=lambda b: -b.high.z):
        levels.append(_between(opening.box, shelf.high.z, top))
        top = shelf.low.z
    levels.append(_between(opening.box, opening.box.low.z, top))
    return _Room(opening=opening, levels=tuple(levels), drawer=False, rail=None, rail_y=0.0)


def _between(box: Box, low: float, high: float) -> Box:
    return Box(box.low.with_(Axis.Z, low), box.high.with_(Axis.Z, high))


def _packed(room: _Room, goods: Goods) -> list[Box]:
    """Return a box for each thing that the room holds, side by side, and in a drawer behind one another."""
    if room.rail is not None:
        return _hung(room, goods) if goods.way is Way.HANGS else []
    if goods.way is Way.HANGS:
        return []
    ways = ((goods.width, goods.depth), (goods.depth, goods.width)) if room.drawer else ((goods.width, goods.depth),)
    packed = [_rows(room, goods, width, depth) for width, depth in ways]
    return max(packed, key=len)


def _rows(room: _Room, goods: Goods, width: float, depth: float) -> list[Box]:
    found = []
    over = DRAWER_ROOM if room.drawer else HAND_ROOM
    for level in room.levels:
        x, y, z = level.low.x, level.low.y, level.low.z
        across = math.floor((level.size(Axis.X) + DUST) / width)
        behind = math.floor((level.size(Axis.Y) + DUST) / depth)
        high = math.floor((level.size(Axis.Z) - over + DUST) / goods.height)
        behind = behind if room.drawer else min(behind, 1)
        high = min(high, goods.stack if goods.way is Way.LIES else 1)
        for i in range(across):
            for j in range(behind):
                for k in range(high):
                    low = Point(x + i * width, y + j * depth, z + k * goods.height)
                    found.append(Box(low, Point(low.x + width, low.y + depth, low.z + goods.height)))
    return found


def _hung(room: _Room, goods: Goods) -> list[Box]:
    assert room.rail is not None  # noqa: S101 - asked for rooms with a rail
    (level,) = room.levels
    low = room.rail - goods.height
    near, far = room.rail_y - goods.depth / 2, room.rail_y + goods.depth / 2
    if low - HANG_ROOM < level.low.z - DUST or near < level.low.y - DUST or far > level.high.y + DUST:
        return []
    count = math.floor((level.size(Axis.X) + DUST) / goods.width)
    starts = (level.low.x + i * goods.width for i in range(count))
    return [Box(Point(x, near, low), Point(x + goods.width, far, room.rail)) for x in starts]


# --- The rules --------------------------------------------------------------------------------------------------------


def _of_collisions(case: BuiltCase, boxes: Sequence[Box], number: int, where: str) -> Iterator[Misfit]:
    for box in boxes:
        if any(_meet(box, panel.box) for panel in case.panels):
            yield Misfit(code="collision", goods=number, where=where, wanted=0, found=1)
            return


def _meet(a: Box, b: Box) -> bool:
    return all(a.low.along(x) < b.high.along(x) - DUST and b.low.along(x) < a.high.along(x) - DUST for x in Axis)


def _of_reach(case: BuiltCase, room: _Room, goods: Goods, number: int) -> Iterator[Misfit]:
    """Say where things are behind a door that were wanted open, or the other way round."""
    closed = any(o.holds in _CLOSED for o in _over(case, room.opening))
    kept = {
        Reach.DRAWER: room.drawer,
        Reach.DOOR: closed and not room.drawer,
        Reach.OPEN: not closed and not room.drawer,
        Reach.HANGING: not closed and room.rail is not None,
    }[goods.reach]
    if not kept:
        yield Misfit(code="reach", goods=number, where=room.opening.cause, wanted=1, found=0)


def _over(case: BuiltCase, opening: OpeningPlace) -> Iterator[OpeningPlace]:
    """Yield an opening and all that it lies within."""
    yield opening
    outer = next((o for o in case.openings if opening.id in o.children), None)
    if outer is not None:
        yield from _over(case, outer)


def _of_zone(room: _Room, goods: Goods, number: int, wish: Wish) -> Iterator[Misfit]:
    """Say where things are out of reach, or not at the height that was wanted."""
    heights = REACH_HEIGHTS[wish.users]
    hangs = room.rail is not None
    for level in room.levels:
        grip = room.rail if room.rail is not None else level.low.z
        over = DRAWER_ROOM if room.drawer else HAND_ROOM
        layers = max(1, min(goods.stack, math.floor((level.size(Axis.Z) - over + DUST) / goods.height)))
        tall = 0.0 if hangs else goods.height * (layers if goods.way is Way.LIES else 1)
        low, high = heights.lowest - tall, heights.highest
        if goods.zone is Zone.NEAR:
            low, high = heights.near_from, heights.highest if hangs else heights.near_to
        elif goods.zone is Zone.LOW:
            high = heights.near_to if hangs else heights.low_to
        if not low - ROUNDED <= grip <= high + ROUNDED:
            wanted = low if grip < low else high
            yield Misfit(code="zone", goods=number, where=room.opening.cause, wanted=wanted, found=grip)
            return


def _of_place(cases: Sequence[BuiltCase], wish: Wish) -> Iterator[Misfit]:
    """Say where the cases together, their fronts with them, do not go into the place."""
    place = wish.place
    fronts = max((-min(p.box.low.y for p in c.panels) for c in cases), default=0.0)
    sizes = {
        "width": (math.fsum(c.case.width * c.case.count for c in cases), place.width - place.clearance, place.width_is),
        "height": (max(c.case.height for c in cases), place.height, place.height_is),
        "depth": (max(c.case.depth for c in cases) + fronts, place.depth - place.skirting, place.depth_is),
    }
    for size, (found, room, bound) in sizes.items():
        if found > room + DUST or (bound is Bound.EXACT and found < room - ROUNDED):
            yield Misfit(code="place", goods=-1, where=size, wanted=room, found=found)
    if place.slope_low is not None:
        high = place.height - (place.height - place.slope_low) * sizes["width"][0] / place.width
        if sizes["height"][0] > high + DUST:
            yield Misfit(code="place", goods=-1, where="slope", wanted=high, found=sizes["height"][0])
