"""Stations by ladder, by even spread, too short, single and staggered; figures worked by hand."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storyrod.joinery._stations import shortest, stations_of
from storyrod.model.job import Spread
from storyrod.model.method import StationRules

LADDER, EVEN = Spread.LADDER, Spread.EVEN


def rules(
    end: float = 50,
    end_min: float = 25,
    pitch: float = 160,
    gap_min: float = 32,
    least: int = 2,
    *,
    single: bool = True,
) -> StationRules:
    return StationRules(end=end, end_min=end_min, pitch=pitch, gap_min=gap_min, least=least, single=single)


@pytest.mark.parametrize(
    ("length", "expected"),
    [
        (560, (50, 210, 370, 530)),  # 30 left, 25 is enough
        (540, (50, 210, 370, 490)),  # 530 would leave 10; 170 left, so one more at 540 - 50
        (530, (50, 210, 370)),  # 530 - 370 is just a pitch
        (555, (50, 210, 370, 530)),  # 25 left, exactly
        (554, (50, 210, 370, 504)),
        (400, (50, 210, 370)),
        (394, (50, 210, 344)),
        (235, (50, 210)),
        (211, (50, 161)),  # 161 left, more than a pitch
        (210, (50, 160)),  # too short for two of the ladder: e = min(50, 89)
        (120, (44, 76)),  # e = (120 - 32) / 2
        (82, (25, 57)),
        (81, (40.5,)),  # e = 24.5 is less than 25: one in the middle
        (30, (15,)),
    ],
)
def test_ladder(length: float, expected: tuple[float, ...]) -> None:
    assert stations_of(length, rules(), LADDER) == pytest.approx(expected)


@pytest.mark.parametrize(
    ("length", "expected"),
    [
        (560, (37, 158.5, 280, 401.5, 523)),
        (165, (37, 128)),  # 91 wide: one step
        (203, (37, 101.5, 166)),  # 129 wide: two steps
        (100, (34, 66)),  # 26 between is less than the gap: e = (100 - 32) / 2
    ],
)
def test_even(length: float, expected: tuple[float, ...]) -> None:
    assert stations_of(length, rules(end=37, pitch=128), EVEN) == pytest.approx(expected)


def test_a_joint_too_short_for_its_rules_has_no_stations() -> None:
    strict = rules(single=False)

    assert stations_of(81, strict, LADDER) is None
    assert shortest(strict) == 82
    assert stations_of(82, strict, LADDER) == (25, 57)


def test_one_in_the_middle_must_hold_its_own_cut() -> None:
    assert stations_of(50, rules(), LADDER, reach=30) is None
    assert stations_of(60, rules(), LADDER, reach=30) == (30,)


def test_a_staggered_ladder_starts_half_a_pitch_later() -> None:
    assert stations_of(560, rules(), LADDER, staggered=True) == (130, 290, 450)
    assert stations_of(300, rules(), LADDER, staggered=True) == (130, 250)


def test_a_staggered_even_spread_stands_between_the_others() -> None:
    assert stations_of(560, rules(end=37, pitch=128), EVEN, staggered=True) == pytest.approx(
        (97.75, 219.25, 340.75, 462.25)
    )


def test_three_at_the_least() -> None:
    assert stations_of(150, rules(least=3), LADDER) == pytest.approx((43, 75, 107))


def test_one_is_enough_where_the_rules_say_so() -> None:
    assert stations_of(60, rules(end=30, end_min=30, least=1, single=False), LADDER) == (30,)
    assert stations_of(59, rules(end=30, end_min=30, least=1, single=False), LADDER) is None


@given(
    length=st.floats(20, 3000),
    end_min=st.floats(5, 60),
    more=st.floats(0, 60),
    gap=st.floats(10, 80),
    times=st.floats(2, 6),
    least=st.integers(1, 4),
    how=st.tuples(st.sampled_from(Spread), st.booleans()),
)
def test_stations_keep_their_rules(
    length: float, end_min: float, more: float, gap: float, times: float, least: int, how: tuple[Spread, bool]
) -> None:
    asked = rules(end_min + more, end_min, gap * times, gap, least, single=False)
    spread, staggered = how
    found = stations_of(length, asked, spread, staggered=staggered)

    if found is None:
        assert length < shortest(asked) + 1e-6
        return
    assert len(found) >= least
    assert found[0] >= end_min - 1e-6
    assert found[-1] <= length - end_min + 1e-6
    assert all(b - a >= gap - 1e-6 for a, b in pairwise(found))


@given(length=st.floats(100, 3000), scale=st.floats(0.5, 4))
def test_stations_scale_with_the_joint_and_its_rules(length: float, scale: float) -> None:
    one = stations_of(length, rules(), EVEN)
    scaled = rules(50 * scale, 25 * scale, 160 * scale, 32 * scale)
    other = stations_of(length * scale, scaled, EVEN)

    assert one is not None
    assert other is not None
    assert len(one) == len(other) or abs((length - 100) / 160 - round((length - 100) / 160)) < 1e-6
    if len(one) == len(other):
        assert other == pytest.approx([s * scale for s in one])
