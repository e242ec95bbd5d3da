"""Flat-sided outlines of round things, each knowing how much area its flat sides leave out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

SIDES: Final = 64
"""Sides of a full circle. A regular n-gon inside a circle has n/(2 pi) sin(2 pi/n) of its area: 0.998394 for 64."""

POLYGON_SHARE: Final = SIDES / (2 * math.pi) * math.sin(2 * math.pi / SIDES)

Pair = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Profile:
    """A closed outline, counter-clockwise, and the true area of what it stands for (mm2)."""

    points: tuple[Pair, ...]
    true_area: float

    @property
    def left_out(self) -> float:
        """The area between the true outline and its flat sides (mm2)."""
        return self.true_area - signed_area(self.points)


_CIRCLE: Final = tuple((math.cos(2 * math.pi * k / SIDES), math.sin(2 * math.pi * k / SIDES)) for k in range(SIDES))


def signed_area(points: tuple[Pair, ...]) -> float:
    """Return the area inside an outline, negative where it runs clockwise (surveyor's formula)."""
    pairs = zip(points, (*points[1:], points[0]), strict=True)
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs) / 2


def rectangle(low: Pair, high: Pair) -> Profile:
    """Return a rectangle between two corners."""
    points = ((low[0], low[1]), (high[0], low[1]), (high[0], high[1]), (low[0], high[1]))
    return Profile(points, (high[0] - low[0]) * (high[1] - low[1]))


def round_ended(start: Pair, end: Pair, radius: float) -> Profile:
    """Return all within `radius` of the line from `start` to `end`: a circle where the two are one.

    The line runs along either axis.
    """
    length = math.dist(start, end)
    turn = math.atan2(end[1] - start[1], end[0] - start[0]) if length > 0 else 0.0
    half = SIDES // 2
    front = [turn - math.pi / 2 + math.pi * k / half for k in range(half + 1)]
    if length > 0:
        ring = [_on(end, radius, a) for a in front] + [_on(start, radius, a + math.pi) for a in front]
    else:
        ring = [(start[0] + radius * x, start[1] + radius * y) for x, y in _CIRCLE]
    return Profile(tuple(ring), math.pi * radius**2 + 2 * radius * length)


def disc_segment(radius: float, depth: float) -> Profile:
    """Return the part of a disc below a chord: the chord from -c to c on the first axis, `depth` along the second."""
    below = radius - depth
    half_angle = math.acos(max(-1.0, min(1.0, below / radius)))
    steps = [half_angle * (1 - 2 * k / SIDES) for k in range(SIDES + 1)]
    points = tuple((radius * math.sin(a), radius * math.cos(a) - below) for a in steps)
    area = radius**2 * (half_angle - math.sin(half_angle) * math.cos(half_angle))
    return Profile(points, area)


def _on(centre: Pair, radius: float, angle: float) -> Pair:
    return centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle)
