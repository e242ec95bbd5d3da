"""A batch in words: what making jobs together saves, who pays what, and one buying list for all."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from storyrod.drawing import Drawing, Hatch
from storyrod.drawing.pattern_key import KeyRow, pattern_key, pattern_of_job
from storyrod.model.account import CostKind, show_money
from storyrod.model.batch import BatchBoard, BoughtTogether, PaidBy, Trace
from storyrod.model.buying import BuyKind
from storyrod.planning import Batch
from storyrod.telling.blocks import TICK, Block, Bullets, Heading, Picture, Table, Words, right, table, wide
from storyrod.telling.buying import HERE, NO_PRICE, BuyRow, amount_words, row_of
from storyrod.telling.set_ups import minute_words

_SUPPLIERS: Final = {
    BuyKind.SHEETS: "Boards and edging",
    BuyKind.EDGING: "Boards and edging",
    BuyKind.CONNECTORS: "Screws and fittings",
    BuyKind.FITTINGS: "Screws and fittings",
    BuyKind.HANDLES: "Screws and fittings",
    BuyKind.WALL: "Screws and fittings",
    BuyKind.GLUE: "Glue and finish",
    BuyKind.FINISH: "Glue and finish",
    BuyKind.JIGS: "Boards and edging",
    BuyKind.CUTTERS: "Tools",
    BuyKind.TOOLS: "Tools",
}
"""Under what a thing stands where the workshop names no supplier of it."""

_RULES: Final = {
    PaidBy.AREA: (
        "Each job pays for sheets by the area of its parts at the saw. Offcuts and waste are shared in the same "
        "proportion."
    ),
    PaidBy.ALONE: (
        "Each job pays for sheets in proportion to what it would have paid alone, so none pays more than that."
    ),
}

_OTHERS: Final = (
    "Each job pays for what it uses of everything else. What is left in a pack goes on your shelf, and no job pays "
    "for it."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplierGroup:
    """What is bought in one place."""

    title: str
    rows: tuple[tuple[BuyRow, BoughtTogether], ...]
    pay: str


def patterns_of(batch: Batch) -> dict[str, Hatch]:
    """Return the pattern of every part on the sheets, by its id."""
    return {part.id: pattern_of_job(n) for n, plan in enumerate(batch.plans) for part in plan.parts}


def job_of(batch: Batch) -> Mapping[str, str]:
    """Return the mark of each case's job, by the case's code in the batch."""
    return {
        case.code: member.mark
        for member, plan in zip(batch.members, batch.plans, strict=True)
        for case in plan.job.cases
    }


def key_of(batch: Batch) -> Drawing:
    """Return the key of the patterns."""
    rows = [KeyRow(mark=m.mark, title=m.job.title, pattern=pattern_of_job(n)) for n, m in enumerate(batch.members)]
    return pattern_key(rows)


# --- What it saves ----------------------------------------------------------------------------------------------------


def savings(batch: Batch) -> tuple[str, ...]:
    """Return what making the jobs together saves against one after the other, in sentences."""
    return tuple(
        w for w in (_sheets_saved(batch), _minutes_saved(batch), _set_ups_saved(batch), _jigs_saved(batch)) if w
    )


def _sheets_saved(batch: Batch) -> str:
    told = [b for b in batch.boards if b.alone_known]
    if not told:
        return ""
    together, apart = sum(b.sheets for b in told), sum(sum(b.alone_sheets) for b in told)
    words = f"{_counted(together, 'sheet')} together, {apart} job by job"
    cents, alone = _sum(b.cents for b in told), _sum(c for b in told for c in b.alone_cents)
    if cents is None or alone is None:
        return f"{words}. A sheet has no price, so the saving is not known."
    saved = show_money(alone - cents, batch.together.account.terms.currency)
    return f"{words}: {saved} saved." if alone > cents else f"{words}, at the same cost."


def _sum(cents: Iterator[int | None]) -> int | None:
    every = list(cents)
    return None if any(c is None for c in every) else sum(c or 0 for c in every)


def _minutes_saved(batch: Batch) -> str:
    run = batch.run
    apart = sum(run.alone_min)
    words = f"{minute_words(run.minutes)} minutes together, from the saw to the last set-up"
    if run.saves_min >= 0:
        return f"{words}, {minute_words(apart)} one job after the other: {minute_words(run.saves_min)} minutes saved."
    return (
        f"{words}, but {minute_words(apart)} one job after the other: so many panels no longer fit within reach. Buy "
        f"and saw for all the jobs at once, and machine them one at a time."
    )


def _set_ups_saved(batch: Batch) -> str:
    run = batch.run
    best = "No other order needs fewer." if run.is_best else f"At least {minute_words(run.bound_min)} are needed."
    return (
        f"{_counted(run.set_ups, 'set-up')} in place of {run.alone_set_ups}, with {minute_words(run.changes_min)} "
        f"minutes of changing and trial joints in place of {minute_words(run.alone_changes_min)}. {best}"
    )


def _jigs_saved(batch: Batch) -> str:
    run = batch.run
    if not run.alone_jigs:
        return ""
    return f"{_counted(run.jigs, 'jig')} to make for all, {run.alone_jigs} if each job made its own."


def _counted(count: int, noun: str) -> str:
    return f"{count} {noun}{'' if count == 1 else 's'}"


# --- Jobs, boards, money ----------------------------------------------------------------------------------------------


def jobs_table(batch: Batch) -> Table:
    """Return the jobs with their marks."""
    rows = []
    for member, plan, minutes in zip(batch.members, batch.plans, batch.run.alone_min, strict=True):
        parts = sum(p.copies for p in plan.parts)
        own = "of its own" if member.own_sheets else "shared"
        rows.append(
            (member.mark, member.job.title, member.job.customer or "\u2013", str(parts), own, minute_words(minutes))
        )
    return table(
        ("mark", wide("job", 2.0), wide("for"), right("panels"), "sheets", right("alone, minutes")), rows, small=True
    )


def boards_table(batch: Batch) -> Table:
    """Return each kind of board with its sheets together and apart."""
    currency = batch.together.account.terms.currency or "money"
    rows = [
        (
            b.name,
            ", ".join(b.marks),
            str(b.sheets),
            str(sum(b.alone_sheets)) if b.alone_known else "\u2013",
            _money(b.cents),
            _money(_sum(iter(b.alone_cents))) if b.alone_known else "\u2013",
            _how(b),
        )
        for b in batch.boards
    ]
    heads = (wide("board"), "jobs", right("sheets"), right("apart"), right(currency), right("apart"), wide("cut"))
    return table(heads, rows, small=True)


def _how(board: BatchBoard) -> str:
    if len(board.marks) == 1:
        return "one job"
    return "together" if board.is_shared else "job by job"


def _money(cents: int | None) -> str:
    return NO_PRICE if cents is None else show_money(cents)


def paid_table(batch: Batch) -> Table:
    """Return what each job pays of everything that is used up, by kind; columns and rows add up to the cent."""
    kinds = dict.fromkeys(c.kind for c in batch.costs)
    rows = [_paid_row(batch, kind) for kind in kinds]
    every = [sum(c.by_job[n] for c in batch.costs) for n in range(len(batch.members))]
    rows.append(("together", *(show_money(c) for c in every), show_money(sum(c.cents for c in batch.costs))))
    heads = (wide("what"), *(right(m.mark) for m in batch.members), right("together"))
    return table(heads, rows, small=True)


def _paid_row(batch: Batch, kind: CostKind) -> tuple[str, ...]:
    own = [c for c in batch.costs if c.kind is kind]
    by_job = [sum(c.by_job[n] for c in own) for n in range(len(batch.members))]
    return (kind.value, *(show_money(c) for c in by_job), show_money(sum(c.cents for c in own)))


def rules_words(batch: Batch) -> str:
    """Return by which rules the jobs pay, in sentences."""
    return f"{_RULES[batch.paid_by]} {_OTHERS}"


# --- The buying list --------------------------------------------------------------------------------------------------


def supplier_groups(batch: Batch) -> tuple[SupplierGroup, ...]:
    """Return everything that is bought, by where it is bought."""
    groups: dict[str, list[BoughtTogether]] = {}
    for one in batch.bought:
        groups.setdefault(one.supplier or _SUPPLIERS[one.line.kind], []).append(one)
    currency = batch.together.account.terms.currency
    return tuple(
        SupplierGroup(title=title, rows=tuple((row_of(b.line), b) for b in own), pay=_to_pay(own, currency))
        for title, own in groups.items()
    )


def _to_pay(own: Sequence[BoughtTogether], currency: str) -> str:
    if all(b.line.cents is None for b in own):
        return NO_PRICE
    least = "at least " if any(b.line.cents is None for b in own) else ""
    return f"{least}{show_money(sum(b.line.cents or 0 for b in own), currency)}"


def to_pay(batch: Batch) -> str:
    """Return what is paid for everything."""
    return _to_pay(batch.bought, batch.together.account.terms.currency)


def for_jobs(batch: Batch, one: BoughtTogether) -> str:
    """Return the marks of the jobs that a line is for; all of them where it goes to no place in particular."""
    jobs = job_of(batch)
    marks = {jobs[t.case] for t in one.traces}
    return ", ".join(m.mark for m in batch.members if m.mark in marks) or "all"


def buying_table(batch: Batch, group: SupplierGroup) -> Table:
    """Return what is bought in one place, with boxes to tick."""
    rows = []
    for row, one in group.rows:
        here, bought = (HERE, "") if row.is_here else (TICK, TICK)
        money = "" if row.is_here else row.money
        cells = (row.name, for_jobs(batch, one), row.uses, row.spare.removesuffix(" spare"), _left(one))
        rows.append((*cells, row.buy, money, here, bought))
    currency = batch.together.account.terms.currency or "money"
    amounts = (right("used"), right("spare"), right("here"))
    heads = (wide("what", 2.4), "jobs", *amounts, wide("buy"), right(currency), "have it", "bought")
    return table(heads, rows, small=True)


def _left(one: BoughtTogether) -> str:
    return amount_words(one.line.on_hand, one.line.unit) if one.line.on_hand else ""


def trace_unit(one: BoughtTogether) -> str:
    """Return the unit of what a line's traces tell: of sheets the area of each part."""
    return "m\u00b2" if one.line.kind is BuyKind.SHEETS else one.line.unit


