"""The buying list as CSV, and what plan.json says of it."""

from __future__ import annotations

from typing import Any

from storyrod.adapters.output._lists import as_csv
from storyrod.planning import Plan
from storyrod.telling.buying import HERE, buying_list
from storyrod.telling.plain import plain, tidy

BUYING_COLUMNS = (
    "kind",
    "what",
    "used",
    "spare",
    "unit",
    "here",
    "a pack",
    "packs",
    "money",
    "currency",
    "state",
    "what for",
)


def buying_csv(plan: Plan) -> str:
    """Return the buying list as CSV: a row for each thing; money empty where no price is known.

    Raises:
        JobError: the list lacks something that the work uses.
    """
    told = buying_list(plan)
    return as_csv(
        BUYING_COLUMNS,
        (
            (
                r.line.kind.value,
                r.name,
                _number(r.line.uses),
                _number(r.line.spare),
                r.line.unit,
                _number(r.line.on_hand),
                _number(r.line.pack) if r.line.pack else "",
                str(r.line.packs) if r.line.pack else "",
                "" if r.line.cents is None else f"{r.line.cents / 100:.2f}",
                told.currency,
                HERE if r.is_here else "buy",
                r.line.where,
            )
            for r in told.rows
        ),
    )


def _number(amount: float) -> str:
    return f"{tidy(round(amount, 3)):g}"


def buying_data(plan: Plan) -> list[dict[str, Any]]:
    """Return what plan.json says of each thing that is bought."""
    return [plain(b) | {"bought": tidy(b.bought)} for b in plan.account.to_buy]
