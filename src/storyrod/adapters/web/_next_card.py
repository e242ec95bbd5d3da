"""The bench card that comes next on a job, and how much of the job is ticked."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING
from urllib.parse import quote

from storyrod.adapters.web._ticks_done import done_on
from storyrod.adapters.web._worked import Worked

if TYPE_CHECKING:
    from storyrod.adapters.web._desk import Desk
    from storyrod.telling.cards import Card


@dataclass(frozen=True, slots=True, kw_only=True)
class NextCard:
    """What comes next at the bench.

    Attributes:
        card: the first card with something left to tick; None once all is ticked.
        done: things ticked.
        whole: things to tick in all.
    """

    card: Card | None
    done: int
    whole: int
    job: str

    @property
    def is_begun(self) -> bool:
        """Whether anything was ticked."""
        return self.done > 0

    @property
    def href(self) -> str:
        """The address of that card at the bench."""
        bench = f"/job/{quote(self.job)}/bench"
        return f"{bench}?card={quote(self.card.id)}#card-{quote(self.card.id)}" if self.card is not None else bench


def next_card(desk: Desk, worked: Worked) -> NextCard:
    """Return the card that comes next on a job.

    Raises:
        JobError: the job cannot be built so far, or the bench log cannot be read.
    """
    cards, words = desk.ticks.cards(worked), desk.ticks.words(worked.name)
    counts = [(card, done_on(card, words)) for card in cards.cards]
    return NextCard(
        card=next((card for card, n in counts if n < card.ticks), None),
        done=sum(n for _, n in counts),
        whole=cards.ticks,
        job=worked.name,
    )
