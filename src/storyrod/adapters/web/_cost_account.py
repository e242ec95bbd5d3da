"""The account of a job in lines, groups and acts, as the page tells it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import Any, Final

from storyrod.adapters.web._worked import Worked
from storyrod.faults import JobError
from storyrod.model.account import Account, CostKind, CostLine, Minutes, Terms, show_money
from storyrod.model.account import total_minutes as minutes_of

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
        "to_buy": tuple(b for b in told.to_buy if b.packs),
    }


def _groups(told: Account) -> Iterator[CostGroup]:
    order = list(CostKind)
    lines = sorted(told.lines, key=lambda line: order.index(line.kind))
    for kind, own in groupby(lines, key=lambda line: line.kind):
        cents = told.cents_of(kind)
        listed = tuple((line, _amount(line), _line_money(told, line)) for line in own)
        yield CostGroup(
            kind=kind.value,
            money=show_money(cents) if cents or all(m != NOT_KNOWN for _, _, m in listed) else NOT_KNOWN,
            share=cents / told.price_cents if told.price_cents > 0 else 0.0,
            lines=listed,
        )


def _line_money(told: Account, line: CostLine) -> str:
    """Return the money of a line; what has no price is not known, which is not the same as nothing."""
    names = {line.what, f"sheets of {line.what}", f"edging {line.what}"}
    return show_money(line.cents) if line.cents or not names & set(told.unpriced) else NOT_KNOWN


def _amount(line: CostLine) -> str:
    if line.unit == "share":
        return f"{line.quantity:.0%}"
    whole = abs(line.quantity - round(line.quantity)) < 1e-9 or line.quantity >= 100
    return f"{line.quantity:.0f} {line.unit_word}" if whole else f"{line.quantity:.2f} {line.unit_word}"


def _by_act(told: Account) -> Iterator[tuple[str, str, float, Minutes]]:
    """Yield each act with its stage, how often it is done, and its minutes; those that take longest first."""
    acts: dict[tuple[str, str], list[Any]] = {}
    for item in told.work.items:
        if item.hands_on and item.usual_min > 0:
            acts.setdefault((item.act, item.stage.value), []).append(item)
    listed = [(act, stage, sum(i.times for i in items), minutes_of(items)) for (act, stage), items in acts.items()]
    yield from sorted(listed, key=lambda line: -line[3].usual)
