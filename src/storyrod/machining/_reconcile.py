"""Reconciliation: every half that is wanted is planned once, and none is missing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from storyrod.faults import Fault, raise_if_any
from storyrod.model.detail import Details
from storyrod.model.machining import Count, Reconciliation, SetUp


def reconcile(details: Details, set_ups: Sequence[SetUp]) -> Reconciliation:
    """Return halves wanted and planned, per panel, joint and set-up, over the whole batch."""
    planned_panel: Counter[str] = Counter()
    planned_joint: Counter[str] = Counter()
    for set_up in set_ups:
        for o in set_up.operations:
            if o.features:
                planned_panel[str(o.panel)] += o.copies * len(o.features)
                if o.joint is not None:
                    planned_joint[str(o.joint)] += o.copies * len(o.features)
    wanted_panel: Counter[str] = Counter()
    wanted_joint: Counter[str] = Counter()
    panels: list[Count] = []
    joints: list[Count] = []
    for case in details.cases:
        copies = case.built.case.count
        for feature in case.features:
            wanted_panel[str(feature.panel)] += copies
            if feature.joint:
                wanted_joint[feature.joint] += copies
        for panel in case.panels:
            key = str(panel.id)
            name = f"{panel.mark} {panel.name}"
            panels.append(Count(about=key, name=name, wanted=wanted_panel[key], planned=planned_panel[key]))
        for joint in case.joints:
            key = str(joint.id)
            name = f"{joint.case} {joint.number}"
            joints.append(Count(about=key, name=name, wanted=wanted_joint[key], planned=planned_joint[key]))
    machine = [s for s in set_ups if s.is_cut]
    counts = tuple(
        Count(
            about=s.id,
            name=s.title,
            wanted=sum(o.copies * (len(o.features) or len(o.finishes)) for o in s.operations),
            planned=s.cuts,
        )
        for s in machine
    )
    return Reconciliation(
        panels=tuple(c for c in panels if c.wanted or c.planned),
        joints=tuple(c for c in joints if c.wanted or c.planned),
        set_ups=counts,
    )


def refuse_missing(reconciliation: Reconciliation) -> None:
    """Raise a fault for every half that is missing or made twice: such a plan may not be printed."""
    raise_if_any(
        Fault(
            code="half-missing",
            field="run",
            found=f"{c.planned} cuts planned for {c.name}",
            allowed=f"{c.wanted}, as the set-out has them",
            do="Do not cut: this is a mistake in storyrod, not in your job. Report it with the job file.",
        )
        for c in (*reconciliation.panels, *reconciliation.joints, *reconciliation.set_ups)
        if not c.agrees
    )
