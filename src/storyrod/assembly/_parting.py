"""Taking a piece apart again: the steps backward, as far as its joints can be undone."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from storyrod.assembly._words import TOWARD, listed, sentence, the
from storyrod.model.assembly import Leg, Parting, Step, StepKind
from storyrod.model.detail import JoinedCase
from storyrod.model.method import Method

_UNDONE = {
    StepKind.DRAWER: "Pull {what} out and lift it off its runners.",
    StepKind.FRONT: "Unscrew {what} from inside the drawer.",
    StepKind.DOOR: "Unclip {what} from its hinge plates.",
    StepKind.SHELF: "Lift {what} off its pins and slide it out.",
    StepKind.FILLER: "Unscrew {what} from inside and slide it out.",
    StepKind.PLINTH: "Pull {what} off its clips.",
    StepKind.WORKTOP: "Unscrew {what} from below and lift it off.",
    StepKind.RAIL: "Lift the tube of {what} out of its sockets and slide it out.",
}


def part_again(case: JoinedCase, steps: Sequence[Step], methods: Mapping[str, Method]) -> tuple[Parting, ...]:
    """Return how to take the case apart, last step first.

    A joint that is glued for good ends it for its body: what lies behind it stays in one piece.
    """
    found: list[Parting] = []
    closed: set[str] = set()
    by_id = {p.id: p for p in case.panels}
    joints = {j.id: j for j in case.joints}
    named = {d.id: d.name for d in case.built.drawers} | {r.id: r.name for r in case.built.rails}
    for step in reversed(steps):
        if step.kind in {StepKind.TURN, StepKind.FIT, StepKind.FEET, StepKind.PLACE} or step.body in closed:
            continue
        lasting = tuple(j for j in step.joints if not _comes_undone(methods[joints[j].method]))
        if lasting:
            closed.add(step.body)
            continue
        what = named.get(step.body)
        found.append(
            Parting(
                undoes=step.number,
                moving=step.moving,
                legs=tuple(Leg(way=leg.way.reverse, distance=leg.distance) for leg in reversed(step.legs)),
                undo=step.joints,
                lasting=lasting,
                text=_text(step, what or the([by_id[p] for p in step.moving]), [joints[j].number for j in step.joints]),
            )
        )
    return tuple(found)


def _comes_undone(method: Method) -> bool:
    """Return whether a joint can be undone: by its method, or because nothing but its shape holds it."""
    return method.undone or not (method.glue or method.clamps or method.held_by_screws)


def _text(step: Step, what: str, numbers: Sequence[str]) -> str:
    if step.kind is not StepKind.JOIN:
        return _UNDONE[step.kind].format(what=what)
    undo = f"undo {listed(numbers)}, " if step.screws else ""
    legs = [TOWARD[leg.way.reverse] for leg in reversed(step.legs)]
    way = f"take {what} off toward {legs[0]}"
    if len(legs) > 1:
        way = f"slide {what} toward {legs[0]}, then take it off toward {legs[1]}"
    return sentence(undo + way)
