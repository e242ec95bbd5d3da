"""Jigs worth keeping, against every way of choosing and parting the depths of a family, tried one by one."""

from __future__ import annotations

import itertools
import random
from collections.abc import Iterator, Sequence

import pytest

from storyrod.machining._jig_groups import Ask
from storyrod.machining._standing_search import Kept, Want, Weigher, stations_of

MAKE, STATION = 20.0, 6.0
LONG = 60000


def minutes(stations: int) -> float:
    return MAKE + STATION * stations


type Lines = Sequence[tuple[Want, float]]
"""Lines of cuts, each with what a jig saves at it in a year, whatever the others have."""


def weighed(lines: Lines, years: float = 1.0) -> Kept:
    weigher = Weigher([w for w, _ in lines], minutes, 0)
    return weigher.kept(lambda chosen: sum(lines[n][1] for n in chosen), years)


def want(pattern: tuple[int, ...], saves: float, *, free: bool = False, hold: float = LONG) -> tuple[Want, float]:
    """A line of cuts at places in hundredths of a mm, on a part that holds a jig so long, and what it saves."""
    ask = Ask(key=("8",), distance=9.0, packable=20.0, reach=pattern[-1], hold=hold, pattern=pattern, apart=2000)
    halves = (False, True) if free else (False,)
    return Want(tuple((h, frozenset({pattern})) for h in halves), tuple((h, ask) for h in halves)), saves


def partings(items: Sequence[int]) -> Iterator[list[list[int]]]:
    """Every way of parting items into sets."""
    if not items:
        yield []
        return
    first, *rest = items
    for parts in partings(rest):
        for n, part in enumerate(parts):
            yield [*parts[:n], [first, *part], *parts[n + 1 :]]
        yield [[first], *parts]


def can_hold(wants: Lines, part: Sequence[int]) -> bool:
    asks = [wants[n][0].asks[0][1] for n in part]
    return all(a.reach <= b.hold and b.reach <= a.hold for a, b in itertools.permutations(asks, 2))


def by_hand(wants: Lines, years: float) -> float:
    """The greatest gain over every choice and every parting, all patterns measured from the panel's edge."""
    best = 0.0
    for size in range(len(wants) + 1):
        for chosen in itertools.combinations(range(len(wants)), size):
            saved = years * sum(wants[n][1] for n in chosen)
            for parts in partings(chosen):
                if all(can_hold(wants, part) for part in parts):
                    jigs = [
                        {p for n in part for half, own in wants[n][0].halves if half is free for q in own for p in q}
                        for part in parts
                        for free in (False, True)
                    ]
                    cost = sum(minutes(len(stations)) for stations in jigs if stations)
                    best = max(best, saved - cost)
    return best


def gain(wants: Lines, years: float) -> float:
    kept = weighed(wants, years)
    assert kept.proven
    return years * sum(wants[n][1] for n in kept.served) - kept.making


@pytest.mark.parametrize("seed", range(8))
def test_no_choice_of_up_to_eight_depths_gains_more(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ladders of many depths, some on narrow parts, some with both halves; stops are not moved here."""
    monkeypatch.setattr("storyrod.machining._stations.FURTHEST", -1)
    rng = random.Random(seed)
    count = 3 + seed % 4 if seed < 7 else 8
    wants = []
    for _ in range(count):
        depth = rng.randrange(20000, 60000, 1000)
        ladder = [*range(5000, depth - 5000, 16000), depth - 5000]
        hold = LONG if rng.random() < 0.8 else depth
        wants.append(want(tuple(sorted(set(ladder))), rng.uniform(0.5, 14.0), free=rng.random() < 0.5, hold=hold))

    assert gain(wants, 2.0) == pytest.approx(by_hand(wants, 2.0))


def test_a_stop_that_is_moved_saves_a_station() -> None:
    """50, 210, 370 and 80, 240: the second lies on the first two stations with its stop 30 further in."""
    wants = [want((5000, 21000, 37000), 50.0), want((8000, 24000), 50.0)]

    kept = weighed(wants)

    assert kept.parts == ((0, 1),)
    assert kept.layouts[0].stations == (5000, 21000, 37000)
    assert kept.layouts[0].offsets[8000, 24000] == 3000
    assert kept.making == minutes(3)


def test_a_depth_that_does_not_pay_is_left_out_and_says_what_it_would_cost() -> None:
    """Worked by hand: the jig (20 + 3 x 6 = 38) saves 40; the second depth asks a station more (6) and saves 5."""
    wants = [want((5000, 21000, 37000), 40.0), want((5000, 21000, 41000), 5.0)]

    kept = weighed(wants)
    longer = weighed(wants, 2.0)

    assert kept.served == {0}
    assert kept.without == {0: 38.0, 1: 6.0}
    assert longer.served == {0, 1}


def test_the_halves_of_joints_are_counted_from_one_zero() -> None:
    wants = [want((5000, 21000), 60.0, free=True), want((9000, 25000), 60.0, free=True)]

    kept = weighed(wants)

    (layout,) = kept.layouts
    for pattern in layout.offsets:
        assert stations_of(layout, frozenset({pattern})) <= set(layout.stations)
    assert kept.making == 2 * minutes(2)  # one jig for each half, of the same two stations


def test_a_narrow_part_has_a_jig_of_its_own_where_it_pays() -> None:
    wants = [want((5000, 21000, 37000), 99.0), want((2500,), 99.0, hold=30000)]

    kept = weighed(wants)

    assert sorted(kept.parts) == [(0,), (1,)]


def test_more_lines_than_are_weighed_together_are_added_one_by_one(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("storyrod.machining._standing_search.MOST", 3)
    wants = [want((5000, 21000, 37000 + 700 * n), 39.0 + n) for n in range(5)]

    kept = weighed(wants)

    assert not kept.proven
    assert len(kept.served) == 5
    assert kept.making == minutes(7)


def test_what_a_job_would_make_anew_is_saved_once_however_many_lines_it_has() -> None:
    """A job with two depths makes one jig for both, (20 + 4 x 6 = 44), twice a year; kept for a year, that pays.

    With a jig for one of them alone it would still make one (38) for the other: 6 are saved, twice, for 38.
    """
    lines = [want((5000, 21000, 37000), 0.0), want((5000, 21000, 41000), 0.0)]
    weigher = Weigher([w for w, _ in lines], minutes, 0)
    everything = frozenset({0, 1})

    kept = weigher.kept(lambda chosen: 2 * (weigher.making(everything) - weigher.making(everything - chosen)), 1.0)

    assert weigher.making(everything) == 44.0
    assert weigher.making(frozenset({0})) == 38.0
    assert kept.served == everything
    assert kept.making == 44.0
