"""A workshop whose times have learned from the bench."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from storyrod.ledger._learn import learn_time
from storyrod.ledger._learning_curve import fit_curve
from storyrod.model.learning import FittedCurve, LearnedTime, Timing
from storyrod.model.work import Minutes
from storyrod.model.workshop import ActTime, Workshop


def teach(workshop: Workshop, timings: Sequence[Timing]) -> tuple[Workshop, tuple[LearnedTime, ...]]:
    """Return the workshop with its times learned from `timings`, and what was learned of each act.

    An act that is timed under several methods is told by each of them too. What the workshop plans with is the time of
    the act over all. Timings of acts that the workshop does not have are told, and start from themselves.
    """
    written = {t.act: t for t in workshop.times}
    learned: list[LearnedTime] = []
    times = dict(written)
    for act in dict.fromkeys(t.act for t in timings):
        own = [t for t in timings if t.act == act]
        before = _minutes(written[act]) if act in written else _from_timings(own)
        if before is None:
            continue
        told = learn_time(act, before, own)
        learned.append(told)
        if act in written:
            now = told.now
            times[act] = replace(written[act], low_min=now.low, usual_min=now.usual, high_min=now.high)
        methods = sorted({t.method for t in own if t.method})
        if len(methods) > 1:
            learned += [learn_time(act, before, [t for t in own if t.method == m], method=m) for m in methods]
    return replace(workshop, times=tuple(times.values())), tuple(learned)


def curve_of(timings: Sequence[Timing]) -> FittedCurve | None:
    """Return the learning curve of one act's timings in the order in which they were made; None for too few.

    The nth is counted in times done, taken at the middle of each timing.
    """
    points: list[tuple[float, float]] = []
    done = 0.0
    for timing in timings:
        points.append((done + (timing.count + 1) / 2, timing.each_min))
        done += timing.count
    return fit_curve(points)


def _minutes(time: ActTime) -> Minutes:
    return Minutes(low=time.low_min, usual=time.usual_min, high=time.high_min)


def _from_timings(timings: Sequence[Timing]) -> Minutes | None:
    """Return what the timings themselves say, where nothing was written: their range and middle."""
    each = sorted(t.each_min for t in timings if t.each_min > 0)
    if not each:
        return None
    return Minutes(low=each[0], usual=each[len(each) // 2], high=each[-1])
