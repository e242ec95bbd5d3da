"""How long each glued joint waits for its clamp in an order, and what is to be done where it waits too long."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from storyrod.assembly._words import listed
from storyrod.faults import Caution
from storyrod.model.assembly import Step, StepKind
from storyrod.model.glue_time import BRING_S, CLAMP_S, CONNECTOR_S, MOST_GOES, SCREW_S, TURN_S, GlueTime, Gluing
from storyrod.model.joint import Joint, JointId

SLACK_S: Final = 0.6
"""A hundredth of a minute: what is over by less is not over."""

_IN_GOES: Final = (
    "Glue it up in {goes} goes: each step says which go its glue belongs to. Put the joints of later goes together "
    "dry, clamp everything and let the glue set; then take the dry joints apart and glue them in their own go."
)


@dataclass(frozen=True, slots=True)
class _Spent:
    """Seconds of one step: gluing each joint, and what else is done by hands that two can share or not."""

    glue: Mapping[JointId, float]
    shared: float
    alone: float


def glue_up(
    steps: Sequence[Step], joints: Mapping[JointId, Joint], open_min: float, gluing: Gluing
) -> tuple[tuple[Step, ...], tuple[GlueTime, ...]]:
    """Return the steps with what is said of people, goes and glue that waits too long, and how long each joint waits.

    The times are in the order in which joints are glued, body by body.
    """
    goes: dict[int, int] = {}
    times: list[GlueTime] = []
    begins: dict[int, int] = {}
    for body in dict.fromkeys(s.body for s in steps):
        own = [s for s in steps if s.body == body and s.kind in {StepKind.JOIN, StepKind.TURN}]
        run = _Run(own, joints, open_min)
        wanted = run.goes(gluing.people)
        used = run.parted(gluing.people) if wanted is not None and wanted <= gluing.goes else None
        if used is not None and wanted is not None and wanted > 1:
            goes |= {own[n].number: go for n, go in used.items()}
            begins[own[min(used)].number] = wanted
        times += run.times(gluing.people, used or {})
    people = tuple(_worked_by(s, gluing.people, goes.get(s.number, 0), begins.get(s.number, 0)) for s in steps)
    return tuple(_with_cautions(people, times, joints, gluing)), tuple(times)


def _worked_by(step: Step, people: int, go: int, begins: int) -> Step:
    """Return a step with the people who glue it up, its go, and in the first of them how it is glued in goes."""
    hold = (_IN_GOES.format(goes=begins), *step.hold) if begins else step.hold
    persons = max(step.persons, people) if step.glue or step.clamps else step.persons
    return replace(step, persons=persons, go=go, hold=hold) if (persons, go, hold) != _of(step) else step


def _of(step: Step) -> tuple[int, int, tuple[str, ...]]:
    return step.persons, step.go, step.hold


class _Run:
    """The steps in which one body is glued up."""

    def __init__(self, steps: Sequence[Step], joints: Mapping[JointId, Joint], open_min: float) -> None:
        self.steps, self.joints, self.open_min = steps, joints, open_min
        self.spent = [_spent(s, joints) for s in steps]
        self.glued = [n for n, s in enumerate(steps) if s.glue]

    def goes(self, people: int) -> int | None:
        """Return the fewest goes in which all of it is clamped in time, or None."""
        found = self.parted(people)
        most = max(found.values(), default=1) if found is not None else None
        return most if most is not None and most <= MOST_GOES else None

    def parted(self, people: int) -> dict[int, int] | None:
        """Return in which go each step's glue is spread, so that all of it is in time with the fewest goes, or None.

        What goes together first is glued first: later steps can be undone again, and earlier ones cannot. A step's
        glue is never parted: its panel would be fast by one joint, and could not come off for the other. A go takes as
        many steps as it can, which leaves no more for the goes after it than any other parting.
        """
        goes: dict[int, int] = {}
        go = 1
        for n in self.glued:
            if not self._in_time(goes | {n: go}, n, go, people):
                go += 1
                if not self._in_time(goes | {n: go}, n, go, people):
                    return None
            goes[n] = go
        return goes

    def _in_time(self, goes: Mapping[int, int], until: int, go: int, people: int) -> bool:
        own = [n for n in self.glued if n <= until and goes[n] == go]
        return all(
            self._seconds(n, j, goes, people) <= self.open_min * 60 + SLACK_S for n in own for j in self.steps[n].glue
        )

    def _seconds(self, n: int, joint: JointId, goes: Mapping[int, int], people: int) -> float:
        """Return how long a joint waits that is glued in step `n`; steps without a go yet are of a later one."""
        last = _closed_at(self.steps, n, joint)
        own = goes.get(n, 1)
        glue = sum(sum(self.spent[k].glue.values()) for k in range(n, last + 1) if goes.get(k) == own)
        shared = sum(s.shared for s in self.spent[n : last + 1])
        alone = sum(s.alone for s in self.spent[n : last + 1])
        return (glue + shared) / people + alone

    def times(self, people: int, goes: Mapping[int, int]) -> Iterator[GlueTime]:
        """Yield how long each joint waits; without goes all of it is glued in one."""
        at_once = dict.fromkeys(self.glued, 1)
        offered, by_two = self.goes(people), self.goes(2)
        for n in self.glued:
            for joint in self.steps[n].glue:
                yield GlueTime(
                    joint=joint,
                    spread_at=self.steps[n].number,
                    clamped_at=self.steps[_closed_at(self.steps, n, joint)].number,
                    minutes=self._seconds(n, joint, goes or at_once, people) / 60,
                    open_min=self.open_min,
                    two_people_min=self._seconds(n, joint, at_once, 2) / 60,
                    goes=offered,
                    two_people_goes=by_two,
                    go=goes.get(n, 1),
                )


def _spent(step: Step, joints: Mapping[JointId, Joint]) -> _Spent:
    if step.kind is StepKind.TURN:
        return _Spent({}, 0.0, TURN_S)
    glue = {j: CONNECTOR_S * _lines(joints[j]) for j in step.glue}
    screws = sum(SCREW_S * _lines(joints[j]) for j in step.screws)
    return _Spent(glue, screws + CLAMP_S * step.clamp_count, BRING_S)


def _lines(joint: Joint) -> int:
    return max(1, len(joint.stations))


def _closed_at(steps: Sequence[Step], n: int, joint: JointId) -> int:
    """Return the place of the step that clamps a joint glued in step `n`, or screws it there and then."""
    if joint in steps[n].screws:
        return n
    return next((k for k in range(n, len(steps)) if joint in steps[k].clamps), n)


def _with_cautions(
    steps: Sequence[Step], times: Sequence[GlueTime], joints: Mapping[JointId, Joint], gluing: Gluing
) -> Iterator[Step]:
    """Yield the steps; that in which glue is first spread that will wait too long says so, and what will do."""
    late = _late(times)
    for step in steps:
        told = [_caution(g, joints, gluing) for g in late if _begins(g) == step.number]
        yield replace(step, cautions=(*step.cautions, *told)) if told else step


def _late(times: Sequence[GlueTime]) -> list[list[GlueTime]]:
    """Return the joints whose glue waits too long, those of one glue-up together."""
    late: dict[int, list[GlueTime]] = {}
    for time in times:
        if time.over_min * 60 > SLACK_S:
            late.setdefault(time.clamped_at, []).append(time)
    return list(late.values())


def _begins(late: Sequence[GlueTime]) -> int:
    """Return the number of the step that spreads the first glue of a glue-up."""
    return min(t.spread_at for t in late)


def late_cautions(case: str, times: Sequence[GlueTime]) -> tuple[Caution, ...]:
    """Return the one caution of a case, by its code, that names its late glue-ups; none where all are in time."""
    late = sorted(_late(times), key=_begins)
    if not late:
        return ()
    longest = [math.ceil(max(t.minutes for t in g)) for g in late]
    spans = [f"{m} from step {_begins(g)}" for g, m in zip(late, longest, strict=True)]
    spans[0] = spans[0].replace(" from", " min from", 1)
    one = len(late) == 1
    takes = "A glue-up takes" if one else f"{len(late)} glue-ups take"
    return (
        Caution(
            code="open-time",
            about=f"case {case}",
            text=f"{takes} longer than the {late[0][0].open_min:g} min the glue stays open: about {listed(spans)}.",
            do=f"Use a glue that stays open {max(longest)} min or more; {'the step says' if one else 'the steps say'}"
            " what else you can do.",
            ids=tuple(t.joint for g in late for t in g),
        ),
    )


def _caution(late: Sequence[GlueTime], joints: Mapping[JointId, Joint], gluing: Gluing) -> Caution:
    worst = max(late, key=lambda t: t.minutes)
    minutes, open_min = math.ceil(worst.minutes), worst.open_min
    by = " with two people" if gluing.people > 1 else ""
    text = (
        f"This glue-up takes about {minutes} min{by}, from the first glue to the clamp in step {worst.clamped_at}. "
        f"The glue stays open {open_min:g} min, {math.ceil(worst.over_min)} min less. Clamped too late: "
        f"{listed([joints[t.joint].number for t in late])}."
    )
    ways = [f"Use a glue that stays open {minutes} min or more"]
    if gluing.people == 1 and worst.two_people_min <= open_min:
        ways.append(f"or work with two people, about {math.ceil(worst.two_people_min)} min")
    if worst.goes is not None:
        ways.append(
            f"or glue it up in {worst.goes} goes: the first steps first, all the others together dry; clamp, and let "
            f"it set before you take the dry joints apart for the next"
        )
    ids = tuple(t.joint for t in late)
    return Caution(code="open-time", about="glue", text=text, do=f"{'; '.join(ways)}.", ids=ids)
