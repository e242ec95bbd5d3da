"""Fewer settings at the same cost: parts moved between the sheets of a plan that is otherwise done.

Sheets with one layout are cut together, so each layout counts once; within a layout each different rip and each
different crosscut is one setting. A round tears parts out of one to three sheets and puts them back into the same
sheets; it stands when every part found its place again and the settings are no more than before (or some rounds
ago). Of equal counts, the plan whose offcuts are fewer and larger is kept.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from typing import Final

from storyrod.sheets._apart import Setting, layout_key, settings_of
from storyrod.sheets._fill import NO_LIMIT, Filled, Filler, Fit, Order
from storyrod.sheets._task import Size
from storyrod.sheets._tree import PART, Node, gather, stacked, without_run, without_some

_HISTORY: Final = 4
_COPIED: Final = 0.3  # share of rounds that make one sheet like another
_BLINK: Final = 0.1  # chance that a good place is overlooked
_TORN: Final = 30
_FITS: Final = (Fit.SETTINGS, Fit.SHORT_SIDE, Fit.CORNER)
_NOISE: Final = 0.5
FEW: Final = 0.3
_LARGE: Final = 1e-4  # how much one sheet's largest free place, as a share of the sheet, counts against a setting


class Tidier:
    """Looks for fewer settings."""

    def __init__(self, filler: Filler, sheets: Sequence[Filled]) -> None:
        self.filler = filler
        self.chance: random.Random = filler.chance
        self.kerf = filler.task.kerf
        self.sheets = tuple(sheets)
        self.rounds = 0
        self._known: dict[Filled, tuple[object, int, float]] = {}
        self.score = self._score(self.sheets)
        self._now = self.sheets
        self._now_score = self.score
        self._history = [self.score] * _HISTORY

    @property
    def settings(self) -> int:
        """Settings of the best plan, sheet by sheet."""
        return sum({key: settings for key, settings, _ in map(self._seen, self.sheets)}.values())

    def _seen(self, sheet: Filled) -> tuple[object, int, float]:
        seen = self._known.get(sheet)
        if seen is None:
            size = self.filler.sizes[sheet.size]
            found: dict[Setting, int] = {}
            settings_of(sheet.root, (size.w, size.h), self.kerf, found)
            key = (size.stock.id, layout_key(sheet.root))
            weight = sum([1 - FEW / n for n in found.values()])
            seen = self._known[sheet] = (key, len(found), weight - _LARGE * sheet.room / (size.w * size.h))
        return seen

    def _score(self, sheets: Sequence[Filled]) -> float:
        return sum({key: weight for key, _, weight in map(self._seen, sheets)}.values())

    def run(self, rounds: int, go_on: Callable[[], bool]) -> None:
        """Go on for at most so many rounds; every 16 ask whether to."""
        for n in range(rounds):
            if n % 16 == 0 and not go_on():
                return
            self.rounds += 1
            self._round()
            if len(self._known) > 20000:
                self._known = {s: self._known[s] for s in (*self._now, *self.sheets) if s in self._known}

    def _round(self) -> None:
        roll = self.chance.random
        sheets = list(self._now)
        copy = len(sheets) > 1 and roll() < _COPIED
        sheets = self._copied(sheets) if copy else self._shuffled(sheets)
        if not sheets:
            return
        score = self._score(sheets)
        n = self.rounds % _HISTORY
        if score <= max(self._now_score, self._history[n]):
            self._now, self._now_score = tuple(sheets), score
        self._history[n] = self._now_score
        if score < self.score:
            self.sheets, self.score = tuple(sheets), score

    def _shuffled(self, sheets: list[Filled]) -> list[Filled]:
        """Return the sheets with some parts put elsewhere, or none when a part found no place."""
        roll = self.chance.random
        gone: list[int] = []
        empty: list[int] = []
        hit = min(1 + int(roll() * 3), len(sheets))
        torn = (1 + roll() * _TORN) / hit
        for i in self.chance.sample(range(len(sheets)), hit):
            sheet = sheets[i]
            if roll() < 0.5:
                root = without_run(sheet.root, torn, self.chance, gone)
            else:
                root = without_some(sheet.root, min(torn / sheet.count, 1.0), self.chance, gone)
            if root is None:
                empty.append(i)
            elif root is not sheet.root:
                sheets[i] = self.filler.filled(sheet.size, root)
        fit = _FITS[int(roll() * len(_FITS))]
        order = (Order.AREA, Order.SHORT_SIDE, Order.LONG_SIDE)[int(roll() * 3)]
        todo = self.filler.grouped(gone, order, _NOISE)
        if empty:
            todo = self._begun(sheets, empty, todo)
        left = self.filler.fill(sheets, todo, budget=NO_LIMIT, left=[], fit=fit, blink=_BLINK) if todo else []
        return [] if left else sheets

    def _begun(self, sheets: list[Filled], empty: list[int], todo: list[int]) -> list[int]:
        """Put a first part into each sheet torn empty; sheets that take none are struck off."""
        rest = list(todo)
        idle: list[int] = []
        for i in empty:
            size = self.filler.sizes[sheets[i].size]
            at = next((n for n, k in enumerate(rest) if self._lying(k, size)), None)
            if at is None:
                idle.append(i)
                continue
            ways = self._lying(rest.pop(at), size)
            sheets[i] = self.filler.filled(sheets[i].size, ways[int(self.chance.random() * len(ways))])
        for i in sorted(idle, reverse=True):
            del sheets[i]
        return rest

    def _lying(self, kind: int, size: Size) -> list[Node]:
        return [w for w in self.filler.ways[kind] if w[0] <= size.w and w[1] <= size.h]

    def _copied(self, sheets: list[Filled]) -> list[Filled]:
        """Make one sheet like another: its own parts, and what the other gives up, find their places elsewhere."""
        a, b = self.chance.sample(range(len(sheets)), 2)
        model, sheet = sheets[a], sheets[b]
        if model.size != sheet.size:
            return []
        want: list[int] = []
        gather(model.root, want)
        have: list[int] = []
        gather(sheet.root, have)
        for kind in list(want):
            if kind in have:
                have.remove(kind)
                want.remove(kind)
        if len(want) > 8 or not want:
            return []
        sheets[b] = model
        return sheets if self._exchanged(sheets, want, have, {a, b}) else []

    def _exchanged(self, sheets: list[Filled], want: list[int], extra: list[int], fixed: set[int]) -> bool:
        """Take the wanted kinds out of other sheets and put the extra ones there."""
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
        if todo:
            return False
        ordered = self.filler.ordered(extra, Order.AREA, 0.0)
        return not self.filler.fill(sheets, ordered, budget=NO_LIMIT, left=[], fit=Fit.SHORT_SIDE)


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
