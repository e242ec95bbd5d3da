"""The fewest stations of a jig, for the marks as they are and for joints whose stations may move."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from storyrod.machining._stations import StationRange, _grid, fewest_stations, serves, share_stations
from storyrod.machining._stations_cp import fewest_by_cp

LADDER = StationRange(end=50, end_min=25, pitch=160, gap_min=32, least=2)


def test_depths_450_560_and_600_share_one_ladder() -> None:
    stations, proven = fewest_stations((450, 560, 600), LADDER)

    assert proven
    assert stations == (50, 210, 370, 530)


def test_a_stop_moved_saves_stations() -> None:
    """A shelf 20 behind the front has its marks 20 further on: one more stop, and no more stations."""
    layout = share_stations([(5000, 21000, 37000), (7000, 23000, 39000)])

    assert layout.stations == (5000, 21000, 37000)
    assert layout.offsets[7000, 23000, 39000] == 2000
    assert layout.proven


def test_without_moving_the_stop_all_places_are_stations() -> None:
    layout = share_stations([(5000, 21000), (7000, 23000)], moves=False)

    assert layout.stations == (5000, 7000, 21000, 23000)


PATTERNS = st.lists(
    st.lists(st.integers(0, 12), min_size=1, max_size=3, unique=True).map(lambda p: tuple(sorted(p))),
    min_size=1,
    max_size=3,
)


@settings(max_examples=40)
@given(patterns=PATTERNS)
def test_no_layout_has_fewer_stations(patterns: list[tuple[int, ...]]) -> None:
    """Judged by trying every offset of every pattern."""
    layout = share_stations(patterns)
    fewest = min(
        len({p - o for pattern, o in zip(patterns, offsets, strict=True) for p in pattern})
        for offsets in product(range(-14, 15), repeat=len(patterns))
        if offsets[0] == 0
    )

    assert len(layout.stations) == fewest
    for pattern in patterns:
        assert {p - layout.offsets[pattern] for p in pattern} <= set(layout.stations)


@settings(max_examples=25)
@given(lengths=st.lists(st.integers(120, 900).map(float), min_size=1, max_size=6))
def test_what_is_found_serves_every_length(lengths: list[float]) -> None:
    stations, _ = fewest_stations(lengths, LADDER, limit_s=0)

    assert all(serves(stations, length, LADDER) for length in lengths)


def test_constraint_programming_judges_the_quick_answer() -> None:
    depths = (300.0, 345.0, 450.0, 505.0)
    stations, proven = fewest_stations(depths, LADDER, grid=10)
    judged, judged_proven = fewest_by_cp(depths, LADDER, _grid(505, LADDER, 10.0), 2, limit_s=5, seed=0)

    assert proven
    assert judged_proven
    assert len(stations) == len(judged)
    assert all(serves(judged, length, LADDER) for length in depths)


def test_twelve_depths_share_one_ladder() -> None:
    """The longest, 800, needs five by itself: 50 + 4 x 155 = 670, and 130 are left."""
    depths = (300.0, 345, 400, 450, 505, 545, 560, 600, 640, 705, 720, 800)
    stations, proven = fewest_stations(depths, LADDER)

    assert (len(stations), proven) == (5, True)
    assert all(serves(stations, length, LADDER) for length in depths)


@pytest.mark.parametrize(
    ("stations", "length", "will_do"),
    [
        ((50, 210, 370), 450, True),
        ((50, 210, 370), 400, True),
        ((50, 210), 450, False),  # 240 left without a connector
        ((80, 210, 370), 450, False),  # the first too far from the end
        ((50, 60), 130, False),  # too near to each other
        ((50,), 100, False),  # one is too few
    ],
)
def test_the_rules_of_a_joint(stations: tuple[float, ...], length: float, will_do: bool) -> None:
    assert serves(stations, length, LADDER) is will_do
