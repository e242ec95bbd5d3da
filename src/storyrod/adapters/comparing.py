"""The same plan by other methods: runs the stages that a method changes, and shares those that it does not."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from storyrod.ledger import account, compare, terms_of
from storyrod.model.account import Account, Comparison, MethodRow, Terms, WorkedOut
from storyrod.model.carcass import Carcass
from storyrod.model.job import Job
from storyrod.model.sheet import CuttingPlan
from storyrod.model.workshop import Workshop
from storyrod.plan import Plan

Sizes = tuple[tuple[str, str, float, float, int], ...]
Layouts = dict[Sizes, CuttingPlan]


def account_plan(plan: Plan, terms: Terms | None = None) -> Account:
    """Return minutes, money and price of a plan."""
    worked = worked_out(plan)
    return account(worked.details, plan.workshop, run=worked.run, sheets=worked.sheets, terms=terms)


def compare_plan(plan: Plan, terms: Terms | None = None, methods: Sequence[str] | None = None) -> Comparison:
    """Return the plan's job by every method of its workshop, or by those named.

    The carcass is built once. Sheets are laid out once for every set of cut sizes that the methods ask for.
    """
    terms = terms or terms_of(plan.workshop.money, plan.job.currency)
    layouts: Layouts = {}

    def work_out(job: Job, workshop: Workshop) -> WorkedOut:
        other = variant(plan, job, workshop)
        sizes = _cut_sizes(other)
        if sizes in layouts:
            vars(other)["sheets"] = layouts[sizes]
        told = worked_out(other)
        if told.sheets is not None:
            layouts[sizes] = told.sheets
        return told

    return compare(plan.job, plan.workshop, work_out, terms=terms, methods=methods)


def worked_out(plan: Plan) -> WorkedOut:
    """Return what the ledger reads of a plan: its details, and the run and sheets where the plan has them."""
    return WorkedOut(details=plan.details, run=getattr(plan, "machining", None), sheets=getattr(plan, "sheets", None))


def variant(plan: Plan, job: Job, workshop: Workshop) -> Plan:
    """Return the plan of the same job with other methods and tools, sharing what does not hang on them."""
    if job == plan.job and workshop == plan.workshop:
        return plan
    other = Plan(job, workshop)
    kept: dict[str, Any] = vars(other)
    kept["carcass"] = _with_methods(plan.carcass, job)
    return other


def _with_methods(carcass: Carcass, job: Job) -> Carcass:
    """Return the carcass as built, for a job that differs in its methods alone: panels do not hang on them yet."""
    cases = tuple(replace(b, case=c) for b, c in zip(carcass.cases, job.cases, strict=True))
    return replace(carcass, job=job, cases=cases)


def _cut_sizes(plan: Plan) -> Sizes:
    """Return what decides how the sheets are laid out: every panel's cut size, however it is joined."""
    return tuple(
        (str(panel.id), panel.board, round(panel.cut_length, 4), round(panel.cut_width, 4), case.built.case.count)
        for case in plan.joined.cases
        for panel in case.panels
    )


def traits(row: MethodRow) -> list[str]:
    """Return what else a maker weighs: glue, clamps, whether it can be undone, what it carries, what to buy."""
    c = row.candidate
    told = [word for word, true in (("glue", c.glue), ("clamps", c.clamps), ("can be undone", c.undone)) if true]
    if c.strength_n is not None:
        told.append(f"{c.strength_n:.0f} N each")
    return told + [f"buy the {name}" for name in c.not_owned]
