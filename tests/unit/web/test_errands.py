"""Work behind the page: step by step, that asked for last first, and only while somebody asks."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Iterator

import pytest

from storyrod.adapters.web._errands import WANTED_S, Errand, Errands


class Counting(Errand):
    def __init__(self, steps: int, at: Callable[[int], None] = lambda _: None) -> None:
        super().__init__()
        self.steps, self.at, self.count = steps, at, 0

    def work(self) -> Iterator[None]:
        for n in range(self.steps):
            self.at(n)
            self.count += 1
            yield


def wait_for(is_so: Callable[[], bool]) -> None:
    for _ in range(30_000):  # minutes: only what hangs comes to the end
        if is_so():
            return
        time.sleep(0.01)
    raise AssertionError("it did not come about")


def test_an_errand_is_done_once_for_all_who_ask() -> None:
    errands = Errands()
    first = errands.ask(("a",), Counting, lambda: Counting(3))
    wait_for(lambda: first.is_done)
    again = errands.ask(("a",), Counting, lambda: Counting(99))
    assert again is first
    assert first.count == 3


def test_one_that_nobody_asks_for_is_left_and_goes_on_when_asked_again() -> None:
    now = [0.0]
    errands = Errands(clock=lambda: now[0])

    def leave(n: int) -> None:
        if n == 2:
            now[0] += 2 * WANTED_S

    errand = errands.ask(("a",), Counting, lambda: Counting(5, leave))
    wait_for(lambda: errand.count == 3)
    time.sleep(0.05)
    assert (errand.count, errand.is_done) == (3, False)
    errands.ask(("a",), Counting, lambda: Counting(5))
    wait_for(lambda: errand.is_done)
    assert errand.count == 5


def test_the_one_asked_for_last_goes_first() -> None:
    begun, go, order = threading.Event(), threading.Event(), []

    def note(name: str) -> Callable[[int], None]:
        def at(n: int) -> None:
            if name == "a" and n == 0:
                begun.set()
                go.wait(5)
            order.append(name)

        return at

    errands = Errands()
    first = errands.ask(("a",), Counting, lambda: Counting(3, note("a")))
    begun.wait(5)
    second = errands.ask(("b",), Counting, lambda: Counting(3, note("b")))
    go.set()
    wait_for(lambda: first.is_done and second.is_done)
    assert order == ["a", "b", "b", "b", "a", "a"]


def test_a_mistake_of_ours_is_told_and_stops_nothing_else() -> None:
    def wrong(_: int) -> None:
        raise ZeroDivisionError

    errands = Errands()
    bad = errands.ask(("bad",), Counting, lambda: Counting(1, wrong))
    wait_for(lambda: bad.is_done)
    assert "mistake in storyrod" in bad.trouble
    good = errands.ask(("good",), Counting, lambda: Counting(1))
    wait_for(lambda: good.is_done)
    assert good.trouble == ""


def test_a_key_stands_for_one_kind() -> None:
    class Other(Counting):
        pass

    errands = Errands()
    errands.ask(("a",), Counting, lambda: Counting(1))
    with pytest.raises(TypeError):
        errands.ask(("a",), Other, lambda: Other(1))
