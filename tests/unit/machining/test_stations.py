"""The fewest stations of a jig for the marks as they are."""

from __future__ import annotations

from itertools import pairwise, product

from hypothesis import given, settings
from hypothesis import strategies as st

from storyrod.machining._stations import share_stations


def test_a_stop_moved_saves_stations() -> None:
    """A shelf 20 behind the front has its marks 20 further on: one more stop, and no more stations."""
    layout = share_stations([(5000, 21000, 37000), (7000, 23000, 39000)])

    assert layout.stations == (5000, 21000, 37000)
    assert layout.offsets[7000, 23000, 39000] == 2000
    assert layout.proven


def test_without_moving_the_stop_all_places_are_stations() -> None:
    layout = share_stations([(5000, 21000), (7000, 23000)], moves=False)

    assert layout.stations == (5000, 7000, 21000, 23000)


def test_openings_that_would_meet_are_moved_clear() -> None:
    """50 and 55 with openings 8 wide and 3 of board between: the second stop stands 5 off; one opening serves both."""
    layout = share_stations([(5000,), (5500,)], apart=1100)

    assert layout.stations == (5000,)
    assert layout.offsets == {(5000,): 0, (5500,): 500}
    assert layout.clear


def test_openings_that_no_stop_parts_are_told() -> None:
    """A row every 32 from 0 to 640, and two 16 apart amid it, 20 wanted between openings: a stop moves 100 at most."""
    layout = share_stations([tuple(range(0, 64001, 3200)), (30000, 31600)], apart=2000)

    assert not layout.clear


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


@settings(max_examples=60)
@given(patterns=PATTERNS, apart=st.integers(2, 6), cut=st.integers(0, 2))
def test_no_layout_with_board_between_openings_is_overlooked(
    patterns: list[tuple[int, ...]], apart: int, cut: int
) -> None:
    """Two jigs in step, judged by every offset: where some leaves all openings clear, one is found and is clear."""
    alone = [p for p in patterns if all(b - a >= apart for a, b in pairwise(p))]
    jigs = [set(alone[: cut + 1]), set(alone[cut:])]
    layout = share_stations(alone, apart=apart, jigs=jigs)

    def clear(offsets: dict[tuple[int, ...], int]) -> bool:
        made = [sorted({p - offsets[pattern] for pattern in jig for p in pattern}) for jig in jigs]
        return all(b - a >= apart for stations in made for a, b in pairwise(stations))

    distinct = list(dict.fromkeys(alone))
    every = (dict(zip(distinct, o, strict=True)) for o in product(range(-20, 21), repeat=len(distinct)) if o[0] == 0)
    assert layout.clear == (not distinct or any(clear(o) for o in every))
    assert not layout.clear or clear(layout.offsets)
