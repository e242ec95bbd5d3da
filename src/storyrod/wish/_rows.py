"""How things can be put into a row: upright or lying, one behind another, turned in a drawer; what each way needs."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

from storyrod.model.fitting import UNDER_TOP
from storyrod.model.wish import DRAWER_ROOM, HAND_ROOM, HANG_ROOM, Goods, Reach, Way, Zone
from storyrod.wish._space import BEHIND, LEAST_ROW, Space, is_hung, up

PIN_PLAY: Final = 32.0
"""A loose shelf stands on the nearest row of holes: so much more height for each row, the pitch of the 32 mm system."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One way in which things of one kind fill a row; sizes in tenths.

    Attributes:
        goods: which of the things, from 0.
        pitch: what one file of them takes of the row's width; `lost` what the row loses besides.
        each: so many things are in one file; `layers` on one another, `turned` by a quarter.
        most: the most files that a drawer may carry.
        need: least clear height of the opening.
        floor: from the opening's floor to where the hand takes them.
        tall: height of the things themselves.
        over: whether it stands over what is wanted near the hand, where anything is; else under it.
    """

    goods: int
    reach: Reach
    pitch: int
    lost: int
    each: int
    layers: int
    turned: bool
    most: int
    need: int
    floor: int
    tall: int
    zone: Zone
    over: bool = False

    @property
    def drawer(self) -> bool:
        """Whether it is a drawer."""
        return self.reach is Reach.DRAWER


MOST_FILES: Final = 100_000
"""More files than any row has."""


def rows_for(space: Space, number: int, inside: float, *, loose: bool) -> tuple[Row, ...]:
    """Return every way in which things fill a row of an inside so deep (mm).

    Where something is wanted near the hand, what may stand anywhere may stand over it or under it: a way each.
    """
    rows = _ways(space, number, inside, loose=loose)
    if space.goods[number].zone is Zone.ANYWHERE and any(g.zone is Zone.NEAR for g in space.goods):
        return (*rows, *(replace(row, over=True) for row in rows))
    return rows


def _ways(space: Space, number: int, inside: float, *, loose: bool) -> tuple[Row, ...]:
    goods = space.goods[number]
    if is_hung(goods):
        return tuple(_hung(goods, number, inside))
    if goods.reach is Reach.DRAWER:
        return _fewest(tuple(_boxed(space, goods, number, inside)))
    return _fewest(tuple(_shelved(goods, number, inside, PIN_PLAY if loose else 0.0)))


def _hung(goods: Goods, number: int, inside: float) -> Iterator[Row]:
    if goods.depth > inside + 1e-6:
        return
    yield Row(
        goods=number,
        reach=goods.reach,
        pitch=up(goods.width),
        lost=0,
        each=1,
        layers=1,
        turned=False,
        most=MOST_FILES,
        need=up(UNDER_TOP + goods.height + HANG_ROOM),
        floor=up(goods.height + HANG_ROOM),
        tall=up(goods.height),
        zone=goods.zone,
    )


def _shelved(goods: Goods, number: int, inside: float, play: float) -> Iterator[Row]:
    if goods.depth + BEHIND > inside + 1e-6:
        return
    for layers in _layers(goods):
        tall = goods.height * layers
        yield Row(
            goods=number,
            reach=goods.reach,
            pitch=up(goods.width),
            lost=0,
            each=layers,
            layers=layers,
            turned=False,
            most=MOST_FILES,
            need=up(max(tall + HAND_ROOM, LEAST_ROW) + play),
            floor=0,
            tall=up(tall),
            zone=goods.zone,
        )


def _boxed(space: Space, goods: Goods, number: int, inside: float) -> Iterator[Row]:
    deep = space.box_depth(inside)
    if deep <= 0 or space.runner is None:
        return
    for turned in (False, True):
        width, depth = (goods.depth, goods.width) if turned else (goods.width, goods.depth)
        behind = math.floor(deep / depth + 1e-9)
        for layers in _layers(goods):
            each = behind * layers
            most = math.floor(space.runner.load_kg / (each * goods.kg)) if each and goods.kg else MOST_FILES
            if each and most:
                tall = goods.height * layers
                yield Row(
                    goods=number,
                    reach=goods.reach,
                    pitch=up(width),
                    lost=up(space.box_narrower),
                    each=each,
                    layers=layers,
                    turned=turned,
                    most=most,
                    need=up(max(tall + DRAWER_ROOM + space.box_lower, _least_drawer(space))),
                    floor=up(space.box_floor),
                    tall=up(tall),
                    zone=goods.zone,
                )


def _least_drawer(space: Space) -> float:
    """Return the least height of an opening for the runner itself (mm)."""
    runner = space.runner
    assert runner is not None  # noqa: S101 - asked for where there is one
    return max(runner.screw_up + runner.height / 2 + runner.room_above + 20.0, LEAST_ROW)


def _layers(goods: Goods) -> tuple[int, ...]:
    """Return how many may lie on one another: one, half of the stack, all of it."""
    if goods.way is not Way.LIES:
        return (1,)
    most = min(goods.stack, goods.count)
    return tuple(sorted({1, (most + 1) // 2, most}))


def _fewest(rows: tuple[Row, ...]) -> tuple[Row, ...]:
    """Return the rows that no other is better than in pitch, height and number at once."""

    def beats(a: Row, b: Row) -> bool:
        no_worse = a.pitch * b.each <= b.pitch * a.each and a.need <= b.need and a.pitch <= b.pitch
        return no_worse and a.most * a.each >= min(b.most * b.each, MOST_FILES) and a != b

    kept: list[Row] = []
    for row in rows:
        if not any(beats(other, row) for other in kept):
            kept = [other for other in kept if not beats(row, other)] + [row]
    return tuple(kept)
