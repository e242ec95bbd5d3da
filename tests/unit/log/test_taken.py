"""Times taken into the workshop file: the same timings never teach twice, later ones go on teaching."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from storyrod.adapters.files import packaged_workshop
from storyrod.adapters.log import BenchLog, fresh_timings, note_taken, open_log, taken_acts
from storyrod.ledger import teach
from storyrod.model.work import Minutes
from storyrod.model.workshop import Workshop

ACT = "rout a keyhole"


class Clock:
    now = 1_000_000.0

    def __call__(self) -> float:
        return self.now


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def log(tmp_path: Path, clock: Clock) -> Iterator[BenchLog]:
    with open_log(tmp_path / "log.sqlite", clock=clock) as opened:
        yield opened


def written(now: Minutes) -> Workshop:
    shop = packaged_workshop()
    times = tuple(
        replace(t, low_min=now.low, usual_min=now.usual, high_min=now.high) if t.act == ACT else t for t in shop.times
    )
    return replace(shop, times=times)


def test_all_timings_teach_as_long_as_nothing_was_taken_in(log: BenchLog) -> None:
    log.add_span("box", ACT, 6.0, count=10)
    assert [t.act for t in fresh_timings(log, packaged_workshop())] == [ACT]
    assert taken_acts(log, packaged_workshop()) == frozenset()


def test_timings_that_were_taken_in_teach_no_more_and_later_ones_do(log: BenchLog, clock: Clock) -> None:
    for minutes in (6.0, 6.2, 6.1):
        log.add_span("box", ACT, minutes, count=10)
    log.add_span("box", "trial joint", 5.0)
    now = teach(packaged_workshop(), log.timings(ACT))[1][0].now
    taken = Minutes(low=round(now.low, 2), usual=round(now.usual, 2), high=round(now.high, 2))
    note_taken(log, ACT, taken)
    shop = written(taken)
    assert [t.act for t in fresh_timings(log, shop)] == ["trial joint"]
    assert taken_acts(log, shop) == {ACT}
    clock.now += 3600
    log.add_span("box", ACT, 5.0, count=10)
    assert [t.minutes for t in fresh_timings(log, shop) if t.act == ACT] == [5.0]


def test_a_time_written_otherwise_since_lets_all_timings_teach_again(log: BenchLog) -> None:
    log.add_span("box", ACT, 6.0, count=10)
    note_taken(log, ACT, Minutes(low=0.4, usual=0.5, high=0.6))
    assert fresh_timings(log, written(Minutes(low=0.4, usual=0.5, high=0.6))) == ()
    assert len(fresh_timings(log, written(Minutes(low=0.4, usual=0.9, high=1.2)))) == 1
