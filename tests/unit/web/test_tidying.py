"""What is no longer needed is let go while nobody waits, and at the latest after a while."""

from __future__ import annotations

import gc
from collections.abc import Iterator

import pytest

from storyrod.adapters.web._tidying import LATEST_S, RESTS_S, Tidying


@pytest.fixture
def python_as_before() -> Iterator[None]:
    before = gc.get_threshold()
    yield
    gc.set_threshold(*before)
    gc.unfreeze()


def collecting() -> tuple[Tidying, list[int]]:
    times: list[int] = []
    return Tidying(lambda: times.append(1)), times


@pytest.mark.usefixtures("python_as_before")
def test_it_waits_until_nothing_is_worked_out_and_then_looks_once() -> None:
    tidying, times = collecting()
    tidying.begin()
    tidying.worked(100.0)

    assert not tidying.look(100.0 + RESTS_S / 2)
    assert tidying.look(100.0 + RESTS_S)
    assert not tidying.look(100.0 + 10 * RESTS_S), "nothing was worked out since"
    assert len(times) == 1


@pytest.mark.usefixtures("python_as_before")
def test_edits_one_after_the_other_put_it_off_for_a_while_only() -> None:
    tidying, times = collecting()
    tidying.begin()
    for n in range(int(LATEST_S)):
        tidying.worked(float(n))
        assert not tidying.look(float(n))
    tidying.worked(LATEST_S)

    assert tidying.look(LATEST_S)
    assert len(times) == 1


def test_a_process_that_did_not_ask_for_it_is_left_as_it_is() -> None:
    tidying, times = collecting()
    tidying.worked(0.0)

    assert not tidying.look(1000.0)
    assert times == []
