"""Standard times that learn from the bench: the written time counts as a few timings, yours as one each.

The figure to be learned is the long-run mean of one act. Normal timings with unknown mean and spread, and the
conjugate prior of the two (normal-inverse-gamma), give it in closed form: any textbook of Bayesian statistics.
"""

from __future__ import annotations

import math
import statistics
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from storyrod.ledger._student import t_quantile
from storyrod.ledger._time_study import mean_interval, more_timings
from storyrod.model.learning import LearnedTime, SetAside, Timing
from storyrod.model.work import TENTH, Minutes

PRIOR_WEIGHT: Final = 3.0
"""The written time counts as three timings: a judgement of ours, no source."""

FAR: Final = 3.5
"""A timing whose modified z-score is beyond this is set aside: Iglewicz and Hoaglin, 1993, from memory."""

MAD_TO_DEVIATION: Final = 0.6745
FEW: Final = 5
LEAST_FACTOR: Final = 1.5
"""However alike the others are, a timing within half as much again of their median is never set aside; ours."""

FEW_FACTOR: Final = 4.0
"""With fewer than five timings, four times the highest or a quarter of the lowest written time is set aside; ours."""


def learn_time(act: str, before: Minutes, timings: Sequence[Timing], *, method: str = "") -> LearnedTime:
    """Return the standard time of an act with its timings weighed in.

    A timing unlike the others (a lunch break, a forgotten stop-watch) is set aside and named, not lost: mark it as
    `keep` and it counts again. With no timings the written time stands as it is.
    """
    used, aside = _sort_out(before, timings)
    each = [t.each_min for t in used]
    now = _posterior(before, each) if each else before
    interval = mean_interval(each, 0.90)
    more = more_timings(each)
    return LearnedTime(
        act=act,
        method=method,
        before=before,
        now=now,
        used=len(used),
        set_aside=aside,
        mean_low=interval[0] if interval else None,
        mean_high=interval[1] if interval else None,
        more_needed=more,
        text=_words(act, before, now, each, len(aside), more),
    )


def _posterior(before: Minutes, each: Sequence[float]) -> Minutes:
    """Return mean and 10 % and 90 % marks of the long-run mean, given prior and timings."""
    n, m0 = len(each), before.usual
    deviation = max((before.high - before.low) / (2 * TENTH), 0.01 * m0, 1e-9)
    mean = math.fsum(each) / n
    weight = PRIOR_WEIGHT + n
    middle = (PRIOR_WEIGHT * m0 + n * mean) / weight
    # The prior's own spread counts as PRIOR_WEIGHT degrees of freedom.
    squares = (
        PRIOR_WEIGHT * deviation**2
        + math.fsum((x - mean) ** 2 for x in each)
        + PRIOR_WEIGHT * n / weight * (mean - m0) ** 2
    )
    freedom = PRIOR_WEIGHT + n
    reach = t_quantile(0.9, freedom) * math.sqrt(squares / freedom / weight)
    floor = min(before.low, *each)
    return Minutes(low=max(middle - reach, min(floor, middle)), usual=middle, high=middle + reach)


def _sort_out(before: Minutes, timings: Sequence[Timing]) -> tuple[list[Timing], tuple[SetAside, ...]]:
    used: list[Timing] = []
    aside: list[SetAside] = []
    logs = [math.log(t.each_min) for t in timings if t.each_min > 0]
    others = _Others.of(logs) if len(logs) >= FEW else None
    for timing in timings:
        why = "" if timing.keep else _unlike(timing.each_min, before, others)
        if why:
            aside.append(SetAside(timing=timing, why=why))
        else:
            used.append(timing)
    return used, tuple(aside)


@dataclass(frozen=True, slots=True)
class _Others:
    """The middle of all timings, and how far from it one may lie; in logarithms, since times are skewed upward."""

    middle: float
    far: float

    @classmethod
    def of(cls, logs: Sequence[float]) -> _Others:
        middle = statistics.median(logs)
        mad = statistics.median(abs(x - middle) for x in logs)
        return cls(middle, max(FAR * mad / MAD_TO_DEVIATION, math.log(LEAST_FACTOR)))


def _unlike(each: float, before: Minutes, others: _Others | None) -> str:
    """Return why a timing looks like something else, or ""."""
    if each <= 0:
        return "no time passed: the stop-watch was stopped as soon as it was started"
    if others is None:
        if each > FEW_FACTOR * before.high:
            return f"{each:.2f} min against {before.high:g} at most as written: a break, or several counted as one?"
        if each < before.low / FEW_FACTOR:
            return (
                f"{each:.2f} min against {before.low:g} at least as written: the stop-watch forgotten, or a miscount?"
            )
        return ""
    away = math.log(each) - others.middle
    if abs(away) <= others.far:
        return ""
    told = f"{each:.2f} min where the others take about {math.exp(others.middle):.2f}"
    return f"{told}: a break in it?" if away > 0 else f"{told}: the stop-watch forgotten, or a miscount?"


def _words(act: str, before: Minutes, now: Minutes, each: Sequence[float], aside: int, more: int | None) -> str:
    if not each:
        told = f"{act}: {before.usual:g} min as written; not timed yet."
    else:
        n = len(each)
        told = f"{act}: {now.usual:.2f} min ({now.low:.2f} to {now.high:.2f}) from {n} timing{'s' * (n > 1)}; "
        told += f"{before.usual:g} as written."
    if aside:
        told += f" {aside} set aside: unlike the others."
    if more is None:
        return f"{told} Time it at least twice to know how sure this is."
    return f"{told} {more} more for +-10 %." if more else f"{told} Known to +-10 %."
