"""Ways of parting a group of panels in two: which part leaves, by which movement, and what that costs in reverse."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from heapq import heapify, heappop, heappush
from typing import Final

from storyrod.assembly import _points as points
from storyrod.assembly._bits import Unions, bits
from storyrod.assembly._body import Body
from storyrod.assembly._groups import Driving, Groups
from storyrod.assembly._leaving import Growth, closed_under
from storyrod.assembly._ties import Hold, Move

NONE_LEFT: Final = 10**9
"""More points than any split has."""


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


@dataclass(frozen=True, slots=True)
class _Coming:
    """Points of coming home by the best of some movements, for each of the six ways of lying, and the movement."""

    least: int
    steps: tuple[int, ...]
    moves: tuple[int, ...]


class Splits:
    """The splits of one group, the most promising first: worked out and put in order only as far as they are asked for.

    Each is listed with points that are quick to tell and not above its `least`; only the first in line is looked into.
    """

    def __init__(self, splitter: Splitter, group: int, listed: list[tuple[int, int, int, int]]) -> None:
        self._splitter = splitter
        self._group = group
        self._ready: list[Split] = []
        self._line: list[tuple[int, int, int, int | Split]] = [*listed]
        heapify(self._line)
        self._driving: Driving | None = None

    def look(self, number: int, limit: int = NONE_LEFT) -> Split | int:
        """Return the split of that number, or what none from there on is below where that is not below `limit`."""
        while len(self._ready) <= number:
            if not self._line:
                return NONE_LEFT
            least, count, mover, split = self._line[0]
            if least >= limit:
                return least
            heappop(self._line)
            if isinstance(split, int):
                self._driving = self._driving or self._splitter.groups.driving(self._group)
                split = self._splitter.split(self._group, mover, split, self._driving)
                if split.least > least:
                    heappush(self._line, (split.least, count, mover, split))
                    continue
            self._ready.append(split)
        split = self._ready[number]
        return split if split.least < limit else split.least

    def first(self, count: int) -> list[Split]:
        """Return the first few."""
        found = [self.look(number) for number in range(count)]
        return [split for split in found if isinstance(split, Split)]

    def __iter__(self) -> Iterator[Split]:
        number = 0
        while isinstance(split := self.look(number), Split):
            yield split
            number += 1


class Splitter:
    """Finds the splits of a group; `narrow` looks only at the smallest groups that can leave.

    `work` counts what was listed and looked into. `whole` wants each of the two groups held in one piece by its joints;
    `alike` are sets of panels of which, as a short cut, only the first or the last ones leave together.
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
        self._alike = [sum(1 << i for i in panels) for panels in alike]
        self._known: dict[int, Splits] = {}
        self._useful = [self._ties_let_by(move) for move in self.body.moves]
        self._back = _reverses(self.body)
        self._runs = sum(1 << t.number for t in self.body.ties if t.hold is Hold.SLIDE)
        self._approach = [
            [tuple(approach_points(move, down, slides=slides) for down in range(6)) for slides in (False, True)]
            for move in self.body.moves
        ]
        self._straight = [Unions(self.body.stops[way]) for way in range(min(6, len(self.body.moves)))]
        self._coming: dict[tuple[int, int, int], _Coming] = {}

    def _ties_let_by(self, move: Move) -> int:
        found = 0
        for tie in self.body.ties:
            if tie.lets(move, entering_moves=True) or tie.lets(move, entering_moves=False):
                found |= 1 << tie.number
        return found

    def of(self, group: int) -> Splits:
        """Return the splits of a group."""
        found = self._known.get(group)
        if found is None:
            found = self._known[group] = self._find(group)
        return found

    def _find(self, group: int) -> Splits:
        if self.whole and not self.groups.is_whole(group):
            leaving = self._pieces_apart(group)
        else:
            leaving = _Leaving(self, group).movers()
        self.work += len(leaving) + len(self._back) * group.bit_count() // 8
        listed = [(self._quick(group, m, moves), m.bit_count(), m, moves) for m, moves in leaving.items()]
        return Splits(self, group, listed)

    def _pieces_apart(self, group: int) -> dict[int, int]:
        """Part a group that joints do not hold in one: its first piece stands, or leaves."""
        piece = self.groups.piece(group)
        leaving: dict[int, int] = {}
        for mover in (piece, group ^ piece):
            for number, stops in enumerate(self.body.stops):
                if all(stops[i] & group & ~mover == 0 for i in bits(mover)):
                    leaving[mover] = leaving.get(mover, 0) | 1 << number
        return leaving

    def may_part(self, group: int, mover: int) -> bool:
        """Return whether both parts are held in one piece by their joints, where that is asked for."""
        is_whole = self.groups.is_whole
        return not self.whole or (is_whole(mover) and is_whole(group & ~mover))

    def is_first_of_alike(self, group: int, mover: int) -> bool:
        """Return whether, of panels that are alike, the mover takes the first ones or the last: a short cut."""
        for panels in self._alike:
            here, taken = group & panels, mover & panels
            if taken and here & ((1 << taken.bit_length()) - 1) != taken and here & -(taken & -taken) != taken:
                return False
        return True

    def is_needless(self, group: int, number: int, closures: list[int]) -> bool:
        """Return whether a two-part move only lets out what its first part lets out straight, for fewer points.

        Where a run along a whole joint closes, the two parts may cost less: then nothing is left out.
        """
        move = self.body.moves[number]
        if move.unseat < 0 or self.groups.inside(group) & self._runs:
            return False
        straight = self._straight[move.unseat]
        return not any(straight(closure) & group & ~closure for closure in closures)

    def is_useful(self, number: int, inside: int) -> bool:
        """Return whether some joint of these opens by a move."""
        return bool(self._useful[number] & inside) or not self.whole

    def back(self, number: int) -> int | None:
        """Return the move that goes exactly the other way, where there is one."""
        return self._back[number]

    def _fixed(self, mover: int, base: int, closing: int) -> int:
        """Return the points of a step that are the same by every movement; drivers left out."""
        groups = self.groups
        fixed = points.start_together((closing & groups.fitting_ties).bit_count())
        fixed += points.HOLD * (closing & groups.held_ties).bit_count()
        fixed += points.HELPER * (groups.persons(mover) - 1)
        if not groups.is_made(mover) and not groups.is_made(base):
            fixed += points.SET_ASIDE
        if closing & groups.back_ties and groups.back_ties & ~groups.inside(mover | base):
            fixed += points.EARLY_BACK
        if closing & groups.glued_ties:
            fixed += points.over_open_time(groups.glue_min(closing), groups.handling.open_time_min)
        return fixed

    def _quick(self, group: int, mover: int, moves: int) -> int:
        """Return points that are not above the `least` of a split, without looking into it."""
        groups, base = self.groups, group ^ mover
        closing = groups.closing(mover, base)
        least = self._fixed(mover, base, closing) + groups.quick(mover) + groups.quick(base)
        return least + self._come(mover, closing, moves).least

    def split(self, group: int, mover: int, moves: int, driving: Driving) -> Split:
        """Return a split of a group, worked out."""
        self.work += 3
        groups, base = self.groups, group ^ mover
        closing = groups.closing(mover, base)
        fixed = self._fixed(mover, base, closing)
        coming = self._come(mover, closing, moves)
        steps = [fixed + c for c in coming.steps]
        if closing & driving.ties:
            steps = [a + b for a, b in zip(steps, driving.points(closing), strict=True)]
        return Split(min(steps) + groups.lower(mover) + groups.lower(base), mover, base, tuple(steps), coming.moves)

    def _come(self, mover: int, closing: int, moves: int) -> _Coming:
        sliding = closing & self.groups.sliding_ties
        entering = sum(1 << n for n in bits(sliding) if mover >> self.body.ties[n].entering & 1) if sliding else 0
        key = (moves, sliding, entering)
        found = self._coming.get(key)
        if found is None:
            found = self._coming[key] = self._best_coming(moves, sliding, entering)
        return found

    def _best_coming(self, moves: int, sliding: int, entering: int) -> _Coming:
        steps, chosen = [NONE_LEFT] * 6, [0] * 6
        for number in bits(moves):
            move = self.body.moves[number]
            cost = points.TWO_PARTS if move.unseat >= 0 else 0
            for tie in bits(sliding):
                cost += points.lock_points(lock_by(move, entering_moves=bool(entering >> tie & 1)))
            for down, coming in enumerate(self._approach[number][bool(sliding)]):
                if cost + coming < steps[down]:
                    steps[down], chosen[down] = cost + coming, number
        return _Coming(min(steps), tuple(steps), tuple(chosen))


