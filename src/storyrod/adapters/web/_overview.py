"""What the first page of a job answers: can I build it, what do I buy, what do I do now?"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING
from urllib.parse import quote

from storyrod.adapters.web._cautions_shown import cautions_at
from storyrod.adapters.web._glue_ways import LateGlue, late_glue
from storyrod.adapters.web._next_card import next_card
from storyrod.adapters.web._prices import Prices, prices_of
from storyrod.adapters.web._stages import STAGES
from storyrod.adapters.web._waits import Wait, waits_of
from storyrod.adapters.web._worked import Worked
from storyrod.faults import JobError
from storyrod.model.account import Account
from storyrod.model.work import work_words
from storyrod.telling.buying import BuyingList, buying_list

if TYPE_CHECKING:
    from storyrod.adapters.web._desk import Desk


@dataclass(frozen=True, slots=True, kw_only=True)
class Open:
    """Cautions that wait at one stage."""

    stage: str
    href: str
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Now:
    """What comes next at the bench.

    Attributes:
        minutes: about how much work is left, by the share of things not ticked yet.
        is_begun: whether anything was ticked.
    """

    card: str
    title: str
    href: str
    done: int
    whole: int
    minutes: float
    is_begun: bool

    @property
    def left(self) -> str:
        """The work that is left, in hours and minutes."""
        return hours_words(self.minutes) if self.is_begun else f"about {work_words(self.minutes)}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Overview:
    """The three answers; what cannot be answered is None.

    Attributes:
        late: glue-ups that take longer than the glue stays open; what will do about them is tried behind the page.
        buying: everything that is bought, with what is paid for it and what of it goes into the job.
        prices: what is not known of it, to be filled in.
        have: the lines of the buying list that are ticked as being there.
    """

    faults: tuple[Wait, ...]
    cautions: tuple[Open, ...]
    late: tuple[LateGlue, ...]
    buying: BuyingList | None
    prices: Prices | None
    now: Now | None
    have: frozenset[str] = frozenset()

    @property
    def caution_count(self) -> int:
        """How many cautions there are to read."""
        return sum(o.count for o in self.cautions)


def overview_of(desk: Desk, worked: Worked) -> Overview:
    """Return the three answers of a job; everything is worked out for it."""
    if worked.checked():
        return Overview(faults=waits_of(worked), cautions=(), late=(), buying=None, prices=None, now=None)
    counts = ((stage, len(cautions_at(worked, stage.key))) for stage in STAGES)
    account = worked.ask(lambda plan: plan.account)
    return Overview(
        faults=(),
        cautions=tuple(Open(stage=s.name, href=f"/job/{quote(worked.name)}/{s.key}", count=n) for s, n in counts if n),
        late=worked.ask(late_glue),
        buying=worked.ask(buying_list),
        prices=prices_of(desk, worked, account),
        now=_now(desk, worked, account),
        have=desk.beside.seen(worked.name)[0].have,
    )


def _now(desk: Desk, worked: Worked, account: Account) -> Now | None:
    try:
        following = next_card(desk, worked)
    except JobError:  # the bench itself says why
        return None
    if following.card is None:
        return None
    return Now(
        card=following.card.id,
        title=following.card.title,
        href=following.href,
        done=following.done,
        whole=following.whole,
        minutes=account.minutes.usual * (following.whole - following.done) / following.whole,
        is_begun=following.is_begun,
    )


def hours_words(minutes: float) -> str:
    """Return a stretch of work as it is said: `about 35 minutes`, `about 4 hours 20 minutes`."""
    return f"about {work_words(max(round(minutes / 5) * 5, 5))}"
