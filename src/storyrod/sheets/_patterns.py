"""Regular layouts: one sheet filled with few kinds of parts, cut as often as the parts last, then the next.

A sheet that is cut five times over wants its settings once, so a layout made of few such sheets is easy to cut. Of
some sheets tried, the one with the fewest settings for the area that it settles, waste counted against it, is taken
as often as it goes; then again with what is left. Sheets once tried are kept, and in later layouts are chosen among
as well. Parts of one kind go in as blocks, rows and columns of them at once.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from storyrod.sheets._apart import likeness
from storyrod.sheets._fill import NO_LIMIT, Filled, Filler, Fit, Largest, Opening
from storyrod.sheets._task import Size
from storyrod.sheets._tree import Node, Slot, kinds_in, stacked

_TRIED: Final = (20, 4)  # new sheets tried for each that is taken: in the first layout, in later ones
_LUCK: Final = 0.1  # share by which a sheet may count as better than it is, so that no two layouts need be alike
_OFFERED: Final = 5  # kinds tried for each that is added to a sheet
_HARD: Final = 0.6  # share of sheets that begin with the largest part left
_FEWER: Final = 0.4  # share of sheets that begin with fewer of it than fit
_FEW_FIRST: Final = 0.5  # share of kinds that go where they want the fewest new settings
_BIG_FIRST: Final = 0.5  # share of kinds that go in as large blocks rather than snug ones
_WASTE: Final = (15.0, 75.0)  # what a wasted sheet weighs, in settings: from, to
_ENOUGH: Final = 60  # kinds that find no room before a sheet is done


@dataclass(frozen=True, slots=True)
class _Tried:
    sheet: Filled
    holds: dict[int, int]
    settings: int
    wasted: float  # share of the sheet

    def times(self, wanted: Counter[int], left: Sequence[int]) -> int:
        """Return how often it goes."""
        most = left[self.sheet.size]
        for kind, n in self.holds.items():
            if most == 0:
                return 0
            most = min(most, wanted[kind] // n)
        return most

    def score(self, times: int, waste: float) -> float:
        """Return its settings for the area it settles when it is cut so often, waste counted against it."""
        return (self.settings + waste * times * self.wasted) / (times * self.sheet.used)


class Patterns:
    """Makes regular layouts on a given set of sheets: so many of each size."""

    def __init__(self, filler: Filler, mix: Sequence[int]) -> None:
        self.filler = filler
        self.chance = filler.chance
        self.mix = tuple(mix)
        self.tried = 0
        self.laid = 0
        self._known: dict[tuple[int, int], _Tried] = {}  # sheets tried, by size and likeness

    def lay(self) -> tuple[list[Filled], list[int]]:
        """Return the sheets of a new regular layout, and the parts that found no place."""
        filler = self.filler
        waste = _WASTE[0] * (_WASTE[1] / _WASTE[0]) ** self.chance.random()
        wanted = Counter(filler.task.wanted)
        left = list(self.mix)
        sheets: list[Filled] = []
        while sum(wanted.values()) and sum(left):
            best = self._best(wanted, left, waste)
            if best is None:
                break
            times = best.times(wanted, left)
            sheets.extend([best.sheet] * times)
            left[best.sheet.size] -= times
            for kind, n in best.holds.items():
                wanted[kind] -= n * times
            wanted = +wanted
        self.laid += 1
        rest = filler.grouped(sorted(wanted.elements()), Largest.AREA, 0.0)
        out = filler.fill(sheets, rest, budget=NO_LIMIT, left=left, fit=Fit.SHORT_SIDE, opening=Opening.LARGEST)
        return sheets, out

    def _best(self, wanted: Counter[int], left: Sequence[int], waste: float) -> _Tried | None:
        """Return the best sheet to go on with, of some new ones and, after the first layout, all tried before."""
        new: dict[tuple[int, int], _Tried] = {}
        for _ in range(_TRIED[self.laid > 0]):
            sheet = self._try(wanted, left)
            if sheet is not None:
                key = (sheet.size, likeness(sheet.root))
                new[key] = self._known.get(key) or self._told(sheet)
        chosen: _Tried | None = None
        least = float(NO_LIMIT)
        self._known.update(new)
        for tried in (self._known if self.laid else new).values():
            times = tried.times(wanted, left)
            if times:
                score = tried.score(times, waste) * (1 - _LUCK * self.chance.random())
                if score < least:
                    chosen, least = tried, score
        return chosen

    def _told(self, sheet: Filled) -> _Tried:
        size = self.filler.sizes[sheet.size]
        holds = dict(Counter(kinds_in(sheet.root)))
        return _Tried(sheet, holds, len(self.filler.settings(sheet)), 1 - sheet.used / (size.w * size.h))

    def _try(self, wanted: Counter[int], left: Sequence[int]) -> Filled | None:
        self.tried += 1
        open_sizes = [i for i, n in enumerate(left) if n]
        size = open_sizes[int(self.chance.random() * len(open_sizes))]
        sheet = self._begun(wanted, size)
        return None if sheet is None else self._filled_up(sheet, wanted - Counter(kinds_in(sheet.root)))

    def _begun(self, wanted: Counter[int], size: int) -> Filled | None:
        """Return a sheet with as many of one kind as it holds, or fewer."""
        roll, area = self.chance.random, self.filler.area
        kinds = list(wanted)
        kind = max(kinds, key=lambda k: (area[k], -k))
        if roll() >= _HARD:
            (kind,) = self.chance.choices(kinds, [wanted[k] * area[k] for k in kinds])
        most = min(wanted[kind], self.filler.sizes[size].w * self.filler.sizes[size].h // area[kind])
        sheet = self._with(None, size, kind, most)
        if sheet is not None and sheet.count > 1 and roll() < _FEWER:
            return self._with(None, size, kind, 1 + int(roll() * sheet.count))
        return sheet

    def _filled_up(self, sheet: Filled, left: Counter[int]) -> Filled:
        """Add kind after kind, of some that are offered the one that settles most area for the settings it wants."""
        roll, area = self.chance.random, self.filler.area
        full: set[int] = set()
        while len(full) < _ENOUGH:
            kinds = [k for k, n in left.items() if n > 0 and area[k] <= sheet.room and k not in full]
            if not kinds:
                break
            weights = [area[k] * min(left[k], sheet.room // area[k]) for k in kinds]
            best, chosen = 0.0, sheet
            before = len(self.filler.settings(sheet))
            for kind in sorted(set(self.chance.choices(kinds, weights, k=_OFFERED))):
                grown = self._with(sheet, sheet.size, kind, min(left[kind], sheet.room // area[kind] + 2))
                if grown is None or grown is sheet:
                    full.add(kind)
                    continue
                new = max(len(self.filler.settings(grown)) - before, 0)
                score = (grown.used - sheet.used) / (new + 0.5) * (0.5 + roll())
                if score > best:
                    best, chosen = score, grown
            left = left - (Counter(kinds_in(chosen.root)) - Counter(kinds_in(sheet.root)))
            sheet = chosen
        return sheet

    def _with(self, sheet: Filled | None, size: int, kind: int, most: int) -> Filled | None:
        """Return the sheet, or a new one, with at most so many more of a kind, put in as blocks."""
        roll, area = self.chance.random, self.filler.area[kind]
        few, big = roll() < _FEW_FIRST, roll() < _BIG_FIRST
        while most and (sheet is None or sheet.room >= area):
            block = self._block(sheet, size, kind, most, few=few, big=big)
            if block is None:
                break
            slot, node, n = block
            if sheet is None:
                sheet = self.filler.filled(size, node)
            else:
                sheet = self.filler.with_node(sheet, slot, node, kind, n)
            most -= n
        return sheet

    def _block(
        self, sheet: Filled | None, size: int, kind: int, most: int, *, few: bool, big: bool
    ) -> tuple[Slot, Node, int] | None:
        """Return the best block of a kind: its place, its node and how many it has; or None.

        Where `few` settings are wanted, those that the sheet does not have yet count first; then how many it has, if
        that is to be `big`, or how snug it is.
        """
        known = self.filler.settings(sheet) if few and sheet is not None else {}
        slots = _whole(self.filler.sizes[size]) if sheet is None else sheet.slots
        best: tuple[Slot, Node, int, int] | None = None
        least = (NO_LIMIT, 0, 0)
        for way in self.filler.ways[kind]:
            w, h = way[0], way[1]
            new = few and (0, w) not in known, few and (1, h) not in known
            for slot in slots:
                across, up = slot[0] // w, slot[1] // h
                if not across or not up:
                    continue
                if slot[3] & 1:
                    across = min(across, most)
                    up = min(up, most // across)
                else:
                    up = min(up, most)
                    across = min(across, most // up)
                spare = slot[0] - across * w, slot[1] - up * h
                wanted = (new[0] and (spare[0] > 0 or across > 1)) + (new[1] and (spare[1] > 0 or up > 1))
                rank = (wanted, -across * up, min(spare)) if big else (wanted, min(spare), -across * up)
                if rank < least:
                    least = rank
                    best = (slot, way, across, up)
        if best is None:
            return None
        slot, way, across, up = best
        return slot, _rows_of(way, across, up, slot[3] & 1), across * up


def _whole(size: Size) -> list[Slot]:
    return [(size.w, size.h, None, 0), (size.w, size.h, None, 1)]


def _rows_of(way: Node, across: int, up: int, axis: int) -> Node:
    """Return a block of one part, its rows or columns along the axis so that they join those that are there."""
    counts = across, up
    one = way if counts[1 - axis] == 1 else stacked(1 - axis, [way] * counts[1 - axis])
    return one if counts[axis] == 1 else stacked(axis, [one] * counts[axis])
