"""Frozen values as plain data, for JSON."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Mapping
from enum import Enum
from typing import Any

from storyrod.measure.space import Point


def plain(value: object) -> Any:  # noqa: ANN401  # plain data of any depth
    """Return frozen values as plain data: dataclasses as dicts, enums as their value, points as lists."""
    if isinstance(value, Point):
        return [tidy(value.x), tidy(value.y), tidy(value.z)]
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {f.name: plain(getattr(value, f.name)) for f in dataclasses.fields(value) if f.repr}
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, Mapping):
        return {str(k): plain(v) for k, v in value.items()}
    if isinstance(value, tuple | list):
        return [plain(v) for v in value]
    if isinstance(value, float):
        return tidy(value) if math.isfinite(value) else None  # JSON knows no endless number: there is no limit to tell
    return value


def tidy(mm: float) -> float:
    """Return a figure without float dust (a thousand millionth), and never as minus zero."""
    return round(mm, 9) + 0.0
