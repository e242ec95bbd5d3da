"""Fewer settings at the same cost: the parts laid out anew on the sheets of a plan that is otherwise done.

A round makes one move (see `_moves`); parts may be left out for a while, at a price. What is not worse (see `_weigh`)
stands, a worse one by a chance that falls with how much worse it is. A plan counts when nothing is left out.

First some regular layouts are made afresh (see `_patterns`); then two walks take turns, one from the plan given, which
is often irregular, one from the best of the fresh ones, until one is clearly better or half the work is done; then the
better one goes on alone. Where the parts fill the sheets so well that no regular layout comes near, there is one walk.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Sequence
from typing import Final

from storyrod.sheets._fill import Filled, Filler
from storyrod.sheets._moves import Moves
from storyrod.sheets._patterns import Patterns
from storyrod.sheets._weigh import Walk, Weigh

_HEAT: Final = (0.6, 0.1)  # a round worse by so many settings stands once in e times: at first, in the end
_FRESH_SHARE: Final = 0.3  # share of the work for making regular layouts
_SOON_SHARE: Final = 0.1  # from here on regular layouts are given up when none is near
_NEAR: Final = 0.5  # of the room to spare: so much area may a regular layout leave out that is near
_OUT_FRESH: Final = 150.0  # what parts left out weigh in the choice of a regular layout, in settings for one sheet full
_BOTH_SHARE: Final = 0.5  # until this share of the work is done, two walks take turns
_CLEAR: Final = 0.8  # times the other's score: a walk so much better goes on alone before that
_LATE_SHARE: Final = 0.8  # from here on no walk goes on with parts left out
_TURN: Final = 256  # rounds of one walk before it is the other's turn
_LOST: Final = 4.0  # settings by which a walk may stand behind the best plan before it goes back there
_ASKED: Final = 16  # rounds after which the clock is asked


class Tidier:
    """Looks for fewer settings."""

    def __init__(self, found_by: Filler, sheets: Sequence[Filled]) -> None:
        # Gathering what happens to be low makes rows that are cut in many ways: it fills sheets, but wants settings.
        self.filler = filler = Filler(found_by.task, found_by.chance, gathers=False)
        self.chance: random.Random = filler.chance
        self.sheets = tuple(filler.filled(s.size, s.root) for s in sheets)
        self._now: _Progress | None = None
        self._mix = [sum(s.size == i for s in sheets) for i in range(len(filler.sizes))]
        self._bought = filler.bought_area(sheets)  # the rack must give no less than it did
        self._weigh = Weigh(filler)
        self._moves = Moves(filler, self._weigh, self._mix)
        self.score = self._weigh.score(self.sheets, ())

    @property
    def rounds(self) -> int:
        """Rounds gone so far."""
        return 0 if self._now is None else self._now.rounds

    @property
    def settings(self) -> int:
        """Settings of the best plan, sheet by sheet."""
        return self._weigh.settings(self.sheets)

    def run(self, rounds: int, gone: Callable[[], float]) -> None:
        """Go on for at most so many rounds, and until `gone` says that its whole share of the time is (1 or more)."""
        now = self._now = _Progress(rounds, gone)
        start = Walk(self.sheets, (), self.score)
        fresh = self._fresh(now)
        walks = [start] if fresh is None else [start, fresh]
        while now.share < 1:
            low, high = sorted(w.score for w in walks) if fresh is not None else (0.0, 0.0)
            alone = fresh is None or now.share >= _BOTH_SHARE or low < _CLEAR * high
            walk = self._better(walks, now.share) if alone else walks[now.rounds // _TURN % 2]
            self._round(walk, _HEAT[0] * (_HEAT[1] / _HEAT[0]) ** now.share)
            now.count(1)

    def _fresh(self, now: _Progress) -> Walk | None:
        """Return a walk that starts from the best of some regular layouts, with what does not fit left out.

        None where no regular layout comes near: the parts fill the sheets too well for that.
        """
        patterns = Patterns(self.filler, self._mix)
        room = sum(n * size.w * size.h for n, size in zip(self._mix, self.filler.sizes, strict=True))
        spare = room - sum(sheet.used for sheet in self.sheets)
        found: list[tuple[float, Walk]] = []
        while not found or now.share < _FRESH_SHARE:
            before = patterns.tried
            sheets, out = patterns.lay()
            walk = Walk(tuple(sheets), tuple(out), self._weigh.score(sheets, out))
            left = _OUT_FRESH * self.filler.area_of(out) / self._weigh.one
            found.append((self._weigh.score(sheets, ()) + left, walk))
            self._keep(walk)
            now.count(max(patterns.tried - before, 1))
            if now.share > _SOON_SHARE and min(self.filler.area_of(w.out) for _, w in found) > _NEAR * spare:
                return None
        return min(found, key=lambda f: f[0])[1]

    def _better(self, walks: list[Walk], share: float) -> Walk:
        """Return the walk to go on with alone: the better one; from the best plan where it fell far behind that."""
        walk = min(walks, key=lambda w: w.score)
        if walk.score > self.score + _LOST or (walk.out and share > _LATE_SHARE):
            walk.move(self.sheets, (), self.score)
        return walk

    def _keep(self, walk: Walk) -> None:
        """Take note of where a walk stands, when it is the best plan so far."""
        if walk.score < self.score and not walk.out and self.filler.bought_area(walk.sheets) <= self._bought:
            self.sheets, self.score = walk.sheets, walk.score

    def _round(self, walk: Walk, heat: float) -> None:
        tried = self._moves.move(walk, heat)
        if tried is None:
            return
        new = Walk(tuple(tried[0]), tuple(tried[1]), self._weigh.score(*tried))
        if new.score <= walk.score - heat * math.log(1 - self.chance.random()):
            walk.move(new.sheets, new.out, new.score)
        self._keep(new)


class _Progress:
    """How much of the work is done, by rounds or by time."""

    def __init__(self, most: int, gone: Callable[[], float]) -> None:
        self.most, self.gone, self.rounds, self.share = most, gone, 0, 0.0
        self._asked = -_ASKED
        self.count(0)

    def count(self, rounds: int) -> None:
        """Count so many rounds; now and then ask the clock."""
        self.rounds += rounds
        by_rounds = self.rounds / max(self.most, 1)
        if self.rounds - self._asked >= _ASKED:
            self._asked = self.rounds
            self.share = max(self.share, by_rounds, self.gone())
        else:
            self.share = max(self.share, by_rounds)
