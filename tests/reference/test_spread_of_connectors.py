"""Source: common practice, no source: how many connectors stand where.

Where: no book, from memory: n = max(least, ceil((W - 2a)/s) + 1); with a 50 and s 160: W 300 -> 3, 400 -> 3, 560 -> 4,
600 -> 5; the ladder 50, 210, 370, 530. By hand: L 560, end 37, pitch up to 128 gives 37, 158.5, 280, 401.5, 523. Row
K4.
"""

from __future__ import annotations

import pytest

from storyrod.joinery._stations import stations_of
from storyrod.model.job import Spread
from storyrod.model.method import StationRules


def rules(end: float, pitch: float) -> StationRules:
    return StationRules(end=end, end_min=25, pitch=pitch, gap_min=32)


def test_an_even_spread() -> None:
    found = stations_of(560, rules(37, 128), Spread.EVEN)

    assert found == pytest.approx((37, 158.5, 280, 401.5, 523))


@pytest.mark.parametrize(("width", "count"), [(300, 3), (400, 3), (560, 4), (600, 5)])
def test_how_many_in_an_even_spread(width: float, count: int) -> None:
    found = stations_of(width, rules(50, 160), Spread.EVEN)

    assert found is not None
    assert len(found) == count


def test_the_fixed_ladder() -> None:
    assert stations_of(560, rules(50, 160), Spread.LADDER) == (50, 210, 370, 530)


def test_every_shorter_panel_shares_the_stops_of_the_longest() -> None:
    """The reason for a ladder: all but a last one at the back stand where those of the longest panel do."""
    longest = stations_of(2000, rules(50, 160), Spread.LADDER)
    assert longest is not None
    for length in range(240, 2000, 7):
        found = stations_of(length, rules(50, 160), Spread.LADDER)
        assert found is not None
        assert set(found[:-1]) <= set(longest)
