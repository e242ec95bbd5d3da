"""The moves of the search for fewer settings: each makes other sheets of those there are, at the same cost.

Two pieces change places where each finds room; or parts are torn out of some sheets, or out of all sheets of one
layout alike, and put back, parts of one kind together and where they want no new setting; or one sheet is made like
another.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Final

from storyrod.sheets._apart import Setting, settings_of
from storyrod.sheets._fill import NO_LIMIT, Filled, Filler, Fit, Largest, Opening
from storyrod.sheets._swaps import edited, exchange
from storyrod.sheets._tree import PART, Node, gather, kinds_in, stacked, without_run, without_some
from storyrod.sheets._weigh import Walk, Weigh, weight

_EXCHANGED: Final = 0.75  # share of rounds that exchange two pieces
_ONE_SHEET: Final = 0.15  # share of these within one sheet
_PAIRS: Final = 6  # pieces tried in such a round until one finds another to be exchanged with
_HOPELESS: Final = 4.0  # times the heat: an exchange so much worse is not looked at further
_ROOM: Final = 0.5  # settings that an exchange may be worth by the free places it leaves
_TOGETHER: Final = 0.4  # share of the other rounds that change all sheets of one layout alike
_OTHERS: Final = 0.6  # share of these that tear parts out of other sheets too
_COPIED: Final = 0.3  # share of the rest that make one sheet like another
_BLINK: Final = 0.02  # chance that a good place is overlooked
_TORN: Final = 30  # parts torn out in one round, at most about this many; few more often than many
_TORN_ALIKE: Final = 12  # the same out of each of the sheets that are changed alike
_TORN_BESIDE: Final = 8  # the same out of a sheet beside them
_LEAST: Final = 2
_FITS: Final = (Fit.SETTINGS, Fit.SHORT_SIDE, Fit.CORNER, Fit.AREA)
_ORDERS: Final = (Largest.AREA, Largest.SHORT_SIDE, Largest.LONG_SIDE)
_NOISE: Final = 0.5
_GIVEN_UP: Final = 0.04  # a round that leaves out so much of a sheet more than before is given up

type Tried = tuple[list[Filled], Sequence[int]]
"""Sheets and the parts left out of them."""


class Moves:
    """Makes moves from where a walk stands, on a given set of sheets: so many of each size."""

    def __init__(self, filler: Filler, weigh: Weigh, mix: Sequence[int]) -> None:
        self.filler = filler
        self.weigh = weigh
        self.chance = filler.chance
        self._mix = list(mix)
        self._most_out = 0  # area that may be left out in this round: more would hardly stand
        self._heat = 0.0

    def move(self, walk: Walk, heat: float) -> Tried | None:
        """Return what one round makes of a walk's sheets; None where it makes nothing, or what could hardly stand."""
        self._heat = heat
        self._most_out = self.filler.area_of(walk.out) + round(_GIVEN_UP * self.weigh.one)
        tried = self._exchanged(walk) if self.chance.random() < _EXCHANGED else self._refilled(walk)
        return None if tried is None or self.filler.area_of(tried[1]) > self._most_out else tried

    def _refilled(self, walk: Walk) -> Tried | None:
        """Return the sheets with parts torn out and put back, or None."""
        roll = self.chance.random
        tried = self._together(walk) if roll() < _TOGETHER else None
        if tried is not None:
            return tried
        copy = len(walk.sheets) > 1 and roll() < _COPIED
        return self._copied(walk) if copy else self._shuffled(walk)

    def _exchanged(self, walk: Walk) -> Tried | None:
        """Return the sheets with two pieces exchanged, in all sheets of a layout alike; None where that is no good."""
        roll, filler = self.chance.random, self.filler
        layouts = self.weigh.layouts(walk)
        for _ in range(_PAIRS):
            a = b = int(roll() * len(layouts))
            if len(layouts) > 1 and roll() >= _ONE_SHEET:
                b = (a + 1 + int(roll() * (len(layouts) - 1))) % len(layouts)
            if len(layouts[a]) != len(layouts[b]):
                continue
            one, other = walk.sheets[layouts[a][0]], walk.sheets[layouts[b][0]]
            edits = exchange(one.root, other.root, filler.pieces(one), filler.pieces(other), self.chance)
            if edits is None:
                continue
            here, there = edits
            if a == b:
                roots = {a: edited(one.root, [here, there])}
            else:
                roots = {a: edited(one.root, [here]), b: edited(other.root, [there])}
            return self._changed(walk, {tuple(layouts[i]): root for i, root in roots.items()})
        return None

    def _changed(self, walk: Walk, roots: dict[tuple[int, ...], Node]) -> Tried | None:
        """Return the sheets with new trees, unless one does not fit or they want far more settings."""
        worse = 0.0
        changed: list[tuple[tuple[int, ...], Node, dict[Setting, int]]] = []
        for which, root in roots.items():
            sheet = walk.sheets[which[0]]
            size = self.filler.sizes[sheet.size]
            if root[0] > size.w or root[1] > size.h:
                return None
            found: dict[Setting, int] = {}
            settings_of(root, (size.w, size.h), found)
            worse += weight(found) - weight(self.filler.settings(sheet))
            changed.append((which, root, found))
        if worse > _HOPELESS * self._heat + _ROOM:
            return None
        sheets = list(walk.sheets)
        for which, root, found in changed:
            new = self.filler.filled(sheets[which[0]].size, root)
            new.known = found
            for i in which:
                sheets[i] = new
        return sheets, walk.out

    def _fill(self, sheets: list[Filled], kinds: Sequence[int], fit: Fit, blink: float) -> list[int]:
        left = list(self._mix)
        for sheet in sheets:
            left[sheet.size] -= 1
        return self.filler.fill(
            sheets,
            kinds,
            budget=NO_LIMIT,
            left=left,
            fit=fit,
            opening=Opening.LARGEST,
            blink=blink,
            most_out=self._most_out,
        )

    def _shuffled(self, walk: Walk) -> tuple[list[Filled], list[int]]:
        """Return the sheets with some parts put elsewhere."""
        roll = self.chance.random
        gone: list[int] = list(walk.out)
        hit = min(1 + int(roll() * 3), len(walk.sheets))
        torn = _LEAST * (_TORN / _LEAST) ** roll() / max(hit, 1)
        rest = self._torn(walk.sheets, hit, torn, gone)
        return rest, self._fill(rest, self._order(gone), self._fit(), _BLINK)

    def _torn(self, sheets: Sequence[Filled], hit: int, torn: float, gone: list[int]) -> list[Filled]:
        """Return the sheets with about `torn` parts taken out of each of `hit` of them."""
        rest: list[Filled | None] = list(sheets)
        for i in self.chance.sample(range(len(rest)), min(hit, len(rest))):
            root = self._torn_root(sheets[i], torn, gone)
            if root is not sheets[i].root:
                rest[i] = None if root is None else self.filler.filled(sheets[i].size, root)
        return [s for s in rest if s is not None]

    def _torn_root(self, sheet: Filled, torn: float, gone: list[int]) -> Node | None:
        if self.chance.random() < 0.5:
            return without_run(sheet.root, torn, self.chance, gone)
        return without_some(sheet.root, min(torn / sheet.count, 1.0), self.chance, gone)

    def _order(self, kinds: list[int]) -> list[int]:
        return self.filler.grouped(kinds, _ORDERS[int(self.chance.random() * len(_ORDERS))], _NOISE)

    def _fit(self) -> Fit:
        return _FITS[int(self.chance.random() * len(_FITS))]

    def _together(self, walk: Walk) -> Tried | None:
        """Change all sheets of one layout alike: one is torn, then filled from parts there are enough of for all."""
        roll = self.chance.random
        many = [which for which in self.weigh.layouts(walk) if len(which) > 1]
        if not many:
            return None
        which = set(many[int(roll() * len(many))])
        times, sheet = len(which), walk.sheets[min(which)]
        once: list[int] = []
        root = self._torn_root(sheet, 1 + roll() * min(_TORN_ALIKE, sheet.count), once)
        if root is sheet.root:
            return None
        gone = [*walk.out, *(once * times)]
        others = [s for i, s in enumerate(walk.sheets) if i not in which]
        if roll() < _OTHERS:
            others = self._torn(others, 1 + int(roll() * 2), _LEAST + roll() * _TORN_BESIDE, gone)
        model = self._model(sheet.size, root, Counter(gone), times)
        if model is None:
            return None
        left = Counter(gone)
        left.subtract({k: n * times for k, n in (Counter(kinds_in(model.root)) - _held(root)).items()})
        alike = [model] * times
        sheets = [*others, *alike]
        out = self._fill(sheets, self._order(sorted(left.elements())), self._fit(), _BLINK)
        return sheets, out

    def _model(self, size: int, root: Node | None, parts: Counter[int], times: int) -> Filled | None:
        """Return one sheet filled up from parts of which there are enough for as many sheets as are made alike."""
        sheets = [] if root is None else [self.filler.filled(size, root)]
        left = [int(root is None and i == size) for i in range(len(self._mix))]
        each = [k for k, n in parts.items() for _ in range(n // times)]
        self.filler.fill(
            sheets,
            self._order(each),
            budget=NO_LIMIT,
            left=left,
            fit=self._fit(),
            opening=Opening.LARGEST,
            blink=_BLINK,
        )
        return sheets[0] if sheets else None

    def _copied(self, walk: Walk) -> Tried | None:
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
        return sheets, self._fill(sheets, self.filler.grouped(spare, Largest.AREA, 0.0), Fit.SHORT_SIDE, 0.0)

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


def _held(root: Node | None) -> Counter[int]:
    return Counter() if root is None else Counter(kinds_in(root))


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
