"""Dowels and screws by the names they are bought by: `dowel 8 x 35`, `pan-head screw 3.5 x 16`.

The name is the maker's own, of the workshop file. What it says of kind and size is read here and nowhere else.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from typing import Final


class Fastened(StrEnum):
    """What a fastener is, by the noun in its name."""

    DOWEL = "dowel"
    SCREW = "screw"


@dataclass(frozen=True, slots=True)
class Fastener:
    """A dowel or a screw of a size: outside diameter and length, both in mm."""

    kind: Fastened
    diameter: float
    length: float


_NAMED: Final = re.compile(r"\b(dowel|screw)s?\b.*?\b(\d+(?:\.\d+)?) x (\d+(?:\.\d+)?)$")


def fastener_of(item: str) -> Fastener | None:
    """Return what a name says, or None where it names no dowel or screw with diameter and length at its end.

    >>> fastener_of("pan-head screw 3.5 x 16")
    Fastener(kind=<Fastened.SCREW: 'screw'>, diameter=3.5, length=16.0)
    """
    found = _NAMED.search(item)
    return None if found is None else Fastener(Fastened(found[1]), float(found[2]), float(found[3]))
