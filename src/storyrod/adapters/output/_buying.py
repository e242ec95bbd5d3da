"""The buying list as CSV, and what plan.json says of it."""

from __future__ import annotations

from typing import Any

from storyrod.adapters.output._lists import as_csv
from storyrod.planning import Plan
from storyrod.telling.buying import HERE, BuyRow, buying_list
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
    return as_csv(BUYING_COLUMNS, (buying_cells(r, told.currency) for r in told.rows))


def buying_cells(row: BuyRow, currency: str) -> tuple[str, ...]:
    """Return the cells of a thing that is bought, in the order of `BUYING_COLUMNS`."""
    line = row.line
    return (
        line.kind.value,
        row.name,
        _number(line.uses),
        _number(line.spare),
        line.unit,
        _number(line.on_hand),
        _number(line.pack) if line.pack else "",
        str(line.packs) if line.pack else "",
        "" if line.cents is None else f"{line.cents / 100:.2f}",
        currency,
        HERE if row.is_here else "buy",
        line.where,
    )


def _number(amount: float) -> str:
    return f"{tidy(round(amount, 3)):g}"


def buying_data(plan: Plan) -> list[dict[str, Any]]:
    """Return what plan.json says of each thing that is bought."""
    return [plain(b) | {"bought": tidy(b.bought)} for b in plan.account.to_buy]
