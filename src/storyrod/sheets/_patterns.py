"""Regular layouts: one sheet filled with few kinds of parts, cut as often as the parts last, then the next.

A sheet that is cut five times over wants its settings once, so a layout made of few such sheets is easy to cut. Of
some sheets tried, the one with the fewest settings for the area that it settles, waste counted against it, is taken
as often as it goes; then again with what is left.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from storyrod.sheets._fill import NO_LIMIT, Filled, Filler, Fit, Opening, Order
from storyrod.sheets._tree import kinds_in

_TRIED: Final = 20  # sheets tried for each that is taken
_OFFERED: Final = 5  # kinds tried for each that is added to a sheet
_HARD: Final = 0.6  # share of sheets that begin with the largest part left
_FEWER: Final = 0.4  # share of sheets that begin with fewer of it than fit
_WASTE: Final = (15.0, 75.0)  # what a wasted sheet weighs, in settings: from, to
_FITS: Final = (Fit.SHORT_SIDE, Fit.SETTINGS)
_ENOUGH: Final = 60  # kinds that find no room before a sheet is done


@dataclass(frozen=True, slots=True)
class _Tried:
    sheet: Filled
    holds: Counter[int]
    times: int
    score: float


class Patterns:
    """Makes regular layouts on a given set of sheets: so many of each size."""

    def __init__(self, filler: Filler, mix: Sequence[int]) -> None:
        self.filler = filler
        self.chance = filler.chance
        self.mix = tuple(mix)
        self.tried = 0

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
            sheets.extend([best.sheet] * best.times)
            left[best.sheet.size] -= best.times
            for kind, n in best.holds.items():
                wanted[kind] -= n * best.times
            wanted = +wanted
        rest = filler.grouped(sorted(wanted.elements()), Order.AREA, 0.0)
        out = filler.fill(sheets, rest, budget=NO_LIMIT, left=left, fit=Fit.SHORT_SIDE, opening=Opening.LARGEST)
        return sheets, out

    def _best(self, wanted: Counter[int], left: Sequence[int], waste: float) -> _Tried | None:
        tried = [self._try(wanted, left, waste) for _ in range(_TRIED)]
        found = [t for t in tried if t is not None]
        return min(found, key=lambda t: t.score) if found else None

    def _try(self, wanted: Counter[int], left: Sequence[int], waste: float) -> _Tried | None:
        self.tried += 1
        open_sizes = [i for i, n in enumerate(left) if n]
        size = open_sizes[int(self.chance.random() * len(open_sizes))]
        sheet = self._begun(wanted, size)
        if sheet is None:
            return None
        sheet = self._filled_up(sheet, wanted - Counter(kinds_in(sheet.root)))
        holds = Counter(kinds_in(sheet.root))
        times = min(left[size], *(wanted[k] // n for k, n in holds.items()))
        whole = self.filler.sizes[size].w * self.filler.sizes[size].h
        cost = len(self.filler.settings(sheet)) + waste * times * (1 - sheet.used / whole)
        return _Tried(sheet, holds, times, cost / (times * sheet.used))

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
        """Return the sheet, or a new one, with at most so many more of a kind."""
        sheets = [] if sheet is None else [sheet]
        left = [int(sheet is None and i == size) for i in range(len(self.mix))]
        fit = _FITS[int(self.chance.random() * 2)]
        self.filler.fill(sheets, [kind] * most, budget=NO_LIMIT, left=left, fit=fit, opening=Opening.LARGEST)
        return sheets[0] if sheets else None
