"""Jigs worth keeping for a family: jobs with how often a year each is made, planned side by side."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from storyrod.faults import Fault, raise_if_any
from storyrod.model.batch import Member
from storyrod.model.detail import Details
from storyrod.model.job import Job, Spread
from storyrod.model.machining import JigKind, JigPlan
from storyrod.model.mark import SetOut
from storyrod.model.standing import MadeInYear, StandingSet
from storyrod.model.workshop import Jig, Workshop
from storyrod.planning._plan import Plan

if TYPE_CHECKING:
    from storyrod.model.standing import Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class FamilyJob:
    """One job of a family, and how often a year it is made."""

    member: Member
    a_year: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Family:
    """The jigs worth keeping for some jobs, and what comes of owning them.

    Attributes:
        plans: of each job with the workshop as it is; `owning` of each with the jigs made and owned.
        workshop: with the jigs worth keeping among those owned.
        shared: the same where every job lets its joints share stations; None where that changes nothing.
    """

    jobs: tuple[FamilyJob, ...]
    plans: tuple[Plan, ...]
    standing: Standing
    workshop: Workshop
    owning: tuple[Plan, ...]
    shared: Standing | None = None

    @property
    def faults(self) -> tuple[Fault, ...]:
        """What the checkers find wrong where every job is planned with the jigs owned."""
        return tuple(dict.fromkeys(f for p in self.owning for f in (*p.proof.faults, *p.run_check.faults)))


def plan_family(jobs: Sequence[FamilyJob], workshop: Workshop, *, years: float | None = None) -> Family:
    """Return the jigs worth making once and keeping for jobs made so many times a year.

    A jig is kept for `years`, unless set as long as the workshop writes its tools off. What jigs save is at last worked
    out by planning every job with and without them; those that then do not pay are left out again.

    Raises:
        JobError: a job cannot be built as it stands.
    """
    kept_for = workshop.money.write_off_years if years is None else years
    plans = tuple(Plan(j.member.marked, workshop) for j in jobs)
    for plan in plans:
        raise_if_any(plan.faults)
    found = _standing(jobs, plans, workshop, kept_for)
    standing, owning = _as_planned(found, jobs, plans, workshop)
    return Family(
        jobs=tuple(jobs),
        plans=plans,
        standing=standing,
        workshop=owning[0].workshop if owning else workshop,
        owning=owning,
        shared=_shared(jobs, plans, workshop, kept_for, standing),
    )


def _as_planned(
    found: Standing, jobs: Sequence[FamilyJob], plans: Sequence[Plan], workshop: Workshop
) -> tuple[Standing, tuple[Plan, ...]]:
    """Return the jigs that pay where every job is planned with them, with what they save there, and these plans."""
    known: dict[tuple[StandingSet, ...], tuple[Plan, ...]] = {(): tuple(plans)}

    def planned(sets: Sequence[StandingSet]) -> tuple[Plan, ...]:
        key = tuple(sets)
        if key not in known:
            known[key] = _owning(sets, plans, workshop)
        return known[key]

    sets, left = list(found.sets), list(found.left)
    told = sets
    while sets:
        spent = _a_year(jobs, planned(sets))
        without = [_a_year(jobs, planned([o for o in sets if o is not s])) for s in sets]
        told = [replace(s, saves_min=w - spent) for s, w in zip(sets, without, strict=True)]
        worst = min(range(len(sets)), key=lambda n: found.years * told[n].saves_min - told[n].making_min)
        if found.years * told[worst].saves_min > told[worst].making_min:
            break
        left += [replace(line, is_kept=False) for line in sets.pop(worst).lines]
        told = sets
    return replace(found, sets=tuple(told), left=tuple(left)), planned(sets)


def _owning(sets: Sequence[StandingSet], plans: Sequence[Plan], workshop: Workshop) -> tuple[Plan, ...]:
    """Return the plans of all jobs where the jigs of some sets are owned."""
    owned = owned_jigs([j for s in sets for j in s.jigs], workshop)
    shop = replace(workshop, jigs=(*workshop.jigs, *owned))
    return tuple(Plan(p.job, shop, p) for p in plans)


def _a_year(jobs: Sequence[FamilyJob], plans: Sequence[Plan]) -> float:
    """Return the minutes of a year at saw, marks and machines, with the jigs that are made for each job."""
    return sum(
        job.a_year * (plan.machining.run.minutes + sum(g.making_min for g in plan.machining.jigs if not g.owned))
        for job, plan in zip(jobs, plans, strict=True)
    )


def _standing(jobs: Sequence[FamilyJob], plans: Sequence[Plan], workshop: Workshop, years: float) -> Standing:
    from storyrod.machining import standing_jigs

    every = plans[0].job
    job = replace(every, cases=tuple(c for p in plans for c in p.job.cases))
    details = Details(
        job=job,
        methods=tuple({m.code: m for p in plans for m in p.details.methods}.values()),
        cases=tuple(c for p in plans for c in p.details.cases),
    )
    marks = SetOut(mark_to=job.mark_step, cases=tuple(c for p in plans for c in p.set_out.cases), gangs=(), rods=())
    made = [
        MadeInYear(cases=tuple(c.code for c in plan.job.cases), a_year=job.a_year)
        for job, plan in zip(jobs, plans, strict=True)
    ]
    return standing_jigs(details, marks, workshop, made, years=years)


def _shared(
    jobs: Sequence[FamilyJob], plans: Sequence[Plan], workshop: Workshop, years: float, plain: Standing
) -> Standing | None:
    """Return what comes of `spread = "shared"` in every job, where it gains more over the years."""
    if all(p.job.spread is Spread.SHARED for p in plans):
        return None
    others = tuple(Plan(_sharing(p.job), workshop, p) for p in plans)
    if any(p.faults for p in others):
        return None
    found = _standing(jobs, others, workshop, years)
    return found if gain_of(found) > gain_of(plain) + 0.5 else None


def _sharing(job: Job) -> Job:
    return replace(job, spread=Spread.SHARED)


def gain_of(standing: Standing) -> float:
    """Return the minutes that the jigs gain over the years, their making taken off."""
    return sum(standing.years * s.saves_min - s.making_min for s in standing.sets)


def owned_jigs(plans: Sequence[JigPlan], workshop: Workshop) -> tuple[Jig, ...]:
    """Return jigs as they are written into a workshop file once they are made, by codes that it does not have yet."""
    taken: Mapping[str, Jig] = {j.code: j for j in workshop.jigs}
    codes = (f"K{n}" for n in range(1, len(taken) + len(plans) + 2))
    free = [c for c in codes if c not in taken]
    return tuple(
        Jig(
            code=code,
            name=f"{code}: {plan.name}",
            stations=plan.stations,
            opening_width=plan.opening[1],
            opening_length=plan.opening[0],
            length=plan.end,
            thickness=plan.thickness,
            behind_stop=-plan.start,
            near=-plan.near,
            far=plan.far,
            for_mid_panel=plan.kind is JigKind.LINE,
        )
        for code, plan in zip(free, plans, strict=False)
    )
