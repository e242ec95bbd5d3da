"""Examining a job of twelve cases, and the simulation of 100,000 trial joints.

Peers, in the same run: working the same job out (carcass, joinery) for the first; as many sums thrown one by one in
plain Python for the second.
"""

from __future__ import annotations

import random
from dataclasses import replace
from pathlib import Path

from benchmarks._timing import show_timings, time_in_turns
from storyrod import carcass, joinery
from storyrod.adapters.files import read_job
from storyrod.model.detail import Choices
from storyrod.model.simulation import ErrorShape, ErrorTerm, simulated
from storyrod.soundness import examine

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "rehearsal-room.toml"
CASES = 12
TRIALS = 100_000
TERMS = (
    ErrorTerm(name="placing and cutting", tolerance=0.15),
    ErrorTerm(name="its mate", tolerance=0.15),
    ErrorTerm(name="thickness", tolerance=0.2, coefficient=0.5, shape=ErrorShape.EVEN),
)


def plain_trials() -> list[float]:
    """The same sums, one at a time."""
    chance = random.Random(0)
    return [
        0.15 / 3 * chance.gauss(0, 1) + 0.15 / 3 * chance.gauss(0, 1) + 0.1 * chance.uniform(-1, 1)
        for _ in range(TRIALS)
    ]


def main() -> None:
    """Print milliseconds and ratios."""
    told = read_job(EXAMPLE)
    first = told.job.cases[0]
    cases = tuple(replace(first, code=f"A{n}", depth=first.depth + n * 5, fits=None) for n in range(CASES))
    job, shop = replace(told.job, cases=cases, overrides=()), told.workshop
    built = carcass.build(job, shop)
    details = joinery.detail(joinery.join(built, shop), Choices())
    ours, peer = time_in_turns(
        {
            "examine": lambda: examine(built, details, shop),
            "carcass and joinery": lambda: joinery.detail(joinery.join(carcass.build(job, shop), shop), Choices()),
        }
    )
    show_timings(f"{CASES} folder cabinets", (ours, peer), peer=peer)
    thrown, plain = time_in_turns(
        {"simulated": lambda: simulated(TERMS, TRIALS, seed=0, cut=True), "plain Python": plain_trials}
    )
    show_timings(f"{TRIALS:,} trial joints of three errors", (thrown, plain), peer=plain)


if __name__ == "__main__":
    main()
