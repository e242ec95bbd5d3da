"""Random cutting jobs, and twins of them with a kerf, shared by the tests of the sheets."""

from __future__ import annotations

import random
from dataclasses import replace

from storyrod.model.panel import Grain
from storyrod.model.sheet import CutRules, Part, StockSheet, Trim


def random_job(number: int) -> tuple[list[Part], list[StockSheet], CutRules]:
    """Return the job of that number: 1 to 25 parts, 1 to 3 sheet sizes, offcuts, strips; always enough stock."""
    chance = random.Random(number)
    kerf = chance.choice([0.0, 1.8, 2.2, 3.2, 4.05])
    trim = chance.choice([Trim(), Trim.even(5), Trim.even(10.5), Trim(left=10, bottom=5)])
    rules = CutRules(kerf=kerf, trim=trim)
    sizes = chance.sample([(2440.0, 1220.0), (3050.0, 1525.0), (2800.0, 2070.0)], chance.randint(1, 3))
    stock = [
        StockSheet(id=f"s{i}", board="ply", length=w, width=h, price_cents=round(w * h / 40000) + chance.randint(0, 9))
        for i, (w, h) in enumerate(sizes)
    ]
    for i in range(chance.randint(0, 3)):
        price = chance.choice([None, 500])
        size = round(chance.uniform(300, 1500), 1), round(chance.uniform(150, 800), 1)
        own = chance.choice([None, Trim()])
        stock.append(
            StockSheet(id=f"o{i}", board="ply", length=size[0], width=size[1], price_cents=price, offcut=True, trim=own)
        )
    return [*_parts(chance), *_strip(chance)], stock, rules


def _parts(chance: random.Random) -> list[Part]:
    widths = [round(chance.uniform(60, 590), 1) for _ in range(3)]
    parts = []
    for i in range(chance.randint(1, 12)):
        width = chance.choice(widths) if chance.random() < 0.6 else round(chance.uniform(40, 600), 2)
        grain = chance.choice(list(Grain))
        length = round(chance.uniform(80, 1150 if grain is Grain.ACROSS else 2300), 2)
        copies = chance.choice([1, 1, 2, 3])
        parts.append(Part(id=f"p{i}", board="ply", length=length, width=width, copies=copies, grain=grain))
    return parts


def _strip(chance: random.Random) -> list[Part]:
    if chance.random() < 0.6:
        return []
    width = round(chance.uniform(300, 800), 1)
    one = Part(id="f", board="ply", length=width, width=100, strip="fronts", copies=chance.choice([1, 2]))
    heights = [round(chance.uniform(90, 250), 1) for _ in range(chance.randint(2, 4))]
    return [replace(one, id=f"f{i}", width=h, strip_order=i) for i, h in enumerate(heights)]


def kerf_twin(parts: list[Part], stock: list[StockSheet], kerf: float) -> tuple[list[Part], list[StockSheet], CutRules]:
    """Return a job that fits just as the kerf-free one does: all lengths times ten, then a kerf off every one."""
    smaller = [replace(p, length=p.length * 10 - kerf, width=p.width * 10 - kerf) for p in parts]
    sheets = [replace(s, length=s.length * 10 - kerf, width=s.width * 10 - kerf) for s in stock]
    return smaller, sheets, CutRules(kerf=kerf, trim=Trim())
