"""The order of settings: nothing is cut before its time, and no order has fewer settings where that is said."""

from __future__ import annotations

import random
from functools import cache

import pytest

from storyrod.sheets._sequence import Sequencer


def drawn(number: int, cuts: int) -> tuple[list[int], list[int]]:
    """Return settings and forerunners of some cuts."""
    chance = random.Random(number)
    keys = [chance.randrange(chance.choice([2, 3, 5])) for _ in range(cuts)]
    before = [chance.randrange(-1, i) if i else -1 for i in range(cuts)]
    return keys, before


def fewest(keys: list[int], before: list[int], free: set[int]) -> int:
    """Return the least number of settings by trying every order of them."""

    @cache
    def still(done: frozenset[int]) -> int:
        if len(done) == len(keys):
            return 0
        best = 10**6
        for key in set(keys):
            now = set(done)
            grown = True
            while grown:
                new = {i for i in range(len(keys)) if keys[i] == key and i not in now and (before[i] in {-1, *now})}
                grown = bool(new)
                now |= new
            if len(now) > len(done):
                best = min(best, (key not in free) + still(frozenset(now)))
        return best

    return still(frozenset())


@pytest.mark.parametrize("number", range(40))
def test_no_order_has_fewer_settings(number: int) -> None:
    keys, before = drawn(number, 4 + number % 8)
    free = {0} if number % 3 == 0 else set()
    groups, proved = Sequencer(keys, before, free).groups(lambda i: (i,))

    assert proved
    assert sum(keys[g[0]] not in free for g in groups) == fewest(keys, before, free)


@pytest.mark.parametrize("number", range(5))
def test_every_cut_is_made_once_and_in_its_time(number: int) -> None:
    keys, before = drawn(number, 80)
    groups, _ = Sequencer(keys, before).groups(lambda i: (i,))
    order = [cut for group in groups for cut in group]

    assert sorted(order) == list(range(80))
    assert all(before[cut] == -1 or order.index(before[cut]) < order.index(cut) for cut in order)
    assert all(len({keys[cut] for cut in group}) == 1 for group in groups)


def test_a_setting_waits_until_all_its_cuts_are_in_hand() -> None:
    """A crosscut now and one on a strip that is not ripped yet: rip first, then both by one setting."""
    rip, cross = 0, 1
    groups, proved = Sequencer([cross, rip, cross], [-1, -1, 1]).groups(lambda i: (i,))

    assert proved
    assert groups == [[1], [0, 2]]


def test_many_cuts_end_with_an_order_that_is_not_called_proved() -> None:
    chance = random.Random(5)
    keys = [chance.randrange(40) for _ in range(400)]
    before = [chance.randrange(-1, i) if i else -1 for i in range(400)]
    groups, proved = Sequencer(keys, before).groups(lambda i: (i,))

    assert not proved
    assert sorted(c for g in groups for c in g) == list(range(400))
