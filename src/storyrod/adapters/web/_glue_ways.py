"""Glue-ups that take longer than the glue stays open, each with the choices that mend it: tried before they show."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from storyrod.adapters.files.editing import Change
from storyrod.adapters.files.workshop_editing import group_of, set_item
from storyrod.adapters.web._lately import Lately
from storyrod.adapters.web._worked import Worked
from storyrod.faults import Fault, JobError
from storyrod.model.glue_time import GlueTime

if TYPE_CHECKING:
    from storyrod.adapters.web._desk import Desk
    from storyrod.adapters.web._workshops import WorkshopShelf
    from storyrod.model.assembly import AssemblyPlan
    from storyrod.planning import Plan

LONGEST_OPEN_MIN: Final = 240
"""The longest open time that a workshop file takes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """What can be done: more people, more goes, a slower glue; None is as it was."""

    words: str
    people: int | None = None
    goes: int | None = None
    open_min: int | None = None

    @property
    def changes(self) -> list[Change]:
        """What it writes into the job."""
        told = {"gluing.people": self.people, "gluing.goes": self.goes}
        return [Change(path=path, value=value) for path, value in told.items() if value is not None]


@dataclass(frozen=True, slots=True, kw_only=True)
class LateGlue:
    """A glue-up that takes longer than the glue stays open; `minutes` from its first glue to its last clamp."""

    case: str
    name: str
    step: int
    minutes: int
    open_min: float
    times: tuple[GlueTime, ...]
    choices: tuple[Choice, ...] = ()

    @property
    def key(self) -> str:
        """The id of its place on a page."""
        return f"glue-{self.case}-{self.step}"


@dataclass(frozen=True, slots=True, kw_only=True)
class GlueWait:
    """How long a glue-up takes beside how long the glue stays open, in minutes; `late` where it is longer."""

    minutes: int
    open_min: float
    late: LateGlue | None = None

    @property
    def takes(self) -> str:
        """How far its bar goes, of 100."""
        return f"{100 * self.minutes / self._whole:.1f}"

    @property
    def open_at(self) -> str:
        """Where on its bar the glue begins to set, of 100."""
        return f"{100 * self.open_min / self._whole:.1f}"

    @property
    def _whole(self) -> float:
        return 1.02 * max(self.minutes, self.open_min)


_KNOWN: Final = Lately[tuple[LateGlue, ...]](12)


def late_glue(plan: Plan) -> tuple[LateGlue, ...]:
    """Return the glue-ups of a plan that are late, as its steps caution of them.

    Raises:
        JobError: the job cannot be put together so far.
    """
    return tuple(_late(plan.assembly, {c.code: c.name for c in plan.job.cases}))


def _late(assembly: AssemblyPlan, names: Mapping[str, str]) -> Iterator[LateGlue]:
    for case in assembly.cases:
        times = {t.joint: t for t in case.glue}
        for step in case.steps:
            for caution in step.cautions:
                if caution.code == "open-time":
                    own = tuple(times[j] for j in times if j in caution.ids)
                    yield LateGlue(
                        case=case.case,
                        name=names.get(case.case, ""),
                        step=step.number,
                        minutes=math.ceil(max(t.minutes for t in own)),
                        open_min=own[0].open_min,
                        times=own,
                    )


def glue_waits(plan: Plan, case: str) -> tuple[GlueWait, ...]:
    """Return the late glue-ups of a case; where all are in time the longest alone, and none where nothing is glued.

    Raises:
        JobError: the job cannot be put together so far.
    """
    late = tuple(
        GlueWait(minutes=one.minutes, open_min=one.open_min, late=one) for one in late_glue(plan) if one.case == case
    )
    times = [t for c in plan.assembly.cases if c.case == case for t in c.glue]
    if late or not times:
        return late
    longest = max(times, key=lambda t: t.minutes)
    return (GlueWait(minutes=math.ceil(longest.minutes), open_min=longest.open_min),)


def with_choices(worked: Worked) -> tuple[LateGlue, ...]:
    """Return the late glue-ups of a job, each with the choices under which the whole plan no longer cautions of it.

    Raises:
        JobError: the job cannot be put together so far.
    """
    late = worked.ask(late_glue)
    if not late or worked.plan is None or worked.read is None:
        return late
    key = f"{worked.version} {worked.read.digest}"
    known = _KNOWN.get(key)
    if known is None:
        tried: dict[tuple[int | None, int | None, int | None], set[str]] = {}
        known = tuple(replace(one, choices=tuple(_that_clear(worked, one, tried))) for one in late)
        _KNOWN[key] = known
    return known


