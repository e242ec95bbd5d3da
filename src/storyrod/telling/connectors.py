"""Connectors counted over the whole job."""

from __future__ import annotations

from collections import Counter

from storyrod.planning import Plan


def connectors_by_method(plan: Plan) -> Counter[str]:
    """Return how many stations each method has in the whole job, all copies of a case counted."""
    counts: Counter[str] = Counter()
    for case in plan.details.cases:
        for joint in case.joints:
            if joint.stations:
                counts[joint.method] += len(joint.stations) * case.built.case.count
    return counts


def connector_items(plan: Plan) -> Counter[str]:
    """Return how many of each connector the whole job uses up."""
    counts: Counter[str] = Counter()
    for case in plan.details.cases:
        for used in case.connectors:
            counts[used.item] += used.count * case.built.case.count
    return counts
