"""What the first page of a job answers: can I build it, what do I buy, what do I do now?"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final
from urllib.parse import quote

from storyrod.adapters.web._cautions_shown import cautions_at
from storyrod.adapters.web._cost_account import Lack, lacks_of
from storyrod.adapters.web._next_card import next_card
from storyrod.adapters.web._stages import STAGES
from storyrod.adapters.web._waits import Wait, waits_of
from storyrod.adapters.web._worked import Worked
from storyrod.faults import JobError
from storyrod.model.account import MATERIALS, Account, CostLine, UnpricedKind, show_money
from storyrod.model.buying import ToBuy

if TYPE_CHECKING:
    from storyrod.adapters.web._desk import Desk

_HOUR_MIN: Final = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Open:
    """Cautions that wait at one stage."""

    stage: str
    href: str
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Buy:
    """One line of what is bought: how much of what, and its money as far as it is known."""

    what: str
    amount: str
    money: str


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
        return hours_words(self.minutes)


@dataclass(frozen=True, slots=True, kw_only=True)
class Overview:
    """The three answers; what cannot be answered is None.

    Attributes:
        total: what is paid for all that is bought, whole packs.
        used: what of it goes into this job.
    """

    faults: tuple[Wait, ...]
    cautions: tuple[Open, ...]
    buys: tuple[Buy, ...] | None
    total: str
    used: str
    lacks: tuple[Lack, ...]
    now: Now | None

    @property
    def caution_count(self) -> int:
        """How many cautions there are to read."""
        return sum(o.count for o in self.cautions)


def overview_of(desk: Desk, worked: Worked) -> Overview:
    """Return the three answers of a job; everything is worked out for it."""
    if worked.checked():
        return Overview(faults=waits_of(worked), cautions=(), buys=None, total="", used="", lacks=(), now=None)
    counts = ((stage, len(cautions_at(worked, stage.key))) for stage in STAGES)
    account = worked.ask(lambda plan: plan.account)
    currency = account.terms.currency
    least = "at least " if any(m.kind is not UnpricedKind.LABOUR for m in account.not_sold) else ""
    buys, paid = _buys(account)
    return Overview(
        faults=(),
        cautions=tuple(Open(stage=s.name, href=f"/job/{quote(worked.name)}/{s.key}", count=n) for s, n in counts if n),
        buys=buys,
        total=f"{least}{show_money(paid, currency)}",
        used=f"{least}{show_money(account.cash_cents, currency)}",
        lacks=lacks_of(worked, account),
        now=_now(desk, worked, account),
    )


def _buys(told: Account) -> tuple[tuple[Buy, ...], int]:
    """Return what is bought, whole packs as they are sold, and what is paid for it in cents as far as it is known."""
    listed: list[Buy] = []
    paid = 0
    for line in told.lines:
        if line.kind not in MATERIALS or not line.cents:
            continue
        packs = next((b for b in told.to_buy if b.item == line.what and b.pack > 1), None)
        cents = line.cents if packs is None or packs.cents is None else packs.cents
        paid += cents
        listed.append(Buy(what=line.what, amount=_amount(line, packs), money=show_money(cents) if cents else ""))
    unknown = (m for m in told.not_sold if m.kind is not UnpricedKind.LABOUR)
    listed += [Buy(what=m.name, amount=_plain(m.amount, m.unit), money="price not known") for m in unknown]
    return tuple(listed), paid


def _amount(line: CostLine, packs: ToBuy | None) -> str:
    amount = _plain(line.quantity, line.unit_word)
    if packs is None:
        return amount
    return (
        f"{amount}: {packs.packs} pack{'s' * (packs.packs != 1)} of {packs.pack}" if packs.packs else f"{amount}, here"
    )


def _plain(amount: float | None, unit: str) -> str:
    if amount is None:
        return ""
    number = f"{amount:.0f}" if abs(amount - round(amount)) < 1e-9 else f"{amount:.1f}"
    word = unit[:-1] if number == "1" and unit.endswith("s") else unit
    return f"{number} {word}".rstrip()


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
    rounded = max(round(minutes / 5) * 5, 5)
    hours, rest = divmod(rounded, _HOUR_MIN)
    words = [f"{hours} hour{'s' * (hours != 1)}"] if hours else []
    words += [f"{rest} minutes"] if rest else []
    return f"about {' '.join(words)}"
