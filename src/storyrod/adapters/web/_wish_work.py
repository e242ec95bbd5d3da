"""Proposals for a wish looked for behind the page, and what the page shows of them so far."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup
from starlette.requests import Request

from storyrod.adapters.files.wishing import WishFile, wish_from_text
from storyrod.adapters.web._desk import Desk
from storyrod.adapters.web._errands import Errand, errands_of
from storyrod.adapters.web._render import drawn
from storyrod.adapters.web._wish_asked import Asked
from storyrod.faults import JobError
from storyrod.model.wish import WhyNot
from storyrod.planning import ENOUGH, Dropped, Plan, Proposal, Proposing, can_search, weigh
from storyrod.telling import wish as telling


class WishWork(Errand):
    """Looks for proposals, a kind at a time; the first picture comes before any is planned."""

    def __init__(self, read: WishFile) -> None:
        super().__init__()
        self.read = read
        self.asking = Proposing(read.wish, read.goods, read.base, read.workshop)
        self.first: Markup | None = None
        self.proposals: list[Proposal] = []
        self.pictures: dict[int, tuple[Markup, ...]] = {}
        self.dropped: list[Dropped] = []
        self.tried = 0
        self.why: WhyNot | None = None

    def work(self) -> Iterator[None]:
        """Draw the first layout, then plan one of each kind until there are enough."""
        self._draw_first()
        yield
        for found in self.asking.each():
            self.tried += 1
            if isinstance(found, Proposal):
                drawings = telling.pictures_of(found, self.read.goods)
                self.pictures[found.number] = tuple(drawn(d, f"wish{found.number}{d.id[:1]}") for d in drawings)
                self.proposals.append(found)
            else:
                self.dropped.append(found)
            if len(self.proposals) == ENOUGH or self.asking.is_hopeless(self.proposals, self.dropped):
                break
            yield
        if not self.proposals:
            yield
            self.why = self.asking.why_not(self.dropped)

    def _draw_first(self) -> None:
        try:
            brief = self.asking.first()
            if brief is not None:
                (case, *_) = Plan(brief.job, self.read.workshop).sketch.cases
                self.first = _picture(case, 0)
        except JobError:
            return  # the plan of each kind says what is wrong with it


def _picture(case: Any, number: int) -> Markup:  # noqa: ANN401 - a case in detail
    from storyrod.drawing import case_elevation

    return drawn(case_elevation(case, fronts=False, room=(120.0, 110.0)), f"wish{number}{case.built.case.code}")


@dataclass(frozen=True, slots=True, kw_only=True)
class CardShown:
    """A proposal on the page."""

    number: int
    kind: str
    size: str
    pictures: tuple[Markup, ...]
    figures: tuple[str, ...]
    gives_up: tuple[str, ...]
    stands: tuple[str, ...]
    unbeaten: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class WishShown:
    """What the page shows of a wish."""

    working: bool
    trouble: str
    tried: int
    in_all: int
    first: Markup | None
    cards: tuple[CardShown, ...]
    dropped: tuple[str, ...]
    why: tuple[str, ...]


def load_solver() -> None:
    """Load the solver aside, so that it is there when the form is sent."""

    def load() -> None:
        import ortools.sat.python.cp_model  # noqa: F401

    if can_search():
        threading.Thread(target=load, name="solver", daemon=True).start()


def work_of(request: Request, desk: Desk, asked: Asked) -> WishWork:
    """Return the work on a wish, begun where it was not asked for before.

    Raises:
        JobError: every fault of what was answered.
    """
    text = asked.text(desk)

    def make() -> WishWork:
        return WishWork(wish_from_text(text, name="wish.toml", folder=desk.settings.jobs, inside=True))

    return errands_of(request).ask(("wish", text), WishWork, make)


def shown_of(work: WishWork) -> WishShown:
    """Return what is known of a wish by now."""
    read, lengths = work.read, work.read.base.lengths
    currency = read.wish.currency or read.workshop.money.currency
    proposals = weigh(list(work.proposals), look=read.wish.look.weighed)
    cards = tuple(
        CardShown(
            number=p.number,
            kind=_upper(telling.kind_words(p.kind)),
            size=telling.size_words(p, lengths),
            pictures=work.pictures[p.number],
            figures=tuple(telling.figure_lines(p, currency)),
            gives_up=tuple(telling.given_up(p, proposals, currency, look=read.wish.look.weighed)),
            stands=(
                *telling.stand_lines(p, read.goods, lengths),
                *telling.sized_lines(p, read.goods, lengths),
            ),
            unbeaten=p.unbeaten,
        )
        for p in proposals
    )
    done = work.is_done
    return WishShown(
        working=not done,
        trouble=work.trouble,
        tried=work.tried,
        in_all=len(work.asking.kinds),
        first=work.first if not cards else None,
        cards=cards,
        dropped=tuple(telling.dropped_words(d, read.goods, currency) for d in work.dropped) if done else (),
        why=() if work.why is None else tuple(telling.why_lines(work.why, read.goods, lengths, currency)),
    )


def _upper(words: str) -> str:
    return words[:1].upper() + words[1:]
