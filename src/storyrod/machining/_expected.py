"""The step to be expected across each joint, and the misfit along it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from storyrod.machining._needs import Half
from storyrod.machining._settings import Placed
from storyrod.model.job import Job
from storyrod.model.joint import JointId
from storyrod.model.machining import ExpectedStep, Stack
from storyrod.model.simulation import THICKNESS, ErrorShape, ErrorTerm, merged
from storyrod.model.workshop import Along, Registration
from storyrod.trade.stack import root_sum_square, worst_case

KNIFE_LINE: Final = 0.1
STOP: Final = 0.1
JIG_PAIR: Final = 0.05
PACKER_PIECE: Final = 0.02
USUAL: Final = 0.2
"""Usual errors (+-) of a knife line, a stop, two jigs made in one go, one packer, and a tool that names none: common
practice, no source."""


def expected_steps(placed: Iterable[Placed], job: Job) -> tuple[ExpectedStep, ...]:
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
    return tuple(_told(*pairs[key], tuple(dict.fromkeys(joints)), job) for key, joints in kinds.items())


def _key(entering: Placed, receiving: Placed) -> tuple[object, ...]:
    need = entering.made.need
    packers = tuple(p.setting.packer for p in (entering, receiving))
    return (
        *(need.method.code if need.method else "", entering.setting.way, receiving.setting.way),
        *(receiving.mode, packers, need.panel.board),
    )


def _told(entering: Placed, receiving: Placed, joints: tuple[JointId, ...], job: Job) -> ExpectedStep:
    need = entering.made.need
    same_face = entering.made.reference.same_face and receiving.made.reference.same_face
    spread = job.board(need.panel.board).spread
    causes = _across(entering, receiving)
    thickness = ErrorTerm(
        name="thickness of the board", tolerance=spread, coefficient=0.5, shape=ErrorShape.EVEN, cause=THICKNESS
    )
    method = need.method
    kind = "from a line" if receiving.mode == "line" else "at an end or edge"
    return ExpectedStep(
        name=f"{method.name if method else need.kind}, {kind}",
        method=method.code if method else "",
        ways=(entering.setting.way, receiving.setting.way),
        same_face=same_face,
        across=_stack(causes if same_face else [*causes, thickness]),
        along=_stack(_along(entering, receiving)),
        centre_line=_stack([*causes, thickness]),
        joints=joints,
    )


def _stack(errors: Iterable[ErrorTerm]) -> Stack:
    """Return how the errors add up, those of one cause as one; what cancels is left out."""
    terms = tuple(t for t in merged(errors) if t.reach > 0)
    return Stack(terms=terms, worst=worst_case(terms), rss=root_sum_square(terms))


def _error(p: Placed, *, along: bool) -> float:
    way, tool = p.made.choice.way, p.made.choice.tool
    told = way.error_along if along else way.error_across
    if told is not None:
        return told
    return tool.error if tool.error is not None else USUAL


def _across(entering: Placed, receiving: Placed) -> list[ErrorTerm]:
    causes = [
        ErrorTerm(name=f"edge half, {entering.setting.way}", tolerance=_error(entering, along=False)),
        ErrorTerm(
            name=f"face half, {receiving.setting.way}", tolerance=_error(receiving, along=False), coefficient=-1.0
        ),
    ]
    if receiving.mode == "line":
        causes.append(ErrorTerm(name="knife line", tolerance=KNIFE_LINE))
    causes.extend(_packer(entering, 1.0))
    causes.extend(_packer(receiving, -1.0))
    return causes


def _packer(p: Placed, factor: float) -> Sequence[ErrorTerm]:
    """Return what the packer adds: one and the same stack used for both halves is one cause, and cancels."""
    packer = p.setting.packer
    if packer is None or packer.made <= 0:
        return ()
    pieces = max(1, len(packer.pieces))
    name = f"packer {p.made.need.lengths.n(packer.made)}"
    error = abs(packer.error) + PACKER_PIECE * pieces
    return (ErrorTerm(name=name, tolerance=error, coefficient=factor, cause=f"{name}, {round(error, 6)}"),)


def _along(entering: Placed, receiving: Placed) -> list[ErrorTerm]:
    causes = []
    for half, p, factor in (("edge half", entering, 1.0), ("face half", receiving, -1.0)):
        causes.append(ErrorTerm(name=f"{half}, {p.setting.way}", tolerance=_error(p, along=True), coefficient=factor))
        if p.setting.along is Along.JIG:
            causes.append(ErrorTerm(name=f"stop, {half}", tolerance=STOP, coefficient=factor))
        elif p.setting.registration is not Registration.PROGRAM:
            causes.append(ErrorTerm(name=f"knife mark, {half}", tolerance=KNIFE_LINE, coefficient=factor))
    if entering.setting.along is Along.JIG and entering.setting.jig != receiving.setting.jig:
        causes.append(ErrorTerm(name="two jigs made in one go", tolerance=JIG_PAIR))
    return causes
