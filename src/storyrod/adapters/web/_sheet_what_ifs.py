"""What would change the sheets, as the page tells it: one question after the other, as far as each is answered."""

from __future__ import annotations

from functools import partial
from typing import Any

from starlette.requests import Request

from storyrod.adapters.web._errands import errands_of
from storyrod.adapters.web._sheet_changes import Changing
from storyrod.adapters.web._worked import Worked
from storyrod.telling.account import money_of
from storyrod.telling.sheets import SHORT_SEARCH, money_then, sheets_then


def changes_shown(request: Request, worked: Worked) -> dict[str, Any]:
    """Return what would change the sheets, as far as it is worked out.

    Raises:
        JobError: the sheets cannot be laid out.
    """
    layout = worked.ask(lambda plan: f"{plan.version} {id(plan.sheets)}")  # told where it cannot be read
    changing = errands_of(request).ask(("changing", worked.name, layout), Changing, lambda: Changing(worked))
    rows = worked.ask(
        lambda plan: tuple(
            (
                plan.job.board(b).name,
                w.question,
                sheets_then(w),
                money_then(w, partial(money_of, plan)),
            )
            for b, told in changing.told
            for w in told
        )
    )
    return {"changing": not changing.is_done, "changes": rows, "short_search": SHORT_SEARCH}
