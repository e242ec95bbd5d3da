"""How errors add up: worst case, root-sum-square, and a seeded simulation.

Source: two explanations of root-sum-square tolerance analysis. A tolerance is half the range (+-), taken as three
standard deviations of a normal spread unless said.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from storyrod.model.machining import Contribution, Stack
from storyrod.model.simulation import draws


def worst_case(contributions: Iterable[Contribution]) -> float:
    """Return the sum of all tolerances, each by the size of its factor."""
    return sum(abs(c.factor) * c.tolerance for c in contributions)


def root_sum_square(contributions: Iterable[Contribution]) -> float:
    """Return the root of the sum of squares, for causes that know nothing of each other."""
    return math.sqrt(sum((c.factor * c.tolerance) ** 2 for c in contributions))


def merged(contributions: Iterable[Contribution]) -> tuple[Contribution, ...]:
    """Return the contributions with those of one name joined: they are one cause, and their factors add up.

    Two sides from one sheet are the plain case: both are thick or both are thin.
    """
    by_name: dict[str, list[Contribution]] = {}
    for c in contributions:
        by_name.setdefault(c.name, []).append(c)
    joined = []
    for name, same in by_name.items():
        tolerance = max(c.tolerance for c in same)
        factor = sum(c.factor * c.tolerance for c in same) / tolerance if tolerance else 0.0
        joined.append(Contribution(name=name, tolerance=tolerance, factor=factor))
    return tuple(joined)


def simulate(contributions: Sequence[Contribution], *, seed: int, runs: int = 20_000, uniform: bool = False) -> float:
    """Return the standard deviation of `runs` simulated sums; the same seed gives the same figure.

    Normal spreads with a third of the tolerance as standard deviation, or uniform ones over the whole tolerance.
    """
    return float(draws(contributions, seed=seed, runs=runs, uniform=uniform).std())


def stack(contributions: Iterable[Contribution], *, seed: int, runs: int = 20_000) -> Stack:
    """Return worst case, root-sum-square and, when asked for, the simulated spread of the contributions."""
    causes = tuple(c for c in merged(contributions) if c.factor and c.tolerance)
    return Stack(
        contributions=causes,
        worst=worst_case(causes),
        rss=root_sum_square(causes),
        seed=seed,
        runs=runs,
    )
