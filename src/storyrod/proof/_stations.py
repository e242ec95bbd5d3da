"""Stations keep the ends and gaps of their method, and the connectors of a case add up."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Final

from storyrod.faults import OUR_SLIP
from storyrod.model.detail import Details
from storyrod.model.joint import Joint, JointKind
from storyrod.model.method import Method, StationRules
from storyrod.model.proof import Claim, Finding
from storyrod.proof._tally import CaseView, Tally


def stations_keep_their_rules(details: Details, views: Sequence[CaseView]) -> Finding:
    """Return whether every joint's stations keep its method's least ends, least gaps and least number.

    The figure is the least room to spare, in mm, beyond what the method asks of ends and gaps.
    """
    tally = Tally(
        claim=Claim.STATIONS,
        subject="joints",
        holds="keep the ends and gaps of their methods",
        fails="do not keep the ends and gaps of their methods",
        one="joint keeps the ends and gaps of its method",
        code="proof-stations",
        limit=0.0,
        at_least=True,
        measure="least to spare",
    )
    for view in views:
        for joint in view.case.joints:
            rules = details.method(joint.method).rules
            if rules is None:
                continue
            rules = _at_a_low_corner(joint, rules)
            spare = _spare(joint, rules)
            enough = len(joint.stations) >= (1 if rules.single else rules.least)
            if not (tally.see(spare) and enough):
                places = ", ".join(view.told(s) for s in joint.stations) or "no place"
                tally.tell(
                    view.cause(joint.entering),
                    f"joint {joint.number} of case {view.code} with stations at {places} of {view.told(joint.length)}",
                    f"{rules.least} or more, {view.told(rules.end_min)} from the ends, "
                    f"{view.told(rules.gap_min)} from each other",
                    "Choose another method for this joint.",
                )
    return tally.finding()


_CORNER: Final = (12.0, 18.0)
"""End and gap of two fastenings at a drawer's corner that has no room for two by their method (docs/conventions.md)."""


def _at_a_low_corner(joint: Joint, rules: StationRules) -> StationRules:
    """Return the rules of a joint: two at a drawer's corner may stand nearer where it is too low for their method.

    So may two that had to be moved, clear of the groove for the bottom.
    """
    is_low = joint.length < 2 * rules.end_min + rules.gap_min
    is_moved = len(joint.stations) == 2 and bool(joint.moved_stations)
    if joint.kind is not JointKind.DRAWER_BOX or not (is_low or is_moved) or len(joint.stations) < 2:
        return rules
    end, gap = _CORNER
    return replace(rules, end_min=min(end, rules.end_min), gap_min=min(gap, rules.gap_min))


def _spare(joint: Joint, rules: StationRules) -> float:
    """Return the least room beyond the least end and the least gap, negative where one is not kept."""
    places = sorted(joint.stations)
    if not places:
        return -rules.end_min
    if len(places) == 1 and rules.single:
        return min(places[0], joint.length - places[0])  # one in the middle has no end to keep but the joint's own
    ends = (places[0] - rules.end_min, joint.length - places[-1] - rules.end_min)
    gaps = (b - a - rules.gap_min for a, b in pairwise(places))
    return min(*ends, *gaps)


def connectors_add_up(details: Details, views: Sequence[CaseView]) -> Finding:
    """Return whether what the case's list says it uses up is what its joints' stations use up, item by item."""
    tally = Tally(
        claim=Claim.CONNECTORS,
        subject="kinds of connector",
        holds="add up to what the joints use",
        fails="do not add up",
        one="kind of connector adds up to what the joints use",
        code="proof-connectors",
    )
    for view in views:
        used: Counter[tuple[str, str]] = Counter()
        for joint in view.case.joints:
            used.update(_used_by(view, joint, details.method(joint.method)))
        listed = Counter({(c.method, c.item): c.count for c in view.case.connectors})
        for method, item in sorted({*used, *listed}):
            wanted, told = used[method, item], listed[method, item]
            tally.see()
            if wanted != told:
                tally.tell(
                    view.case.built.case.field,
                    f"{told} {item} in the list of case {view.code}",
                    f"{wanted}, as its joints use",
                    OUR_SLIP,
                )
    return tally.finding()


def _used_by(view: CaseView, joint: Joint, method: Method) -> Counter[tuple[str, str]]:
    thinner = min(view.panels[joint.receiving].thickness, view.panels[joint.entering].thickness)
    size = method.size_for(thinner)
    used: Counter[tuple[str, str]] = Counter()
    for consumed in size.consumes if size else ():
        used[method.code, consumed.item] += consumed.each * len(joint.stations) + consumed.per_joint
    return used
