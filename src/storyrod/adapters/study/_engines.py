"""Who works the pieces of a study out: this process alone. What an engine is, for others that spread them."""

from __future__ import annotations

import pickle
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from typing import Protocol

from storyrod.adapters.files.studying import Variants
from storyrod.adapters.study._rows import Sharing
from storyrod.adapters.study._store import numbers_in
from storyrod.model.study import Row

type Piece = tuple[int, tuple[Row, ...]]


class Engine(Protocol):
    """Works pieces out, in whatever order they are done."""

    workers: int
    """How many pieces are worked out at a time, for the time that is told beforehand."""

    def run(self, variants: Variants, pieces: Sequence[int]) -> Iterator[Piece]:
        """Yield every piece by its number, once each."""
        ...


class Alone:
    """This process, one piece after the other."""

    workers = 1

    def run(self, variants: Variants, pieces: Sequence[int]) -> Iterator[Piece]:
        """Yield every piece by its number."""
        sharing = Sharing(variants)
        for piece in pieces:
            yield piece, worked_out(sharing, numbers_in(piece, len(variants)))


def worked_out(sharing: Sharing, numbers: Iterable[int]) -> tuple[Row, ...]:
    """Return the rows of some variants."""
    return tuple(sharing.row(number) for number in numbers)


def in_worker(packed: bytes, piece: int) -> tuple[Row, ...]:
    """Return the rows of a piece in another process, which goes on sharing where it left off with the same study."""
    sharing = _sharing(packed)
    return worked_out(sharing, numbers_in(piece, len(sharing.variants)))


@lru_cache(maxsize=1)
def _sharing(packed: bytes) -> Sharing:
    return Sharing(pickle.loads(packed))  # noqa: S301 - our own bytes, over a cluster that runs whatever it is sent
