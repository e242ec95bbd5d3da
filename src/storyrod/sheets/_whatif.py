"""What another rule or another sheet would change."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from storyrod.faults import JobError
from storyrod.model.saw_list import WhatIf
from storyrod.model.sheet import BoardPlan, CutRules, Found, Part, StockSheet
from storyrod.sheets._check import sold_sizes, usable_of
from storyrod.sheets._run import board_plan

MOST_SIZES = 2
"""Sizes of the trade told of, at most: those that save most; where none saves anything, one is told."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Question:
    """One question: with which stock and rules, and whether the plan itself would still be an answer."""

    text: str
    stock: Sequence[StockSheet]
    rules: CutRules
    still: bool
    size: tuple[float, float] | None = None


def what_if(
    plan: BoardPlan,
    parts: Sequence[Part],
    stock: Sequence[StockSheet],
    rules: CutRules,
    *,
    rounds: int = 400,
    seed: int = 1,
) -> tuple[WhatIf, ...]:
    """Return what 1 mm less kerf would change, a second sheet size, and doing without some of the stock.

    Where one size is bought, common sizes of the trade are asked about, at its price by area, and those that save
    most are told; where there are several, doing without the others. Each is laid out anew for `rounds` rounds: a
    fair question, not the last word. Where a question has no answer (a part fits no other size), it is left out.
    """
    own = [p for p in parts if p.board == plan.board]
    sheets = [s for s in stock if s.board == plan.board]
    bought = [s for s in sheets if not s.offcut]
    asked: list[_Question] = []
    if rules.kerf >= 1:
        less = replace(rules, kerf=round(rules.kerf - 1, 4))
        asked.append(_Question(text=f"{rules.lengths.told(1.0)} less kerf", stock=sheets, rules=less, still=True))
    for only in bought if len(bought) > 1 else ():
        kept = [s for s in sheets if s.offcut or s is only]
        asked.append(_Question(text=f"only {only.name or only.id} bought", stock=kept, rules=rules, still=False))
    if any(s.offcut for s in sheets):
        asked.append(_Question(text="without the rack's offcuts", stock=bought, rules=rules, still=False))
    told = [w for q in asked for w in _answer(q, plan, own, (rounds, seed))]
    sizes = [w for q in _second_sizes(bought, sheets, rules) for w in _answer(q, plan, own, (rounds, seed))]
    sizes.sort(key=lambda w: (-w.cents_less, -w.sheets_less))
    saving = [w for w in sizes if w.cents_less > 0 or w.sheets_less > 0]
    return (*told, *(saving or sizes[:1])[:MOST_SIZES])


def _second_sizes(bought: Sequence[StockSheet], stock: Sequence[StockSheet], rules: CutRules) -> Iterator[_Question]:
    """Yield a question for each common size of the trade, where one size is bought."""
    if len(bought) != 1:
        return
    have = bought[0]
    for length, width in sold_sizes(rules):
        if (length, width) == (have.length, have.width):
            continue
        share = length * width / (have.length * have.width)
        price = None if have.price_cents is None else round(have.price_cents * share)
        name = f"{have.id}, also {rules.lengths.size(length, width)}"
        second = replace(have, id=name, name="", length=length, width=width, price_cents=price, copies=None)
        if min(usable_of(second, rules)) <= 0:
            continue
        text = f"sheets of {rules.lengths.told_size(length, width)} as well, at the same price by area"
        yield _Question(text=text, stock=[*stock, second], rules=rules, still=True, size=(length, width))


def _answer(question: _Question, plan: BoardPlan, parts: Sequence[Part], search: tuple[int, int]) -> tuple[WhatIf, ...]:
    if not question.stock:
        return ()
    try:
        other = board_plan(
            plan.board, parts, question.stock, question.rules, rounds=search[0], seed=search[1], tidy=False
        )
    except JobError:
        return ()
    now, then = plan.figures, other.figures
    if question.still and _weight(other) >= _weight(plan):
        other, then = plan, now
    return (
        WhatIf(
            question=question.text,
            sheets=len(other.sheets),
            cents=then.cents,
            sheets_less=len(plan.sheets) - len(other.sheets),
            cents_less=now.cents - then.cents,
            found=Found.PROVED if other.found is Found.PROVED else Found.FOUND,
            size=question.size,
        ),
    )


def _weight(plan: BoardPlan) -> float:
    """Return what a plan costs, or where nothing is priced the area that it takes."""
    return plan.figures.cents if plan.weights == "cents" else plan.figures.sheets_m2
