"""Which jobs the list shows, and in which order: found by words of their titles, sorted as asked."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from storyrod.adapters.web._cards import Card
from storyrod.adapters.web._shelf import JobEntry

_TO_MEND: Final = ("unreadable", "faults", "cautions", "unchecked", "unseen", "sound")


class JobOrder(StrEnum):
    """How the list is sorted."""

    CHANGED = "changed"
    TITLE = "title"
    TO_MEND = "mend"


ORDERS: Final = {
    JobOrder.CHANGED: "last changed first",
    JobOrder.TITLE: "by title",
    JobOrder.TO_MEND: "faults first",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """What is asked of the list.

    Attributes:
        find: words that a title must have, all of them, in any case of letters; none where all jobs are wanted.
        order: how the jobs are sorted.
    """

    find: str = ""
    order: JobOrder = JobOrder.CHANGED

    def entries(self, entries: Iterable[JobEntry]) -> tuple[JobEntry, ...]:
        """Return the jobs whose title, or file name, has every word; sorted, as far as their files tell."""
        words = self.find.casefold().split()
        found = [e for e in entries if all(w in f"{e.title} {e.name}".casefold() for w in words)]
        if self.order is JobOrder.TITLE:
            found.sort(key=lambda e: (e.title.casefold(), e.name))
        return tuple(found)

    def cards(self, cards: Sequence[Card]) -> tuple[Card, ...]:
        """Return the cards in their order, where what was seen of each job decides it."""
        if self.order is not JobOrder.TO_MEND:
            return tuple(cards)
        return tuple(sorted(cards, key=lambda c: _TO_MEND.index(c.state)))


def wanted_of(find: str, order: str) -> Wanted:
    """Return what an address asks of the list; an order that is not known is the usual one."""
    return Wanted(find=find.strip()[:100], order=JobOrder(order) if order in set(JobOrder) else JobOrder.CHANGED)
