"""Fewer settings at the same cost: the parts laid out anew on the sheets of a plan that is otherwise done.

Sheets with one layout are cut together, so each layout counts once; within a layout each different rip and each
different crosscut is one setting. A round tears parts out of some sheets and puts them back, parts of one kind
together and where they want no new setting; parts may be left out for a while, at a price. A round that is not
worse stands, a worse one by a chance that falls with how much worse it is. A plan counts when nothing is left out.
Of equal counts the one is kept whose settings serve more cuts each, and whose free places are larger.

Two walks are made: one from the plan given, which is often irregular, and one from a fresh, regular start.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Sequence
from typing import Final

from storyrod.sheets._apart import likeness
from storyrod.sheets._fill import NO_LIMIT, Filled, Filler, Fit, Opening, Order
from storyrod.sheets._tree import PART, Node, gather, stacked, without_run, without_some

_HEAT: Final = 0.3  # a round worse by so many settings stands once in e times
_HEAT_OUT: Final = 1.0  # the same while parts are left out
_FRESH: Final = 9  # turns of the fresh walk to one of the other, until all its parts have a place
_STAY: Final = 0.7  # chance that a fresh walk goes on where it has not come so far yet
_COPIED: Final = 0.3  # share of rounds that make one sheet like another
_BLINK: Final = 0.02  # chance that a good place is overlooked
_TORN: Final = 30  # parts torn out in one round, at most about this many; few more often than many
_LEAST: Final = 2
_FITS: Final = (Fit.SETTINGS, Fit.SHORT_SIDE, Fit.CORNER, Fit.AREA)
_ORDERS: Final = (Order.AREA, Order.SHORT_SIDE, Order.LONG_SIDE)
_NOISE: Final = 0.5
_FEW: Final = 0.3  # how much less a setting that serves one cut alone weighs: it is nearly gone
_LARGE: Final = 1e-4  # what a sheet's largest free place, as a share of the sheet, is worth in settings
_OUT: Final = 400.0  # what parts left out weigh, in settings for one sheet full of them
_KNOWN: Final = 20_000


class _Walk:
    """Sheets, parts left out, and their score."""

    __slots__ = ("out", "score", "sheets")

    def __init__(self, sheets: tuple[Filled, ...], out: tuple[int, ...], score: float) -> None:
        self.sheets, self.out, self.score = sheets, out, score


class Tidier:
    """Looks for fewer settings."""

    def __init__(self, filler: Filler, sheets: Sequence[Filled]) -> None:
        self.filler = filler
        self.chance: random.Random = filler.chance
        self.sheets = tuple(sheets)
        self.rounds = 0
        self._mix = [sum(s.size == i for s in sheets) for i in range(len(filler.sizes))]
        self._bought = filler.bought_area(sheets)  # the rack must give no less than it did
        self._one = max(s.w * s.h for s in filler.sizes)
        self._known: dict[Filled, tuple[tuple[int, int], int, float]] = {}
        self.score = self._score(self.sheets, ())

    @property
    def settings(self) -> int:
        """Settings of the best plan, sheet by sheet."""
        return sum({key: settings for key, settings, _ in map(self._seen, self.sheets)}.values())

    def _seen(self, sheet: Filled) -> tuple[tuple[int, int], int, float]:
        seen = self._known.get(sheet)
        if seen is None:
            size = self.filler.sizes[sheet.size]
            found = self.filler.settings(sheet)
            key = (sheet.size, likeness(sheet.root))
            weight = sum([1 - _FEW / n for n in found.values()])
            seen = self._known[sheet] = (key, len(found), weight - _LARGE * sheet.room / (size.w * size.h))
        return seen

    def _score(self, sheets: Sequence[Filled], out: Sequence[int]) -> float:
        area = self.filler.area
        settings = sum({key: weight for key, _, weight in map(self._seen, sheets)}.values())
        return settings + _OUT * sum([area[k] for k in out]) / self._one

    def run(self, rounds: int, go_on: Callable[[], bool]) -> None:
        """Go on for at most so many rounds; every 16 ask whether to. The walks take turns."""
        walks = [_Walk(self.sheets, (), self.score), self._fresh()]
        for n in range(rounds):
            if n % 16 == 0 and not go_on():
                return
            self.rounds += 1
            self._round(walks[1 if n // 256 % (1 + _FRESH if walks[1].out else 2) else 0])
            if n % 4096 == 4095:
                walks = self._weeded(walks)
            if len(self._known) > _KNOWN:
                self._known = {}

    def _fresh(self) -> _Walk:
        """Return a walk that starts from a regular layout, with what does not fit left out."""
        sheets: list[Filled] = []
        kinds = self.filler.grouped(self.filler.task.wanted, Order.SHORT_SIDE, 0.0)
        out = self._fill(sheets, kinds, Fit.SETTINGS, 0.0)
        return _Walk(tuple(sheets), tuple(out), self._score(sheets, out))

    def _weeded(self, walks: list[_Walk]) -> list[_Walk]:
        """Let the fresh walk go on while it has parts left out; else the better stays, and one starts anew."""
        if walks[1].out:
            return walks if self.chance.random() < _STAY else [walks[0], self._fresh()]
        better = min(walks, key=lambda w: w.score)
        if better.score > self.score + 1:
            better = _Walk(self.sheets, (), self.score)
        return [better, self._fresh()]

    def _fill(self, sheets: list[Filled], kinds: Sequence[int], fit: Fit, blink: float) -> list[int]:
        left = list(self._mix)
        for sheet in sheets:
            left[sheet.size] -= 1
        return self.filler.fill(
            sheets, kinds, budget=NO_LIMIT, left=left, fit=fit, opening=Opening.LARGEST, blink=blink
        )

    def _round(self, walk: _Walk) -> None:
        copy = len(walk.sheets) > 1 and self.chance.random() < _COPIED
        tried = self._copied(walk) if copy else self._shuffled(walk)
        if tried is None:
            return
        sheets, out = tried
        score = self._score(sheets, out)
        heat = _HEAT_OUT if walk.out else _HEAT
        if score <= walk.score - heat * math.log(1 - self.chance.random()):
            walk.sheets, walk.out, walk.score = tuple(sheets), tuple(out), score
        if score < self.score and not out and self.filler.bought_area(sheets) <= self._bought:
            self.sheets, self.score = tuple(sheets), score

    def _shuffled(self, walk: _Walk) -> tuple[list[Filled], list[int]]:
        """Return the sheets with some parts put elsewhere."""
        roll = self.chance.random
        sheets: list[Filled | None] = list(walk.sheets)
        gone: list[int] = list(walk.out)
        hit = min(1 + int(roll() * 3), len(sheets))
        torn = _LEAST * (_TORN / _LEAST) ** roll() / max(hit, 1)
        for i in self.chance.sample(range(len(sheets)), hit):
            sheet = walk.sheets[i]
            if roll() < 0.5:
                root = without_run(sheet.root, torn, self.chance, gone)
            else:
                root = without_some(sheet.root, min(torn / sheet.count, 1.0), self.chance, gone)
            if root is None:
                sheets[i] = None
            elif root is not sheet.root:
                sheets[i] = self.filler.filled(sheet.size, root)
        rest = [s for s in sheets if s is not None]
        todo = self.filler.grouped(gone, _ORDERS[int(roll() * 3)], _NOISE)
        return rest, self._fill(rest, todo, _FITS[int(roll() * len(_FITS))], _BLINK)

    def _copied(self, walk: _Walk) -> tuple[list[Filled], list[int]] | None:
        """Make one sheet like another: its own parts, and what the other gives up, find their places elsewhere."""
        sheets = list(walk.sheets)
        a, b = self.chance.sample(range(len(sheets)), 2)
        model, sheet = sheets[a], sheets[b]
        if model.size != sheet.size or model is sheet:
            return None
        want: list[int] = []
        gather(model.root, want)
        spare = list(walk.out)
        gather(sheet.root, spare)
        for kind in list(want):
            if kind in spare:
                spare.remove(kind)
                want.remove(kind)
        sheets[b] = model
        if len(want) > 8 or not self._taken(sheets, want, {a, b}):
            return None
        return sheets, self._fill(sheets, self.filler.grouped(spare, Order.AREA, 0.0), Fit.SHORT_SIDE, 0.0)

    def _taken(self, sheets: list[Filled], want: Sequence[int], fixed: set[int]) -> bool:
        """Take the wanted kinds out of other sheets; tell whether all were found."""
        todo = list(want)
        for i in self.chance.sample(range(len(sheets)), len(sheets)):
            if i in fixed or not todo:
                continue
            root = sheets[i].root
            for kind in list(todo):
                smaller = _without_one(root, kind)
                if smaller is not None:
                    root = smaller
                    todo.remove(kind)
            if root is not sheets[i].root:
                sheets[i] = self.filler.filled(sheets[i].size, root)
        return not todo


def _without_one(node: Node, kind: int) -> Node | None:
    """Return the tree without one part of the kind, or None when it has none or nothing else."""
    if node[2] == PART:
        return None
    for i, kid in enumerate(node[3]):
        if kid[2] == PART:
            if kid[3] >> 1 == kind:
                return stacked(node[2], (*node[3][:i], *node[3][i + 1 :]))
            continue
        rest = _without_one(kid, kind)
        if rest is not None:
            return stacked(node[2], (*node[3][:i], rest, *node[3][i + 1 :]))
    return None
