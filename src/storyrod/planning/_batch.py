"""A batch: several jobs, each planned by itself, then sheets, set-ups, jigs and buying over all of them.

Each job is worked out and proven as ever, with its mark before the codes of its cases. The details of all are then put
together as one job of many cases, for which the stages plan sheets, machining and money as for any other: what checks
them for one job checks them here.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from storyrod.faults import Fault
from storyrod.model.account import show_money
from storyrod.model.batch import BatchBoard, BatchRun, BoughtTogether, Member, PaidBy, SharedCost
from storyrod.model.detail import DetailedCase, Details
from storyrod.model.job import Job, Spread
from storyrod.model.mark import CaseSetOut, SetOut
from storyrod.model.sharing import Sharing
from storyrod.model.workshop import Workshop
from storyrod.planning._batch_boards import BoardKindred, Codes, differing_prices, edging_codes, kindred_boards
from storyrod.planning._batch_money import bought_together, shared_costs
from storyrod.planning._batch_sheets import Sawing, SheetsTogether, lay_out_together
from storyrod.planning._plan import SHEET_WORK, Plan, sheet_rounds

if TYPE_CHECKING:
    from storyrod.model.machining import WorkPlan

RUN_LIMIT_S: Final = 2.0
"""What the search for the order of the merged set-ups may take, in seconds of a usual machine, counted in work done: a
batch of ten jobs is to be planned while one waits."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Batch:
    """Several jobs planned together.

    Attributes:
        members: the jobs, in their order, as their files have them.
        plans: of each job by itself, its mark before the codes of its cases.
        together: all cases as one job: its sheets, set-ups, jigs, saw's lists and labels are the batch's.
        boards: who cuts what from whose sheets, and who pays what.
        run: minutes at the bench, together and one job after the other.
        costs: who pays what of all that is used up; `bought` what is bought, each line with where it goes.
        notes: what had to be chosen between the jobs' files, whole sentences.
    """

    title: str
    members: tuple[Member, ...]
    plans: tuple[Plan, ...]
    together: Plan
    boards: tuple[BatchBoard, ...]
    run: BatchRun
    paid_by: PaidBy
    costs: tuple[SharedCost, ...]
    bought: tuple[BoughtTogether, ...]
    notes: tuple[str, ...] = ()

    @property
    def version(self) -> str:
        """A short digest of all that the batch was worked out from; equal input gives an equal version."""
        told = repr((self.members, self.together.workshop, self.paid_by)).encode()
        return hashlib.sha256(told).hexdigest()[:8]

    @property
    def faults(self) -> tuple[Fault, ...]:
        """What the checkers found wrong, of each job and of all together; nothing of it is printed then."""
        own = (f for plan in self.plans for f in plan.faults)
        return tuple(dict.fromkeys((*own, *self.together.run_check.faults, *self.together.buying_faults)))


def faults_alone(plan: Plan) -> tuple[Fault, ...]:
    """Return why one job cannot be made, before it is planned with others: what its checkers found, and what fits no
    sheet of its own.

    Raises:
        JobError: it cannot be built as it stands.
    """
    from storyrod.sheets import faults_of_fit

    boards = {s.board for s in plan.stock}
    laid = [p for p in plan.parts if p.board in boards]
    return (*plan.faults, *faults_of_fit(laid, plan.stock, plan.cut_rules))


def plan_batch(
    members: Sequence[Member],
    workshop: Workshop,
    *,
    title: str = "",
    paid_by: PaidBy = PaidBy.AREA,
    known: Mapping[str, Plan] | None = None,
) -> Batch:
    """Return several jobs planned together in one workshop; `known` are their plans by their marks, made before.

    The jobs have one unit and one currency, and marks of their own: whoever reads them sees to that.

    Raises:
        JobError: a job cannot be built as it stands, or there is not enough stock for all.
    """
    plans = tuple((known or {}).get(m.mark) or Plan(m.marked, workshop) for m in members)
    by_mark = {m.mark: plan for m, plan in zip(members, plans, strict=True)}
    used = {mark: frozenset(p.board for p in plan.parts) for mark, plan in by_mark.items()}
    kindred = kindred_boards(members, used)
    first = plans[0].job
    sawing = Sawing(
        parts={mark: plan.parts for mark, plan in by_mark.items()},
        rules=plans[0].cut_rules,
        workshop=workshop,
        job=first,
        rounds=sheet_rounds,
        work=SHEET_WORK,
        paid_by=paid_by,
    )
    sheets = lay_out_together(kindred, sawing)
    edgings, tapes = edging_codes(members)
    codes = Codes(boards=sheets.codes, edgings=edgings)
    job = replace(
        _one_job(members, plans, title),
        boards=tuple(sheets.made.values()),
        edgings=tapes,
        currency=currency_of(members),
    )
    together = _together(job, workshop, by_mark, codes, sheets)
    return Batch(
        title=title or job.title,
        members=tuple(members),
        plans=plans,
        together=together,
        boards=tuple(sheets.boards),
        run=_run_of(plans, together.machining),
        paid_by=paid_by,
        costs=shared_costs(together, by_mark, sheets.boards),
        bought=bought_together(together, by_mark),
        notes=tuple(_notes(members, kindred, job)),
    )


