"""What a page at the bench keeps: many at once, late ones, and nothing twice."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from storyrod.adapters.log import BenchLog, open_log
from storyrod.adapters.log.bench import Made, Stretch, keep_stretches, keep_ticks, rename_job, ticks_after
from storyrod.telling.things import Thing


@pytest.fixture
def log(tmp_path: Path) -> Iterator[BenchLog]:
    with open_log(tmp_path / "bench.db", clock=lambda: 1000.0) as opened:
        yield opened


def made(number: int, *, done: bool = True, at: float = 1000.0) -> Made:
    thing = Thing(id=f"cut {number}", name=f"mark {number}", content="hole 8")
    return Made(uid=f"{number:032x}", thing=thing, copy=1, done=done, at=at, version="v1")


def stretch(number: int, minutes: float = 2.0) -> Stretch:
    return Stretch(
        uid=f"{number:032x}",
        act="drill a hole",
        method="dowels",
        set_up="S4",
        count=8,
        started=900.0,
        minutes=minutes,
        version="v1",
    )


def test_ticks_sent_again_are_kept_once(log: BenchLog) -> None:
    keep_ticks(log, "box", [replace(made(1), who="saw bench"), made(2)])
    keep_ticks(log, "box", [made(2), made(3)])

    rows = ticks_after(log, "box", 0)
    assert [t.thing.id for _, t in rows] == ["cut 1", "cut 2", "cut 3"]
    assert rows[0][1].who == "saw bench"
    assert len(log.ticks("box")) == 3


def test_the_word_made_last_counts_not_the_one_kept_last(log: BenchLog) -> None:
    keep_ticks(log, "box", [made(1, at=900.0)])
    keep_ticks(log, "box", [replace(made(2, done=False, at=950.0), thing=made(1).thing)])
    keep_ticks(log, "box", [replace(made(3, at=920.0), thing=made(1).thing)])

    (last,) = log.ticks("box")
    assert (last.done, last.at) == (False, 950.0)


def test_only_what_came_after_a_row_is_told(log: BenchLog) -> None:
    keep_ticks(log, "box", [made(1)])
    ((row, _),) = ticks_after(log, "box", 0)
    keep_ticks(log, "other", [made(2)])
    keep_ticks(log, "box", [made(3)])

    assert [t.thing.id for _, t in ticks_after(log, "box", row)] == ["cut 3"]


def test_stretches_become_timings_once(log: BenchLog) -> None:
    keep_stretches(log, "box", [stretch(1), stretch(2, minutes=2000.0)])
    keep_stretches(log, "box", [stretch(1)])

    assert [(t.act, t.method, t.count, t.minutes) for t in log.timings()] == [
        ("drill a hole", "dowels", 8, 2.0),
        ("drill a hole", "dowels", 8, 2000.0),
    ]
    assert [s.note for s in log.spans()] == ["", "longer than a working day: forgotten?"]


def test_nothing_to_keep_is_kept_quietly(log: BenchLog) -> None:
    keep_ticks(log, "box", [])
    keep_stretches(log, "box", [])

    assert log.ticks("box") == ()


def test_a_renamed_job_keeps_what_was_ticked_and_takes_over_no_other(log: BenchLog) -> None:
    keep_ticks(log, "box", [made(1)])
    log.add_trial("box", "S4", "step", 0.3)
    keep_ticks(log, "chest", [made(2)])
    rename_job(log, "box", "peg-box")
    rename_job(log, "chest", "peg-box")

    assert [t.thing.id for t in log.ticks("peg-box")] == ["cut 1"]
    assert [t.thing.id for t in log.ticks("chest")] == ["cut 2"]
    assert len(log.trials("peg-box")) == 1
