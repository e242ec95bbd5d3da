"""Bodies of parts without a shape, and counts of the ways in which they go together."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from functools import cache

from storyrod.assembly._body import Body
from storyrod.assembly._groups import Groups
from storyrod.assembly._splits import Splitter
from storyrod.assembly._ties import Hold, Move, Tie
from storyrod.model.workshop import Handling
from tests.unit.assembly.pieces import BUTT, LEFT, RIGHT, across, joined, joint, panel

Pairs = Sequence[tuple[int, int]]


ANY = joint(1, panel("shelf", across(0)), panel("left", LEFT), BUTT)


def body(count: int, joined_pairs: Pairs = (), after: Pairs = ()) -> Body:
    """Return parts of no shape; in `after`, the first of a pair must be there before the second goes in."""
    ties = tuple(
        Tie(
            number=n, joint=ANY, entering=a, receiving=b, hold=Hold.PLAIN, home=0, clear=0.0, travel=0.0, locks=(),
            stops=False, fast=True, glue=False, clamps=False, screws=False, opposite=(),
        )
        for n, (a, b) in enumerate(joined_pairs)
    )  # fmt: skip
    stops = [0] * count
    for first, second in after:
        stops[first] |= 1 << second
    one = joined({"left": LEFT, "right": RIGHT}, []).cases[0].panels[0]
    return Body(
        code="carcass", panels=(one,) * count, blocks=((0.0, 0.0, 0.0, 1.0, 1.0, 1.0),) * count,
        mass_kg=(1.0,) * count, ties=ties, moves=(Move(unseat=-1, by=0.0, out=0),), stops=(tuple(stops),),
        rests=((0,) * count,) * 6,
    )  # fmt: skip


def count_plans(whole: Body) -> tuple[int, int, int]:
    """Return the groups that can be made, the ways to part one in two, and whole plans."""
    splitter = Splitter(Groups(whole, Handling()), narrow=False)
    nodes: set[int] = set()
    arcs: set[tuple[int, frozenset[int]]] = set()

    @cache
    def trees(group: int) -> int:
        nodes.add(group)
        if not group & (group - 1):
            return 1
        parts = {frozenset((s.mover, s.base)) for s in splitter.of(group)}
        arcs.update((group, p) for p in parts)
        return sum(trees(min(p)) * trees(max(p)) for p in parts)

    total = trees(whole.everything)
    return len(nodes), len(arcs), total


def count_orders(whole: Body) -> int:
    """Return the orders in which parts go in one at a time."""
    splitter = Splitter(Groups(whole, Handling()), narrow=True, whole=False)

    @cache
    def orders(group: int) -> int:
        if not group & (group - 1):
            return 1
        return sum(orders(s.base) for s in splitter.of(group) if not s.mover & (s.mover - 1))

    return orders(whole.everything)


def chain(n: int) -> Pairs:
    return [(i, i + 1) for i in range(n - 1)]


def all_to_all(n: int) -> Pairs:
    return list(itertools.combinations(range(n), 2))


def fence(n: int) -> Pairs:
    return [(i, i + 1) if i % 2 == 0 else (i + 1, i) for i in range(n - 1)]


def grid(rows: int, columns: int) -> Pairs:
    across_row = [(r * columns + c, r * columns + c + 1) for r in range(rows) for c in range(columns - 1)]
    down = [(r * columns + c, (r + 1) * columns + c) for r in range(rows - 1) for c in range(columns)]
    return across_row + down


LEFT_, BASE, SHELF, TOP, RIGHT_, BACK = range(6)
CARCASS = [(LEFT_, p) for p in (BASE, SHELF, TOP)] + [(p, RIGHT_) for p in (BASE, SHELF, TOP)] + [(RIGHT_, BACK)]
