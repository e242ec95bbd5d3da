"""A price list of a range: what each variant is sold for, rounded as the maker says, for a customer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storyrod.model.account import show_money
from storyrod.model.study import Cell, Pricing
from storyrod.planning import Plan
from storyrod.telling.quotation import prices_are_words

ACROSS: Final = 8
"""So many values of a second thing that varies go beside each other; more are listed one below the other."""

NOT_MADE: Final = "\u2013"
ON_REQUEST: Final = "on request"


@dataclass(frozen=True, slots=True, kw_only=True)
class Priced:
    """One variant: what varies of it, in order, and its price in cents; None where it is not sold.

    Attributes:
        is_open: whether something of it has no price, so that it is sold on request.
    """

    values: tuple[Cell, ...]
    cents: int | None
    is_open: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceList:
    """A price list in words: its table, and the sentences below it."""

    title: str
    maker: str
    currency: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    sentences: tuple[str, ...]


def list_price(cents: int, pricing: Pricing) -> int:
    """Return what stands in the list for a price: with the surcharge, rounded up to whole multiples of `round_to`."""
    whole = Fraction(cents) * (1 + Fraction(str(pricing.surcharge)))
    step = max(pricing.round_to, 1)
    return -(-whole // step) * step


def price_list_of(plan: Plan, pricing: Pricing, names: Sequence[str], priced: Sequence[Priced]) -> PriceList:
    """Return the price list of the variants of a job; two things that vary make a table of one by the other."""
    currency = plan.job.currency
    across = list(dict.fromkeys(p.values[-1] for p in priced))
    if len(names) == 2 and len(across) <= ACROSS:
        heads = (names[0], *(f"{names[1]} {_shown(v)}" for v in across))
        cells = {p.values: _price(p, pricing) for p in priced}
        down = sorted(dict.fromkeys(p.values[0] for p in priced), key=_in_order)
        rows = tuple((_shown(v), *(cells.get((v, w), NOT_MADE) for w in across)) for v in down)
    else:
        heads = (*names, currency or "price")
        rows = tuple((*(_shown(v) for v in p.values), _price(p, pricing)) for p in priced)
    return PriceList(
        title=pricing.title or plan.job.title,
        maker=plan.job.maker or plan.workshop.quotation.maker,
        currency=currency,
        heads=heads,
        rows=rows,
        sentences=tuple(w for w in _sentences(plan, pricing, rows, currency) if w),
    )


def _sentences(plan: Plan, pricing: Pricing, rows: Sequence[Sequence[str]], currency: str) -> Sequence[str]:
    every = {cell for row in rows for cell in row}
    return (
        f"Prices are in {currency}, for one order of what is described." if currency else "",
        prices_are_words(plan),
        f"\u201c{NOT_MADE}\u201d: not made in this size." if NOT_MADE in every else "",
        f"These prices hold until {pricing.valid}." if pricing.valid else "",
        *(line.strip() for line in pricing.note.splitlines()),
    )


def _price(one: Priced, pricing: Pricing) -> str:
    if one.cents is None:
        return NOT_MADE
    return ON_REQUEST if one.is_open else show_money(list_price(one.cents, pricing))


def _shown(value: Cell) -> str:
    return f"{value:g}" if isinstance(value, float) else str(value)


def _in_order(value: Cell) -> tuple[bool, float]:
    """Numbers from the smallest up, words as they come."""
    return (False, float(value)) if isinstance(value, int | float) else (True, 0.0)
