"""The account of a job in lines, groups and acts, as the page tells it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Final

from storyrod.adapters.web._worked import Worked
from storyrod.faults import JobError
from storyrod.model.account import Account, CostKind, CostLine, Terms, show_money
from storyrod.model.work import Minutes
from storyrod.model.work import total_minutes as minutes_of
from storyrod.telling.account import amount_words, clamp_words, lines_by_kind, noise_words
from storyrod.telling.buying import buying_of

NOT_KNOWN: Final = "not known"

CARCASSES: Final = (1, 10, 50)


@dataclass(frozen=True, slots=True, kw_only=True)
class CostGroup:
    """Lines of one kind with their sum."""

    kind: str
    money: str
    share: float
    lines: tuple[tuple[CostLine, str, str], ...]


def account_of(worked: Worked, terms: Terms) -> dict[str, Any]:
    """Return the account as it is shown, or why there is none."""
    try:
        told = worked.ask(lambda plan: plan.accounted(terms))
    except JobError as error:
        return {"why_not": error.faults}
    return {
        "account": told,
        "groups": tuple(_groups(told)),
        "by_act": tuple(_by_act(told)),
        "batches": tuple(b for b in told.batches if b.size in CARCASSES),
        "buying": buying_of(told),
        "clamped": clamp_words(told),
        "noise": noise_words(told),
    }


def _groups(told: Account) -> Iterator[CostGroup]:
    for kind, own in lines_by_kind(told):
        cents = told.cents_of(kind)
        listed = tuple((line, amount_words(line), _line_money(told, line)) for line in own)
        yield CostGroup(
            kind=kind.value,
            money=show_money(cents) if cents or all(m != NOT_KNOWN for _, _, m in listed) else NOT_KNOWN,
            share=cents / told.price_cents if told.price_cents > 0 else 0.0,
            lines=listed,
        )


def _line_money(told: Account, line: CostLine) -> str:
    """Return the money of a line; what has no price is not known, which is not the same as nothing."""
    if line.kind is CostKind.LABOUR:
        is_known = told.terms.rate_cents_per_h > 0
    else:
        is_known = line.cents > 0 or line.what not in told.unpriced
    return show_money(line.cents) if is_known else NOT_KNOWN


def _by_act(told: Account) -> Iterator[tuple[str, str, float, Minutes]]:
    """Yield each act with its stage, how often it is done, and its minutes; those that take longest first."""
    acts: dict[tuple[str, str], list[Any]] = {}
    for item in told.work.items:
        if item.hands_on and item.usual_min > 0:
            acts.setdefault((item.act, item.stage.value), []).append(item)
    listed = [(act, stage, sum(i.times for i in items), minutes_of(items)) for (act, stage), items in acts.items()]
    yield from sorted(listed, key=lambda line: -line[3].usual)
