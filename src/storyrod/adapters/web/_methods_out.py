"""Other methods for joints whose cuts meet: one for all joints of a class, then for one joint alone."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from storyrod.adapters.choosing import Place, changes_for, chosen_at, class_of, joints_at, methods_for, place_of

if TYPE_CHECKING:
    from storyrod.adapters.files.editing import Change
    from storyrod.adapters.web._worked import Worked
    from storyrod.faults import Fault
    from storyrod.model.joint import Joint
    from storyrod.model.method import Method
    from storyrod.planning import Plan

MOST_TRIED: Final = 6
"""So many methods are tried at one place: each is a plan of its own, and whoever mends a fault waits for them."""


def methods_out(worked: Worked, fault: Fault) -> Iterator[tuple[str, list[Change]]]:
    """Yield what a button says and what it changes, the likeliest first; nothing of it was tried.

    Only methods that the workshop's own tools make are named: those that the job uses already before others, and those
    with connectors before glue alone and what is cut along the whole joint.
    """
    plan = worked.plan
    if plan is None or not fault.ids:
        return
    joints = [j for case in plan.joined.cases for j in case.joints]
    mine = [j for j in joints if j.id in fault.ids]
    places = dict.fromkeys(_place(joint, plan) for joint in mine)
    places |= dict.fromkeys(p for j in mine if (p := place_of(j.id, plan.job, plan.joined.cases)) is not None)
    used = {j.method for j in joints}
    for place in places:
        for method in _others(place, plan, used):
            yield f"Use {method.name} for {_told(place)}", changes_for(place, method.code, plan.job)


def _place(joint: Joint, plan: Plan) -> Place:
    """Return where the method of a joint was chosen: for its class, in its case or in all; or for it alone."""
    cases = plan.joined.cases
    kind = class_of(joint)
    wide = (Place(kinds=(kind,)), Place(kinds=(kind,), case=joint.case))
    held = (p for p in wide if any(j.id == joint.id for j in joints_at(p, plan.job, cases)))
    return next(held, None) or place_of(joint.id, plan.job, cases) or wide[0]


def _others(place: Place, plan: Plan, used: set[str]) -> list[Method]:
    from storyrod.ledger import lacking, to_be_bought

    now, workshop = chosen_at(place, plan), plan.workshop
    fit = (
        m
        for m in methods_for(place, workshop.methods)
        if m.code not in now and not lacking(m, workshop) and not to_be_bought([m], workshop)
    )
    return sorted(fit, key=lambda m: (m.code not in used, m.rules is None))[:MOST_TRIED]


def _told(place: Place) -> str:
    where = f" of case {place.case}" if place.case and not place.joint else ""
    return f"{place.name}{where}"
