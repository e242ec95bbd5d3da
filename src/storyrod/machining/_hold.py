"""What a jig must have: a part that it can be clamped to, and board between its openings."""

from __future__ import annotations

import math
from typing import Final

NARROW: Final = 150.0
"""A part shorter than this along the joint can not hold a long jig with two clamps; common practice, no source."""

MARGIN: Final = 40.0
"""Template left beyond the last opening, and at least this much beside openings; common practice, no source."""

WEB: Final = 3.0
"""Least strip of template between two openings, or an opening and an edge that is used as reference; common practice,
no source."""

_TIMES: Final = 3.0
"""A narrow part still holds a jig that is this many times as long; common practice, no source."""


def hold_of(length: float) -> float:
    """Return how long a jig may be that is clamped to a part so long along the joint."""
    return math.inf if length >= NARROW else _TIMES * length


def reach_of(last_station: float) -> float:
    """Return how far a jig goes from its stop when its last opening stands there."""
    return last_station + MARGIN


def openings_apart(opening: tuple[float, float] | None) -> float:
    """Return how far two openings in one line stand apart at least, from centre to centre."""
    return (opening[0] if opening else 0.0) + WEB
