"""Another method for a class of joints, or for one joint: what has to be written for it, and what would come of it.

Whoever shows a choice (the page) asks here beforehand, so that the figures told are those of the very job file that the
choice would make.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from storyrod.adapters.files.editing import Act, Change, Value
from storyrod.faults import Fault, JobError
from storyrod.ledger import account, if_bought, lacking, to_be_bought
from storyrod.model.account import Account
from storyrod.model.detail import JoinedCase
from storyrod.model.job import Case, Job, JointClass
from storyrod.model.joint import Joint
from storyrod.model.method import Method
from storyrod.model.work import Minutes
from storyrod.planning import Plan

MOST_REASONS: Final = 3
TOGETHER: Final = "together"
CARCASS: Final = (JointClass.CORNER, JointClass.MID_PANEL)


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """What a method is chosen for: a class of joints (or two together), in one case or all, or one joint.

    Attributes:
        kinds: the classes; corner and mid-panel joints are often changed together, since a case held in two ways may
            not go together at all.
        case: code of the case; "" for every case that does not choose for itself.
        joint: its id, "" for the whole class.
        between: the names of its two panels.
    """

    kinds: tuple[JointClass, ...]
    case: str = ""
    joint: str = ""
    between: tuple[str, str] = ("", "")

    @property
    def key(self) -> str:
        """Its name in addresses: `corner`, `corner@A`, `together`, or a joint's id."""
        if self.joint:
            return self.joint
        word = TOGETHER if self.kinds == CARCASS else _word(self.kinds[0])
        return f"{word}@{self.case}" if self.case else word

    @property
    def name(self) -> str:
        """What a maker calls it."""
        if self.joint:
            return f"{self.joint.rpartition('.')[2]}, {self.between[0]} to {self.between[1]}"
        return f"{' and '.join(k.value for k in self.kinds)} joints"


@dataclass(frozen=True, slots=True, kw_only=True)
class Effect:
    """What the job comes to with a method at a place, or why it cannot be made so.

    Attributes:
        method: code, "" for the job as it is.
        why_not: whole sentences; empty where it can be made.
        at_least: whether `cost_cents` leaves out what has no price.
        connectors: stations of the place's joints, all copies counted; `parts` single parts to be fitted there.
        set_ups, jigs: of the whole job; jigs that are to be made first.
        step_mm: the step to be expected at the place's joints (+-), None where nothing tells it.
        buy: names of tools that must be bought first.
    """

    method: str
    why_not: tuple[str, ...] = ()
    cost_cents: int = 0
    at_least: bool = False
    outlay_cents: int = 0
    minutes: Minutes | None = None
    clamp_min: float = 0.0
    connectors: int = 0
    parts: int = 0
    set_ups: int = 0
    jigs: tuple[str, ...] = ()
    step_mm: float | None = None
    buy: tuple[str, ...] = ()

    @property
    def fits(self) -> bool:
        """Whether the job can be made so."""
        return not self.why_not


def places_of(job: Job, cases: Sequence[JoinedCase]) -> tuple[Place, ...]:
    """Return the classes that can be chosen for: each that has joints, and again for cases that choose for themselves.

    Without `cases` (the job cannot be joined so far) every class is told.
    """
    kinds = [k for k in JointClass if not cases or any(class_of(j) is k for c in cases for j in c.joints)]
    found = [Place(kinds=CARCASS)] if set(CARCASS) <= set(kinds) else []
    for kind in kinds:
        found.append(Place(kinds=(kind,)))
        own = (c.code for c in job.cases if c.methods is not None and c.methods.of(kind))
        found += [Place(kinds=(kind,), case=code) for code in own]
    return tuple(found)


def place_of(key: str, job: Job, cases: Sequence[JoinedCase]) -> Place | None:
    """Return the place of a key from an address, or None where there is none of that name."""
    word, _, code = key.partition("@")
    if code and not any(c.code == code for c in job.cases):
        return None
    if word == TOGETHER:
        return Place(kinds=CARCASS, case=code)
    kind = next((k for k in JointClass if _word(k) == word), None)
    if kind is not None:
        return Place(kinds=(kind,), case=code)
    for case in cases:
        names = {p.id: p.name for p in case.panels}
        for joint in case.joints:
            if joint.id == key:
                pair = (names[joint.entering], names[joint.receiving])
                return Place(kinds=(class_of(joint),), case=joint.case, joint=joint.id, between=pair)
    return None


def class_of(joint: Joint) -> JointClass:
    """Return the class for which a joint's method is chosen."""
    return JointClass(joint.kind.value)


def joints_at(place: Place, job: Job, cases: Sequence[JoinedCase]) -> tuple[Joint, ...]:
    """Return the joints whose method follows from the choice at a place."""
    return tuple(j for case in cases for j in case.joints if _follows(j, case, place, job))


def _follows(joint: Joint, case: JoinedCase, place: Place, job: Job) -> bool:
    kind = class_of(joint)
    if place.joint or kind not in place.kinds:
        return joint.id == place.joint
    own = _case(job, joint.case).methods
    if place.case != joint.case if place.case else own is not None and own.of(kind) is not None:
        return False
    pair = {p.name for p in case.panels if p.id in {joint.entering, joint.receiving}}
    return not any(o.case == joint.case and set(o.between) == pair and o.method for o in job.overrides)


def chosen_at(place: Place, plan: Plan) -> tuple[str, ...]:
    """Return the codes of the methods that are chosen at a place, each once; none where nothing chooses one."""
    job = plan.job
    override = next((o for o in job.overrides if _same_joint(o.case, o.between, place)), None)
    if override is not None and override.method:
        return (override.method,)
    own = _case(job, place.case).methods if place.case else None
    usual = {word.replace("-", "_").replace(" ", "_"): code for word, code in plan.workshop.default_methods}
    codes = ((own.of(k) if own else None) or job.methods.of(k) or usual.get(_word(k)) for k in place.kinds)
    return tuple(dict.fromkeys(code for code in codes if code))


