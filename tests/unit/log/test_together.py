"""Clocks of several tablets at one set-up: a minute in which two ran is one minute."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storyrod.adapters.log import Span, open_log
from storyrod.adapters.log._together import SETTING_UP, counted_once
from storyrod.adapters.log.bench import Stretch, keep_stretches


def span(
    started_min: float, minutes: float | None, *, act: str = "drill a hole", set_up: str = "S4", n: int = 0
) -> Span:
    uid = f"{act} {started_min} {n}"
    return Span(uid=uid, job="box", act=act, method="", set_up=set_up, panel="", count=4.0,
                started=60.0 * started_min, minutes=minutes)  # fmt: skip


def minutes(*spans: Span) -> list[float]:
    return [s.minutes or 0.0 for s in counted_once(spans)]


def test_clocks_one_after_the_other_count_in_full() -> None:
    assert minutes(span(0, 10), span(10, 5), span(20, 5)) == [10, 5, 5]


def test_minutes_in_which_two_clocks_ran_are_shared() -> None:
    assert minutes(span(0, 10), span(1, 10)) == pytest.approx([1 + 9 / 2, 9 / 2 + 1])
    assert minutes(span(0, 10), span(2, 4)) == pytest.approx([6 + 2, 2])


def test_the_acts_of_one_stretch_are_no_two_clocks() -> None:
    both = span(0, 6), span(0, 4, act="clamp")
    assert minutes(*both) == [6, 4]
    assert minutes(*both, span(0.5, 9)) == pytest.approx([6 * 0.55, 4 * 0.55, 4.5])


def test_other_set_ups_other_jobs_and_none_are_left_alone() -> None:
    told = span(0, 10), span(0, 10, set_up="S5", n=1), replace(span(1, 10), job="shelf")
    assert minutes(*told) == [10, 10, 10]
    assert minutes(span(0, 10, set_up=""), span(1, 10, set_up="")) == [10, 10]
    assert minutes(span(0, 10), span(1, None)) == [10]


def test_a_set_up_made_under_two_clocks_is_one() -> None:
    one, other = counted_once([span(0, 10, act=SETTING_UP), span(0.001, 10, act=SETTING_UP)])

    assert one.count + other.count == pytest.approx(4.0, rel=1e-3)
    assert (one.minutes or 0) / one.count == pytest.approx(2.5)


@given(st.lists(st.tuples(st.integers(0, 200), st.integers(0, 60)), min_size=1, max_size=12, unique_by=lambda p: p[0]))
def test_together_they_come_to_the_time_in_which_one_ran(found: list[tuple[int, int]]) -> None:
    covered = {m for start, long in found for m in range(start, start + long)}
    assert sum(minutes(*(span(a, b) for a, b in found))) == pytest.approx(len(covered))


def test_what_the_log_teaches_counts_them_once(tmp_path: Path) -> None:
    def kept(uid: str, started: float) -> Stretch:
        return Stretch(uid=uid * 32, act="drill a hole", method="dowels", set_up="S4", count=5,
                       started=started, minutes=10.0, version="v1")  # fmt: skip

    with open_log(tmp_path / "bench.db") as log:
        keep_stretches(log, "box", [kept("a", 0.0), kept("b", 60.0)])
        timings = log.timings("drill a hole")

        assert sum(t.minutes for t in timings) == pytest.approx(11.0)
        assert [t.count for t in timings] == [5, 5]
        assert [s.minutes for s in log.spans()] == [10.0, 10.0]
        assert log.timings("clamp") == ()
