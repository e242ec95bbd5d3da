"""Fewer settings at the same cost: the parts laid out anew on the sheets of a plan that is otherwise done.

Sheets with one layout are cut together, so each layout counts once; within a layout each different rip and each
different crosscut is one setting. A round tears parts out of some sheets, or out of all sheets of one layout alike, and
puts them back, parts of one kind together and where they want no new setting; parts may be left out for a while, at
a price. Or it exchanges two pieces that find room where the other is. A round that is not worse stands, a worse one by
a chance that falls with how much worse it is. A plan counts when nothing is left out. Of equal counts the one is kept
whose settings serve more cuts each, and whose free places are larger.

First some regular layouts are made afresh (see `_patterns`); then two walks take turns, one from the plan given, which
is often irregular, one from the best of the fresh ones; then the better of the two goes on alone.
"""

from __future__ import annotations

import math
import random
from collections import Counter
from collections.abc import Callable, Sequence
from typing import Final

from storyrod.sheets._apart import Setting, likeness, settings_of
from storyrod.sheets._fill import NO_LIMIT, Filled, Filler, Fit, Opening, Order
from storyrod.sheets._patterns import Patterns
from storyrod.sheets._swaps import edited, exchange
from storyrod.sheets._tree import PART, Node, gather, kinds_in, stacked, without_run, without_some

_HEAT: Final = (0.6, 0.1)  # a round worse by so many settings stands once in e times: at first, in the end
_FRESH_SHARE: Final = 0.3  # share of the work for making regular layouts
_SOON_SHARE: Final = 0.1  # from here on regular layouts are given up when none is near
_NEAR: Final = 0.5  # of the room to spare: so much area may a regular layout leave out that is near
_BOTH_SHARE: Final = 0.5  # until this share of the work is done, two walks take turns
_CLEAR: Final = 0.8  # times the other's score: a walk so much better goes on alone before that
_LATE_SHARE: Final = 0.8  # from here on no walk goes on with parts left out
_TURN: Final = 256  # rounds of one walk before it is the other's turn
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
_LOST: Final = 4.0  # settings by which a walk may stand behind the best plan before it goes back there
_ASKED: Final = 16  # rounds after which the clock is asked
_LEAST: Final = 2
_FITS: Final = (Fit.SETTINGS, Fit.SHORT_SIDE, Fit.CORNER, Fit.AREA)
_ORDERS: Final = (Order.AREA, Order.SHORT_SIDE, Order.LONG_SIDE)
_NOISE: Final = 0.5
_FEW: Final = 0.3  # how much less a setting that serves one cut alone weighs: it is nearly gone
_LARGE: Final = 2.0  # what a sheet's largest free place, as a share of the sheet, is worth in settings: rule of thumb
_OUT: Final = 400.0  # what parts left out weigh in a walk, in settings for one sheet full of them
_GIVEN_UP: Final = 0.04  # a round that leaves out so much of a sheet more than before is given up
_OUT_FRESH: Final = 150.0  # the same in the choice of a walk's beginning
_KNOWN: Final = 20_000


class _Walk:
    """Sheets, parts left out, their score, and the sheets' numbers by layout, when these were asked for."""

    __slots__ = ("layouts", "out", "score", "sheets")

    def __init__(self, sheets: tuple[Filled, ...], out: tuple[int, ...], score: float) -> None:
        self.layouts: list[list[int]] | None = None
        self.sheets, self.out, self.score = sheets, out, score

    def move(self, sheets: tuple[Filled, ...], out: tuple[int, ...], score: float) -> None:
        """Go on from other sheets."""
        self.sheets, self.out, self.score, self.layouts = sheets, out, score, None