class _Leaving:
    """What can leave one group by each move; moves by which the same panels stop each other are followed once."""

    def __init__(self, splitter: Splitter, group: int) -> None:
        self._splitter = splitter
        self._group = group
        self._members = bits(group)
        locked = splitter.groups.locked(group)
        self._own = [1 << i for i in self._members]
        if locked is not None:
            self._own = [1 << i | locked[i] & group for i in self._members]
        self._closed: dict[tuple[int, ...], list[int]] = {}
        self._found: dict[int, int] = {}

    def movers(self) -> dict[int, int]:
        """Return each part that can leave, with the set of the moves by which it can."""
        splitter = self._splitter
        inside = splitter.groups.inside(self._group)
        alone: dict[tuple[int, ...], int] = {}
        paired: dict[tuple[tuple[int, ...], tuple[int, ...]], list[int]] = {}
        for number in range(len(splitter.body.moves)):
            back = splitter.back(number)
            as_pair = not splitter.narrow and back is not None
            if not splitter.is_useful(number, inside) or (as_pair and back is not None and back < number):
                continue
            rows = self._rows(number)
            closures = self._closures(rows)
            if not closures or splitter.is_needless(self._group, number, closures):
                continue
            if as_pair and back is not None:
                both = paired.setdefault((rows, self._rows(back)), [0, 0])
                both[0] |= 1 << number
                both[1] |= 1 << back
            else:
                alone[rows] = alone.get(rows, 0) | 1 << number
        for rows, moves in alone.items():
            self._by(self._closures(rows), moves)
        for (rows, rows_back), (moves, back_moves) in paired.items():
            self._by_either(rows, rows_back, moves, back_moves)
        return self._found

    def _rows(self, number: int) -> tuple[int, ...]:
        stops, group = self._splitter.body.stops[number], self._group
        return tuple([stops[i] & group | own for i, own in zip(self._members, self._own, strict=True)])

    def _closures(self, rows: tuple[int, ...]) -> list[int]:
        found = self._closed.get(rows)
        if found is None:
            found = self._closed[rows] = closed_under(self._group, self._members, rows)
        return found

    def _add(self, mover: int, moves: int) -> None:
        self._found[mover] = self._found.get(mover, 0) | moves

    def _by(self, closures: list[int], moves: int) -> None:
        splitter, group = self._splitter, self._group
        movers = closures
        if not splitter.narrow:
            growth = self._growth(closures)
            while not growth.advance():
                pass
            splitter.overflowed |= growth.is_too_large
            splitter.work += len(growth.found)
            movers = list(growth.found)
        for mover in movers:
            if splitter.may_part(group, mover) and splitter.is_first_of_alike(group, mover):
                self._add(mover, moves)

    def _by_either(self, rows: tuple[int, ...], rows_back: tuple[int, ...], moves: int, back_moves: int) -> None:
        """Add what can leave by moves, and the rest, which can leave by their reverse.

        A part can leave by a move exactly when the rest can leave by its reverse, so whichever list is shorter will do.
        """
        splitter, group = self._splitter, self._group
        growth, other = self._growth(self._closures(rows)), self._growth(self._closures(rows_back))
        while not (growth.advance() or other.advance()):
            pass
        if growth.is_done:
            splitter.overflowed |= growth.is_too_large
            movers = list(growth.found)
        else:
            splitter.overflowed |= other.is_too_large
            movers = [group ^ rest for rest in other.found]
        splitter.work += len(growth.found) + len(other.found)
        for mover in movers:
            if splitter.may_part(group, mover):
                self._add(mover, moves)
                self._add(group ^ mover, back_moves)

    def _growth(self, closures: list[int]) -> Growth:
        return Growth(self._splitter.groups, self._group, closures, whole=self._splitter.whole)


def _reverses(body: Body) -> list[int | None]:
    """Return, for each move, the number of the move that goes exactly the other way."""
    numbers = {(m.unseat, m.by, m.out): n for n, m in enumerate(body.moves)}
    found = []
    for move in body.moves:
        unseat = move.unseat ^ 1 if move.unseat >= 0 else -1
        found.append(numbers.get((unseat, move.by, move.out ^ 1)))
    return found


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
