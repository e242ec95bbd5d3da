"""The book of ticks: whatever gets lost, doubled or late on the way, what was made last on each thing counts."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from storyrod.adapters.log import open_log
from storyrod.adapters.web import Settings
from storyrod.adapters.web._desk import Desk
from storyrod.adapters.web._settings import local_hosts

JOB = "box"
numbers = itertools.count()


class Clock:
    now = 1_000_000.0

    def __call__(self) -> float:
        return self.now


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """A desk with one job that cannot be built, so that pages tell what they tick; its log has a clock of ours."""
    home = tmp_path_factory.mktemp("desk")
    (home / "jobs").mkdir()
    (home / "jobs" / f"{JOB}.toml").write_text('title = "box"\n', encoding="utf-8")
    made = Desk(Settings(jobs=home / "jobs", home=home, hosts=local_hosts(8021)))
    made._log = open_log(made.settings.log, clock=Clock())
    yield made
    made.close()


def tick(thing: str, *, done: bool, made: float, now: float) -> dict[str, Any]:
    uid = f"{next(numbers):032x}"
    common = {"uid": uid, "thing": thing, "name": thing, "content": "hole 8", "copy": 1, "version": "old"}
    return {**common, "done": done, "age_s": now - made}


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    words=st.lists(st.tuples(st.integers(0, 2), st.booleans()), min_size=1, max_size=12),
    order=st.randoms(use_true_random=False),
    doubled=st.lists(st.integers(0, 11), max_size=6),
)
def test_what_was_made_last_counts_in_whatever_order_it_arrives(
    desk: Desk, words: list[tuple[int, bool]], order: Any, doubled: list[int]
) -> None:
    group = next(numbers)
    now = Clock.now
    sent = []
    wanted = {}
    for second, (number, done) in enumerate(words):
        thing = f"cut {group} {number}"
        sent.append(tick(thing, done=done, made=now - 1000 + 10 * second, now=now))
        wanted[thing, 1] = done
    sent += [sent[i % len(words)] for i in doubled]
    order.shuffle(sent)
    for one in sent:
        desk.ticks.keep(JOB, {"ticks": [one]})

    last = desk.ticks.words(JOB).last
    assert {k: t.done for k, t in last.items() if k in wanted} == wanted


def test_a_tick_of_now_counts_even_where_another_tablets_clock_runs_ahead(desk: Desk) -> None:
    """The other's tick was told to be of this moment; then the machine's clock is set back by an hour."""
    thing = f"cut {next(numbers)}"
    desk.ticks.keep(JOB, {"ticks": [tick(thing, done=True, made=0, now=0)]})
    Clock.now -= 3600
    desk.ticks.keep(JOB, {"ticks": [tick(thing, done=False, made=0, now=0)]})
    Clock.now += 3600

    assert desk.ticks.words(JOB).last[thing, 1].done is False


def test_what_another_program_writes_is_seen(desk: Desk) -> None:
    before = desk.ticks.words(JOB).seq
    with open_log(desk.settings.log) as other:
        from storyrod.telling.things import Thing

        other.tick(JOB, "v1", Thing(id="cut elsewhere", name="mark 1", content="hole 8"))

    words = desk.ticks.words(JOB)
    assert words.seq > before
    assert [w[0] for w in words.told({}, before)] == ["cut elsewhere"]


def test_shares_of_a_job_that_can_not_be_built_are_none(desk: Desk) -> None:
    assert desk.shares(desk.job(JOB)) == {}
