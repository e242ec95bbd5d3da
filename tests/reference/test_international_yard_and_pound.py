"""Source: the international yard and pound agreement of 1959.

Where: 1 in = 25.4 mm exactly, from memory; the fractions by hand: 23 5/8 in = 23.625 x 25.4 = 600.075 mm; 2 ft 3 1/2 in
= 698.5 mm; 1/64 in = 0.396875 mm, 1/32 in = 0.79375 mm, so a length moved to a step is at most 0.1985 or 0.3969 mm off.
"""

from __future__ import annotations

import pytest

from storyrod.measure.length import nearest_fraction, parse_length, show_inches

BY_HAND = [
    ('1"', 25.4),
    ('1/2"', 12.7),
    ('3/4"', 19.05),
    ('23/32"', 18.25625),
    ('5/8"', 15.875),
    ('1/4"', 6.35),
    ('1/8"', 3.175),
    ('1/16"', 1.5875),
    ('1/32"', 0.79375),
    ('1/64"', 0.396875),
    ('23 5/8"', 600.075),
    ('6"', 152.4),
    ("2' 3 1/2\"", 698.5),
    ("4'", 1219.2),
    ("8'", 2438.4),
    ('48"', 1219.2),
]


def test_fractions_worked_by_hand() -> None:
    assert [parse_length(written) for written, _ in BY_HAND] == pytest.approx([mm for _, mm in BY_HAND], abs=1e-9)


@pytest.mark.parametrize(
    ("mm", "parts", "shown"),
    [
        (600.0, 32, '23 5/8"'),  # 23.6220 in; 20/32 = 0.6250 is nearer than 19/32 = 0.5938
        (600.0, 64, '23 5/8"'),  # 40/64 = 0.6250 is 0.0030 off, 39/64 = 0.6094 is 0.0126 off
        (19.0, 32, '3/4"'),  # 0.7480 in
        (17.7, 32, '11/16"'),  # 0.6969 in = 22.3 thirty-seconds
        (17.7, 64, '45/64"'),  # 44.6 sixty-fourths
        (2440.0, 32, '96 1/16"'),  # 96.0630 in = 2.02 thirty-seconds over
        (25.4, 32, '1"'),
        (0.3, 32, '0"'),  # 0.38 of a thirty-second
        (0.5, 32, '1/32"'),  # 0.63 of a thirty-second
        (-19.05, 32, '-3/4"'),
    ],
)
def test_a_rule_shows_the_nearest_fraction_in_lowest_terms(mm: float, parts: int, shown: str) -> None:
    steps = nearest_fraction(abs(mm), parts)

    assert show_inches(float(steps) * 25.4 * (1 if mm > 0 else -1), parts) == shown


@pytest.mark.parametrize("parts", [32, 64])
def test_what_is_moved_to_a_step_is_never_more_than_half_a_step_off(parts: int) -> None:
    for tenths in range(0, 30_000, 7):
        mm = tenths / 10
        assert abs(float(nearest_fraction(mm, parts)) * 25.4 - mm) <= 25.4 / parts / 2 + 1e-6
