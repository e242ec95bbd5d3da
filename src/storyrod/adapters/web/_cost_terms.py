"""The terms on which costs are reckoned: the workshop's, or what is asked in their place."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any, Final

from starlette.requests import Request

from storyrod.adapters.web._worked import Worked
from storyrod.ledger import terms_of
from storyrod.model.account import Terms, show_money

WHAT_IFS: Final = {
    "rate": ("an hour of work costs", 0.0, 10_000.0),
    "per_year": ("carcasses made in a year", 0.1, 100_000.0),
}


def what_ifs(request: Request) -> dict[str, str]:
    """Return what the address asks in place of the workshop's terms, as it was typed."""
    return {name: request.query_params.get(name, "").strip() for name in WHAT_IFS}


def own_terms(worked: Worked) -> Terms:
    """Return the workshop's own terms."""
    assert worked.plan is not None  # noqa: S101  # asked only of jobs that were read
    return terms_of(worked.plan.workshop.money, worked.plan.job.currency)


def terms_asked(worked: Worked, asked: dict[str, str]) -> tuple[Terms, dict[str, str]]:
    """Return the workshop's terms with what is asked in their place, and what is wrong with what is asked."""
    terms, wrong = own_terms(worked), dict.fromkeys(WHAT_IFS, "")
    for name, text in asked.items():
        if not text:
            continue
        words, low, high = WHAT_IFS[name]
        try:
            value = float(text.replace(",", "."))
        except ValueError:
            value = math.nan
        if not low <= value <= high:
            wrong[name] = f'Found "{text}" where {words}; allowed: {low:g} to {high:,.0f}.'
        elif name == "rate":
            terms = replace(terms, rate_cents_per_h=round(value * 100))
        else:
            terms = replace(terms, carcasses_per_year=value)
    return terms, wrong


def money_words(terms: Terms) -> Any:  # noqa: ANN401  # a function for the template
    """Return how the template tells a sum (cents) in words."""
    return lambda cents: show_money(cents, terms.currency)
