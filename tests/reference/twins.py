"""Twins of the published sets, drawn by the same rules, for a clone that has not the sets beside it.

Drawn here from a seed, so they are the project's own and come under its licence; nothing of the published files is in
them. Rules: J. O. Berkey, P. Y. Wang 1987 (classes 1, 3 and 5: both sides uniform) and S. Martello, D. Vigo 1998
(classes 7 and 9: seven parts in ten of one shape); F. G. Ortmann et al. 2010 (sheets of several sizes cut up without
waste); TSPLIB 95, the sequential ordering problem (what each change costs one way, some pairs in a fixed order). Cited
in full in `test_cutting_published` and `test_run_order`.

What is best is found by other means than ours: by bounds, by how the parts were made, by trying every set of nodes.
"""

from __future__ import annotations

import math
import random
from itertools import combinations
from typing import Any

Sides = tuple[int, int]
Matrix = list[list[int]]

UNIFORM = {1: (10, 10), 3: (35, 40), 5: (100, 100)}
"""Longest side of a part, and the sheet's, of the classes with uniform sides."""


class Dice:
    """Throws that are the same on every Python: only `random()` is promised to be."""

    def __init__(self, seed: int) -> None:
        self._chance = random.Random(seed)

    def between(self, low: int, high: int) -> int:
        """Throw a whole number from low to high, both included."""
        return low + int(self._chance.random() * (high - low + 1))


def one_sheet_size(of_class: int, count: int, seed: int) -> dict[str, Any]:
    """Draw an instance of one sheet size, as the published ones are written."""
    dice = Dice(seed)
    if of_class in UNIFORM:
        longest, side = UNIFORM[of_class]
        parts = [(dice.between(1, longest), dice.between(1, longest)) for _ in range(count)]
    else:
        side = 100
        parts = [_shaped(_shape(of_class, dice), side, dice) for _ in range(count)]
    return {"sheet": [side, side], "parts": [[w, h, 1] for w, h in parts]}


def _shape(of_class: int, dice: Dice) -> int:
    """Return one of four shapes: in class 7 the first is usual, in class 9 the third."""
    usual = {7: 1, 9: 3}[of_class]
    return usual if dice.between(1, 10) <= 7 else [s for s in (1, 2, 3, 4) if s != usual][dice.between(0, 2)]


def _shaped(shape: int, side: int, dice: Dice) -> Sides:
    """Draw a part: wide and low, narrow and high, large both ways, or small both ways."""
    small, large = (1, side // 2), (side // 2, side)
    long = (side * 2 // 3, side)
    w, h = {1: (long, small), 2: (small, long), 3: (large, large), 4: (small, small)}[shape]
    return dice.between(*w), dice.between(*h)


def least_sheets(instance: dict[str, Any]) -> int:
    """Return a number of sheets below which no layout can be, even where parts may turn.

    By area; and by parts no two of which go on one sheet, side by side or above each other, turned or not.
    """
    side: int = instance["sheet"][0]
    parts = [(min(w, h), n) for w, h, n in instance["parts"] for _ in range(n)]
    area = sum(w * h * n for w, h, n in instance["parts"])
    large = sum(2 * short > side for short, _ in parts)
    return int(max(math.ceil(area / side**2), large))


def cut_up(sizes: list[Sides], sheets: int, cuts: int, seed: int) -> dict[str, Any]:
    """Cut some full sheets of these sizes into parts without waste: their area is the least that any layout takes."""
    dice = Dice(seed)
    pieces = [sizes[dice.between(0, len(sizes) - 1)] for _ in range(sheets)]
    area = sum(w * h for w, h in pieces)
    for _ in range(cuts):
        pieces.sort(key=lambda s: s[0] * s[1])
        w, h = pieces.pop()  # the largest, across its longer side, nowhere near an end
        at = dice.between(30, 70)
        pieces += (
            [(w * at // 100, h), (w - w * at // 100, h)] if w >= h else [(w, h * at // 100), (w, h - h * at // 100)]
        )
    return {
        "stock": [[w, h, sheets] for w, h in sizes],
        "parts": [[w, h, 1] for w, h in sorted(pieces)],
        "opt_area": area,
    }


def some_order(count: int, pairs: int, most: int, seed: int) -> tuple[Matrix, list[tuple[int, int]]]:
    """Draw what each change costs, and which must come before which; node 0 is first and the last one last."""
    dice = Dice(seed)
    rows = [[0 if i == j else dice.between(1, most) for j in range(count)] for i in range(count)]
    inner = [(a, b) for a, b in combinations(range(1, count - 1), 2)]
    before = {inner[dice.between(0, len(inner) - 1)] for _ in range(pairs)}
    ends = {(0, n) for n in range(1, count)} | {(n, count - 1) for n in range(count - 1)}
    return rows, sorted(before | ends)


def least_cost(rows: Matrix, before: list[tuple[int, int]]) -> int:
    """Return the cost of the best order, by dynamic programming over every set of nodes that may stand first."""
    count = len(rows)
    needs = [sum(1 << a for a, b in before if b == node) for node in range(count)]
    best: dict[tuple[int, int], int] = {(1 << n, n): 0 for n in range(count) if not needs[n]}
    for _ in range(count - 1):
        longer: dict[tuple[int, int], int] = {}
        for (done, last), cost in best.items():
            for node in range(count):
                if done >> node & 1 or needs[node] & ~done:
                    continue
                key = (done | 1 << node, node)
                longer[key] = min(cost + rows[last][node], longer.get(key, cost + rows[last][node]))
        best = longer
    return min(best.values())
