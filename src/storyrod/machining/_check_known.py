"""What the check of a work plan knows: details, marks and operations by their ids, and where a cut lies from a stop."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from storyrod.measure.space import PanelAxis
from storyrod.model.detail import Details
from storyrod.model.feature import Feature, FeatureId, Keyhole
from storyrod.model.machining import JigPlan, Operation, SetUp, WorkPlan
from storyrod.model.mark import Mark, SetOut
from storyrod.model.panel import Panel, Surface
from storyrod.model.workshop import Jig


def stop_of(operation: Operation) -> Surface:
    """Return the surface that a jig's stop meets; the datum end, from which all is counted, where it has none."""
    return Surface(operation.stop) if operation.stop else Surface.DATUM_END


class Known:
    """A work plan with all that it is held against."""

    def __init__(self, plan: WorkPlan, details: Details, set_out: SetOut, owned: Sequence[Jig] = ()) -> None:
        self.plan = plan
        self.owned = {j.code: j for j in owned}
        self.told = details.job.lengths.told
        self.features: dict[FeatureId, Feature] = {f.id: f for c in details.cases for f in c.features}
        self.copies = {f.id: c.built.case.count for c in details.cases for f in c.features}
        self.panels: dict[str, Panel] = {str(p.id): p for c in details.cases for p in c.panels}
        self.marks: dict[FeatureId, Mark] = {m.feature.id: m for c in set_out.cases for p in c.panels for m in p.marks}
        screwed = {m.code for m in details.methods if m.held_by_screws}
        fitted = {str(j.id) for c in details.cases for j in c.joints if j.method not in screwed}
        self.located = {f.id for f in self.features.values() if f.mate is not None and f.joint in fitted}
        self.jigs: Mapping[str, JigPlan] = {j.id: j for j in plan.jigs}
        self.position = {s.set_up: n for n, s in enumerate(plan.run.steps)}
        self.made_in = {f: s.id for s in plan.set_ups for o in s.operations for f in o.features}

    def jigged(self) -> Iterator[tuple[SetUp, Operation, JigPlan]]:
        for set_up in self.plan.set_ups:
            if set_up.setting is not None and set_up.setting.jig:
                for operation in set_up.operations:
                    yield set_up, operation, self.jigs[set_up.setting.jig]

    def from_stop(self, operation: Operation, feature: FeatureId) -> float:
        """Return how far a mark lies from the surface that the stop meets."""
        mark, panel = self.marks[feature], self.panels[str(operation.panel)]
        stop = stop_of(operation)
        at, extent = (mark.v, panel.width) if stop.axis is PanelAxis.V else (mark.u, panel.length)
        return extent - at if stop.is_far else at

    def shift(self, operation: Operation, feature: FeatureId) -> float:
        """Return how far a keyhole's lock centre lies from the middle of its run, away from the stop."""
        shape = self.features[feature].shape
        stop = stop_of(operation)
        if not isinstance(shape, Keyhole) or shape.run is not stop.axis:
            return 0.0
        return shape.lock_sign * shape.travel / 2 * (-1 if stop.is_far else 1)
