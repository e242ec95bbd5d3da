"""The same job by every method that fits, side by side."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from storyrod.faults import Fault, JobError
from storyrod.ledger._account import account, in_practice, terms_of
from storyrod.ledger._break_even import Draws, Running, break_even
from storyrod.ledger._ways import if_bought, lacking, to_be_bought
from storyrod.model.account import JOINERY, Account, CostKind, Terms
from storyrod.model.comparison import Candidate, Comparison, MethodRow, WorkedOut
from storyrod.model.job import Job, JointClass
from storyrod.model.method import Method
from storyrod.model.work import Stage, total_minutes
from storyrod.model.workshop import Workshop

CARCASS: Final = (JointClass.CORNER, JointClass.MID_PANEL, JointClass.PLINTH)
"""The joints that a comparison changes; backs and drawer boxes stay as the job has them."""

OWN: Final = "as planned"
MOST_REASONS: Final = 3

WorkOut = Callable[[Job, Workshop], WorkedOut]


def compare(
    job: Job,
    workshop: Workshop,
    work_out: WorkOut,
    *,
    terms: Terms | None = None,
    methods: Sequence[str] | None = None,
) -> Comparison:
    """Return the job by each method of the workshop (or those named), cheapest carcass first, and the break-evens.

    `work_out` runs the other stages for a job with other methods and raises `JobError` where one does not fit: the
    reason is then told. A method takes the corner, mid-panel and plinth joints that it is made for. A tool that is
    only thought of is worked with as if it were there, and its price is laid out first.

    Raises:
        JobError: the job cannot be built as it stands.
    """
    terms = terms or terms_of(workshop.money, job.currency)
    comparer = _Comparer(job, workshop, work_out, terms)
    chosen = [m for m in workshop.methods if methods is None or m.code in methods]
    candidates = [comparer.by(m) for m in chosen]
    if not any(c.own for c in candidates):
        candidates.insert(0, comparer.as_planned())
    return _side_by_side(job, workshop, terms, candidates)


def traits(row: MethodRow) -> list[str]:
    """Return what else a maker weighs: glue, clamps, whether it can be undone, what it carries, what to buy."""
    c = row.candidate
    told = [word for word, true in (("glue", c.glue), ("clamps", c.clamps), ("can be undone", c.undone)) if true]
    if c.strength_n is not None:
        told.append(f"{c.strength_n:,.0f} N each")
    return told + [f"buy the {name}" for name in c.not_owned]


@dataclass(frozen=True, slots=True)
class _Tried:
    worked: WorkedOut
    keeps: tuple[str, ...]


class _Comparer:
    def __init__(self, job: Job, workshop: Workshop, work_out: WorkOut, terms: Terms) -> None:
        self.job, self.workshop, self.work_out, self.terms = job, workshop, work_out, terms
        self.own = work_out(job, workshop)
        self.own_methods = _methods_of(self.own)

    def as_planned(self) -> Candidate:
        """Return the job as it is, where it mixes methods."""
        codes = dict.fromkeys(
            j.method for c in self.own.details.cases for j in c.joints if JointClass(j.kind.value) in CARCASS
        )
        methods = [self.own.details.method(code) for code in codes]
        name = f"{OWN}: {' and '.join(m.name for m in methods)}"
        return self._candidate(OWN, name, methods, _Tried(self.own, ()), own=True)

    def by(self, method: Method) -> Candidate:
        """Return the job by one method, or the reasons why it does not fit."""
        classes = [c for c in CARCASS if c in method.classes]
        if not classes:
            made_for = ", ".join(c.value for c in method.classes)
            return self._misfit(method, (f"It is not for carcass joints, only for: {made_for}.",))
        missing = lacking(method, self.workshop)
        if missing:
            return self._misfit(method, missing)
        others = " and ".join(c.value for c in CARCASS if c not in classes)
        keeps = [f"{others} joints stay as they are: it does not suit them"] if others else []
        try:
            tried = self._try(method, classes, keeps)
        except JobError as error:
            return self._misfit(method, _reasons(error.faults))
        own = _methods_of(tried.worked) == self.own_methods
        return self._candidate(method.code, method.name, [method], tried, own=own)

    def _misfit(self, method: Method, why: tuple[str, ...]) -> Candidate:
        return Candidate(method=method.code, name=method.name, why_not=why)

    def _try(self, method: Method, classes: Sequence[JointClass], keeps: list[str]) -> _Tried:
        """Work the job out; a plinth at which the method does not fit is left to the job's own, or is screwed."""
        workshop = if_bought(self.workshop, method)
        job = by_method(self.job, method.code, classes)
        try:
            worked = self.work_out(job, workshop)
        except JobError as error:
            told = [f for f in error.faults if _names(f, JointClass.PLINTH)]
            others = [c for c in classes if c is not JointClass.PLINTH]
            if len(told) != len(error.faults) or not others:
                raise
            left = by_method(self.job, method.code, others)
            worked, how = self._with_plinth(method, left, workshop, error)
            keeps.append(f"plinth joints {how}: {told[0].found}")
        if not any(j.method == method.code for c in worked.details.cases for j in c.joints):
            raise JobError(_no_joint(method))
        return _Tried(worked, tuple(keeps))

    def _with_plinth(self, method: Method, job: Job, workshop: Workshop, first: JobError) -> tuple[WorkedOut, str]:
        """Return the job with its plinth held some other way, as it is or by the first screws that will do, and how."""
        screws = (
            m
            for m in self.workshop.methods
            if m.held_by_screws
            and m.code != method.code
            and JointClass.PLINTH in m.classes
            and not lacking(m, self.workshop)
        )
        for other in (None, *screws):
            choice = job if other is None else by_method(job, other.code, [JointClass.PLINTH])
            try:
                return self.work_out(choice, workshop), "as the job has them" if other is None else f"by {other.name}"
            except JobError:
                continue
        raise first

    def _candidate(self, code: str, name: str, methods: Sequence[Method], tried: _Tried, *, own: bool) -> Candidate:
        worked, codes = tried.worked, {m.code for m in methods}
        cases = worked.details.cases
        return Candidate(
            method=code,
            name=name,
            own=own,
            keeps=tried.keeps,
            account=account(
                worked.details,
                self.workshop,
                run=worked.run,
                sheets=worked.sheets,
                walls=worked.walls,
                terms=self.terms,
            ),
            connectors=sum(
                len(j.stations) * c.built.case.count
                for c in cases
                for j in c.joints
                if j.method in codes and JointClass(j.kind.value) in CARCASS
            ),
            parts=sum(
                n * c.built.case.count
                for c in cases
                for j in c.joints
                if j.method in codes and JointClass(j.kind.value) in CARCASS
                for _, n in j.connectors
            ),
            step_mm=_step(worked, methods),
            glue=any(m.glue for m in methods),
            clamps=any(m.clamps for m in methods),
            undone=all(m.undone for m in methods),
            shows="; ".join(dict.fromkeys(m.shows for m in methods if m.shows)),
            strength_n=methods[0].strength_n if len(methods) == 1 else None,
            strength_source=methods[0].strength_source if len(methods) == 1 else "",
            not_owned=tuple(t.name for t in to_be_bought(methods, self.workshop)),
        )


