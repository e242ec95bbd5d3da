"""Random wishes: each proposal planned, and every thing packed into the planned job by the checker.

    python3 run.py bench wish/bench_random          a hundred wishes
    WISHES=1000 python3 run.py bench wish/bench_random

A wish counts as kept where one proposal at the least passes plan and checker. A layout of the search that the checker
refuses is a failure of the search; the run then ends with status 1.
"""

from __future__ import annotations

import os
import random
import time
from collections import Counter
from pathlib import Path

from storyrod.adapters.files.wishing import WishFile, catalogue, wish_from_text
from storyrod.faults import JobError
from storyrod.model.wish import Way
from storyrod.planning import Proposal, Proposing

WISHES = int(os.environ.get("WISHES", "100"))
FIRST = int(os.environ.get("FIRST", "0"))
KINDS = 3
"""So many kinds of each wish are planned."""

BOARDS = (Path(__file__).resolve().parents[2] / "examples/wishes/choir-cupboard.toml").read_text(encoding="utf-8")
BOARDS = BOARDS[BOARDS.index("[boards.birch18]") :]


def wish_text(seed: int) -> str:
    """Return a random wish: one to four things, in a place of a likely size."""
    draw = random.Random(seed)
    things = draw.sample(list(catalogue().values()), draw.randint(1, 4))
    lines = [
        'board = "birch18"\nback_board = "birch6"\ndrawer_board = "birch12"',
        f'users = "{draw.choice(["standing", "standing", "standing", "wheelchair", "children"])}"',
        "[place]",
        f"width = {round(max(t.width for t in things) * 1.2 + draw.uniform(150, 1300), -1):.0f}",
        f"height = {round(max(t.height for t in things) * 1.05 + draw.uniform(200, 1300), -1):.0f}",
        f"depth = {round(max(t.depth for t in things) + draw.uniform(20, 250), -1):.0f}",
        f'width_is = "{draw.choice(["exact", "at most", "at most"])}"',
        f'height_is = "{draw.choice(["exact", "at most", "at most"])}"',
        f'depth_is = "{draw.choice(["exact", "at most", "at most"])}"',
        f"plinth = {draw.choice([0, 60, 80, 100])}",
    ]
    for thing in things:
        hangs = thing.way is Way.HANGS
        reach = draw.choice(["hanging", "door"] if hangs else ["open", "open", "door", "drawer"])
        at = draw.choice(["anywhere", "anywhere", "anywhere", "near the hand", "low"])
        count = max(1, round(draw.uniform(0.1, 1.6) * 600 / thing.width))
        lines.append(f'[[things]]\nthing = "{thing.code}"\ncount = {count}\nreach = "{reach}"\nat = "{at}"')
    return "\n".join([*lines, BOARDS])


def outcome(seed: int) -> tuple[str, int, int]:
    """Return how a wish came out, how many proposals passed plan and checker, how many the checker refused."""
    try:
        read: WishFile = wish_from_text(wish_text(seed), name=f"random-{seed}.toml")
        asking = Proposing(read.wish, read.goods, read.base, read.workshop)
    except JobError as error:
        return f"told at once: {error.faults[0].code}", 0, 0
    kept = refused = tried = 0
    faults: list[str] = []
    for found in asking.each():
        if isinstance(found, Proposal):
            kept += 1
        elif found.misfits:
            refused += 1
            print(f"  wish {seed}: {found.kind}: {found.misfits[0]}")
        elif found.faults:
            faults.append(f"{found.faults[0].code}")
            print(f"  wish {seed}: {found.kind}: {found.faults[0]}"[:300])
        tried += isinstance(found, Proposal) or bool(found.misfits)
        if tried == KINDS:
            break
    if kept:
        return "kept", kept, refused
    if faults:
        return f"not built: {faults[0]}", 0, refused
    return "cannot be met", 0, refused


def main() -> None:
    """Print how many wishes were kept, and fail where the checker refused a layout."""
    began = time.process_time()
    came: Counter[str] = Counter()
    kept = refused = 0
    for seed in range(FIRST, FIRST + WISHES):
        how, proposals, misfits = outcome(seed)
        came[how] += 1
        kept, refused = kept + proposals, refused + misfits
    print(f"\n{WISHES:,} random wishes, {time.process_time() - began:,.0f} s of processor time")
    for how, count in came.most_common():
        print(f"  {count:6,}  {how}")
    print(f"{kept:,} proposals planned, all things packed by the checker; {refused} refused by it")
    if refused:
        raise SystemExit(1)


if __name__ == "__main__":
    main()
