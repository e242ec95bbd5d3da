"""Learning curves: a maker new to a method gets quicker, by the same share each time the count doubles.

Unit model (Crawford): the nth takes `first * n**b`. Cumulative average (Wright, 1936): the mean of the first n is
`first * n**b`. In both `b = log2(rate)`. Tables: Learning-Curve Tables, RM-6191, RAND, 1970.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from storyrod.faults import Fault, JobError
from storyrod.ledger._student import t_quantile
from storyrod.model.learning import FittedCurve, Learning, LearningModel

LEAST_POINTS: Final = 6
LEAST_GROWTH: Final = 4.0
"""A slope wants six timings at least, the last count four times the first; common practice, no source."""


def exponent(rate: float) -> float:
    """Return b = log2(rate).

    Raises:
        JobError: the rate is not above 0.5 and at most 1.
    """
    if not 0.5 < rate <= 1:
        raise JobError(
            Fault(
                code="learning-rate",
                field="learning.rate",
                found=f"{rate:g}",
                allowed="above 0.5, up to 1 (no learning)",
                do="Write 0.9 where each doubling saves a tenth. Nobody halves the time with each doubling.",
            )
        )
    return math.log2(rate)


def unit_factor(n: float, rate: float, model: LearningModel = LearningModel.UNIT) -> float:
    """Return the time of the nth over that of the first."""
    b = exponent(rate)
    if model is LearningModel.UNIT:
        return float(n**b)
    return float(n ** (1 + b) - (n - 1) ** (1 + b)) if n > 1 else 1.0


def mean_factor(learning: Learning | None, carcasses: int) -> float:
    """Return what the next `carcasses` take on average, over the standard time (1 without learning).

    The standard time is reached at `standard_at` and not gone below: it is a time, not a hope.
    """
    if learning is None or carcasses == 0:
        exponent(learning.rate if learning else 1.0)
        return 1.0
    at_standard = unit_factor(learning.standard_at, learning.rate, learning.model)
    return (
        math.fsum(
            max(unit_factor(learning.done + k, learning.rate, learning.model) / at_standard, 1.0)
            for k in range(1, carcasses + 1)
        )
        / carcasses
    )


def fit_curve(points: Sequence[tuple[float, float]]) -> FittedCurve | None:
    """Return the unit curve through `points` of (how manieth, minutes), by least squares on logarithms.

    None where there is not enough to tell: fewer than six timings, or counts that lie too close together.
    """
    good = [(n, m) for n, m in points if n > 0 and m > 0]
    if len(good) < LEAST_POINTS or max(n for n, _ in good) < LEAST_GROWTH * min(n for n, _ in good):
        return None
    xs, ys = [math.log2(n) for n, _ in good], [math.log2(m) for _, m in good]
    count = len(good)
    mx, my = math.fsum(xs) / count, math.fsum(ys) / count
    sxx = math.fsum((x - mx) ** 2 for x in xs)
    b = math.fsum((x - mx) * (y - my) for x, y in zip(xs, ys, strict=True)) / sxx
    a = my - b * mx
    left = math.fsum((y - a - b * x) ** 2 for x, y in zip(xs, ys, strict=True))
    reach = t_quantile(0.95, count - 2) * math.sqrt(left / (count - 2) / sxx)
    low, high = 2 ** (b - reach), 2 ** (b + reach)
    return FittedCurve(
        rate=2**b, rate_low=low, rate_high=high, first_min=2**a, points=count, text=_words(2**b, low, high, count)
    )


def _words(rate: float, low: float, high: float, count: int) -> str:
    told = f"Each doubling takes {rate:.0%} of the minutes before (between {low:.0%} and {high:.0%}, 9 times in 10)"
    if high >= 1:
        return f"{told}; from {count} timings it is not certain that there is any learning."
    return f"{told}, from {count} timings."
