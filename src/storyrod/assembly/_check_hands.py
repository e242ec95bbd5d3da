"""Whether the steps fix every fitting once, at a moment when it can be done, and drive every screw that is bought."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping

from storyrod.model.assembly import CasePlan, HandAct, Step, StepKind
from storyrod.model.detail import JoinedCase
from storyrod.model.fixing import FixingKind
from storyrod.model.method import Method

_WANTED = {
    FixingKind.RUNNER_CASE: HandAct.RUNNER_CASE,
    FixingKind.RUNNER_DRAWER: HandAct.RUNNER_DRAWER,
    FixingKind.RUNNER_CATCH: HandAct.RUNNER_CATCH,
    FixingKind.HINGE_PLATE: HandAct.PLATES,
    FixingKind.HINGE_CUP: HandAct.HINGES,
    FixingKind.FRONT: HandAct.FRONT,
    FixingKind.SHELF_PIN: HandAct.PINS,
    FixingKind.RAIL_SOCKET: HandAct.SOCKET,
    FixingKind.WORKTOP: HandAct.WORKTOP,
    FixingKind.FOOT: HandAct.FEET,
    FixingKind.CLIP: HandAct.CLIPS,
    FixingKind.FILLER: HandAct.FILLER,
}

_BEFORE = {
    HandAct.RUNNER_CASE: StepKind.DRAWER,
    HandAct.RUNNER_DRAWER: StepKind.DRAWER,
    HandAct.RUNNER_CATCH: StepKind.DRAWER,
    HandAct.PLATES: StepKind.DOOR,
    HandAct.HINGES: StepKind.DOOR,
    HandAct.SOCKET: StepKind.RAIL,
}
"""What must be on before the drawer or the tube goes in, or the door is hung, that it is for."""


def hands_left(case: JoinedCase, plan: CasePlan, methods: Mapping[str, Method]) -> Iterator[str]:
    """Yield everything that is not fixed, driven, turned or set as often as it is wanted, and what comes too late."""
    acts = {*_WANTED.values(), HandAct.SET_DOOR, HandAct.TUBE}
    yield from _told(_fixed(case), _done(plan, acts), "fixed or set")
    yield from _told(_bought(case, plan), _used(plan), "used")
    yield from _turned(case, plan, methods)
    yield from _late(plan)


def _told(wanted: Counter[str], found: Counter[str], done: str) -> Iterator[str]:
    for what in sorted(wanted.keys() | found.keys()):
        if wanted[what] != found[what]:
            yield f"{what} is {done} {found[what]} times in the steps, and {wanted[what]} are wanted"


def _fixed(case: JoinedCase) -> Counter[str]:
    """Count what is to be fixed; the pins of a shelf are put in together."""
    wanted = Counter(f"{_WANTED[f.kind]}: {f.about}" for f in case.built.fixings)
    pins = [k for k in wanted if k.startswith(f"{HandAct.PINS}: ")]
    wanted.update(f"{HandAct.SET_DOOR}: {d.panel}" for d in case.built.doors)
    wanted.update(f"{HandAct.TUBE}: {r.id}" for r in case.built.rails)
    return Counter({k: 1 if k in pins else n for k, n in wanted.items()})


def _done(plan: CasePlan, acts: set[HandAct]) -> Counter[str]:
    return Counter(f"{b.act}: {b.about}" for s in plan.steps for b in s.by_hand if b.act in acts)


def _bought(case: JoinedCase, plan: CasePlan) -> Counter[str]:
    """Count what is bought for the case: hardware by the piece, and the connectors of every joint that is closed."""
    closed = {j for s in plan.steps for j in s.joints}
    wanted: Counter[str] = Counter()
    for thing in case.built.hardware:
        if thing.unit == "piece":
            wanted[thing.item] += thing.count
    for joint in (j for j in case.joints if j.id in closed):
        for item, count in joint.connectors:
            wanted[item] += count
    return wanted


def _used(plan: CasePlan) -> Counter[str]:
    used: Counter[str] = Counter()
    for step in plan.steps:
        for one in step.fit_first:
            used[one.item] += one.count
        for thing in (u for b in step.by_hand for u in b.uses):
            used[thing.item] += thing.count
    return used


def _turned(case: JoinedCase, plan: CasePlan, methods: Mapping[str, Method]) -> Iterator[str]:
    """Yield the joints whose cams are not turned in the step that closes them."""
    turned = {(s.number, b.about) for s in plan.steps for b in s.by_hand if b.act is HandAct.TURN}
    locks = {c: {u.item for z in m.sizes for u in z.consumes if u.turned} for c, m in methods.items()}
    closing = {j: s.number for s in plan.steps for j in s.joints}
    for joint in case.joints:
        has_cams = any(item in locks[joint.method] for item, _ in joint.connectors)
        if has_cams and joint.id in closing and (closing[joint.id], str(joint.id)) not in turned:
            yield f"the cams of {joint.number} are not turned when it closes"


def _late(plan: CasePlan) -> Iterator[str]:
    for one, step in ((b, s) for s in plan.steps for b in s.by_hand if b.act in _BEFORE):
        for user in plan.steps:
            if user.kind is _BEFORE[one.act] and _serves(user, one.about) and user.number < step.number:
                yield f"step {step.number}: {one.act} comes after step {user.number}, which needs it"


def _serves(user: Step, about: str) -> bool:
    return user.body == about or about in user.moving