def by_method(job: Job, code: str, classes: Sequence[JointClass]) -> Job:
    """Return the job with its joints of these classes held by one method; what single joints say is set aside."""
    fields = {c.name.lower(): code for c in classes}
    cases = tuple(replace(c, methods=replace(c.methods, **fields)) if c.methods is not None else c for c in job.cases)
    overrides = tuple(replace(o, method=None) for o in job.overrides if o.spread is not None)
    return replace(job, methods=replace(job.methods, **fields), cases=cases, overrides=overrides)


def _methods_of(worked: WorkedOut) -> tuple[str, ...]:
    return tuple(j.method for c in worked.details.cases for j in c.joints)


def _names(fault: Fault, kind: JointClass) -> bool:
    """Return whether a fault stands at the choice of a method for a class of joints."""
    return fault.field.split(".")[-1] == kind.name.lower()


def _reasons(faults: Sequence[Fault]) -> tuple[str, ...]:
    told = list(dict.fromkeys(f"{_capital(f.found)}. {f.do}" for f in faults))
    more = len(told) - MOST_REASONS
    return (*told[:MOST_REASONS], *([f"And {more} more like these."] if more > 0 else []))


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _no_joint(method: Method) -> Fault:
    return Fault(
        code="no-joint-for-method",
        field="methods",
        found="no joint in this job that it suits",
        allowed=f"a job with one of these: {', '.join(c.value for c in method.classes)}",
        do="Leave it out of the comparison.",
    )