def _notes(members: Sequence[Member], kindred: Sequence[BoardKindred], job: Job) -> Iterator[str]:
    for name, size in differing_prices(members, kindred):
        told = job.lengths.told_size(size.length, size.width)
        price = show_money(size.price_cents or 0, job.currency)
        yield f"The jobs give different prices for {name}, {told}. The lowest is used, {price}."


def currency_of(members: Sequence[Member]) -> str:
    """Return the currency that the jobs name; "" where none does."""
    return next((m.job.currency for m in members if m.job.currency), "")


def _one_job(members: Sequence[Member], plans: Sequence[Plan], title: str) -> Job:
    """Return one job with the cases of all; what it says of use and limits was heeded in each job's own plan."""
    jobs = [p.job for p in plans]
    return replace(
        jobs[0],
        title=title or f"{len(members)} jobs made together",
        customer="",
        customer_address="",
        description="",
        number="",
        note="",
        finish=None,  # each job has its own: see `_batch_money`
        fraction=max(j.fraction for j in jobs),
        mark_to=min(j.mark_to for j in jobs),
        spread=Spread.SHARED if any(j.spread is Spread.SHARED for j in jobs) else jobs[0].spread,
        cases=tuple(c for j in jobs for c in j.cases),
        overrides=tuple(o for j in jobs for o in j.overrides),
    )


def _together(job: Job, workshop: Workshop, plans: Mapping[str, Plan], codes: Codes, sheets: SheetsTogether) -> Plan:
    """Return the plan of all cases at once: what comes of each case by itself is taken over."""
    from storyrod.machining import plan_work

    details = Details(
        job=job,
        methods=tuple({m.code: m for p in plans.values() for m in p.details.methods}.values()),
        cases=tuple(_detailed(mark, c, codes) for mark, p in plans.items() for c in p.details.cases),
    )
    set_out = SetOut(
        mark_to=job.mark_step,
        cases=tuple(_set_out(mark, c, codes) for mark, p in plans.items() for c in p.set_out.cases),
        gangs=(),
        rods=(),
    )
    sharing = Sharing(moved=tuple(m for p in plans.values() for m in p.sharing.moved))
    every = [p.assembly for p in plans.values()]
    known = {
        "details": details,
        "set_out": set_out,
        "sharing": sharing,
        "assembly": replace(every[0], cases=tuple(c for a in every for c in a.cases)),
        "walls": {code: wall for p in plans.values() for code, wall in p.walls.items()},
        "machining": plan_work(details, set_out, workshop, sharing=sharing, limit_s=RUN_LIMIT_S),
        "stock": tuple(sheets.stock),
        "sheets": sheets.sheets,
    }
    return Plan.of_results(job, workshop, known)


def _detailed(mark: str, case: DetailedCase, codes: Codes) -> DetailedCase:
    panels = tuple(codes.of(mark, p) for p in case.panels)
    return case if panels == case.panels else replace(case, panels=panels, _by_panel={})


def _set_out(mark: str, case: CaseSetOut, codes: Codes) -> CaseSetOut:
    panels = tuple(replace(p, panel=codes.of(mark, p.panel)) for p in case.panels)
    return case if panels == case.panels else replace(case, panels=panels)


def _run_of(plans: Sequence[Plan], work: WorkPlan) -> BatchRun:
    from storyrod.model.machining import Sureness

    own = [p.machining for p in plans]
    return BatchRun(
        minutes=work.run.minutes,
        alone_min=tuple(w.run.minutes for w in own),
        changes_min=work.run.changes_min,
        alone_changes_min=sum(w.run.changes_min for w in own),
        set_ups=sum(s.is_cut for s in work.set_ups),
        alone_set_ups=sum(s.is_cut for w in own for s in w.set_ups),
        jigs=work.tally.to_make,
        alone_jigs=sum(w.tally.to_make for w in own),
        bound_min=work.run.bound_min,
        is_best=work.run.sureness is Sureness.PROVEN_BEST,
    )
