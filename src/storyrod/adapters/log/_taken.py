"""Learned times that were taken into a workshop file: the timings behind them must not teach the same a second time."""

from __future__ import annotations

from typing import Final

from storyrod.adapters.log._log import BenchLog
from storyrod.model.learning import Timing
from storyrod.model.work import Minutes
from storyrod.model.workshop import ActTime, Workshop
from storyrod.telling.things import Thing

_BOOK: Final = "times taken into the workshop file"
"""Under this title the log keeps what was taken in, beside the titles of jobs."""

DECIMALS: Final = 2
"""Of a minute, as learned times are written."""


def note_taken(log: BenchLog, act: str, now: Minutes) -> None:
    """Keep that the workshop file now says `now` for an act, by the timings that are in the log so far."""
    log.tick(_BOOK, "", Thing(id=f"learned {act}", name=act, content=_words(now)))


def fresh_timings(log: BenchLog, workshop: Workshop) -> tuple[Timing, ...]:
    """Return the timings that the workshop's times do not hold yet.

    Timings of an act count anew where its written time is no longer the one that was taken in.
    """
    written = {t.act: _words(_minutes(t)) for t in workshop.times}
    taken = {t.thing.name: t.at for t in log.ticks(_BOOK) if written.get(t.thing.name) == t.thing.content}
    old = {s.uid for s in log.spans() if s.act in taken and _ended(s.started, s.minutes) <= taken[s.act]}
    return tuple(t for t in log.timings() if t.id not in old)


def taken_acts(log: BenchLog, workshop: Workshop) -> frozenset[str]:
    """Return the acts whose written time is one that was taken in from the log."""
    written = {t.act: _words(_minutes(t)) for t in workshop.times}
    return frozenset(t.thing.name for t in log.ticks(_BOOK) if written.get(t.thing.name) == t.thing.content)


def _ended(started: float, minutes: float | None) -> float:
    return started + 60 * (minutes or 0.0)


def _minutes(time: ActTime) -> Minutes:
    return Minutes(low=time.low_min, usual=time.usual_min, high=time.high_min)


def _words(minutes: Minutes) -> str:
    return " ".join(f"{m:.{DECIMALS}f}" for m in (minutes.low, minutes.usual, minutes.high))