def chooses_itself(place: Place, job: Job) -> bool:
    """Return whether a joint, or a class in one case, has a choice of its own that can be taken back."""
    if place.joint:
        return any(_same_joint(o.case, o.between, place) and o.method for o in job.overrides)
    own = _case(job, place.case).methods if place.case else None
    return own is not None and any(own.of(k) is not None for k in place.kinds)


def changes_for(place: Place, method: str, job: Job) -> list[Change]:
    """Return the changes of the job file that choose a method at a place; with "" the choice is taken back.

    Taking back a choice that is not written changes nothing.
    """
    if place.joint:
        return _for_joint(place, method, job)
    at = f"cases[{[c.code for c in job.cases].index(place.case)}]." if place.case else ""
    paths = {k: f"{at}methods.{_word(k)}" for k in place.kinds}
    if method:
        return [Change(path=path, value=method) for path in paths.values()]
    written = _case(job, place.case).methods if place.case else job.methods
    return [Change(path=path, act=Act.DELETE) for k, path in paths.items() if written is not None and written.of(k)]


def _for_joint(place: Place, method: str, job: Job) -> list[Change]:
    for n, override in enumerate(job.overrides):
        if _same_joint(override.case, override.between, place):
            if method:
                return [Change(path=f"joints[{n}].method", value=method)]
            if override.method is None:
                return []
            whole = override.spread is None
            return [Change(path=f"joints[{n}]" if whole else f"joints[{n}].method", act=Act.DELETE)]
    if not method:
        return []
    told: dict[str, Value] = {"case": place.case, "between": [*place.between], "method": method}
    if job.overrides:
        return [Change(path=f"joints[{len(job.overrides)}]", act=Act.INSERT, value=told)]
    return [Change(path="joints", value=[told])]


def methods_for(place: Place, methods: Sequence[Method]) -> tuple[Method, ...]:
    """Return the methods made for a place's joints."""
    return tuple(m for m in methods if set(place.kinds) <= set(m.classes))


def effect_now(plan: Plan, place: Place) -> Effect:
    """Return what the job comes to as it is; where it cannot be made, why not."""
    try:
        return _effect("", plan, plan.account, place)
    except JobError as error:
        return Effect(method="", why_not=_reasons(error.faults))


def effect_of(plan: Plan, job: Job, place: Place, method: Method) -> Effect:
    """Return what a job comes to that differs from the plan's own in the choice of `method` at `place`.

    A tool that is only thought of is worked with as if it were there; its price is laid out first. Sheets are not
    searched for again where all parts stay as large as they are.
    """
    missing = lacking(method, plan.workshop)
    if missing:
        return Effect(method=method.code, why_not=missing)
    try:
        other = plan.by_other_methods(job, if_bought(plan.workshop, method))
        if other is plan:
            return replace(effect_now(plan, place), method=method.code)
        other.machining  # noqa: B018  # a method that does not fit is told before sheets are searched for
        if other.parts == plan.parts:
            other = other.with_sheets(plan.sheets)
        told = account(other.details, plan.workshop, run=other.machining, sheets=other.sheets, walls=other.walls)
        faults = other.faults
    except JobError as error:
        return Effect(method=method.code, why_not=_reasons(error.faults))
    if faults:
        return Effect(method=method.code, why_not=_reasons(faults))
    found = _effect(method.code, other, told, place)
    if not any(j.method == method.code for j in joints_at(place, job, other.joined.cases)):
        held = "These joints are held as they are whatever is chosen here: it follows from how back or drawer is made."
        return Effect(method=method.code, why_not=(held,))
    return replace(found, buy=tuple(t.name for t in to_be_bought([method], plan.workshop)))


def _effect(code: str, plan: Plan, told: Account, place: Place) -> Effect:
    counts = {c.code: c.count for c in plan.job.cases}
    joints = joints_at(place, plan.job, plan.joined.cases)
    ids = {j.id for j in joints}
    usual = {m.code: m.step_mm for m in plan.joined.methods}
    steps = [s.across.rss for s in plan.machining.steps_expected if ids.intersection(s.joints)]
    return Effect(
        method=code,
        at_least=told.at_least,
        cost_cents=told.cost_cents,
        outlay_cents=told.outlay_cents,
        minutes=told.minutes,
        clamp_min=told.clamp_min,
        connectors=sum(len(j.stations) * counts[j.case] for j in joints),
        parts=sum(n * counts[j.case] for j in joints for _, n in j.connectors),
        set_ups=len(plan.machining.set_ups),
        jigs=told.work.jigs,
        step_mm=max(steps or [usual[j.method] for j in joints], default=None),
    )


def _reasons(faults: Sequence[Fault]) -> tuple[str, ...]:
    told = list(dict.fromkeys(_sentences(faults)))
    more = len(told) - MOST_REASONS
    return (*told[:MOST_REASONS], *([f"And {more} more like {'this' if more == 1 else 'these'}."] if more > 0 else []))


def _sentences(faults: Sequence[Fault]) -> Iterator[str]:
    for fault in faults:
        found = f"{fault.found[:1].upper()}{fault.found[1:]}"
        yield f"{found}; allowed: {fault.allowed}." if fault.allowed else f"{found}."


def _same_joint(case: str, between: tuple[str, str], place: Place) -> bool:
    return bool(place.joint) and case == place.case and set(between) == set(place.between)


def _case(job: Job, code: str) -> Case:
    return next(c for c in job.cases if c.code == code)


def _word(kind: JointClass) -> str:
    return kind.name.lower()
