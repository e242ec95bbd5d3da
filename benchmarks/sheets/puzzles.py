"""Puzzles without waste: whole sheets cut into parts, so that the least is known; drawn by a seed, always the same.

Eighty of them: forty with one size of sheet and forty with several, a half of each with parts that may turn. The
sheets of a puzzle are 2 to 6; the parts 15 to 80; sizes lie on steps of 1, 5 or 20 mm, where many parts share a side.
"""

from __future__ import annotations

import random
from dataclasses import dataclass
from typing import Final

from benchmarks.sheets.published import BARE, Job
from storyrod.model.panel import Grain
from storyrod.model.sheet import Part, StockSheet

COUNT: Final = 40
"""Puzzles of each kind."""

LARGE: Final = (2440, 1220)
SIZES: Final = ((2440, 1220), (2500, 1250), (3050, 1525), (1830, 1220), (1220, 1220))
STEPS: Final = (1, 5, 20)
PARTS: Final = (15, 25, 40, 60, 80)
NARROWEST: Final = 60

type Sides = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Puzzle:
    """Parts that fill some sheets to the last millimetre.

    Attributes:
        name: kind and number.
        job: parts, stock, and rules without kerf or trim.
        least: the least cost there can be: one a sheet where there is one size, else the area of the parts.
    """

    name: str
    job: Job
    least: int


def puzzles(*, several: bool) -> list[Puzzle]:
    """Return the forty with one size of sheet, or the forty with several."""
    return [_puzzle(n, several=several) for n in range(COUNT)]


def _puzzle(number: int, *, several: bool) -> Puzzle:
    chance = random.Random(f"{'several' if several else 'one'} {number}")
    sheets = [chance.choice(SIZES) if several else LARGE for _ in range(chance.randint(2, 6))]
    grain = Grain.FREE if number % 2 else Grain.ALONG
    pieces = cut_up(sheets, PARTS[number % len(PARTS)], STEPS[number % len(STEPS)], chance)
    parts = [Part(id=f"p{i}", board="b", length=w, width=h, grain=grain) for i, (w, h) in enumerate(pieces)]
    sizes = SIZES if several else (LARGE,)
    stock = [
        StockSheet(id=f"{w} x {h}", board="b", length=w, width=h, price_cents=w * h if several else 1) for w, h in sizes
    ]
    least = sum(w * h for w, h in sheets) if several else len(sheets)
    return Puzzle(f"{'several' if several else 'one'} {number}", (parts, stock, BARE), least)


def cut_up(sheets: list[Sides], parts: int, step: int, chance: random.Random) -> list[Sides]:
    """Cut the sheets by through-cuts into so many parts, or as many as there can be, sizes in whole steps."""
    pieces = list(sheets)
    while len(pieces) < parts:
        wide = [n for n, p in enumerate(pieces) if max(p) >= 2 * NARROWEST + step]
        if not wide:
            break
        (n,) = chance.choices(wide, [pieces[i][0] * pieces[i][1] for i in wide])
        pieces[n : n + 1] = _halved(pieces[n], step, chance)
    chance.shuffle(pieces)
    return pieces


def _halved(piece: Sides, step: int, chance: random.Random) -> list[Sides]:
    """Cut a piece in two, mostly across its longer side, at least a fifth of it from either end."""
    longer = 0 if piece[0] >= piece[1] else 1
    axis = longer if min(piece) < 2 * NARROWEST + step or chance.random() < 0.75 else 1 - longer
    side = piece[axis]
    least = max(NARROWEST, side // 5)
    at = max(step * round(chance.randint(least, side - least) / step), step)
    return [(at, piece[1]), (side - at, piece[1])] if axis == 0 else [(piece[0], at), (piece[0], side - at)]
