"""What a layout weighs when settings are to be few: settings first, then how well they serve, then free places.

Sheets with one layout are cut together, so each layout counts once; within a layout each different rip and each
different crosscut is one setting. A setting that serves one cut alone is nearly gone, so it counts a little less; a
large free place on a sheet counts in favour, and large pieces in hand, cut after cut, count against it.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from storyrod.sheets._apart import Setting, in_hand, likeness
from storyrod.sheets._fill import Filled, Filler
from storyrod.sheets._task import Size

_FEW: Final = 0.3  # how much less a setting that serves one cut alone weighs
_LARGE: Final = 2.0  # what a sheet's largest free place, as a share of the sheet, is worth in settings: rule of thumb
_OUT: Final = 400.0  # what parts left out weigh in a walk, in settings for one sheet full of them
_KNOWN: Final = 20_000
_IN_HAND: Final = 0.15  # what a whole sheet in hand for one cut more weighs, in settings: rule of thumb


class Walk:
    """Sheets, parts left out, their score, and the sheets' numbers by layout, when these were asked for."""

    __slots__ = ("layouts", "out", "score", "sheets")

    def __init__(self, sheets: tuple[Filled, ...], out: tuple[int, ...], score: float) -> None:
        self.layouts: list[list[int]] | None = None
        self.sheets, self.out, self.score = sheets, out, score

    def move(self, sheets: tuple[Filled, ...], out: tuple[int, ...], score: float) -> None:
        """Go on from other sheets."""
        self.sheets, self.out, self.score, self.layouts = sheets, out, score, None


class Weigh:
    """Weighs sheets, and keeps what it knows of each."""

    def __init__(self, filler: Filler) -> None:
        self.filler = filler
        self.one = max(size.w * size.h for size in filler.sizes)
        self._known: dict[Filled, tuple[tuple[int, int], int, float]] = {}

    def settings(self, sheets: Sequence[Filled]) -> int:
        """Return the settings of the sheets, layout by layout."""
        return sum({key: settings for key, settings, _ in map(self._seen, sheets)}.values())

    def score(self, sheets: Sequence[Filled], out: Sequence[int]) -> float:
        """Return what the sheets weigh, and what is left out with them, in settings."""
        settings = sum({key: weight for key, _, weight in map(self._seen, sheets)}.values())
        return settings + _OUT * self.filler.area_of(out) / self.one

    def layouts(self, walk: Walk) -> list[list[int]]:
        """Return the sheets' numbers, those of one layout together."""
        if walk.layouts is None:
            layouts: dict[tuple[int, int], list[int]] = {}
            for i, sheet in enumerate(walk.sheets):
                layouts.setdefault(self._seen(sheet)[0], []).append(i)
            walk.layouts = list(layouts.values())
        return walk.layouts

    def _seen(self, sheet: Filled) -> tuple[tuple[int, int], int, float]:
        seen = self._known.get(sheet)
        if seen is None:
            if len(self._known) > _KNOWN:
                self._known = {}
            size = self.filler.sizes[sheet.size]
            found = self.filler.settings(sheet)
            key = (sheet.size, likeness(sheet.root))
            score = weight(found) - _LARGE * sheet.room / (size.w * size.h) + ease(sheet, size)
            seen = self._known[sheet] = (key, len(found), score)
        return seen


def ease(sheet: Filled, size: Size) -> float:
    """Return what large pieces in hand weigh over all cuts of a sheet, in settings."""
    return _IN_HAND * in_hand(sheet.root, (size.w, size.h)) / (size.w * size.h)


def weight(found: dict[Setting, int]) -> float:
    """Return what settings weigh: one that serves few cuts less, for it is nearly gone."""
    return sum([1 - _FEW / n for n in found.values()])
