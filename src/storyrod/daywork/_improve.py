"""An order made better by moving one task at a time, and tidier, without a solver."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Final

from storyrod.daywork._place import Bench, NoDayLeftError, cost_of, in_order
from storyrod.model.day import Held, Slot, Task

PLACINGS: Final = 60_000
"""How many times a task is placed in the search for a better order, after which it stops with the best one found."""

type Slots = tuple[Slot, ...]


class Mover:
    """Tries orders of some tasks on one bench, and counts its work."""

    def __init__(
        self, tasks: Sequence[Task], bench: Callable[[], Bench], held: Sequence[Held], work: int = PLACINGS
    ) -> None:
        self.by_id = {t.id: t for t in tasks}
        self._tasks, self._bench, self._held = tasks, bench, held
        self._left = work

    def cost(self, slots: Slots) -> tuple[int, int]:
        """Return what an order is judged by."""
        return cost_of(self._tasks, slots, self._held)

    def placed(self, order: Sequence[str]) -> Slots | None:
        """Return the tasks placed in an order; None where one would come before what it waits for, or no work is left.

        None too where the days do not reach.
        """
        place = {task: n for n, task in enumerate(order)}
        if any(place.get(b, -1) > n for n, task in enumerate(order) for b in self.by_id[task].after):
            return None
        if self._left < len(order):
            return None
        self._left -= len(order)
        try:
            return in_order((self.by_id[i] for i in order), self._bench())
        except NoDayLeftError:
            return None

    def improved(self, slots: Slots) -> Slots:
        """Return the best order that moving one task after another leads to."""
        best = self.cost(slots)
        found = True
        while found:
            found = False
            for order in _moves([s.task for s in slots]):
                tried = self.placed(order)
                if tried is not None and self.cost(tried) < best:
                    slots, best, found = tried, self.cost(tried), True
                    break
        return slots

    def tidied(self, slots: Slots) -> Slots:
        """Return an order no worse in which the maker stays longer at one job: many are ready equally soon."""
        limit = self.cost(slots)
        order = [s.task for s in slots]
        for at in range(1, len(order)):
            here = self.by_id[order[at - 1]].jobs
            later = next((n for n in range(at, len(order)) if self.by_id[order[n]].jobs == here), at)
            if later == at:
                continue
            tried = [*order[:at], order[later], *order[at:later], *order[later + 1 :]]
            placed = self.placed(tried)
            if placed is not None and self.cost(placed) <= limit:
                order, slots = tried, placed
        return slots


def _moves(order: Sequence[str]) -> Iterator[list[str]]:
    """Yield the orders in which one task stands elsewhere, moved far first."""
    for n, task in enumerate(order):
        rest = [*order[:n], *order[n + 1 :]]
        for at in range(len(order)):
            if at != n:
                yield [*rest[:at], task, *rest[at:]]
