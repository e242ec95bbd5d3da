"""Student's t: the quantile that an interval of few timings needs.

The tail comes from the incomplete beta function by its continued fraction; a few dozen halvings then find the quantile.
"""

from __future__ import annotations

import math
from typing import Final

_TINY: Final = 1e-300
_TERMS: Final = 400


def t_quantile(share: float, freedom: float) -> float:
    """Return the t that is not exceeded with probability `share`, for so many degrees of freedom (0.5 < share < 1)."""
    if not 0.5 < share < 1 or freedom <= 0:
        raise ValueError("share must lie between 0.5 and 1, degrees of freedom above 0")
    low, high = 0.0, 1.0
    while _below(high, freedom) < share:
        low, high = high, high * 2
    for _ in range(200):
        middle = (low + high) / 2
        if middle in (low, high):
            break
        low, high = (middle, high) if _below(middle, freedom) < share else (low, middle)
    return (low + high) / 2


def _below(t: float, freedom: float) -> float:
    """Return the probability of a value below `t`, which is positive."""
    return 1 - _incomplete_beta(freedom / (freedom + t * t), freedom / 2, 0.5) / 2


def _incomplete_beta(x: float, a: float, b: float) -> float:
    if x <= 0:
        return 0.0
    if x >= 1:
        return 1.0
    front = math.exp(math.lgamma(a + b) - math.lgamma(a) - math.lgamma(b) + a * math.log(x) + b * math.log1p(-x))
    if x < (a + 1) / (a + b + 2):
        return front * _fraction(x, a, b) / a
    return 1 - front * _fraction(1 - x, b, a) / b


def _fraction(x: float, a: float, b: float) -> float:
    """Return the continued fraction of the incomplete beta function, term by term (Lentz's way)."""
    c, d = 1.0, _safe(1 - (a + b) * x / (a + 1))
    d = 1 / d
    whole = d
    for m in range(1, _TERMS):
        for step in (
            m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m)),
            -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1)),
        ):
            d = 1 / _safe(1 + step * d)
            c = _safe(1 + step / c)
            whole *= c * d
        if abs(c * d - 1) < 1e-15:
            break
    return whole


def _safe(value: float) -> float:
    return value if abs(value) > _TINY else _TINY
