"""Why a wish cannot be met: the smallest set of wishes that quarrel, and the least change of each that makes peace.

A set of wishes quarrels where no layout keeps them all. Sets that can be kept are grown as far as they go; what is
left out of each must be hit by any set that quarrels. The smallest hitting set that quarrels is the answer.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import Final

from storyrod.model.wish import REACH_HEIGHTS, Broken, LookWish, Quarrel, Reach, Users, WhyNot, Zone
from storyrod.wish._kinds import APART, FREE, KINDS, allows
from storyrod.wish._layout import Kind
from storyrod.wish._search import Aim, Answer, search
from storyrod.wish._space import TENTHS, Space

MOST_SIZES: Final = {Broken.WIDTH: 6000.0, Broken.HEIGHT: 4000.0, Broken.DEPTH: 2000.0}
"""What a size of the place is taken for where it is no wish any more (mm): the most that a wish file may say."""

WORK: Final = 1.0
"""Work of the solver for one question, in its own counted units."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Asked:
    """One wish of which it is asked whether it can be kept."""

    what: Broken
    field: str
    goods: int = -1


class _Asking:
    """Whether sets of wishes can be kept, each asked once."""

    def __init__(self, space: Space, tell: Callable[[], None]) -> None:
        self.space, self.tell = space, tell
        self.every = tuple(_asked(space))
        self.known: dict[frozenset[_Asked], tuple[bool, bool]] = {}

    def kept(self, wishes: frozenset[_Asked]) -> bool:
        """Return whether a set of wishes can be kept."""
        if wishes not in self.known:
            self.known[wishes] = self._search(wishes)
        return self.known[wishes][0]

    def proven(self, wishes: frozenset[_Asked]) -> bool:
        """Return whether that a set cannot be kept is proven."""
        return self.known[wishes][1]

    def _search(self, wishes: frozenset[_Asked]) -> tuple[bool, bool]:
        space = relaxed(self.space, [w for w in self.every if w not in wishes])
        if not space.goods:
            return True, True
        proven = True
        for kind in _kinds(space):
            for inside in _depths(space):
                self.tell()
                found = search(space, kind, inside, aim=Aim.ANY, work=WORK)
                if found.layout is not None:
                    return True, True
                proven = proven and found.answer is Answer.NONE
        return False, proven


def why_not(space: Space, tell: Callable[[], None] = lambda: None) -> WhyNot:
    """Return the smallest set of wishes that quarrel; none where a layout keeps them all.

    `tell` is called before each search, and may raise to stop.
    """
    asking = _Asking(space, tell)
    every = frozenset(asking.every)
    if asking.kept(every):
        return WhyNot(quarrels=(), proven=True)
    left_out: list[frozenset[_Asked]] = []
    while True:
        trial = _hitting(asking.every, left_out)
        if not asking.kept(trial):
            break
        left_out.append(every - _grown(asking, trial))
    ordered = [w for w in asking.every if w in trial]
    quarrels = tuple(_least_change(space, w, tell) for w in ordered)
    return WhyNot(quarrels=quarrels, proven=asking.proven(trial))


def _grown(asking: _Asking, kept: frozenset[_Asked]) -> frozenset[_Asked]:
    """Return a set that can be kept, with all that can be added to it."""
    for wish in asking.every:
        if wish not in kept and asking.kept(kept | {wish}):
            kept |= {wish}
    return kept


def _hitting(every: Sequence[_Asked], sets: Sequence[frozenset[_Asked]]) -> frozenset[_Asked]:
    """Return the smallest set of wishes that has one of each of these sets; of equal ones the first."""
    for size in range(len(every) + 1):
        for chosen in combinations(every, size):
            if all(any(w in one for w in chosen) for one in sets):
                return frozenset(chosen)
    raise AssertionError("the whole wish hits every set that something was left out of")


def _asked(space: Space) -> Iterator[_Asked]:
    wish = space.wish
    for n, goods in enumerate(space.goods):
        yield _Asked(what=Broken.COUNT, field=f"{goods.field}.count", goods=n)
    for n, goods in enumerate(space.goods):
        if goods.zone is not Zone.ANYWHERE:
            yield _Asked(what=Broken.ZONE, field=f"{goods.field}.at", goods=n)
    for what in (Broken.HEIGHT, Broken.WIDTH, Broken.DEPTH):
        yield _Asked(what=what, field=f"{wish.place.field}.{what.value}")
    if space.slope is not None:
        yield _Asked(what=Broken.SLOPE, field=f"{wish.place.field}.slope_low")
    if space.door is not None:
        yield _Asked(what=Broken.DOOR, field=f"{wish.limits.field}.door_width")
    if wish.users is not Users.STANDING or space.height > space.heights.highest * TENTHS:
        yield _Asked(what=Broken.USERS, field="users")
    if wish.look != LookWish(weighed=wish.look.weighed, field=wish.look.field):
        yield _Asked(what=Broken.LOOK, field=wish.look.field)


