"""The fewest stations of a jig for the marks as they are."""

from __future__ import annotations

from itertools import product

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
