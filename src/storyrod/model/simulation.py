"""Errors thrown many times over with a seed, to see what their sums come to.

Worked out when somebody asks for it, and kept: loading the library and throwing takes longer than all the other figures
of a joint together, and most who ask for a plan do not look.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import lru_cache
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

SIGMAS: Final = 3.0
"""A normal error of +-T is taken to have a standard deviation of T / 3: 0.27 % lie beyond."""

THICKNESS: Final = "thickness"
"""The cause of errors that hang on how thick the board is."""


class ErrorShape(StrEnum):
    """How an error is spread within its tolerance: heaped about the middle, or even."""

    NORMAL = "normal"
    EVEN = "even"


@dataclass(frozen=True, slots=True, kw_only=True)
class ErrorTerm:
    """One error that goes into a sum: `coefficient` times +-`tolerance`; terms of one `cause` vary together."""

    name: str
    tolerance: float
    coefficient: float = 1.0
    shape: ErrorShape = ErrorShape.NORMAL
    cause: str = ""

    @property
    def reach(self) -> float:
        """How much it can add (+-)."""
        return abs(self.coefficient) * self.tolerance


def merged(terms: Iterable[ErrorTerm]) -> tuple[ErrorTerm, ...]:
    """Return the terms with those of one cause added up; a term without cause stays by itself."""
    alone: list[ErrorTerm] = []
    shared: dict[str, ErrorTerm] = {}
    for term in terms:
        if not term.cause:
            alone.append(term)
        elif term.cause in shared:
            first = shared[term.cause]
            # Of one cause means of one tolerance: the coefficients add up, and may cancel.
            shared[term.cause] = replace(first, coefficient=first.coefficient + term.coefficient)
        else:
            shared[term.cause] = term
    return (*alone, *shared.values())


def simulated(
    terms: Sequence[ErrorTerm], trials: int, seed: int, *, cut: bool = False, nominal: float = 0.0
) -> NDArray[np.float64]:
    """Return `trials` sums of the errors about `nominal`; the same seed and terms give the same figures.

    `cut`: throw normal errors beyond their tolerance again, as a maker throws away what is plainly wrong, so that no
    sum passes the worst case; otherwise their tails run on.
    """
    import numpy as np

    key = zlib.crc32(repr([(t.name, t.coefficient, t.tolerance, t.shape.value) for t in terms]).encode())
    chance = np.random.default_rng([seed, key])
    total = np.full(trials, nominal)
    for term in merged(terms):
        if term.shape is ErrorShape.EVEN:
            drawn = chance.uniform(-1.0, 1.0, trials)
        else:
            drawn = chance.standard_normal(trials) / SIGMAS
            while cut and (beyond := np.abs(drawn) > 1.0).any():
                drawn[beyond] = chance.standard_normal(int(beyond.sum())) / SIGMAS
        total += term.coefficient * term.tolerance * drawn
    return total


@dataclass(frozen=True, slots=True, kw_only=True)
class Throws:
    """How errors are thrown: how often, by which seed, and from which size on their sum shows (mm)."""

    trials: int
    seed: int
    shows: float


@lru_cache(maxsize=512)
def spread(terms: tuple[ErrorTerm, ...], throws: Throws) -> tuple[float, float, float]:
    """Return what half of the sums keep under, what 19 in 20 keep under, and the share beyond what shows."""
    import numpy as np

    size = np.abs(simulated(terms, throws.trials, throws.seed, cut=True))
    middle, most = np.percentile(size, (50, 95))
    return float(middle), float(most), float((size > throws.shows).mean())
