"""Strips that miss the width of a sheet by no more than its trim and the saw's kerf: a few millimetres would do."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence

from storyrod.model.panel import Grain
from storyrod.model.sheet import BoardPlan, CutRules, Part, StockSheet
from storyrod.sheets._check import usable_of

DUST = 1e-6


def near_misses(plan: BoardPlan, parts: Sequence[Part], stock: Sequence[StockSheet], rules: CutRules) -> Iterator[str]:
    """Yield the widest strip of a board that nearly comes out of a sheet once more, where a sheet might be saved."""
    bought = [s for s in stock if s.board == plan.board and not s.offcut]
    if not bought:
        return
    sheet = max(bought, key=lambda s: s.length * s.width)
    long, usable = usable_of(sheet, rules)
    if len(plan.sheets) <= math.ceil(plan.figures.parts_m2 * 1e6 / (long * usable)):
        return  # Narrower strips could save none: the parts alone fill so many.
    for width, many in sorted(_strips(p for p in parts if p.board == plan.board).items(), reverse=True):
        count = int((sheet.width + DUST) // width)
        missed = count * width + (count - 1) * rules.kerf - usable
        if count >= 2 and many >= count and missed > DUST:
            size, told = rules.lengths.told_size(sheet.length, sheet.width), rules.lengths.told
            yield (
                f"{count} strips {told(width)} wide miss fitting a sheet of {size} by {told(missed)}: {count - 1} x "
                f"{told(rules.kerf)} of kerf and {told(sheet.width - usable)} of trim get in the way. At "
                f"{rules.lengths.told_most(width - missed / count)} they fit."
            )
            return


def _strips(parts: Iterator[Part]) -> Counter[float]:
    """Return how many parts there are of each width across the sheet; those that lie either way count as they are."""
    found: Counter[float] = Counter()
    for part in parts:
        if not part.strip:
            found[part.length if part.grain is Grain.ACROSS else part.width] += part.copies
    return found
