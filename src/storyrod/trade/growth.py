"""How much solid wood grows across its grain over the year, by the air of its room.

Change coefficients and formula: Wood Handbook, FPL-GTR-190, table 13-5, flat-sawn; see `trade.moisture`.
"""

from __future__ import annotations

from storyrod.trade.moisture import LEAST_PERCENT, MOST_PERCENT, in_range, moisture_content, movement
from storyrod.trade.woods import change_of


def wood_growth(size: float, words: str, humidity_low: float, humidity_high: float) -> tuple[float | None, str]:
    """Return how much wood grows across the grain (mm) between two relative humidities (%), and where that comes from.

    None where the air takes the wood beyond 6 to 14 % moisture, for which the coefficients are not meant. `words` may
    name the species.
    """
    low, high = moisture_content(humidity_low), moisture_content(humidity_high)
    if not in_range(low, high):
        return None, ""
    species, coefficient = change_of(words)
    named = f"{species}, flat-sawn" if species else "wood not named: the largest on the list, flat-sawn"
    source = f"{named}, {low:.1f} to {high:.1f} % moisture; Wood Handbook, table 13-5"
    return movement(size, coefficient, low, high), source


def room_for_growth(size: float, words: str, humidity_low: float, humidity_high: float) -> float:
    """Return the room (mm) that wood is left to move in, whatever the air: at most from 6 to 14 % moisture."""
    low, high = (min(max(moisture_content(h), LEAST_PERCENT), MOST_PERCENT) for h in (humidity_low, humidity_high))
    return movement(size, change_of(words)[1], low, high)
