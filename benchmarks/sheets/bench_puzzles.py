"""How many puzzles without waste are solved in 5 s each, by our own engine on one core; the peer is a plain packer.

The least cost is known, since whole sheets were cut up. Each is timed by the processor's clock, so that other work on
the machine does not count. `rectpack`, of the test pins, packs those with one size of sheet.

    python3 benchmarks/run_all.py sheets/bench_puzzles                      all 80: up to seven minutes
    STORYROD_PUZZLES=4 python3 benchmarks/run_all.py sheets/bench_puzzles   every fourth
"""

from __future__ import annotations

import os
import time

from benchmarks._needs import NotHereError
from benchmarks._timing import show_table
from benchmarks.sheets.bench_published import own, plain_packer
from benchmarks.sheets.puzzles import Puzzle, puzzles

LIMIT_S = 5.0


def main() -> None:
    """Print how many were solved of each kind, the mean cost over the least, and processor seconds."""
    step = int(os.environ.get("STORYROD_PUZZLES", "1"))
    rows = []
    for several in (False, True):
        for turn in (False, True):
            own_puzzles = puzzles(several=several)[turn::2][::step]
            rows.append(_row(own_puzzles, several=several, turn=turn))
    head = ["sheets", "parts", "puzzles", "solved", "mean over least", "worst", "processor s", "plain packer's mean"]
    show_table(f"Puzzles without waste, at most {LIMIT_S:g} s each", head, rows)


def _row(asked: list[Puzzle], *, several: bool, turn: bool) -> list[object]:
    over, spent = [], 0.0
    for puzzle in asked:
        began = time.process_time()
        plan = own(puzzle.job, LIMIT_S)
        assert plan is not None
        took = time.process_time() - began
        spent += took
        over.append(sum(board.figures.cents for board in plan.boards) / puzzle.least)
        print(f"  {puzzle.name}: {len(puzzle.job[0])} parts, {over[-1]:.4f} of the least, {took:.1f} s", flush=True)
    plain = "-" if several else _plain(asked)
    kind = ["several sizes" if several else "one size", "may turn" if turn else "may not turn"]
    solved = sum(o <= 1 for o in over)
    return [*kind, len(asked), solved, sum(over) / len(over), max(over), spent / len(over), plain]


def _plain(asked: list[Puzzle]) -> object:
    try:
        found = [plain_packer(p.job) for p in asked]
    except NotHereError:
        return "-"
    return sum((n or 0) / p.least for n, p in zip(found, asked, strict=True)) / len(asked)


if __name__ == "__main__":
    main()
