"""The sheets of a batch: each kind of board laid out for all that share it, and job by job, and the better one kept.

Laid out together, parts fill what another job leaves; but no search finds the best always. So every kind of board is
also laid out job by job, one after the other from one rack, and is cut so where that costs less: together never costs
more than apart.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from storyrod.faults import JobError
from storyrod.model.account import share_out
from storyrod.model.batch import BatchBoard, PaidBy
from storyrod.model.board import Board
from storyrod.model.job import Job
from storyrod.model.sheet import BoardPlan, CutRules, CuttingPlan, Part, StockSheet
from storyrod.model.stock import stock_of
from storyrod.model.workshop import RackOffcut, Workshop
from storyrod.planning._batch_boards import BoardKindred
from storyrod.sheets import lay_out

type Rounds = Callable[[int], int]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Pile:
    """What one kind of board can be cut from: sheets of every size, and the offcuts of the rack."""

    board: Board
    job: Job
    rack: tuple[RackOffcut, ...]

    def stock(self, code: str, workshop: Workshop, gone: Counter[str]) -> tuple[StockSheet, ...]:
        """Return what is left of it when so many of each are `gone`, as stock of the board `code`."""
        job = replace(self.job, boards=(self.board,))
        shop = replace(workshop, rack=self.rack)
        found = []
        for sheet in stock_of(job, shop, {self.board.code}):
            left = None if sheet.copies is None else sheet.copies - gone[sheet.id]
            if left is None or left > 0:
                ids = sheet.id if sheet.offcut or code == self.board.code else f"{code} {sheet.name}"
                found.append(replace(sheet, id=ids, board=code, copies=left))
        return tuple(found)

    def plain_id(self, code: str, stock_id: str) -> str:
        """Return the id by which the pile itself knows what was laid out under `code`."""
        return f"{self.board.code}{stock_id.removeprefix(code)}" if stock_id.startswith(f"{code} ") else stock_id


@dataclass(frozen=True, slots=True, kw_only=True)
class _Laid:
    """Layouts of one kind of board: for each group of jobs the code, the plan and the stock it was given."""

    groups: tuple[tuple[str, tuple[str, ...]], ...]
    plans: tuple[CuttingPlan, ...]
    stock: tuple[StockSheet, ...]

    @property
    def boards(self) -> tuple[BoardPlan, ...]:
        return tuple(b for p in self.plans for b in p.boards)

    @property
    def cost(self) -> tuple[float, float]:
        """What is compared: money where every sheet has a price, else the area that is bought; then the area."""
        bought = sum(s.length * s.width for b in self.boards for s in b.sheets if not s.offcut)
        priced = all(b.weights == "cents" for b in self.boards)
        return (sum(b.figures.cents for b in self.boards) if priced else bought, bought)


@dataclass(slots=True)
class SheetsTogether:
    """All boards of a batch laid out.

    Attributes:
        codes: by a job's mark and its own code of a board: the code by which it is laid out.
        made: the kinds of board by the codes of the batch.
    """

    codes: dict[tuple[str, str], str] = field(default_factory=dict)
    made: dict[str, Board] = field(default_factory=dict)
    stock: list[StockSheet] = field(default_factory=list)
    plans: list[CuttingPlan] = field(default_factory=list)
    boards: list[BatchBoard] = field(default_factory=list)

    @property
    def sheets(self) -> CuttingPlan:
        """All layouts as one plan."""
        first = self.plans[0] if self.plans else CuttingPlan(boards=(), rules=CutRules(), seed=1)
        notes = dict.fromkeys(n for p in self.plans for n in p.notes)
        engines = dict.fromkeys(e for p in self.plans for e in p.engines)
        boards = tuple(b for p in self.plans for b in p.boards)
        return replace(first, boards=boards, notes=tuple(notes), engines=tuple(engines) or first.engines)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sawing:
    """What laying out wants beside the boards: parts by the job's mark, and how the workshop cuts."""

    parts: Mapping[str, Sequence[Part]]
    rules: CutRules
    workshop: Workshop
    job: Job
    rounds: Rounds
    work: int
    paid_by: PaidBy


def lay_out_together(kindred: Sequence[BoardKindred], sawing: Sawing) -> SheetsTogether:
    """Return every kind of board laid out for the batch.

    Raises:
        JobError: a part is larger than every sheet, or there is not enough stock.
    """
    done = SheetsTogether()
    racked: set[str] = set()
    for kind in kindred:
        first = kind.code not in racked  # what lies on the rack says no more of its board than the code
        racked.add(kind.code)
        rack = tuple(o for o in sawing.workshop.rack if o.board == kind.code) if first else ()
        _Kind(kind, _Pile(board=kind.board, job=sawing.job, rack=rack), sawing, done).lay()
    return done


