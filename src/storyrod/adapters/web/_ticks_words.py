"""What a page knows of ticks: the cards of one plan, and the last word on every thing."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from storyrod.adapters.log import Tick
    from storyrod.telling.cards import Card
    from storyrod.telling.things import Thing  # the log brings a library with it: loaded when first asked for


@dataclass(slots=True, kw_only=True)
class BenchCards:
    """The cards of one version of a plan, with what can be ticked on them and how many copies each thing has."""

    version: str
    cards: tuple[Card, ...]
    things: dict[str, Thing]
    copies: dict[str, int]

    def card(self, card_id: str) -> Card | None:
        """Return a card by its id."""
        return next((c for c in self.cards if c.id == card_id), None)

    @property
    def ticks(self) -> int:
        """How many ticks the whole job takes."""
        return sum(self.copies.values())


def bench_cards(version: str, cards: tuple[Card, ...]) -> BenchCards:
    things = {r.thing.id: r.thing for c in cards for r in c.rows}
    copies = {r.thing.id: g.copies for c in cards for g in c.groups for r in g.rows}
    return BenchCards(version=version, cards=cards, things=things, copies=copies)


@dataclass(slots=True, kw_only=True)
class Words:
    """The last word on every thing of a job that was ever ticked.

    Attributes:
        seq: the row of the log up to which it is read.
        first: the row of the first tick, 0 where there is none: another one tells a page that another job has this
            name by now, and that what it knows is not of it.
    """

    seq: int = 0
    first: int = 0
    last: dict[tuple[str, int], Tick] = field(default_factory=dict)
    rows: dict[tuple[str, int], int] = field(default_factory=dict)

    def told(self, things: Mapping[str, Thing], since: int = 0) -> list[list[Any]]:
        """Return the words that changed after a row, as a page takes them: thing, copy, done, who, when, what.

        A tick that holds in a plan with these `things` has the fingerprint of what is wanted there, also where it was
        kept in the words of an earlier version.
        """
        return [
            [t.thing.id, t.copy, t.done, t.who, round(t.at, 1), digest(_as_wanted(t.thing, things.get(t.thing.id)))]
            for key, t in self.last.items()
            if self.rows[key] > since
        ]


def digest(thing: Thing) -> str:
    """Return a short fingerprint of what was done, by which a page sees that a tick still holds in its plan."""
    return hashlib.sha256((thing.key or thing.content).encode()).hexdigest()[:8]


def _as_wanted(done: Thing, now: Thing | None) -> Thing:
    from storyrod.telling.things import is_still

    return now if now is not None and is_still(done, now) else done
