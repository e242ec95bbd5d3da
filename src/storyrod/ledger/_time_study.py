"""How many timings are enough, and how sure a mean is."""

from __future__ import annotations

import math
import statistics
from collections.abc import Sequence

from storyrod.ledger._student import t_quantile


def timings_needed(mean: float, deviation: float, t: float, accuracy: float = 0.10) -> float:
    """Return n = (t s / (k mean))^2, not rounded: how many timings give the mean to +-`accuracy` (a share).

    Source: Operations Management: Processes and Supply Chains, 12th ed., key equations of the time-study supplement.
    """
    return (t * deviation / (accuracy * mean)) ** 2


def mean_interval(timings: Sequence[float], share: float = 0.95) -> tuple[float, float] | None:
    """Return between what the long-run mean lies with probability `share`; None for fewer than two timings."""
    n = len(timings)
    if n < 2:
        return None
    mean, deviation = statistics.fmean(timings), statistics.stdev(timings)
    reach = t_quantile((1 + share) / 2, n - 1) * deviation / math.sqrt(n)
    return mean - reach, mean + reach


def more_timings(timings: Sequence[float], accuracy: float = 0.10, share: float = 0.95) -> int | None:
    """Return how many further timings give the mean to +-`accuracy`; None for fewer than two.

    Student's t is taken for the number of timings that results, by going round until it settles.
    """
    n = len(timings)
    if n < 2:
        return None
    mean, deviation = statistics.fmean(timings), statistics.stdev(timings)
    needed = n
    for _ in range(50):
        t = t_quantile((1 + share) / 2, max(needed - 1, 1))
        wanted = max(math.ceil(timings_needed(mean, deviation, t, accuracy) - 1e-9), 2)
        if wanted == needed:
            break
        # Halfway when it falls: the plain step can hop between two answers for ever.
        needed = wanted if wanted > needed else max(wanted, (wanted + needed) // 2)
    return max(needed - n, 0)