def _that_clear(
    worked: Worked, late: LateGlue, tried: dict[tuple[int | None, int | None, int | None], set[str]]
) -> Iterator[Choice]:
    """Yield the choices that clear one; the last, which asks for more, only where none is had without a slower glue."""
    others = 0
    for choice in _choices(worked, late):
        if choice.people is not None and choice.open_min is not None and others:
            continue
        how = (choice.people, choice.goes, choice.open_min)
        if how not in tried:
            tried[how] = _still_late(worked, choice)
        if not tried[how] & {t.joint for t in late.times}:
            others += choice.open_min is None
            yield choice


def _choices(worked: Worked, late: LateGlue) -> Iterator[Choice]:
    assert worked.plan is not None  # noqa: S101  # it has an order of assembly
    gluing, worst = worked.plan.job.gluing, max(late.times, key=lambda t: t.minutes)
    if late.minutes <= LONGEST_OPEN_MIN:
        yield Choice(words=f"Use a glue that stays open {late.minutes} min", open_min=late.minutes)
    by_two = max(t.two_people_min for t in late.times)
    alone = gluing.people == 1
    if alone and by_two <= late.open_min:
        yield Choice(words=f"Glue it up with two people: {math.ceil(by_two)} min", people=2)
    if worst.goes is not None and worst.goes > gluing.goes:
        yield Choice(words=f"Glue it up in {_COUNTS[worst.goes]} goes", goes=worst.goes)
    if alone and worst.two_people_goes is not None and 1 < worst.two_people_goes != worst.goes:
        words = f"Glue it up with two people, in {_COUNTS[worst.two_people_goes]} goes"
        yield Choice(words=words, people=2, goes=worst.two_people_goes)
    if alone and late.open_min < by_two <= LONGEST_OPEN_MIN:
        minutes = math.ceil(by_two)
        yield Choice(words=f"Two people, and a glue that stays open {minutes} min", people=2, open_min=minutes)


_COUNTS: Final = {1: "one", 2: "two", 3: "three", 4: "four"}


def _still_late(worked: Worked, choice: Choice) -> set[str]:
    """Return the joints of which the plan with a choice cautions; what cannot be planned so is as late as can be."""
    from storyrod.adapters.files import edit_job, job_from_text
    from storyrod.planning import Plan

    assert worked.plan is not None  # noqa: S101  # it has an order of assembly
    workshop = worked.plan.workshop
    if choice.open_min is not None:
        workshop = replace(workshop, handling=replace(workshop.handling, open_time_min=float(choice.open_min)))
    try:
        text = edit_job(worked.text, choice.changes) if choice.changes else worked.text
        read = job_from_text(text, name=f"{worked.name}.toml", workshop=workshop)
        late = late_glue(Plan(read.job, workshop, worked.plan))
    except JobError:
        return {t.joint for one in worked.ask(late_glue) for t in one.times}
    return {t.joint for one in late for t in one.times}


def keep_choice(desk: Desk, shelf: WorkshopShelf, worked: Worked, sent: Mapping[str, str]) -> None:
    """Write a choice as it was pressed: people and goes into the job, the glue's open time into its workshop.

    Raises:
        JobError: what was sent is none of the choices that were shown.
        StaleError: a file was changed at this very moment.
    """
    from storyrod.adapters.web._workshops import change_workshop_of
    from storyrod.adapters.web.views.changing import make_changes

    told = {name: sent.get(name, "") for name in ("people", "goes", "open_min")}
    offered = {
        (str(c.people or ""), str(c.goes or ""), str(c.open_min or "")): c
        for one in with_choices(worked)
        for c in one.choices
    }
    choice = offered.get((told["people"], told["goes"], told["open_min"]))
    if choice is None:
        raise JobError(
            Fault(
                code="sent",
                field="gluing",
                found="a choice that no longer helps this glue-up",
                allowed="one of those that are shown",
                do="Go back and load the page again.",
            )
        )
    if choice.open_min is not None:
        group = group_of("handling")
        assert group is not None  # noqa: S101  # one of the groups of the workshop's page
        value = {"open_time_min": choice.open_min}
        change_workshop_of(desk, shelf, worked, lambda text: set_item(text, group, "", value))
        worked = desk.job(worked.name)
    if choice.changes:
        now = make_changes(desk, worked, choice.changes)
        desk.live.tell_from_thread(worked.name, {"kind": "job", "version": now.version})
