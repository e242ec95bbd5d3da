"""What would change the sheets, as the page tells it: one question after the other, as far as each is answered."""

from __future__ import annotations

from typing import Any

from starlette.requests import Request

from storyrod.adapters.web._errands import errands_of
from storyrod.adapters.web._sheet_board_lines import money_of
from storyrod.adapters.web._sheet_changes import Changing
from storyrod.adapters.web._worked import Worked
from storyrod.plan import Plan


def changes_shown(request: Request, worked: Worked) -> dict[str, Any]:
    """Return what would change the sheets, as far as it is worked out.

    Raises:
        JobError: the sheets can not be laid out.
    """
    layout = worked.ask(lambda plan: f"{plan.version} {id(plan.sheets)}")  # told where it can not be read
    changing = errands_of(request).ask(("changing", worked.name, layout), Changing, lambda: Changing(worked))
    rows = worked.ask(
        lambda plan: tuple(
            (
                plan.job.board(b).name,
                w.question,
                _sheets_words(w.sheets, w.sheets_less),
                _money_words(plan, w.cents_less),
            )
            for b, told in changing.told
            for w in told
        )
    )
    return {"changing": not changing.is_done, "changes": rows}


def _sheets_words(sheets: int, less: int) -> str:
    if less == 0:
        return f"{sheets}, the same"
    return f"{sheets}, {abs(less)} {'fewer' if less > 0 else 'more'}"


def _money_words(plan: Plan, less: int) -> str:
    if less == 0:
        return "the same"
    return f"{money_of(plan, abs(less))} {'less' if less > 0 else 'more'}"