def _step(worked: WorkedOut, methods: Sequence[Method]) -> float | None:
    """Return the step to be expected at a joint: as machining works it out, or the method's usual one."""
    codes = {m.code for m in methods}
    if worked.run is not None:
        told = [s.across.rss for s in worked.run.steps_expected if s.method in codes]
        if told:
            return max(told)
    return max((m.step_mm for m in methods), default=None)


def _side_by_side(job: Job, workshop: Workshop, terms: Terms, candidates: Sequence[Candidate]) -> Comparison:
    fitting = [(c, c.account) for c in candidates if c.account is not None]
    rows = sorted((_row(c, a) for c, a in fitting), key=lambda r: (r.cost_cents, r.candidate.method))
    running = {c.method: _running(c, a, terms, workshop) for c, a in fitting}
    draws = Draws(list(running.values()))
    order = [r.candidate.method for r in rows]
    pairs = [(a, b) for n, a in enumerate(order) for b in order[n + 1 :]]
    return Comparison(
        title=job.title,
        terms=terms,
        rows=tuple(rows),
        misfits=tuple(c for c in candidates if c.account is None),
        break_evens=tuple(break_even(running[a], running[b], terms, draws) for a, b in pairs),
        notes=tuple(_notes(terms, [a for _, a in fitting])),
    )


def _row(candidate: Candidate, told: Account) -> MethodRow:
    carcasses = told.work.carcasses
    items = in_practice(told.work.items, told.terms, carcasses)
    joinery = [i for i in items if i.stage in JOINERY]
    written_off = told.cents_of(CostKind.TOOLS)
    return MethodRow(
        candidate=candidate,
        minutes=total_minutes(joinery).times(1 / carcasses),
        all_minutes=told.minutes.times(1 / carcasses),
        each_cents=(told.cost_cents - written_off) / carcasses,
        cost_cents=told.cost_cents / carcasses,
        outlay_cents=told.outlay_cents,
        set_ups=len({i.set_up for i in joinery if i.set_up and i.stage is Stage.MACHINE}),
        jigs=told.work.joint_jigs,
    )


def _running(candidate: Candidate, told: Account, terms: Terms, workshop: Workshop) -> Running:
    work = told.work
    tools = sum(t.price_cents or 0 for t in workshop.tools if t.code in work.tools and not t.owned)
    jig_min_cents = work.jig_min * terms.rate_cents_per_h / 60
    labour = (CostKind.LABOUR, CostKind.OVERHEAD, CostKind.ROUNDING, CostKind.TOOLS)
    other = told.cost_cents - sum(told.cents_of(kind) for kind in labour)
    return Running(
        method=candidate.method,
        name=candidate.name,
        tools_cents=tools,
        jig_cents=max(told.outlay_cents - tools - jig_min_cents, 0.0),
        jig_min=work.jig_min,
        other_cents=other / work.carcasses,
        items=in_practice(work.items, terms, work.carcasses),
        carcasses=work.carcasses,
    )


def _notes(terms: Terms, accounts: Sequence[Account]) -> Iterator[str]:
    yield (
        "Minutes are for machining and assembling a carcass's joints. Sawing, edging, backs, drawers and fronts take "
        "the same by every method; the money includes them."
    )
    yield "A range holds eight times in ten, if the workshop's low and high minutes are right."
    carcasses = accounts[0].work.carcasses if accounts else 0
    if carcasses == 1:
        yield "One carcass bears all the set-ups; several would share them."
    elif carcasses:
        yield f"The {carcasses} carcasses of the job share the set-ups."
    if terms.rate_cents_per_h == 0:
        yield "No hourly rate is set, so your time costs nothing here: set yours and look again."
    yield from dict.fromkeys(n for a in accounts for n in a.notes)
