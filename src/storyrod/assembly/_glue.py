"""How long each glued joint waits for its clamp in an order, and what is to be done where it waits too long."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from storyrod.assembly._words import listed
from storyrod.faults import Caution
from storyrod.model.assembly import Step, StepKind
from storyrod.model.glue_time import BRING_S, CLAMP_S, CONNECTOR_S, SCREW_S, TURN_S, GlueTime
from storyrod.model.joint import Joint, JointId

SLACK_S: Final = 0.6
"""A hundredth of a minute: what is over by less is not over."""


@dataclass(frozen=True, slots=True)
class _Spent:
    """Seconds of one step: gluing each joint, and what else is done by hands that two can share or not."""

    glue: Mapping[JointId, float]
    shared: float
    alone: float

    @property
    def whole(self) -> float:
        return sum(self.glue.values()) + self.shared + self.alone


def glue_times(steps: Sequence[Step], joints: Mapping[JointId, Joint], open_min: float) -> tuple[GlueTime, ...]:
    """Return how long every glued joint waits, body by body, in the order in which they are glued."""
    found: list[GlueTime] = []
    for body in dict.fromkeys(s.body for s in steps):
        own = [s for s in steps if s.body == body and s.kind in {StepKind.JOIN, StepKind.TURN}]
        spent = [_spent(s, joints) for s in own]
        for n, step in enumerate(own):
            for joint in step.glue:
                last = _closed_at(own, n, joint)
                found.append(_time(joint, step.number, own[last].number, spent[n : last + 1], open_min))
    return tuple(found)


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


def _time(joint: JointId, spread: int, clamped: int, spent: Sequence[_Spent], open_min: float) -> GlueTime:
    glue = [s for each in spent for s in each.glue.values()]
    alone = sum(s.alone for s in spent)
    shared = sum(s.shared for s in spent)
    return GlueTime(
        joint=joint,
        spread_at=spread,
        clamped_at=clamped,
        minutes=(sum(glue) + shared + alone) / 60,
        open_min=open_min,
        two_people_min=((sum(glue) + shared) / 2 + alone) / 60,
        goes=_goes(glue, open_min * 60 - shared - alone),
    )


def _goes(glue: Sequence[float], room_s: float) -> int | None:
    """Return into how many goes joints fall that are glued in turn, each go with `room_s` seconds for its glue."""
    goes, left = 1, room_s
    for one in glue:
        if one > room_s:
            return None
        if one > left:
            goes, left = goes + 1, room_s
        left -= one
    return goes


def with_glue_cautions(
    steps: Sequence[Step], times: Sequence[GlueTime], joints: Mapping[JointId, Joint]
) -> Iterator[Step]:
    """Yield the steps; that in which glue is first spread that will wait too long says so, and what will do."""
    late: dict[int, list[GlueTime]] = {}
    for time in times:
        if time.over_min * 60 > SLACK_S:
            late.setdefault(time.clamped_at, []).append(time)
    for step in steps:
        told = [_caution(g, joints) for g in late.values() if min(t.spread_at for t in g) == step.number]
        yield replace(step, cautions=(*step.cautions, *told)) if told else step


def _caution(late: Sequence[GlueTime], joints: Mapping[JointId, Joint]) -> Caution:
    worst = max(late, key=lambda t: t.minutes)
    names = listed([joints[t.joint].number for t in late])
    minutes, open_min = math.ceil(worst.minutes), worst.open_min
    waits = "waits" if len(late) == 1 else "wait"
    longest = "" if len(late) == 1 else f", {joints[worst.joint].number} the longest"
    text = (
        f"{names} {waits} too long for the clamp: about {minutes} min from the first glue to the clamp in step"
        f" {worst.clamped_at}{longest}. The glue stays open {open_min:g} min, {math.ceil(worst.over_min)} min less."
    )
    ways = [f"Use a glue that stays open {minutes} min or more"]
    if worst.two_people_min <= open_min:
        ways.append(f"or work with two people, about {math.ceil(worst.two_people_min)} min")
    if worst.goes is not None:
        ways.append(
            f"or glue in {worst.goes} goes: some of the joints each time, all others together dry, clamp, and let it"
            " set before you take it apart for the next"
        )
    ids = tuple(t.joint for t in late)
    return Caution(code="open-time", about="glue", text=text, do=f"{'; '.join(ways)}.", ids=ids)
