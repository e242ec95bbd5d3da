"""Tipping forward: masses about the front-most line of contact with the floor.

Levers behind the pivot steady, levers before it tip: `ratio = sum of m x behind / sum of m x before`. A horizontal pull
F at a height h tips by F h. A block of height b under the rear edge tilts the piece by atan(b / D), D from the pivot to
the rear edge; a lever x at height z becomes x cos - z sin. Plain statics; the conditions it is used for are in
`_tipping.py` with their sources.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from storyrod.model.thresholds import GRAVITY


@dataclass(frozen=True, slots=True)
class Body:
    """A mass (kg) at a lever behind the pivot (mm; negative before it) and a height above the floor."""

    kg: float
    lever: float
    height: float = 0.0


def tilt(block: float, base: float) -> float:
    """Return the angle (radians) by which a block of a height tilts a piece whose base is so deep."""
    return math.atan2(block, base)


def tilted(body: Body, angle: float) -> Body:
    """Return the body as it stands when the piece leans forward by `angle` (radians)."""
    cos, sin = math.cos(angle), math.sin(angle)
    return Body(body.kg, body.lever * cos - body.height * sin, body.height * cos + body.lever * sin)


@dataclass(frozen=True, slots=True)
class Balance:
    """Moments about the pivot, in N mm."""

    steadying: float
    tipping: float

    @property
    def ratio(self) -> float:
        """Steadying over tipping; infinite where nothing tips."""
        return self.steadying / self.tipping if self.tipping > 0 else math.inf

    @property
    def left(self) -> float:
        """What is left over of the steadying moment (negative: it tips)."""
        return self.steadying - self.tipping


def balance(bodies: Iterable[Body], *, pull_n: float = 0.0, pull_height: float = 0.0, angle: float = 0.0) -> Balance:
    """Return the moments of masses, and of a horizontal pull outward at a height."""
    steadying = tipping = 0.0
    for body in bodies:
        stands = tilted(body, angle) if angle else body
        moment = stands.kg * GRAVITY * stands.lever
        if moment >= 0:
            steadying += moment
        else:
            tipping -= moment
    return Balance(steadying, tipping + pull_n * pull_height)


def greatest_force(left_n_mm: float, lever: float) -> float:
    """Return the force (N) at a lever that uses up the moment left over: 0 where none is left, endless at no lever."""
    if left_n_mm <= 0:
        return 0.0
    return left_n_mm / lever if lever > 0 else math.inf


def anchor_force(left_n_mm: float, height: float) -> float:
    """Return the pull (N) on a wall fixing at a height that keeps a piece from tipping, before any factor."""
    return max(0.0, -left_n_mm) / height


def is_clothing_storage_size(height: float, kg: float, enclosed_dm3: float) -> bool:
    """Return whether a piece is in the scope of ASTM F2057-23 by size: 27 in, 30 lb, 3.2 ft3 or more.

    The standard is for free-standing clothing storage; shelving, office and dining furniture and built-in pieces are
    not in it.
    """
    return height >= 27 * 25.4 - 1e-9 and kg >= 30 * 0.45359237 - 1e-9 and enclosed_dm3 >= 3.2 * 28.316846592 - 1e-9
