"""Species of wood: means of clear wood at 12 % moisture, and how they move across the grain.

Sources: Wood Handbook, FPL-GTR-190, USDA Forest Service, 2010: table 5-3a (pines and redwood) and table 13-5 (change
coefficients). Hardwoods: web tables restating the handbook; walnut, yellow-poplar, sugar maple, northern red oak and
white oak partly from memory. Populations scatter: every figure may be replaced by the maker's own.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class Species:
    """One species: specific gravity, bending strength (N/mm2), bending modulus (N/mm2)."""

    name: str
    gravity: float
    strength_n_mm2: float
    stiffness_n_mm2: float


SPECIES: Final = (
    Species("ash, white", 0.60, 103, 12_000),
    Species("beech, American", 0.64, 103, 11_900),
    Species("birch, yellow", 0.62, 114, 13_900),
    Species("birch, paper", 0.55, 85, 11_000),
    Species("cherry, black", 0.50, 85, 10_300),
    Species("maple, red", 0.54, 92, 11_300),
    Species("maple, sugar", 0.63, 109, 12_600),
    Species("oak, northern red", 0.63, 99, 12_500),
    Species("oak, white", 0.68, 105, 12_300),
    Species("walnut, black", 0.55, 101, 11_600),
    Species("yellow-poplar", 0.42, 70, 10_900),
    Species("pine, ponderosa", 0.40, 65, 8_900),
    Species("pine, red", 0.46, 76, 11_200),
    Species("pine, shortleaf", 0.51, 90, 12_100),
    Species("pine, slash", 0.59, 112, 13_700),
    Species("pine, sugar", 0.36, 57, 8_200),
    Species("pine, Virginia", 0.48, 90, 10_500),
    Species("pine, western white", 0.35, 67, 10_100),
    Species("redwood, old-growth", 0.40, 69, 9_200),
    Species("redwood, young-growth", 0.35, 54, 7_600),
)

UNNAMED_WOOD_N_MM2: Final = 7_600.0
"""Bending modulus for wood of no name: the least in the list (young-growth redwood)."""

CHANGE: Final[dict[str, tuple[float | None, float]]] = {
    # Radial and tangential change for each percent of moisture content, 6 to 14 %.
    "alder, red": (0.00151, 0.00256),
    "ash, white": (0.00169, 0.00274),
    "aspen, quaking": (0.00119, 0.00234),
    "basswood": (0.00230, 0.00330),
    "beech, American": (0.00190, 0.00431),
    "birch, paper": (0.00219, 0.00304),
    "birch, yellow": (0.00256, 0.00338),
    "butternut": (0.00116, 0.00223),
    "cherry, black": (0.00126, 0.00248),
    "chestnut, American": (0.00116, 0.00234),
    "elm, American": (0.00144, 0.00338),
    "hickory, pecan": (0.00169, 0.00315),
    "locust, black": (0.00158, 0.00252),
    "maple, red": (0.00137, 0.00289),
    "maple, sugar": (0.00165, 0.00353),
    "maple, silver": (0.00102, 0.00252),
    "oak, red": (0.00158, 0.00369),
    "oak, white": (0.00180, 0.00365),
    "oak, live": (0.00230, 0.00338),
    "sweetgum": (0.00183, 0.00365),
    "sycamore": (0.00172, 0.00296),
    "walnut, black": (0.00190, 0.00274),
    # Tangential only: a flooring trade association's chart, after Agriculture Handbook 72, 1987.
    "Douglas-fir": (None, 0.00267),
    "southern pine": (None, 0.00265),
    "teak": (None, 0.00186),
    "mesquite": (None, 0.00129),
    "purpleheart": (None, 0.00212),
    # From memory.
    "fir, white": (0.00112, 0.00245),
}

SOFTWOODS: Final = ("pine", "redwood", "fir")
"""The conifers among these species (Douglas-fir and southern pine with them); all others are broad-leaved."""


def speaks_of(words: str, name: str) -> bool:
    """Return whether a board's or edging's name holds the name of a wood, as whole words: ash is not in washed pine."""
    told, own = (t.casefold().replace("-", " ") for t in (words, name.strip()))
    return re.search(rf"(?<![a-z]){re.escape(own)}s?(?![a-z])", told) is not None


def is_softwood(words: str) -> bool | None:
    """Return whether the wood that a board's or edging's name speaks of is a softwood; None where it names neither."""
    if any(speaks_of(words, n) for n in ("softwood", *SOFTWOODS)):
        return True
    known = (*CHANGE, *(s.name for s in SPECIES))
    names = {n.split(",")[0].replace("-", " ").split()[-1] for n in known}  # yellow-poplar: poplar
    return False if any(speaks_of(words, n) for n in ("hardwood", *names)) else None


UNNAMED_CHANGE: Final = 0.00431
"""Tangential change of wood of no name: the greatest in the list (beech)."""


def change_of(words: str) -> tuple[str, float]:
    """Return the species that a board's or edging's name speaks of, and its tangential change per percent.

    `""` and the greatest of the list where no species is named. Where a name fits several ("oak", "birch"), the one
    that moves most.
    """
    best: tuple[int, float, str] | None = None
    for name, (_, tangential) in CHANGE.items():
        first, *more = name.split(",")
        if not speaks_of(words, first):
            continue
        rank = (sum(speaks_of(words, p) for p in more), tangential, name)
        best = rank if best is None or rank > best else best
    return ("", UNNAMED_CHANGE) if best is None else (best[2], best[1])
