"""Searches that are done: what is the same to the search, whatever its parts are called, need not be searched again."""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass
from typing import Final

from storyrod.sheets._task import Task
from storyrod.sheets._tree import Node

KEPT: Final = 400
"""So many outcomes are kept; those that were not asked for the longest go first. One is some ten kilobytes."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a search came to: its sheets as (number of the size, tree), what found no place, and rounds gone."""

    sheets: tuple[tuple[int, Node], ...] | None
    out: tuple[int, ...]
    rounds: int


class Searched:
    """Outcomes by all that a search knows of its task: a repeatable search would come to the same again."""

    def __init__(self) -> None:
        self._known: dict[Hashable, Outcome] = {}

    def __len__(self) -> int:
        """Return how many outcomes are kept."""
        return len(self._known)

    def get(self, key: Hashable) -> Outcome | None:
        """Return what a search came to, if it was done."""
        found = self._known.pop(key, None)
        if found is not None:
            self._known[key] = found  # to the end: it was asked for last
        return found

    def keep(self, key: Hashable, outcome: Outcome) -> None:
        """Keep what a search came to."""
        self._known[key] = outcome
        if len(self._known) > KEPT:
            self._known.pop(next(iter(self._known)), None)


def key_of(task: Task) -> Hashable:
    """Return all that a search knows of a task: sizes of parts and sheets, how many, and what they weigh."""
    kinds = tuple((k.ways, k.area, len(k.members)) for k in task.kinds)
    return (task.grid, tuple((s.w, s.h, s.cost, s.copies) for s in task.sizes), kinds)
