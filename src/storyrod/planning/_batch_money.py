"""Who pays what of a batch, and its one buying list: every sum adds up to the cent."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from storyrod.model.account import MATERIALS, CostKind, CostLine
from storyrod.model.batch import BatchBoard, BoughtTogether, SharedCost, Trace
from storyrod.model.buying import BuyKind, ToBuy
from storyrod.model.detail import Details
from storyrod.model.quoting import Finish
from storyrod.planning._plan import Plan


def shared_costs(together: Plan, plans: Mapping[str, Plan], boards: Sequence[BatchBoard]) -> tuple[SharedCost, ...]:
    """Return what each job pays of all that is bought and used up.

    Sheets go by the batch's own rule; everything else by what each case takes of it, as in the account of one job. Of a
    pack each job pays its share; what is left in the pack stays on the shelf and is nobody's.
    """
    from storyrod.ledger import finish_bought

    found = [_of_board(board, list(plans)) for board in boards if board.cents is not None]
    laid = {code for board in boards if board.cents is not None for code in board.codes}
    told = {together.job.board(code).name for code in laid}
    found += [
        _of_line(line, together.details, plans)
        for line in together.account.lines
        if line.kind in MATERIALS and not (line.kind is CostKind.SHEETS and line.what in told)
    ]
    for details in _finished(together, plans):
        lines = finish_bought(details, together.workshop, together.account.terms)[1]
        found += [_of_line(line, details, plans) for line in lines]
    order = list(MATERIALS)
    return tuple(sorted(found, key=lambda s: order.index(s.kind)))


def _of_board(board: BatchBoard, marks: Sequence[str]) -> SharedCost:
    pays = dict(zip(board.marks, board.shares, strict=True))
    by_job = tuple(pays.get(m) or 0 for m in marks)
    return SharedCost(kind=CostKind.SHEETS, what=board.name, cents=board.cents or 0, by_job=by_job)


def _of_line(line: CostLine, details: Details, plans: Mapping[str, Plan]) -> SharedCost:
    by_case = dict(zip((c.built.case.code for c in details.cases), line.by_case, strict=True))
    by_job = tuple(sum(by_case.get(c.code, 0) for c in plan.job.cases) for plan in plans.values())
    return SharedCost(kind=line.kind, what=line.what, cents=line.cents, by_job=by_job)


def _finished(together: Plan, plans: Mapping[str, Plan]) -> Iterator[Details]:
    """Yield the cases of the jobs that have one finish as a job with that finish: a tin serves all of them."""
    same: dict[Finish, set[str]] = {}
    for plan in plans.values():
        if plan.job.finish is not None:
            same.setdefault(replace(plan.job.finish, field=""), set()).update(c.code for c in plan.job.cases)
    for finish, codes in same.items():
        cases = tuple(c for c in together.details.cases if c.built.case.code in codes)
        yield replace(together.details, job=replace(together.job, finish=finish), cases=cases)


# --- The buying list --------------------------------------------------------------------------------------------------


def bought_together(together: Plan, plans: Mapping[str, Plan]) -> tuple[BoughtTogether, ...]:
    """Return everything that is bought for the batch, each line with where it goes."""
    from storyrod.ledger import finish_bought, trace_bought

    lines = list(_one_a_size(together))
    for details in _finished(together, plans):
        lines += finish_bought(details, together.workshop, together.account.terms)[0]
    suppliers = {p.item: p.supplier for p in together.workshop.prices}
    traces = trace_bought(together.details, together.workshop, together.walls)
    cut = _cut_from(together)
    order = list(BuyKind)
    told = sorted(lines, key=lambda b: order.index(b.kind))
    return tuple(
        BoughtTogether(line=b, supplier=suppliers.get(b.item, ""), traces=_traces_of(b, traces, cut)) for b in told
    )


def _one_a_size(together: Plan) -> Iterator[ToBuy]:
    """Yield the lines of the buying list, sheets of one board and size as one whoever they are for."""
    boards = {s.id: together.job.board(s.board) for s in together.stock}
    same: dict[tuple[object, ...], list[ToBuy]] = {}
    for line in together.account.to_buy:
        key: tuple[object, ...] = (id(line),)
        board = boards.get(line.item)
        if line.kind is BuyKind.SHEETS and board is not None and not line.is_here:
            key = (board.kind, board.thickness, board.measured, board.grain, board.sheets, line.size)
        same.setdefault(key, []).append(line)
    for lines in same.values():
        yield lines[0] if len(lines) == 1 else _summed(lines)


def _summed(lines: Sequence[ToBuy]) -> ToBuy:
    cents = [b.cents for b in lines]
    known = [c for c in cents if c is not None]
    paid = sum(known) if len(known) == len(cents) else None
    count = sum(b.uses for b in lines)
    packs = sum(b.packs for b in lines)
    item = " + ".join(b.item for b in lines)
    return replace(lines[0], item=item, uses=count, packs=packs, cents=paid, used_cents=paid)


def _cut_from(together: Plan) -> dict[str, list[Trace]]:
    """Return the parts that are cut from each kind of sheet, by its id; amounts are square metres."""
    parts = {p.id: p for p in together.parts}
    case_of = {str(p.id): p.case for c in together.details.cases for p in c.panels}
    found: dict[str, list[Trace]] = {}
    for sheet in together.sheets.sheets:
        for placed in sheet.placements:
            part = parts[placed.part]
            found.setdefault(sheet.stock, []).append(
                Trace(
                    case=case_of[placed.part],
                    about=placed.part,
                    words=f"{part.mark} {part.name} on {sheet.name}",
                    amount=placed.length * placed.width / 1e6,
                )
            )
    return found


def _traces_of(
    line: ToBuy, traces: Mapping[tuple[str, str], tuple[Trace, ...]], cut: Mapping[str, Sequence[Trace]]
) -> tuple[Trace, ...]:
    if line.kind is BuyKind.SHEETS:
        return tuple(t for item in line.item.split(" + ") for t in cut.get(item, ()))
    return traces.get((line.item, ""), ()) or traces.get((line.item, line.name), ())
