"""All methods side by side, as far as they are worked out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from markupsafe import Markup
from starlette.requests import Request

from storyrod.adapters.web._comparing import Comparing
from storyrod.adapters.web._cost_account import CARCASSES
from storyrod.adapters.web._errands import errands_of
from storyrod.adapters.web._method_shown import carries, not_known, picture_of
from storyrod.adapters.web._prices import lacking_words
from storyrod.adapters.web._worked import Worked
from storyrod.drawing.break_even import break_even_plot
from storyrod.ledger import traits
from storyrod.model.account import Terms, show_money
from storyrod.model.comparison import MethodRow
from storyrod.telling.account import against_own


@dataclass(frozen=True, slots=True, kw_only=True)
class CompareRow:
    """One method side by side with the others, in words."""

    row: MethodRow
    minutes: str
    step: str
    each: str
    outlay: str
    besides: str
    totals: tuple[str, ...]
    picture: Markup | None
    carries: str


def comparison_of(request: Request, worked: Worked, terms: Terms) -> dict[str, Any]:
    """Return the comparison, as far as it is worked out; the first time it is asked for, working it out begins."""
    assert worked.read is not None  # noqa: S101  # asked only of jobs that were read
    key = ("comparing", worked.name, worked.read.digest)
    comparing = errands_of(request).ask(key, Comparing, lambda: Comparing(worked))
    values: dict[str, Any] = {
        "working": not comparing.is_done,
        "done": comparing.count,
        "in_all": comparing.in_all,
        "trouble": comparing.trouble or " ".join(str(f) for f in comparing.faults),
    }
    if not comparing.is_done or values["trouble"]:
        return values
    told = comparing.at(terms)
    return values | {
        "comparison": told,
        "rows": tuple(_row(r, worked) for r in told.rows),
        "not_known": not_known((r.candidate.name, r.candidate.strength_n) for r in told.rows),
        "leaves_out": next((lacking_words(r.candidate.account) for r in told.rows if r.candidate.account), ""),
        "plot": break_even_plot(told),
        "pays": against_own(told),
    }


def _row(row: MethodRow, worked: Worked) -> CompareRow:
    workshop = worked.plan.workshop if worked.plan is not None else None
    m, step = row.minutes, row.candidate.step_mm
    return CompareRow(
        row=row,
        minutes=f"{m.usual:,.0f}",
        step="" if step is None else f"± {step:.1f}",
        each=show_money(row.cost_cents),
        outlay=show_money(row.outlay_cents),
        besides=", ".join(traits(row)),
        totals=tuple(show_money(row.outlay_cents + n * row.each_cents) for n in CARCASSES),
        picture=picture_of(workshop, row.candidate.method) if workshop is not None else None,
        carries=carries(row.candidate.strength_n),
    )
