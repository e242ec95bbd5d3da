"""Ways of parting a group of panels in two: which part leaves, by which movement, and what that costs in reverse."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from storyrod.assembly import _points as points
from storyrod.assembly._groups import Groups, bits
from storyrod.assembly._ties import Move

MANY: Final = 1 << 17
"""No more leaving groups than this are listed for one group; beyond it nothing is called proven."""


@dataclass(frozen=True, slots=True)
class Split:
    """A group parted into what is brought (`mover`) and what stands still (`base`).

    Attributes:
        least: points that a plan by this split can not go below, resting and turning left out.
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

    `whole` wants each of the two groups held in one piece by its joints; `alike` are sets of panels of which, as a
    short cut, only the first or the last ones leave together.
    """

    def __init__(
        self, groups: Groups, *, narrow: bool, whole: bool = True, alike: tuple[tuple[int, ...], ...] = ()
    ) -> None:
        self.groups = groups
        self.body = groups.body
        self.narrow = narrow
        self.whole = whole
        self.overflowed = False
        self._alike = alike
        self._known: dict[int, tuple[Split, ...]] = {}
        self._useful = [self._ties_let_by(move) for move in self.body.moves]

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
        leaving: dict[int, list[int]] = {}
        if self.whole and not self.groups.is_whole(group):
            return self._pieces_apart(group)
        inside = self.groups.inside(group)
        for number in range(len(self.body.moves)):
            if self._useful[number] & inside or not self.whole:
                for mover in self._movers(group, number):
                    leaving.setdefault(mover, []).append(number)
        splits = [self._split(group, mover, numbers) for mover, numbers in leaving.items()]
        return tuple(sorted(splits, key=lambda s: (s.least, s.mover.bit_count(), s.mover)))

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
        stops = self.body.stops[number]
        closures = closures_of(group, stops)
        if not closures:
            return
        is_whole = self.groups.is_whole
        for mover in self._candidates(group, closures):
            if self.whole and not (is_whole(mover) and is_whole(group & ~mover)):
                continue
            if self._is_first_of_alike(group, mover):
                yield mover

    def _candidates(self, group: int, closures: list[int]) -> set[int]:
        if self.narrow:
            return set(closures)
        unions = {0}
        for closure in closures:
            unions |= {union | closure for union in unions}
            if len(unions) > MANY:
                self.overflowed = True
                break
        unions -= {0, group}
        return unions

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
            for down in range(6):
                cost = own + approach_points(move, down, slides=slides)
                if cost < steps[down]:
                    steps[down], moves[down] = cost, number
        least = min(steps) + groups.lower(mover) + groups.lower(base)
        return Split(least, mover, base, tuple(steps), tuple(moves))

    def _move_points(self, move: Move, mover: int, closing: int) -> int:
        if move.unseat < 0 and not closing & self.groups.sliding_ties:
            return 0
        cost = points.TWO_PARTS if move.unseat >= 0 else 0
        for number in bits(closing & self.groups.sliding_ties):
            cost += points.lock_points(lock_by(move, entering_moves=bool(mover >> self.body.ties[number].entering & 1)))
        return cost


def closures_of(group: int, stops: tuple[int, ...]) -> list[int]:
    """Return, for the panels of a group, the panels that must leave with each; those that need all left out."""
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
