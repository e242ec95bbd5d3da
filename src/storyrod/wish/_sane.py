"""What of a wish can be seen to be wrong before anything is searched for: each field, what was found and what to do."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from storyrod.faults import Fault
from storyrod.model.wish import DRAWER_ROOM, HAND_ROOM, HANG_ROOM, Goods, Grows, Reach, Way, Wish
from storyrod.wish._space import BEHIND, LEAST_ROW, TENTHS, Space, is_hung


def faults_of(space: Space) -> tuple[Fault, ...]:
    """Return every fault of a wish that needs no search."""
    wish = space.wish
    found = [*_of_place(space), *_of_look(wish, space.goods)]
    if not space.goods:
        found.append(
            _fault(
                "wish-empty",
                "things",
                "nothing to put in",
                "one thing or more",
                'Write a table [[things]], such as thing = "folder" and count = 20.',
            )
        )
    for goods in space.goods:
        found += _of_goods(space, goods)
    return tuple(found) if found else tuple(_of_volume(space))


def _of_place(space: Space) -> Iterator[Fault]:
    told = space.base.lengths.told
    board = space.board.measured
    place = space.wish.place
    least = {
        "width": 80.0 + place.clearance,
        "height": place.plinth + 2 * board + LEAST_ROW,
        "depth": 60.0 + place.skirting + board + space.back,
    }
    for size, need in least.items():
        found = getattr(place, size)
        if found < need - 1e-6:
            yield _fault(
                "wish-place",
                f"{place.field}.{size}",
                told(found),
                f"at least {told(math.ceil(need))}: boards of {told(board)}, and a row between them",
                "Measure the place again, or choose a thinner board.",
            )
    if place.slope_low is not None and place.slope_low > place.height:
        yield _fault(
            "wish-place",
            f"{place.field}.slope_low",
            f"{told(place.slope_low)} at the low side",
            f"up to the height of the place, {told(place.height)}",
            "Swap the two heights.",
        )
    if 0 < place.plinth < 20:
        yield _fault(
            "wish-place",
            f"{place.field}.plinth",
            told(place.plinth),
            f"0 for none, or {told(20)} and more",
            "Write 0, or a height that a board can be cut to.",
        )


def _of_look(wish: Wish, goods: Sequence[Goods]) -> Iterator[Fault]:
    look = wish.look
    if look.lines and look.columns == 1:
        yield _fault(
            "wish-look",
            f"{look.field}.lines",
            "lines that run through, and one column",
            "two columns or more for lines to run through",
            "Write columns = 2, or leave `lines` out.",
        )
    if look.drawers is Grows.DEEPER and not any(g.reach is Reach.DRAWER for g in goods):
        yield _fault(
            "wish-look",
            f"{look.field}.drawers",
            "drawers that grow deeper, and nothing that goes into a drawer",
            'a thing with reach = "drawer"',
            "Put something into drawers, or leave `drawers` out.",
        )
    if look.lines and look.drawers is Grows.DEEPER and look.columns != 1:
        yield _fault(
            "wish-look",
            f"{look.field}.drawers",
            "drawers that grow deeper, and lines that run through every column",
            "one of the two: lines run through rows of equal height",
            "Leave `lines` or `drawers` out.",
        )


def _of_goods(space: Space, goods: Goods) -> Iterator[Fault]:
    told, place = space.base.lengths.told, space.wish.place
    if is_hung(goods) is not (goods.way is Way.HANGS) or (goods.reach is Reach.HANGING and not is_hung(goods)):
        yield _fault(
            "wish-reach",
            f"{goods.field}.reach",
            f'"{goods.reach.value}" for {goods.name}, which do not hang',
            '"open", "door" or "drawer"',
            'Say how they are reached, or write way = "hangs".',
        )
    if is_hung(goods) and goods.reach is Reach.DRAWER:
        yield _fault(
            "wish-reach",
            f"{goods.field}.reach",
            f'"drawer" for {goods.name}, which hang',
            '"hanging", or "door" for a rail behind doors',
            'Hang them, or write way = "lies" with their sizes folded.',
        )
    over = HANG_ROOM if is_hung(goods) else DRAWER_ROOM if goods.reach is Reach.DRAWER else HAND_ROOM
    most = {
        "width": space.width / TENTHS - 2 * space.t / TENTHS,
        "height": (space.height - space.plinth - 2 * space.t) / TENTHS - over,
        "depth": space.depth - space.back - (0.0 if goods.reach is Reach.DRAWER or is_hung(goods) else BEHIND),
    }
    turns = goods.reach is Reach.DRAWER and goods.width <= most["depth"] and goods.depth <= most["width"]
    for size, room in most.items():
        own = getattr(goods, size)
        if own > room + 1e-6 and not (turns and size != "height"):
            yield _fault(
                "wish-too-large",
                goods.field if not _is_own(space, goods, size) else f"{goods.field}.{size}",
                f"{goods.name} of {told(own)} in {size}",
                f"up to {told(max(0.0, math.floor(room * TENTHS) / TENTHS))}, which a place of "
                f"{told(getattr(place, size))} leaves inside the boards",
                f"Give the place more {size}, or keep the thing in another way.",
            )
    if goods.reach is Reach.DRAWER and not space.box_depth(space.depth - space.back):
        runner = space.runner
        least = math.ceil(space.runner_needs(min(runner.lengths)) + space.back) if runner is not None else 0
        yield _fault(
            "wish-runner",
            f"{place.field}.depth",
            f"{told(space.depth)} for the case",
            f'at least {told(least)} for the shortest runner "{runner.code}"' if runner is not None else "a runner",
            "Give the place more depth, name a shorter runner, or keep the things open or behind a door.",
        )


def _is_own(space: Space, goods: Goods, size: str) -> bool:
    """Return whether the wish itself wrote this size of a thing."""
    return any(p.field == goods.field and getattr(p, size) is not None for p in space.wish.things)


def _of_volume(space: Space) -> Iterator[Fault]:
    """Yield that there is more than the place can hold, by its room alone: no search is needed for that."""
    room = (
        max(0.0, space.width / TENTHS - 2 * space.t / TENTHS)
        * max(0.0, (space.height - space.plinth - 2 * space.t) / TENTHS)
        * max(0.0, space.depth - space.back)
    )
    for goods in space.goods:
        each = goods.width * goods.height * goods.depth
        if each * goods.count > room:
            most = math.floor(room / each)
            yield _fault(
                "wish-too-many",
                f"{goods.field}.count",
                f"{goods.count:,} {goods.name}",
                f"fewer than {most + 1:,}: packed without a gap they would fill the whole place",
                "Put in fewer, or give the place more room.",
            )


def _fault(code: str, at: str, found: str, allowed: str, do: str) -> Fault:
    return Fault(code=code, field=at, found=found, allowed=allowed, do=do)