def place_words(trace: Trace) -> str:
    """Return the place that something goes to: its case, then joint, edge or fitting."""
    return f"{trace.case}, {trace.words}"


def trace_blocks(batch: Batch) -> Iterator[Block]:
    """Yield, for every line of the buying list that goes to joints, edges or fittings, where it goes."""
    for one in batch.bought:
        if one.traces and one.line.kind is not BuyKind.SHEETS:
            rows = [(place_words(t), amount_words(t.amount, trace_unit(one))) for t in one.traces]
            heads = (wide("where", 3.0), right("how much"))
            yield table(heads, rows, title=row_of(one.line).name, small=True)


# --- The paper --------------------------------------------------------------------------------------------------------


def first_blocks(batch: Batch) -> Iterator[Block]:
    """Yield the first page: the jobs, what it saves, who pays what."""
    yield jobs_table(batch)
    yield Picture(drawing=key_of(batch), notes=False)
    yield Heading(text="What it saves")
    yield Bullets(items=savings(batch))
    if batch.boards:
        yield Heading(text="Sheets")
        yield boards_table(batch)
    yield Heading(text="Who pays what")
    yield Words(text=rules_words(batch))
    yield paid_table(batch)
    for note in batch.notes:
        yield Words(text=note, quiet=True)


def buying_blocks(batch: Batch) -> Iterator[Block]:
    """Yield the buying list, place by place."""
    for group in supplier_groups(batch):
        yield Heading(text=group.title)
        yield buying_table(batch, group)
        yield Words(text=f"To pay: {group.pay}.")
    yield Words(text=f"To pay for everything: {to_pay(batch)}.", strong=True)
