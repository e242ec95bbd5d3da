"""What the bench log keeps, and how it is read back."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from storyrod.adapters.log import BenchLog, Offcut, StopWatch, open_log
from storyrod.faults import JobError
from storyrod.telling.things import Thing

JOB = "low units"


class Clock:
    """A clock that is set by hand."""

    def __init__(self) -> None:
        self.now = 1000.0

    def __call__(self) -> float:
        return self.now


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def log(tmp_path: Path, clock: Clock) -> Iterator[BenchLog]:
    with open_log(tmp_path / "bench.db", clock=clock) as opened:
        yield opened


def hole(name: str = "hole 1", depth: int = 13) -> Thing:
    return Thing(id=f"cut {name}", name=name, content=f"hole 8, {depth} deep")


def test_the_last_word_on_a_thing_counts_copy_by_copy(log: BenchLog) -> None:
    log.tick(JOB, "v1", hole(), copy=1, who="alto")
    log.tick(JOB, "v1", hole(), copy=2)
    log.tick(JOB, "v1", hole(), copy=1, done=False)

    assert [(t.copy, t.done) for t in log.ticks(JOB)] == [(1, False), (2, True)]
    assert log.ticks("another job") == ()


def test_a_page_that_asks_twice_ticks_once(log: BenchLog) -> None:
    first = log.tick(JOB, "v1", hole(), uid="page-7")
    log.tick(JOB, "v1", hole(), done=False)
    again = log.tick(JOB, "v1", hole(), uid="page-7")

    assert first == again == "page-7"
    assert [t.done for t in log.ticks(JOB)] == [False]


def test_a_word_counts_after_those_before_it_also_when_the_clock_was_set_back(log: BenchLog, clock: Clock) -> None:
    log.tick("job", "v1", hole("a"))
    clock.now -= 3600
    log.tick("job", "v1", hole("a"), done=False)
    assert [t.done for t in log.ticks("job")] == [False]
    clock.now -= 3600
    log.tick("job", "v1", hole("a"))

    assert [t.done for t in log.ticks("job")] == [True]


def test_the_stop_watch_runs_over_a_restart(tmp_path: Path, clock: Clock) -> None:
    with open_log(tmp_path / "bench.db", clock=clock) as log:
        uid = log.start(JOB, "drill a hole", method="dowels", set_up="S3")
    clock.now += 90
    with open_log(tmp_path / "bench.db", clock=clock) as log:
        assert [s.uid for s in log.running()] == [uid]
        span = log.stop(uid, count=6)

        assert (span.minutes, span.count, span.act, span.method, span.set_up) == (
            1.5,
            6,
            "drill a hole",
            "dowels",
            "S3",
        )
        assert log.running() == ()
        assert [t.each_min for t in log.timings("drill a hole")] == [0.25]


def test_a_span_is_stopped_once(log: BenchLog) -> None:
    uid = log.start(JOB, "edge")
    log.stop(uid)

    with pytest.raises(JobError, match="stopped before"):
        log.stop(uid)
    with pytest.raises(JobError, match="no such span"):
        log.stop("nowhere")


def test_a_count_of_nothing_is_refused(log: BenchLog) -> None:
    with pytest.raises(JobError, match="more than 0"):
        log.stop(log.start(JOB, "edge"), count=0)
    with pytest.raises(JobError, match="0 min or more"):
        log.add_span(JOB, "edge", -1)


def test_a_forgotten_stop_watch_is_kept_with_a_note(log: BenchLog, clock: Clock) -> None:
    uid = log.start(JOB, "edge")
    clock.now += 20 * 3600

    assert log.stop(uid).note == "longer than a working day: forgotten?"


def test_the_stop_watch_as_a_block(log: BenchLog, clock: Clock) -> None:
    with StopWatch(log, JOB, "rout a slot") as watch:
        clock.now += 120
        watch.count = 4
    assert watch.span is not None
    assert watch.span.minutes == 2.0

    with pytest.raises(RuntimeError), StopWatch(log, JOB, "rout a slot"):
        raise RuntimeError
    assert log.spans()[-1].note == "broken off"


def test_a_span_may_be_kept_though_unlike_the_others(log: BenchLog) -> None:
    uid = log.add_span(JOB, "edge", 50, count=2)
    log.keep_span(uid)

    assert [(t.keep, t.each_min) for t in log.timings()] == [(True, 25.0)]


def test_what_lies_in_the_drawer_is_what_went_in_less_what_went_out(log: BenchLog) -> None:
    log.move("dowel 8 x 35", 200, "a pack")
    log.move("dowel 8 x 35", -26, "folder cabinet")
    log.move("cam bolt", 4)

    assert log.on_hand() == {"cam bolt": 4, "dowel 8 x 35": 174}


def test_an_offcut_taken_is_off_the_rack(log: BenchLog) -> None:
    one, two = (Offcut(code=c, board="birch18", length=900, width=420) for c in ("R1", "R2"))
    log.put_offcut(one)
    log.put_offcut(two)
    log.put_offcut(one, here=False, job=JOB)

    assert log.rack() == (two,)


def test_trial_joints_plans_and_jobs(log: BenchLog) -> None:
    log.note_plan(JOB, "v1")
    log.note_plan(JOB, "v2")
    log.note_plan(JOB, "v1")
    log.add_trial(JOB, "S4", "step", -0.2, note="tight")

    assert log.jobs() == (JOB,)
    assert log.versions(JOB) == ("v1", "v2")
    assert [(t.set_up, t.kind, t.reading, t.note) for t in log.trials(JOB)] == [("S4", "step", -0.2, "tight")]


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(JobError, match="Make the folder first"):
        open_log(tmp_path / "nowhere" / "bench.db")


def test_an_address_that_is_none_is_told() -> None:
    for address in ("nonsense://here", "postgresql+nodriver://here/log"):
        with pytest.raises(JobError) as caught:
            open_log(address)
        assert caught.value.faults[0].code == "log-url"
