"""The step to be expected across each joint, and the misfit along it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from storyrod.machining._needs import Half
from storyrod.machining._settings import Placed
from storyrod.machining._stack import stack
from storyrod.model.job import Job
from storyrod.model.joint import JointId
from storyrod.model.machining import Contribution, ExpectedStep
from storyrod.model.workshop import Along, Registration

KNIFE_LINE: Final = 0.1
STOP: Final = 0.1
JIG_PAIR: Final = 0.05
PACKER_PIECE: Final = 0.02
USUAL: Final = 0.2
"""Usual errors (+-) of a knife line, a stop, two jigs made in one go, one packer, and a tool that names none: common
practice, no source."""


def expected_steps(placed: Iterable[Placed], job: Job, *, seed: int) -> tuple[ExpectedStep, ...]:
    """Return the expected errors of each kind of joint with located halves: same method, ways and board."""
    halves: dict[tuple[str, object], dict[Half, Placed]] = {}
    for p in placed:
        need = p.made.need
        if need.locates and need.joint is not None:
            halves.setdefault((str(need.joint.id), need.plan[0]), {}).setdefault(need.half, p)
    kinds: dict[tuple[object, ...], list[JointId]] = {}
    pairs: dict[tuple[object, ...], tuple[Placed, Placed]] = {}
    for pair in halves.values():
        if set(pair) >= {Half.ENTERING, Half.RECEIVING}:
            entering, receiving = pair[Half.ENTERING], pair[Half.RECEIVING]
            key = _key(entering, receiving)
            pairs.setdefault(key, (entering, receiving))
            joint = entering.made.need.joint
            assert joint is not None  # noqa: S101  # located halves belong to a joint
            kinds.setdefault(key, []).append(joint.id)
    return tuple(_told(*pairs[key], tuple(dict.fromkeys(joints)), job, seed) for key, joints in kinds.items())


def _key(entering: Placed, receiving: Placed) -> tuple[object, ...]:
    need = entering.made.need
    packers = tuple(p.setting.packer for p in (entering, receiving))
    return (
        *(need.method.code if need.method else "", entering.setting.way, receiving.setting.way),
        *(receiving.mode, packers, need.panel.board),
    )


def _told(entering: Placed, receiving: Placed, joints: tuple[JointId, ...], job: Job, seed: int) -> ExpectedStep:
    need = entering.made.need
    same_face = entering.made.reference.same_face and receiving.made.reference.same_face
    spread = job.board(need.panel.board).spread
    causes = _across(entering, receiving)
    thickness = [] if same_face else [Contribution(name="thickness of the board", tolerance=spread, factor=0.5)]
    centred = [Contribution(name="thickness of the board", tolerance=spread, factor=0.5)]
    method = need.method
    kind = "from a line" if receiving.mode == "line" else "at an end or edge"
    return ExpectedStep(
        name=f"{method.name if method else need.kind}, {kind}",
        method=method.code if method else "",
        ways=(entering.setting.way, receiving.setting.way),
        same_face=same_face,
        across=stack([*causes, *thickness], seed=seed),
        along=stack(_along(entering, receiving), seed=seed + 1),
        centre_line=stack([*causes, *centred], seed=seed + 2),
        joints=joints,
    )


def _error(p: Placed, *, along: bool) -> float:
    way, tool = p.made.choice.way, p.made.choice.tool
    told = way.error_along if along else way.error_across
    if told is not None:
        return told
    return tool.error if tool.error is not None else USUAL


def _across(entering: Placed, receiving: Placed) -> list[Contribution]:
    causes = [
        Contribution(name=f"edge half, {entering.setting.way}", tolerance=_error(entering, along=False)),
        Contribution(name=f"face half, {receiving.setting.way}", tolerance=_error(receiving, along=False), factor=-1.0),
    ]
    if receiving.mode == "line":
        causes.append(Contribution(name="knife line", tolerance=KNIFE_LINE))
    causes.extend(_packer(entering, 1.0))
    causes.extend(_packer(receiving, -1.0))
    return causes


def _packer(p: Placed, factor: float) -> Sequence[Contribution]:
    """Return what the packer adds: one and the same stack used for both halves is one cause, and cancels."""
    packer = p.setting.packer
    if packer is None or packer.made <= 0:
        return ()
    pieces = max(1, len(packer.pieces))
    name = f"packer {packer.made:g}"
    return (Contribution(name=name, tolerance=abs(packer.error) + PACKER_PIECE * pieces, factor=factor),)


def _along(entering: Placed, receiving: Placed) -> list[Contribution]:
    causes = []
    for half, p, factor in (("edge half", entering, 1.0), ("face half", receiving, -1.0)):
        causes.append(Contribution(name=f"{half}, {p.setting.way}", tolerance=_error(p, along=True), factor=factor))
        if p.setting.along is Along.JIG:
            causes.append(Contribution(name=f"stop, {half}", tolerance=STOP, factor=factor))
        elif p.setting.registration is not Registration.PROGRAM:
            causes.append(Contribution(name=f"knife mark, {half}", tolerance=KNIFE_LINE, factor=factor))
    if entering.setting.along is Along.JIG and entering.setting.jig != receiving.setting.jig:
        causes.append(Contribution(name="two jigs made in one go", tolerance=JIG_PAIR))
    return causes
