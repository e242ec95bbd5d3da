"""What the bench log knows of a job and of the workshop: clocks, times and what they taught, ticks that hold."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from storyrod.adapters.log import BenchLog, CarriedOver, Span, carry_over, fresh_timings, taken_acts
from storyrod.adapters.web._worked import Worked
from storyrod.faults import JobError
from storyrod.ledger import curve_of, teach
from storyrod.model.learning import LearnedTime, Timing
from storyrod.model.workshop import Workshop
from storyrod.telling.cards import things_of

MOST_SPANS: Final = 30


@dataclass(frozen=True, slots=True, kw_only=True)
class Learned:
    """What the bench taught of one act.

    Attributes:
        is_written: whether the workshop has a time for the act, so that the learned one may take its place.
        by_method: the same for each method under which it was timed.
        curve: how it grew quicker, in words; "" where that cannot be told.
    """

    told: LearnedTime
    is_written: bool
    by_method: tuple[LearnedTime, ...]
    curve: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SpanLine:
    """One run of the stop-watch as it is listed."""

    span: Span
    when: str
    each: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Matter:
    """All of it; `taken` are acts whose written time came from the log; `trouble` why the log cannot be read."""

    learned: tuple[Learned, ...] = ()
    spans: tuple[SpanLine, ...] = ()
    more_spans: int = 0
    timings: int = 0
    taken: tuple[str, ...] = ()
    carried: CarriedOver | None = None
    trouble: tuple[str, ...] = ()


def matter_of(log: BenchLog, worked: Worked) -> Matter:
    """Return what the log knows that bears on a job."""
    assert worked.plan is not None  # noqa: S101  # asked only of jobs that were read
    workshop, title = worked.plan.workshop, worked.plan.job.title
    timings = fresh_timings(log, workshop)
    names = dict.fromkeys((title, worked.name))  # a script knows a job by its title, the bench by its file
    own = sorted((s for n in names for s in log.spans(job=n) if s.minutes is not None), key=lambda s: s.started)
    try:
        carried = carry_over([t for n in names for t in log.ticks(n)], worked.ask(things_of))
    except JobError:
        carried = None
    return Matter(
        learned=tuple(_learned(workshop, timings)),
        taken=tuple(sorted(taken_acts(log, workshop))),
        spans=tuple(_line(s) for s in reversed(own[-MOST_SPANS:])),
        more_spans=max(len(own) - MOST_SPANS, 0),
        timings=len(timings),
        carried=carried,
    )


def learned_of(log: BenchLog, workshop: Workshop, act: str) -> LearnedTime | None:
    """Return what the log taught of one act over all methods, None where it is not timed or has no written time."""
    if not any(t.act == act for t in workshop.times):
        return None
    return next(
        (t for t in teach(workshop, [t for t in fresh_timings(log, workshop) if t.act == act])[1] if not t.method), None
    )


def _learned(workshop: Workshop, timings: Sequence[Timing]) -> Iterator[Learned]:
    told = teach(workshop, timings)[1]
    written = {t.act for t in workshop.times}
    for one in told:
        if one.method:
            continue
        odd = {aside.timing.id for aside in one.set_aside}
        curve = curve_of([t for t in timings if t.act == one.act and t.id not in odd])
        yield Learned(
            told=one,
            is_written=one.act in written,
            by_method=tuple(t for t in told if t.act == one.act and t.method),
            curve=curve.text if curve is not None else "",
        )


def _line(span: Span) -> SpanLine:
    day = dt.datetime.fromtimestamp(span.started, dt.UTC).astimezone()
    minutes = span.minutes or 0.0
    return SpanLine(span=span, when=f"{day.day} {day:%B, %H:%M}", each=f"{minutes / span.count:.2f}")