def relaxed(space: Space, without: Sequence[_Asked]) -> Space:
    """Return a space in which some wishes are not asked."""
    gone = {(w.what, w.goods) for w in without}
    what = {w.what for w in without}
    wish = space.wish
    goods = tuple(
        replace(g, zone=Zone.ANYWHERE) if (Broken.ZONE, n) in gone else g
        for n, g in enumerate(space.goods)
        if (Broken.COUNT, n) not in gone
    )
    if Broken.LOOK in what:
        wish = replace(wish, look=LookWish(weighed=wish.look.weighed, field=wish.look.field))
    found = replace(space, wish=wish, goods=goods)
    if Broken.WIDTH in what:
        wide = round(MOST_SIZES[Broken.WIDTH] * TENTHS)
        found = replace(found, width=wide, place_width=wide, width_exact=False)
    if Broken.HEIGHT in what:
        found = replace(found, height=round(MOST_SIZES[Broken.HEIGHT] * TENTHS), height_exact=False)
    if Broken.DEPTH in what:
        found = replace(found, depth=MOST_SIZES[Broken.DEPTH], depth_exact=False)
    if Broken.SLOPE in what:
        found = replace(found, slope=None)
    if Broken.DOOR in what:
        found = replace(found, door=None)
    if Broken.USERS in what:
        none = replace(REACH_HEIGHTS[Users.STANDING], highest=MOST_SIZES[Broken.HEIGHT])
        found = replace(found, heights=none)
    return found


def _depths(space: Space) -> tuple[float, ...]:
    """Return the depths to ask at: the deepest holds all that any other does, unless a door is in the way."""
    return space.depths() if space.door is not None else space.depths()[-1:]


def _kinds(space: Space) -> tuple[Kind, ...]:
    plain = space.wish.look == LookWish(
        weighed=space.wish.look.weighed,
        field=space.wish.look.field,
        drawers=space.wish.look.drawers,
        step=space.wish.look.step,
    )
    if not plain:
        return tuple(k for k in KINDS if allows(space.wish, k))
    widest = max((wide for wide, _ in space.backs), default=space.width)
    return (*FREE, *APART) if space.width > widest or space.door is not None else FREE


# --- What would make peace --------------------------------------------------------------------------------------------


def _least_change(space: Space, asked: _Asked, tell: Callable[[], None]) -> Quarrel:
    what, of = asked.what, asked.goods
    if what is Broken.COUNT:
        most = _most(space, of, tell)
        count = space.goods[of].count
        return Quarrel(what=what, field=asked.field, goods=of, asked=count, enough=most, helps=most > 0)
    place = space.wish.place
    if what in {Broken.HEIGHT, Broken.WIDTH}:
        own = place.height if what is Broken.HEIGHT else place.width
        least = _least_size(space, asked, tell)
        over = 0.0 if what is Broken.HEIGHT else place.clearance
        return Quarrel(
            what=what,
            field=asked.field,
            asked=own,
            enough=None if least is None else least / TENTHS + over,
            helps=least is not None,
        )
    if what is Broken.DEPTH:
        deep = _least_depth(space, asked, tell)
        return Quarrel(what=what, field=asked.field, asked=place.depth, enough=deep, helps=deep is not None)
    free = relaxed(space, [asked])
    helps = any(True for _ in _layouts(free, Aim.ANY, tell))
    return Quarrel(what=what, field=asked.field, goods=of, helps=helps)


def _layouts(space: Space, aim: Aim, tell: Callable[[], None], of: int = 0) -> Iterator[int]:
    """Yield what each kind at each depth comes to; nothing where none holds it all."""
    for kind in _kinds(space):
        for inside in _depths(space):
            tell()
            found = search(space, kind, inside, aim=aim, of=of, work=WORK)
            if found.layout is not None:
                yield found.value


def _most(space: Space, of: int, tell: Callable[[], None]) -> int:
    """Return the most things of one kind that go in with all others."""
    count = space.goods[of].count
    return min(count, max(_layouts(space, Aim.COUNT, tell, of), default=0))


def _least_size(space: Space, asked: _Asked, tell: Callable[[], None]) -> int | None:
    aim = Aim.HEIGHT if asked.what is Broken.HEIGHT else Aim.WIDTH
    return min(_layouts(relaxed(space, [asked]), aim, tell), default=None)


def _least_depth(space: Space, asked: _Asked, tell: Callable[[], None]) -> float | None:
    """Return the least depth of the place at which all goes in, of those that things and runners give."""
    free = relaxed(space, [asked])
    behind = space.wish.place.depth - space.depth  # skirting and fronts
    lengths = space.runner.lengths if space.runner is not None else ()
    drawers = any(g.reach is Reach.DRAWER for g in space.goods)
    steps = sorted({*free.depths()[:1], *(math.ceil(space.runner_needs(n)) for n in lengths if drawers)})
    for inside in steps:
        if inside + space.back <= space.depth:
            continue
        own = replace(space, depth=inside + space.back, depth_exact=True)
        if any(True for _ in _layouts(own, Aim.ANY, tell)):
            return inside + space.back + behind
    return None
