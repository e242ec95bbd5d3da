"""What another rule or another sheet would change."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from storyrod.faults import JobError
from storyrod.model.sheet import BoardPlan, CutRules, Found, Part, StockSheet, WhatIf
from storyrod.sheets._run import board_plan


def what_if(
    plan: BoardPlan,
    parts: Sequence[Part],
    stock: Sequence[StockSheet],
    rules: CutRules,
    *,
    rounds: int = 400,
    seed: int = 1,
) -> tuple[WhatIf, ...]:
    """Return what 1 mm less kerf would change, and for each size bought, doing without the others.

    Each is laid out anew for `rounds` rounds: a fair question, not the last word. Where a question has no answer
    (a part fits no other size), it is left out.
    """
    own = [p for p in parts if p.board == plan.board]
    sheets = [s for s in stock if s.board == plan.board]
    asked: list[tuple[str, list[StockSheet], CutRules]] = []
    if rules.kerf >= 1:
        asked.append(("1 mm less kerf", sheets, replace(rules, kerf=round(rules.kerf - 1, 4))))
    bought = [s for s in sheets if not s.offcut]
    for only in bought if len(bought) > 1 else ():
        kept = [s for s in sheets if s.offcut or s is only]
        asked.append((f"only {only.name or only.id} bought", kept, rules))
    if any(s.offcut for s in sheets):
        asked.append(("without the rack's offcuts", bought, rules))
    return tuple(w for q, s, r in asked for w in _asked(q, plan, (own, s, r), (rounds, seed)))


def _asked(
    question: str,
    plan: BoardPlan,
    given: tuple[Sequence[Part], Sequence[StockSheet], CutRules],
    search: tuple[int, int],
) -> tuple[WhatIf, ...]:
    parts, stock, rules = given
    if not stock:
        return ()
    try:
        other = board_plan(plan.board, parts, stock, rules, rounds=search[0], seed=search[1])
    except JobError:
        return ()
    now, then = plan.figures, other.figures
    return (
        WhatIf(
            question=question,
            sheets=len(other.sheets),
            cents=then.cents,
            sheets_less=len(plan.sheets) - len(other.sheets),
            cents_less=now.cents - then.cents,
            found=Found.PROVED if other.found is Found.PROVED else Found.FOUND,
        ),
    )
