"""Moisture: what wood takes from the air, and how far it moves.

Equilibrium moisture content: the handbook's formula, from memory, within 0.06 of its table 4-2. Movement:
`change = size x coefficient x (moisture at the end - moisture at the start)`, for 6 to 14 % (Wood Handbook,
FPL-GTR-190, chapter 13). Sheet goods: orders of magnitude from memory.
"""

from __future__ import annotations

from typing import Final

from storyrod.faults import raise_if_any, within
from storyrod.model.job import BoardKind

LEAST_PERCENT: Final = 6.0
MOST_PERCENT: Final = 14.0

ROOM_C: Final = 21.1
"""Temperature of a lived-in room (70 degrees Fahrenheit); the content changes little with it."""


def moisture_content(humidity_percent: float, temperature_c: float = ROOM_C) -> float:
    """Return the moisture content (%) that wood comes to in air of a relative humidity (%)."""
    raise_if_any(within("humidity", humidity_percent, 0, 99, unit="%", do="Give the relative humidity of the room."))
    t, h = temperature_c, humidity_percent / 100
    w = 349 + 1.29 * t + 0.0135 * t * t
    k = 0.805 + 0.000736 * t - 0.00000273 * t * t
    k1 = 6.27 - 0.00938 * t - 0.000303 * t * t
    k2 = 1.91 + 0.0407 * t - 0.000293 * t * t
    a = k * h
    return 1800 / w * (a / (1 - a) + (k1 * a + 2 * k1 * k2 * a * a) / (1 + k1 * a + k1 * k2 * a * a))


def in_range(*moistures_percent: float) -> bool:
    """Return whether the formula of movement is meant for these moisture contents."""
    return all(LEAST_PERCENT <= m <= MOST_PERCENT for m in moistures_percent)


def movement(size: float, coefficient: float, start_percent: float, end_percent: float) -> float:
    """Return how much wider (or, negative, narrower) wood becomes across the grain, in the unit of `size`.

    Raises:
        JobError: a moisture content outside 6 to 14 %, for which the coefficients are not meant, or a coefficient that
            is a whole shrinkage in percent.
    """
    do = "Use a range that room air can give: 6 to 14 % moisture."
    raise_if_any(
        (
            *within("start", start_percent, LEAST_PERCENT, MOST_PERCENT, unit="%", do=do),
            *within("end", end_percent, LEAST_PERCENT, MOST_PERCENT, unit="%", do=do),
            *within(
                "coefficient",
                coefficient,
                0.0005,
                0.006,
                unit="for each percent",
                do="Use the change coefficient of the species, not its whole shrinkage.",
            ),
        )
    )
    return size * coefficient * (end_percent - start_percent)


_IN_PLANE: Final = {
    # Share of length between 35 and 85 % relative humidity; the cautious end. From memory.
    BoardKind.PLYWOOD: 0.0015,
    BoardKind.BLOCKBOARD: 0.0015,
    BoardKind.MDF: 0.0040,
    BoardKind.HARDBOARD: 0.0040,
    BoardKind.CHIPBOARD: 0.0050,
    BoardKind.FACED_CHIPBOARD: 0.0050,
    BoardKind.OTHER: 0.0050,
}


def sheet_movement(size: float, kind: BoardKind, low_percent: float, high_percent: float) -> float:
    """Return how much longer a sheet becomes from one relative humidity (%) to another; an order of magnitude."""
    return size * _IN_PLANE[kind] * (high_percent - low_percent) / 50.0
