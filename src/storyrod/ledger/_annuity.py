"""Money over time: what a tool costs a year.

Formulas: engineering-economics factor table of a US engineers' examination handbook.
"""

from __future__ import annotations

import math


def capital_recovery(rate: float, years: float) -> float:
    """Return A/P: what a sum of 1 now costs at the end of each of `years`, at `rate` interest a year (a share)."""
    if years <= 0:
        raise ValueError("years must be more than 0")
    if rate == 0:
        return 1 / years
    # expm1 and log1p keep the digits where the rate is tiny.
    return rate / -math.expm1(-years * math.log1p(rate))


def annual_cost(price: float, scrap: float, rate: float, years: float) -> float:
    """Return what a tool costs a year: `(P - S)(A/P) + S i`, with `scrap` what it fetches at the end."""
    return (price - scrap) * capital_recovery(rate, years) + scrap * rate
