"""For the checker alone: whether every glued joint is clamped before its glue skins over, counted step by step.

A clock runs over the steps of a body. A joint's time begins with the step that spreads its glue, and ends when that
step has driven its screws, or when a later one has set its clamps. Where the body is glued up in several goes the clock
runs once for each, with the glue of the others left out. Nothing here is shared with the planner but the rules of thumb
for the seconds.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet

from storyrod.model.assembly import CasePlan, Step, StepKind
from storyrod.model.glue_time import BRING_S, CLAMP_S, CONNECTOR_S, SCREW_S, TURN_S, Gluing
from storyrod.model.joint import Joint, JointId
from storyrod.model.method import Method

MINUTE = 0.011
"""Minutes that differ by less are the same."""


def wrong_glue(
    plan: CasePlan,
    joints: Sequence[Joint],
    methods: Mapping[str, Method],
    closed: Mapping[JointId, int],
    gluing: Gluing,
) -> Iterator[tuple[int, str]]:
    """Yield, with the number of the step, every glued joint that is not clamped, or not in time.

    A joint that is not in time is let pass where its step says so and the case's cautions do.
    """
    by_id = {j.id: j for j in joints}
    told = {t.joint: t for t in plan.glue}
    at_steps = {i for s in plan.steps for c in s.cautions if c.code == "open-time" for i in c.ids}
    cautioned = at_steps & {i for c in plan.cautions if c.code == "open-time" for i in c.ids}
    goes = {t.joint: t.go for t in plan.glue}
    counted = {
        joint: minutes
        for go in range(1, gluing.goes + 1)
        for joint, minutes in _minutes(
            plan.steps, by_id, {j for j, g in goes.items() if g == go}, gluing.people
        ).items()
    }
    yield from _wrong_goes(plan.steps, goes, gluing)
    for joint in joints:
        method = methods[joint.method]
        if joint.id not in closed or closed[joint.id] == 0 or not (joint.glue or method.glue):
            continue
        number = closed[joint.id]
        minutes = counted.get(joint.id)
        if minutes is None:
            needs = "spread with glue" if all(joint.id not in s.glue for s in plan.steps) else "clamped"
            yield number, f"{joint.number} is glued and never {needs}"
            continue
        time = told.get(joint.id)
        if time is None or abs(time.minutes - minutes) > MINUTE:
            yield number, f"{joint.number} waits {minutes:.2f} min for its clamp, and the plan says otherwise"
        elif minutes > time.open_min + MINUTE and joint.id not in cautioned:
            over = minutes - time.open_min
            yield number, f"{joint.number} waits {over:.2f} min longer than its glue stays open, and nothing says so"
    yield from _bears(plan.steps, joints, closed)


def _wrong_goes(steps: Sequence[Step], goes: Mapping[JointId, int], gluing: Gluing) -> Iterator[tuple[int, str]]:
    """Yield glue of a later go under glue of an earlier one, which could not come apart for it, and hands that lack."""
    reached: dict[str, int] = {}
    for step in steps:
        own = {goes.get(j, 1) for j in step.glue}
        if len(own) > 1:
            yield step.number, "its glue is spread in more than one go: what has set could not come off for the rest"
        if own and max(own) > gluing.goes:
            yield step.number, f"its glue is spread in go {max(own)}, and the job says {gluing.goes} at the most"
        if own and max(own) < reached.get(step.body, 1):
            yield step.number, "its glue is spread before that of an earlier step, which could not come apart again"
        if own and step.go not in {0, *own}:
            yield step.number, "it names another go than its glue is counted in"
        if own and max(own) > 1 and step.go == 0:
            yield step.number, "it does not say in which go its glue is spread"
        reached[step.body] = max(own | {reached.get(step.body, 1)})
        if (step.glue or step.clamps) and step.persons < gluing.people:
            yield step.number, f"{gluing.people} people glue up, and it names {step.persons}"


def _minutes(
    steps: Sequence[Step], by_id: Mapping[JointId, Joint], now: AbstractSet[JointId], people: int
) -> dict[JointId, float]:
    """Return how long each joint glued now waits that is clamped, screwed, or wants no clamp."""
    clocks: dict[str, float] = {}
    begun: dict[JointId, float] = {}
    found: dict[JointId, float] = {}
    clamped_later = {j for s in steps for j in s.clamps}
    for step in steps:
        if step.kind is StepKind.TURN:
            clocks[step.body] = clocks.get(step.body, 0.0) + TURN_S
        if step.kind is not StepKind.JOIN:
            continue
        before = clocks.get(step.body, 0.0)
        spread = [j for j in step.glue if j in now]
        seconds = BRING_S + CLAMP_S * step.clamp_count / people
        for each, done in ((CONNECTOR_S, spread), (SCREW_S, step.screws)):
            seconds += each * sum(max(1, len(by_id[j].stations)) for j in done) / people
        clocks[step.body] = after = before + seconds
        begun.update(dict.fromkeys(spread, before))
        for joint in (*spread, *step.clamps):
            is_shut = joint in step.screws or joint in step.clamps or joint not in clamped_later
            if joint in begun and joint not in found and is_shut:
                found[joint] = (after - begun[joint]) / 60
    return found


def _bears(steps: Sequence[Step], joints: Sequence[Joint], closed: Mapping[JointId, int]) -> Iterator[tuple[int, str]]:
    """Yield every clamp that is set before the joint at the other end of the panel is closed: it would bear on air.

    A clamp that only holds a panel while its screws are driven bears on whatever is at hand.
    """
    for step in steps:
        if bool(step.clamps) != (step.clamp_count > 0):
            yield step.number, "clamps are named and not counted, or counted and not named"
        for joint in joints:
            if joint.id in step.clamps and joint.id not in step.screws:
                far = [j for j in joints if j.entering == joint.entering and j.home is joint.home.reverse]
                if any(closed.get(j.id, 10**9) > step.number for j in (joint, *far)):
                    yield step.number, f"{joint.number} is clamped before what the clamp bears on is there"