class Tidier:
    """Looks for fewer settings."""

    def __init__(self, found_by: Filler, sheets: Sequence[Filled]) -> None:
        # Gathering what happens to be low makes rows that are cut in many ways: it fills sheets, but wants settings.
        self.filler = filler = Filler(found_by.task, found_by.chance, gathers=False)
        self.chance: random.Random = filler.chance
        self.sheets = tuple(filler.filled(s.size, s.root) for s in sheets)
        self.rounds = 0
        self._heat = _HEAT[0]
        self._most_out = 0  # area that may be left out in this round: more would hardly stand
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
            seen = self._known[sheet] = (key, len(found), _weight(found) - _LARGE * sheet.room / (size.w * size.h))
        return seen

    def _score(self, sheets: Sequence[Filled], out: Sequence[int]) -> float:
        settings = sum({key: weight for key, _, weight in map(self._seen, sheets)}.values())
        return settings + _OUT * self._area(out) / self._one

    def _area(self, kinds: Sequence[int]) -> int:
        area = self.filler.area
        return sum([area[k] for k in kinds])

    def run(self, rounds: int, gone: Callable[[], float]) -> None:
        """Go on for at most so many rounds, and until `gone` says that its whole share of the time is (1 or more)."""
        now = _Progress(rounds, gone)
        start = _Walk(self.sheets, (), self.score)
        fresh = self._fresh(now)
        walks = [start] if fresh is None else [start, fresh]
        while now.share < 1:
            low, high = sorted(w.score for w in walks) if fresh is not None else (0.0, 0.0)
            alone = fresh is None or now.share >= _BOTH_SHARE or low < _CLEAR * high
            walk = self._better(walks, now.share) if alone else walks[now.rounds // _TURN % 2]
            self._heat = _HEAT[0] * (_HEAT[1] / _HEAT[0]) ** now.share
            self._round(walk)
            now.count(1)
            if len(self._known) > _KNOWN:
                self._known = {}
        self.rounds = now.rounds

    def _fresh(self, now: _Progress) -> _Walk | None:
        """Return a walk that starts from the best of some regular layouts, with what does not fit left out.

        None where no regular layout comes near: the parts fill the sheets too well for that.
        """
        patterns = Patterns(self.filler, self._mix)
        room = sum(n * size.w * size.h for n, size in zip(self._mix, self.filler.sizes, strict=True))
        spare = room - sum(sheet.used for sheet in self.sheets)
        found: list[tuple[float, _Walk]] = []
        while not found or now.share < _FRESH_SHARE:
            before = patterns.tried
            sheets, out = patterns.lay()
            walk = _Walk(tuple(sheets), tuple(out), self._score(sheets, out))
            left = _OUT_FRESH * self._area(out) / self._one
            found.append((self._score(sheets, ()) + left, walk))
            self._keep(walk)
            now.count(max(patterns.tried - before, 1))
            if now.share > _SOON_SHARE and min(self._area(w.out) for _, w in found) > _NEAR * spare:
                return None
        return min(found, key=lambda f: f[0])[1]

    def _better(self, walks: list[_Walk], share: float) -> _Walk:
        """Return the walk to go on with alone: the better one; from the best plan where it fell far behind that."""
        walk = min(walks, key=lambda w: w.score)
        if walk.score > self.score + _LOST or (walk.out and share > _LATE_SHARE):
            walk.move(self.sheets, (), self.score)
        return walk

    def _keep(self, walk: _Walk) -> None:
        """Take note of where a walk stands, when it is the best plan so far."""
        if walk.score < self.score and not walk.out and self.filler.bought_area(walk.sheets) <= self._bought:
            self.sheets, self.score = walk.sheets, walk.score

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

    def _round(self, walk: _Walk) -> None:
        roll = self.chance.random
        self._most_out = self._area(walk.out) + round(_GIVEN_UP * self._one)
        tried = self._exchanged(walk) if roll() < _EXCHANGED else self._refilled(walk)
        if tried is None:
            return
        sheets, out = tried
        if self._area(out) > self._most_out:
            return
        new = _Walk(tuple(sheets), tuple(out), self._score(sheets, out))
        if new.score <= walk.score - self._heat * math.log(1 - roll()):
            walk.move(new.sheets, new.out, new.score)
        self._keep(new)

    def _refilled(self, walk: _Walk) -> tuple[list[Filled], list[int]] | None:
        """Return the sheets with parts torn out and put back, or None."""
        roll = self.chance.random
        tried = self._together(walk) if roll() < _TOGETHER else None
        if tried is not None:
            return tried
        copy = len(walk.sheets) > 1 and roll() < _COPIED
        return self._copied(walk) if copy else self._shuffled(walk)

    def _layouts(self, walk: _Walk) -> list[list[int]]:
        """Return the sheets' numbers, those of one layout together."""
        if walk.layouts is None:
            layouts: dict[tuple[int, int], list[int]] = {}
            for i, sheet in enumerate(walk.sheets):
                layouts.setdefault(self._seen(sheet)[0], []).append(i)
            walk.layouts = list(layouts.values())
        return walk.layouts

    def _exchanged(self, walk: _Walk) -> tuple[list[Filled], Sequence[int]] | None:
        """Return the sheets with two pieces exchanged, in all sheets of a layout alike; None where that is no good."""
        roll, filler = self.chance.random, self.filler
        layouts = self._layouts(walk)
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

    def _changed(self, walk: _Walk, roots: dict[tuple[int, ...], Node]) -> tuple[list[Filled], Sequence[int]] | None:
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
            worse += _weight(found) - _weight(self.filler.settings(sheet))
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

    def _shuffled(self, walk: _Walk) -> tuple[list[Filled], list[int]]:
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

    def _together(self, walk: _Walk) -> tuple[list[Filled], list[int]] | None:
        """Change all sheets of one layout alike: one is torn, then filled from parts there are enough of for all."""
        roll = self.chance.random
        many = [which for which in self._layouts(walk) if len(which) > 1]
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


def _weight(found: dict[Setting, int]) -> float:
    """Return what settings weigh: one that serves few cuts less, for it is nearly gone."""
    return sum([1 - _FEW / n for n in found.values()])


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
