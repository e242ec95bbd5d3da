"""Seconds to the first checked plan, quality at 0.5, 2 and 10 s, and memory, for 15 to 400 parts.

Parts are drawn from the panel sizes of a rehearsal room's cabinets, by a fixed seed; quality is the share of the
sheets used. The first plan counts from the call to the first plan that the judge passed.
"""

from __future__ import annotations

import random
import time

from benchmarks._timing import peak_memory_mib
from storyrod.model.panel import Grain
from storyrod.model.saw_list import SheetProgress
from storyrod.model.sheet import CutRules, Part, StockSheet, Trim
from storyrod.sheets import lay_out

RULES = CutRules(kerf=3.2, trim=Trim.even(10))
STOCK = [
    StockSheet(id="large", board="b", length=3050, width=1525, price_cents=11200),
    StockSheet(id="sheet", board="b", length=2440, width=1220, price_cents=7800),
]


def drawn(number: int) -> list[Part]:
    """Return so many parts of cabinets, the same every time."""
    chance = random.Random(number)
    parts = []
    for i in range(number):
        length = chance.choice([360, 564, 764, 864, 720, 880, 2076, 397, 505])
        width = chance.choice([100, 140, 180, 297, 397, 525, 565])
        grain = Grain.FREE if chance.random() < 0.3 else Grain.ALONG
        parts.append(Part(id=f"p{i}", board="b", length=length, width=width, grain=grain))
    return parts


def main() -> None:
    """Print one row for each number of parts."""
    print("parts  first plan ms   use at 0.5 s   2 s   10 s   memory MiB")
    for number in (15, 50, 110, 200, 400):
        parts = drawn(number)
        first = min(_first_ms(parts) for _ in range(3))
        uses = [_use(parts, limit_s) for limit_s in (0.5, 2.0, 10.0)]
        memory = peak_memory_mib(lambda parts=parts: lay_out(parts, STOCK, RULES, rounds=200))  # type: ignore[misc]
        shown = "  ".join(f"{100 * use:6.2f}" for use in uses)
        print(f"{number:5}  {first:13.1f}   {shown}   {memory:.1f}", flush=True)


def _first_ms(parts: list[Part]) -> float:
    heard: list[float] = []

    def hear(_: SheetProgress) -> None:
        heard.append(time.perf_counter() - began)

    began = time.perf_counter()
    lay_out(parts, STOCK, RULES, rounds=0, tidy=False, progress=hear)
    return heard[0] * 1000


def _use(parts: list[Part], limit_s: float) -> float:
    plan = lay_out(parts, STOCK, RULES, limit_s=limit_s, clock=time.process_time)
    return plan.boards[0].figures.yield_share


if __name__ == "__main__":
    main()
