"""Source: all orders of three short chains, by brute force.

Where: no book: 560 orders under precedence. Rows N4 and N5.
"""

from __future__ import annotations

import pytest

from storyrod.faults import JobError
from storyrod.machining._order import find_order

Matrix = list[list[int]]


THINGS = [1, 2, 1, 2, 1, 3, 3, 2]  # set-ups of A1 A2 A3 B1 B2 B3 C1 C2


CHAINS = [(1, 2), (2, 3), (4, 5), (5, 6), (7, 8)]


def changes() -> Matrix:
    all_of = [0, *THINGS]
    return [[0 if i == 0 or all_of[i] == all_of[j] else 1 for j in range(9)] for i in range(9)]


def test_n4_three_chains_change_four_times() -> None:
    assert find_order(changes(), CHAINS).cost == 4


def test_n5_without_precedence_one_less_than_the_set_ups() -> None:
    assert find_order(changes()).cost == 2


def test_contradictory_precedence_names_the_ring() -> None:
    with pytest.raises(JobError) as caught:
        find_order(changes(), [(1, 2), (2, 3), (3, 1)], names=["start", "grooves", "bores", "sinks"])

    assert caught.value.faults[0].found == "grooves before bores before sinks before grooves"
