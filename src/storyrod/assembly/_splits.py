"""Ways of parting a group of panels in two: which part leaves, by which movement, and what that costs in reverse."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from storyrod.assembly import _points as points
from storyrod.assembly._body import Body
from storyrod.assembly._groups import Groups, bits
from storyrod.assembly._ties import Hold, Move

MANY: Final = 1 << 17
"""No more leaving groups than this are listed for one group; beyond it nothing is called proven."""


@dataclass(frozen=True, slots=True)
class Split:
    """A group parted into what is brought (`mover`) and what stands still (`base`).

    Attributes:
        least: points that a plan by this split cannot go below, resting and turning left out.
        steps: points of the step, for each of the six directions that may be down.
        moves: the number of the movement that has these points.
    """

    least: int
    mover: int
    base: int
    steps: tuple[int, ...]
    moves: tuple[int, ...]


class Splitter:
    """Finds the splits of a group; `narrow` looks only at the smallest groups that can leave.

    `work` counts what was listed. `whole` wants each of the two groups held in one piece by its joints; `alike` are
    sets of panels of which, as a short cut, only the first or the last ones leave together.
    """

    def __init__(
        self, groups: Groups, *, narrow: bool, whole: bool = True, alike: tuple[tuple[int, ...], ...] = ()
    ) -> None:
        self.groups = groups
        self.body = groups.body
        self.narrow = narrow
        self.whole = whole
        self.overflowed = False
        self.work = 0
        self._alike = alike
        self._known: dict[int, tuple[Split, ...]] = {}
        self._useful = [self._ties_let_by(move) for move in self.body.moves]
        self._back = _reverses(self.body)
        self._runs = sum(1 << t.number for t in self.body.ties if t.hold is Hold.SLIDE)
        self._coming = [
            [tuple(approach_points(move, down, slides=slides) for down in range(6)) for slides in (False, True)]
            for move in self.body.moves
        ]

    def _ties_let_by(self, move: Move) -> int:
        found = 0
        for tie in self.body.ties:
            if tie.lets(move, entering_moves=True) or tie.lets(move, entering_moves=False):
                found |= 1 << tie.number
        return found

    def of(self, group: int) -> tuple[Split, ...]:
        """Return the splits of a group, the most promising first."""
        found = self._known.get(group)
        if found is None:
            found = self._known[group] = self._find(group)
        return found

    def _find(self, group: int) -> tuple[Split, ...]:
        if self.whole and not self.groups.is_whole(group):
            return self._pieces_apart(group)
        leaving: dict[int, list[int]] = {}
        inside = self.groups.inside(group)
        for number, back in enumerate(self._back):
            if self._useful[number] & inside or not self.whole:
                if self.narrow or back is None:
                    for mover in self._movers(group, number):
                        leaving.setdefault(mover, []).append(number)
                elif number < back:
                    for mover in self._movers_or_rest(group, number, back):
                        leaving.setdefault(mover, []).append(number)
                        leaving.setdefault(group ^ mover, []).append(back)
        splits = [self._split(group, mover, numbers) for mover, numbers in leaving.items()]
        self.work += 4 * len(splits) + len(self._back) * group.bit_count() // 8
        return tuple(sorted(splits, key=lambda s: (s.least, s.mover.bit_count(), s.mover)))

    def _is_needless(self, group: int, number: int, closures: list[int]) -> bool:
        """Return whether a two-part move only lets out what its first part lets out straight, for fewer points.

        Where a run along a whole joint closes, the two parts may cost less: then nothing is left out.
        """
        move = self.body.moves[number]
        if move.unseat < 0 or self.groups.inside(group) & self._runs:
            return False
        straight = self.body.stops[move.unseat]
        return all(straight[i] & group & ~closure == 0 for closure in closures for i in bits(closure))

    def _pieces_apart(self, group: int) -> tuple[Split, ...]:
        """Part a group that joints do not hold in one: its first piece stands, or leaves."""
        piece = self.groups.piece(group)
        leaving: dict[int, list[int]] = {}
        for mover in (piece, group ^ piece):
            for number, stops in enumerate(self.body.stops):
                if all(stops[i] & group & ~mover == 0 for i in bits(mover)):
                    leaving.setdefault(mover, []).append(number)
        return tuple(self._split(group, mover, numbers) for mover, numbers in leaving.items())

    def _movers(self, group: int, number: int) -> Iterator[int]:
        closures = closures_of(group, self.body.stops[number], self.groups.locked(group))
        if not closures or self._is_needless(group, number, closures):
            return
        found: Iterable[int] = set(closures)
        if not self.narrow:
            growth = _Growth(self.groups, group, closures, whole=self.whole)
            while not growth.advance():
                pass
            self.overflowed |= growth.is_too_large
            self.work += len(growth.found)
            found = growth.found
        for mover in found:
            if self._may_part(group, mover) and self._is_first_of_alike(group, mover):
                yield mover

    def _movers_or_rest(self, group: int, number: int, back: int) -> Iterator[int]:
        """Yield what can leave by a move; where that is quicker, as the rest of what can leave the other way.

        A part can leave by a move exactly when the rest can leave by its reverse, so whichever list is shorter will do.
        """
        closures = closures_of(group, self.body.stops[number], self.groups.locked(group))
        if not closures or self._is_needless(group, number, closures):
            return
        growth = _Growth(self.groups, group, closures, whole=self.whole)
        other = _Growth(
            self.groups, group, closures_of(group, self.body.stops[back], self.groups.locked(group)), whole=self.whole
        )
        while not (growth.advance() or other.advance()):
            pass
        if growth.is_done:
            self.overflowed |= growth.is_too_large
            movers = list(growth.found)
        else:
            self.overflowed |= other.is_too_large
            movers = [group ^ rest for rest in other.found]
        self.work += len(growth.found) + len(other.found)
        for mover in movers:
            if self._may_part(group, mover):
                yield mover

    def _may_part(self, group: int, mover: int) -> bool:
        is_whole = self.groups.is_whole
        return not self.whole or (is_whole(mover) and is_whole(group & ~mover))

    def _is_first_of_alike(self, group: int, mover: int) -> bool:
        """Return whether, of panels that are alike, the mover takes the first ones (asked for by `alike`)."""
        for panels in self._alike:
            here = [i for i in panels if group >> i & 1]
            taken = [mover >> i & 1 for i in here]
            if taken != sorted(taken, reverse=True) and taken != sorted(taken):
                return False
        return True

    def _split(self, group: int, mover: int, numbers: list[int]) -> Split:
        groups, base = self.groups, group & ~mover
        closing = groups.closing(mover, base)
        fixed = points.start_together((closing & groups.fitting_ties).bit_count())
        fixed += points.HOLD * (closing & groups.held_ties).bit_count()
        fixed += points.HELPER * (groups.persons(mover) - 1)
        if not groups.is_made(mover) and not groups.is_made(base):
            fixed += points.SET_ASIDE
        if closing & groups.back_ties and groups.back_ties & ~groups.inside(group):
            fixed += points.EARLY_BACK
        if closing & groups.glued_ties:
            fixed += points.over_open_time(groups.glue_min(closing), groups.handling.open_time_min)
        slides = bool(closing & groups.sliding_ties)
        steps, moves = [10**9] * 6, [0] * 6
        for number in numbers:
            move = self.body.moves[number]
            own = fixed + self._move_points(move, mover, closing)
            for down, coming in enumerate(self._coming[number][slides]):
                if own + coming < steps[down]:
                    steps[down], moves[down] = own + coming, number
        if closing & groups.driven_ties:
            steps = [a + b for a, b in zip(steps, groups.driver_points(closing, group), strict=True)]
        least = min(steps) + groups.lower(mover) + groups.lower(base)
        return Split(least, mover, base, tuple(steps), tuple(moves))

    def _move_points(self, move: Move, mover: int, closing: int) -> int:
        if move.unseat < 0 and not closing & self.groups.sliding_ties:
            return 0
        cost = points.TWO_PARTS if move.unseat >= 0 else 0
        for number in bits(closing & self.groups.sliding_ties):
            cost += points.lock_points(lock_by(move, entering_moves=bool(mover >> self.body.ties[number].entering & 1)))
        return cost


class _Growth:
    """Unions of the smallest groups that can leave, each only with others that are joined to it.

    Every leaving group in one piece is reached so, panel by panel along its joints. Without `whole`, all unions are.
    """

    def __init__(self, groups: Groups, group: int, closures: list[int], *, whole: bool) -> None:
        self.is_done = False
        self.is_too_large = False
        self._group = group
        self._whole = whole
        self._steps = [(closure, closure | groups.joined_to_any(closure)) for closure in closures]
        self.found = dict(self._steps)
        self._waiting = list(closures)

    def advance(self, count: int = 32) -> bool:
        """Grow `count` more unions; return whether there are no more."""
        found, group, whole = self.found, self._group, self._whole
        for _ in range(count):
            if not self._waiting or len(found) > MANY:
                self.is_too_large = bool(self._waiting)
                self.is_done = True
                break
            union = self._waiting.pop()
            touched = found[union]
            for closure, beyond in self._steps:
                grown = union | closure
                if grown not in found and grown != group and (closure & touched or not whole):
                    found[grown] = touched | beyond
                    self._waiting.append(grown)
        return self.is_done


def _reverses(body: Body) -> list[int | None]:
    """Return, for each move, the number of the move that goes exactly the other way."""
    numbers = {(m.unseat, m.by, m.out): n for n, m in enumerate(body.moves)}
    found = []
    for move in body.moves:
        unseat = move.unseat ^ 1 if move.unseat >= 0 else -1
        found.append(numbers.get((unseat, move.by, move.out ^ 1)))
    return found


def closures_of(group: int, stops: tuple[int, ...], locked: tuple[int, ...] | None = None) -> list[int]:
    """Return, for the panels of a group, the panels that must leave with each; those that need all left out.

    `locked` adds the panels that each cannot part from while the group is as it is.
    """
    if locked is not None:
        stops = tuple(a | b for a, b in zip(stops, locked, strict=True))
    reach = {i: (stops[i] & group) | 1 << i for i in bits(group)}
    found: dict[int, None] = {}
    for panel in bits(group):
        closed, edge = reach[panel], reach[panel] & ~(1 << panel)
        while edge and closed != group:
            low = edge & -edge
            edge ^= low
            new = reach[low.bit_length() - 1] & ~closed
            closed |= new
            edge |= new
        if closed != group:
            found[closed] = None
    return list(found)


def lock_by(move: Move, *, entering_moves: bool) -> int:
    """Return the direction in which the entering panel slides home when a group comes by the reverse of `move`."""
    leaves = move.unseat if move.unseat >= 0 else move.out
    return leaves ^ 1 if entering_moves else leaves


def approach_points(move: Move, down: int, *, slides: bool) -> int:
    """Return the points for bringing a part in by the reverse of `move` while that way is down.

    Where heads behind a lip close by the second leg (`slides`), the part already hangs on them and needs no holding;
    else the worse of the two legs counts.
    """
    comes = _coming_points(move.out ^ 1, down)
    if move.unseat < 0:
        return comes
    if slides:
        return comes + (points.SLIDE_UP if move.unseat == down else 0)
    return max(comes, _coming_points(move.unseat ^ 1, down))


def _coming_points(way: int, down: int) -> int:
    if way == down:
        return 0
    return points.FROM_BELOW if way == down ^ 1 else points.FROM_THE_SIDE