class _Kind:
    """One kind of board, laid out together and apart."""

    def __init__(self, kind: BoardKindred, pile: _Pile, sawing: Sawing, done: SheetsTogether) -> None:
        self.kind, self.pile, self.sawing, self.done = kind, pile, sawing, done
        self.apart_groups = [(self._code(m), (m,)) for m in kind.marks]
        if len(kind.marks) == 1:
            self.apart_groups = [(self._plain_code(), kind.marks)]

    def _code(self, mark: str) -> str:
        code = f"{self.kind.code}-{mark}"
        while code in self.done.made:
            code += f"-{mark}"
        return code

    def _plain_code(self) -> str:
        """Return the code by which the jobs call it, where no other kind of the batch has it."""
        return self.kind.code if self.kind.code not in self.done.made else self._code(self.kind.marks[0])

    def lay(self) -> None:
        kind = self.kind
        together: list[tuple[str, tuple[str, ...]]] = [(self._code(m), (m,)) for m in kind.marks if m in kind.own]
        if kind.sharing:
            together.insert(0, (self._plain_code(), kind.sharing))
        if not kind.board.sheets and not self.pile.rack:
            self._keep(_Laid(groups=tuple(together), plans=(), stock=()), None)
            return
        alone = self._tried(self.apart_groups)
        best = alone if len(kind.sharing) < 2 else self._tried(together)
        if isinstance(best, JobError) or (isinstance(alone, _Laid) and alone.cost < best.cost):
            best = alone
        if isinstance(best, JobError):
            raise best
        self._keep(best, alone if isinstance(alone, _Laid) else None)

    def _tried(self, groups: Sequence[tuple[str, tuple[str, ...]]]) -> _Laid | JobError:
        try:
            return self._laid(groups)
        except JobError as error:
            return error

    def _laid(self, groups: Sequence[tuple[str, tuple[str, ...]]]) -> _Laid:
        """Lay groups of jobs out one after the other, each from what those before it left."""
        gone: Counter[str] = Counter()
        plans, stocks = [], []
        sawing = self.sawing
        for code, marks in groups:
            parts = [replace(p, board=code) for m in marks for p in sawing.parts[m] if p.board == self.kind.code]
            stock = self.pile.stock(code, sawing.workshop, gone)
            plan = lay_out(parts, stock, sawing.rules, rounds=sawing.rounds, work=sawing.work)
            gone.update(self.pile.plain_id(code, s.stock) for s in plan.sheets)
            plans.append(plan)
            used = {s.stock for s in plan.sheets}
            stocks += [s for s in stock if not s.offcut or s.id in used]
        return _Laid(groups=tuple(groups), plans=tuple(plans), stock=tuple(stocks))

    def _keep(self, laid: _Laid, alone: _Laid | None) -> None:
        done, kind = self.done, self.kind
        code_of = {mark: code for code, marks in laid.groups for mark in marks}
        for code, marks in laid.groups:
            name = kind.board.name if len(laid.groups) == 1 else f"{kind.board.name} for {' and '.join(marks)}"
            done.made[code] = replace(kind.board, code=code, name=name)
        done.codes |= {(m, kind.code): code_of[m] for m in kind.marks}
        done.stock += laid.stock
        done.plans += laid.plans
        done.boards.append(self._figures(laid, alone, tuple(code_of[m] for m in kind.marks)))

    def _figures(self, laid: _Laid, alone: _Laid | None, codes: tuple[str, ...]) -> BatchBoard:
        marks = self.kind.marks
        single = {m: b for (_, (m,)), b in zip(self.apart_groups, alone.boards, strict=True)} if alone else {}
        alone_cents = tuple(_cents(single[m]) if m in single else None for m in marks)
        boards = {b.board: b for b in laid.boards}
        shares: dict[str, int | None] = dict.fromkeys(marks)
        for code, own in laid.groups:
            plan = boards.get(code)
            cents = _cents(plan) if plan is not None else None
            if cents is not None:
                shares |= zip(own, share_out(cents, self._weights(own, single)), strict=True)
        every = [_cents(b) for b in laid.boards]
        known = [c for c in every if c is not None]
        return BatchBoard(
            name=self.kind.board.name,
            marks=marks,
            codes=codes,
            sheets=sum(_bought(b) for b in laid.boards),
            cents=sum(known) if every and len(known) == len(every) else None,
            alone_sheets=tuple(_bought(single[m]) if m in single else 0 for m in marks),
            alone_cents=alone_cents,
            shares=tuple(shares[m] for m in marks),
            alone_known=alone is not None,
        )

    def _weights(self, marks: Sequence[str], single: Mapping[str, BoardPlan]) -> list[float]:
        """Return how some jobs that share sheets weigh: by their parts' area at the saw, or by their cost alone."""
        if self.sawing.paid_by is PaidBy.ALONE and all(m in single for m in marks):
            costs = [float(_cents(single[m]) or 0) for m in marks]
            if any(costs):
                return costs
        return [self._area(m) for m in marks]

    def _area(self, mark: str) -> float:
        return sum(p.length * p.width * p.copies for p in self.sawing.parts[mark] if p.board == self.kind.code)


def _bought(plan: BoardPlan) -> int:
    return sum(1 for s in plan.sheets if not s.offcut)


def _cents(plan: BoardPlan) -> int | None:
    return None if plan.figures.unpriced else plan.figures.cents
