"""An independent check of a work plan: it shares no code with the search, and reads only the model.

Everything is counted and worked out again from the details, the marks and what the plan says of itself.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from itertools import pairwise

from storyrod.faults import Fault
from storyrod.machining._check_feed import channel_faults, round_faults
from storyrod.machining._check_holds import held_wrong
from storyrod.measure.space import PanelAxis
from storyrod.model.detail import Details
from storyrod.model.feature import Channel, CutOut, Feature, FeatureId, Hole, Keyhole, Slot
from storyrod.model.machining import Area, Hand, JigKind, JigPlan, Operation, RunCheck, SetUp, WorkPlan, WorkStage
from storyrod.model.mark import Mark, SetOut
from storyrod.model.panel import Panel, Surface
from storyrod.model.workshop import Registration
from storyrod.trade.bush import corner_of_cut, cut_from_opening

MARK_WITHIN = 0.05
PACKER_WITHIN = 0.1
LOOSE_WITHIN = 0.5
"""Where no fit hangs on a cut, as for screws."""

LEFT_OUT = 0.3
"""A packer thinner than this may be left out where both halves of a joint shift alike."""

BETWEEN_OPENINGS = 3.0
"""Board that is left between two openings of a jig."""

_FAR = frozenset({Surface.FAR_FACE, Surface.FAR_EDGE, Surface.FAR_END})
"""Surfaces from which places are counted back to the datum."""

_STAGES = {stage: number for number, stage in enumerate(WorkStage)}


def check_run(plan: WorkPlan, details: Details, set_out: SetOut) -> RunCheck:
    """Return what holds of a work plan and what does not, each claim counted."""
    return _Check(plan, details, set_out).report()


def _stop_of(operation: Operation) -> Surface:
    """Return the surface that a jig's stop meets; the datum end, from which all is counted, where it has none."""
    return Surface(operation.stop) if operation.stop else Surface.DATUM_END


class _Check:
    def __init__(self, plan: WorkPlan, details: Details, set_out: SetOut) -> None:
        self.plan = plan
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
        self.held: list[str] = []
        self.faults: list[Fault] = []

    def report(self) -> RunCheck:
        """Run every check."""
        mark, near, loose = (self.told(mm) for mm in (MARK_WITHIN, PACKER_WITHIN, LOOSE_WITHIN))
        checks: tuple[tuple[str, str, Callable[[], Iterator[str | None]]], ...] = (
            ("cut is in exactly one operation", "cuts are each in exactly one operation", self._features_once),
            (
                "countersink is finished once, after its hole",
                "countersinks are each finished once, after their holes",
                self._finished,
            ),
            ("set-up stands once in the run", "set-ups stand once in the run", self._set_ups_once),
            ("pair keeps its order", "pairs keep their order", self._precedence),
            (
                f"cut is made within {mark} of its mark by the stations of a jig",
                f"cuts are made within {mark} of their marks by the stations of a jig",
                self._stations,
            ),
            (
                "jig to be made leaves board between its openings",
                "jigs to be made leave board between their openings",
                self._webs,
            ),
            (
                "placing with a jig has the base on its template and clamps beyond it",
                "placings with a jig have the base on its template and clamps beyond it",
                self._holds,
            ),
            (
                f"packer makes up the difference within {near}, or {loose} for screws",
                f"packers make up the difference within {near}, or {loose} for screws",
                self._packers,
            ),
            (
                "template, bush or plunge agrees with the cuts",
                "templates, bushes and plunges agree with the cuts",
                self._openings,
            ),
            ("placing with a jig lies the right way round", "placings with a jig lie the right way round", self._hands),
            ("count agrees with the details", "counts agree with the details", self._counts),
            (
                "placing with a jig finds its fence and stops on the right face",
                "placings with a jig find its fence and stops on the right face",
                self._turnings,
            ),
            (
                "feed runs against the rotation, drawn to its guide",
                "feeds run against the rotation, drawn to their guides",
                self._feeds,
            ),
            ("step adds up to the run's minutes", "steps add up to the run's minutes", self._minutes),
        )
        idle: list[str] = []
        for one, many, check in checks:
            found = list(check())
            wrong = [f for f in found if f is not None]
            self.faults.extend(_fault(w) for w in wrong)
            if not wrong:
                self.held.append(f"{len(found)} {one if len(found) == 1 else many}.")
                idle += self.held[-1:] if not found else []
        return RunCheck(held=tuple(self.held), faults=tuple(self.faults), idle=tuple(idle))

    def _features_once(self) -> Iterator[str | None]:
        seen = Counter(f for o in self.plan.operations for f in o.features)
        for feature in self.features.values():
            times = seen.pop(feature.id, 0)
            yield None if times == 1 else f"{feature.id} is made {times} times"
        for unknown in seen:
            yield f"{unknown} is made but not wanted"
        ids = Counter(o.id for o in self.plan.operations)
        for operation, times in ids.items():
            if times != 1:
                yield f"operation {operation} stands in {times} set-ups"

    def _finished(self) -> Iterator[str | None]:
        finishing = Counter(f for o in self.plan.operations for f in o.finishes)
        when = {f: s.id for s in self.plan.set_ups for o in s.operations for f in o.finishes}
        for feature in self.features.values():
            if isinstance(feature.shape, Hole) and feature.shape.countersink is not None:
                if finishing.pop(feature.id, 0) != 1:
                    yield f"{feature.id} is not countersunk once"
                elif self.position[when[feature.id]] <= self.position[self.made_in[feature.id]]:
                    yield f"{feature.id} is countersunk before it is drilled"
                else:
                    yield None
        for unknown in finishing:
            yield f"{unknown} is countersunk but should not be"

    def _set_ups_once(self) -> Iterator[str | None]:
        steps = Counter(s.set_up for s in self.plan.run.steps)
        for set_up in self.plan.set_ups:
            times = steps.pop(set_up.id, 0)
            yield None if times == 1 else f"set-up {set_up.id} stands {times} times in the run"
        for unknown in steps:
            yield f"the run has {unknown}, which is no set-up"

    def _precedence(self) -> Iterator[str | None]:
        stages = [_STAGES[self.plan.set_up(s.set_up).stage] for s in self.plan.run.steps]
        for a, b in pairwise(stages):
            yield None if a <= b else "a later stage of the work comes before an earlier one"
        channels: dict[str, list[int]] = {}
        bores: dict[str, list[int]] = {}
        for feature in self.features.values():
            at = self.position.get(self.made_in.get(feature.id, ""), -1)
            which = channels if isinstance(feature.shape, Channel) else bores if _is_bore(feature) else None
            if which is not None:
                which.setdefault(str(feature.panel), []).append(at)
        for panel, first in channels.items():
            if panel in bores:
                yield None if max(first) < min(bores[panel]) else f"{panel}: bored before its grooves are cut"
        for set_up in self.plan.set_ups:
            if set_up.setting and set_up.setting.registration is Registration.MATE:
                late = set_up.stage is WorkStage.IN_PLACE
                yield None if late else f"{set_up.id} is drilled through a mate before the assembly holds it in place"
                yield from self._after_mates(set_up)

    def _after_mates(self, set_up: SetUp) -> Iterator[str | None]:
        for operation in set_up.operations:
            for feature in operation.features:
                mate = self.features[feature].mate
                ready = mate is not None and self.position[self.made_in[mate]] < self.position[set_up.id]
                yield None if ready else f"{feature} is drilled through a mate that has no hole yet"

    def _stations(self) -> Iterator[str | None]:
        for set_up, operation, jig in self._jigged():
            if jig.kind is JigKind.TEMPLATE:
                continue
            for feature in operation.features:
                place = self._from_stop(operation, feature)
                centre = place - operation.stop_offset - self._shift(operation, feature)
                off = min(abs(centre - s) for s in jig.stations)
                yield None if off <= MARK_WITHIN else f"{set_up.id}: {jig.id} misses {feature} by {self.told(off)}"

    def _webs(self) -> Iterator[str | None]:
        for jig in self.plan.jigs:
            if jig.owned:
                continue
            least = min((b - a for a, b in pairwise(jig.stations)), default=math.inf)
            clear = least - jig.opening[0] >= BETWEEN_OPENINGS - 1e-6
            yield (
                None
                if clear
                else f"{jig.id}: two of its openings stand {self.told(least)} apart and run into each other"
            )

    def _holds(self) -> Iterator[str | None]:
        for set_up, operation, jig in self._jigged():
            if jig.owned or set_up.setting is None:
                continue
            is_template = jig.kind is JigKind.TEMPLATE
            centres = [
                self._from_stop(operation, f) - operation.stop_offset - self._shift(operation, f)
                for f in operation.features
                if not is_template
            ]
            wrong = held_wrong(jig, operation, set_up.setting, centres or [0.0], self._part_under(operation, jig))
            yield None if wrong is None else f"{set_up.id}: {operation.id} with {jig.id}: {wrong}"

    def _part_under(self, o: Operation, jig: JigPlan) -> Area:
        """Return what the part takes up in the frame of a jig, from its marks and its size alone."""
        panel, mark = self.panels[str(o.panel)], self.marks[o.features[0]]
        assert o.surface is not None  # noqa: S101  # what a jig is clamped to has one
        if jig.kind is JigKind.TEMPLATE:
            shape = self.features[o.features[0]].shape
            assert isinstance(shape, CutOut)  # noqa: S101  # only cut-outs have one
            along, across = (mark.u, mark.v) if shape.run.value == "u" else (mark.v, mark.u)
            long, wide = (panel.length, panel.width) if shape.run.value == "u" else (panel.width, panel.length)
            return Area(left=-along, right=long - along, near=-across, far=wide - across)
        is_across_u = "edge" in o.stop
        run = panel.width if is_across_u else panel.length
        if o.surface.axis.value != "w":
            at, extent, low, high = mark.w, panel.thickness, Surface.FACE, Surface.FAR_FACE
        elif is_across_u:
            at, extent, low, high = mark.u, panel.length, Surface.DATUM_END, Surface.FAR_END
        else:
            at, extent, low, high = mark.v, panel.width, Surface.FACE_EDGE, Surface.FAR_EDGE
        toward_high = o.reference == high if o.reference in (low, high) else (o.line_at or 0.0) > at
        above = extent - at if toward_high else at
        left = -o.stop_offset
        return Area(left=left, right=left + run, near=above - extent, far=above)

    def _jigged(self) -> Iterator[tuple[SetUp, Operation, JigPlan]]:
        for set_up in self.plan.set_ups:
            if set_up.setting is not None and set_up.setting.jig:
                for operation in set_up.operations:
                    yield set_up, operation, self.jigs[set_up.setting.jig]

    def _from_stop(self, operation: Operation, feature: FeatureId) -> float:
        """Return how far a mark lies from the surface that the stop meets."""
        mark, panel = self.marks[feature], self.panels[str(operation.panel)]
        stop = _stop_of(operation)
        at, extent = (mark.v, panel.width) if stop.axis is PanelAxis.V else (mark.u, panel.length)
        return extent - at if stop in _FAR else at

    def _shift(self, operation: Operation, feature: FeatureId) -> float:
        """Return how far a keyhole's lock centre lies from the middle of its run, away from the stop."""
        shape = self.features[feature].shape
        stop = _stop_of(operation)
        if not isinstance(shape, Keyhole) or shape.run is not stop.axis:
            return 0.0
        return shape.lock_sign * shape.travel / 2 * (-1 if stop in _FAR else 1)

    def _packers(self) -> Iterator[str | None]:
        for set_up in self.plan.set_ups:
            s = set_up.setting
            if s is None or s.packer is None or s.reference_to_centre is None or s.wanted is None:
                continue
            off = abs(abs(s.reference_to_centre - s.wanted) - s.packer.made)
            located = any(f in self.located for o in set_up.operations for f in o.features)
            allowed = PACKER_WITHIN if located else LOOSE_WITHIN
            if located and allowed < off < LEFT_OUT and s.packer.made == 0 and self._mates_shift_alike(set_up):
                allowed = LEFT_OUT
            yield None if off <= allowed + 1e-6 else f"{set_up.id}: its packer is {self.told(off)} off"

    def _mates_shift_alike(self, set_up: SetUp) -> bool:
        """Return whether every mate of a set-up's cuts is off by the same, with the same tool."""
        settings = {s.id: s.setting for s in self.plan.set_ups}
        mine = set_up.setting
        for feature in (f for o in set_up.operations for f in o.features if f in self.located):
            mate = self.features[feature].mate
            other = settings[self.made_in[mate]] if mate is not None else None
            if mine is None or other is None or other.tool != mine.tool or other.packer is None:
                return False
            off = (mine.reference_to_centre or 0.0) - (mine.wanted or 0.0)
            others = (other.reference_to_centre or 0.0) - (other.wanted or 0.0)
            if other.packer.made != 0 or abs(off - others) > 0.01:
                return False
        return True

    def _openings(self) -> Iterator[str | None]:
        for set_up, operation, jig in self._jigged():
            s = set_up.setting
            assert s is not None  # noqa: S101  # `_jigged` yields none without
            shape = self.features[operation.features[0]].shape
            bush, cutter = s.bush or s.cutter_diameter, s.cutter_diameter
            cut = sorted(cut_from_opening(o, bush, cutter) for o in jig.opening)
            if isinstance(shape, Hole):
                right = _alike(cut, (shape.diameter, shape.diameter))
            elif isinstance(shape, Slot):
                right = _alike(cut, (shape.width, shape.length))
            elif isinstance(shape, CutOut) and shape.outline == "scoop" and shape.corner and not jig.owned:
                right = abs(corner_of_cut(jig.corner, bush, cutter) - shape.corner) < 1e-6
            else:
                right = s.bush is None or min(jig.opening) >= s.bush - 1e-6
            right = right and abs(s.plunge - s.guide - shape.depth) < 1e-3 and (s.bush or 1e9) > s.cutter_diameter
            yield None if right else f"{set_up.id}: opening, bush or plunge do not make {operation.features[0]}"

    def _hands(self) -> Iterator[str | None]:
        for set_up, operation, jig in self._jigged():
            if jig.kind is JigKind.TEMPLATE or operation.surface is None:
                continue
            sign = self._turn_of(operation)
            if sign is None:
                continue
            right = (sign > 0) == (operation.hand is Hand.AS_DRAWN)
            yield None if right else f"{set_up.id}: {operation.id} would be cut mirrored"

    def _turnings(self) -> Iterator[str | None]:
        """Follow each jig through the run: made as drawn, changed over whenever a placing wants it the other way."""
        lies: dict[str, Hand] = {}
        each: set[float] = set()
        for step in self.plan.run.steps:
            set_up = self.plan.set_up(step.set_up)
            times = 0
            for operation in set_up.operations:
                jig = self.jigs.get(set_up.setting.jig) if set_up.setting else None
                if jig is None or jig.kind is JigKind.TEMPLATE:
                    continue
                times += operation.hand is not lies.get(jig.id, Hand.AS_DRAWN)
                lies[jig.id] = operation.hand
                yield None
            if times != set_up.turns:
                yield f"{set_up.id}: its jig is changed over {times} times, the card says {set_up.turns}"
            if times:
                each.add(round(step.turn_min / times, 6))
            elif step.turn_min:
                yield f"{set_up.id}: minutes for a jig that is not changed over"
        if len(each) > 1:
            yield "changing a jig over takes unlike minutes in one run"

    def _feeds(self) -> Iterator[str | None]:
        for set_up in self.plan.set_ups:
            if set_up.setting is None:
                continue
            for wrong in round_faults(set_up.setting):
                yield wrong and f"{set_up.id}: {wrong}"
            shapes = {f: self.features[f].shape for o in set_up.operations for f in o.features}
            for feature, shape in shapes.items():
                if isinstance(shape, Channel):
                    for wrong in channel_faults(set_up.setting, shape):
                        yield wrong and f"{set_up.id}, {feature}: {wrong}"

    def _turn_of(self, o: Operation) -> float | None:
        """Return the sense of (away from the stop, to the reference, out of the work), or None where it is a line
        whose side the plan does not tell by a surface.
        """
        panel = self.panels[str(o.panel)]
        stop = _outward(panel, Surface(o.stop))
        out = _outward(panel, o.surface) if o.surface is not None else (0, 0, 0)
        if o.reference in set(Surface):
            toward = _outward(panel, Surface(o.reference))
        elif o.line_at is not None:
            mark = self.marks[o.features[0]]
            across_u = "edge" in o.stop
            at = mark.u if across_u else mark.v
            high = Surface.FAR_END if across_u else Surface.FAR_EDGE
            toward = _outward(panel, high if o.line_at > at else high.opposite)
        else:
            return None
        x = tuple(-c for c in stop)
        return (
            x[0] * (toward[1] * out[2] - toward[2] * out[1])
            - x[1] * (toward[0] * out[2] - toward[2] * out[0])
            + x[2] * (toward[0] * out[1] - toward[1] * out[0])
        )

    def _counts(self) -> Iterator[str | None]:
        wanted: Counter[str] = Counter()
        for feature in self.features.values():
            wanted[str(feature.panel)] += self.copies[feature.id]
        told = {c.about: c for c in self.plan.reconciliation.panels}
        for panel, count in wanted.items():
            right = panel in told and told[panel].wanted == told[panel].planned == count
            yield None if right else f"{panel}: {count} cuts wanted, the count sheet says otherwise"

    def _minutes(self) -> Iterator[str | None]:
        steps = self.plan.run.steps
        changes = sum(s.change_min + s.trial_min for s in steps)
        yield None if abs(changes - self.plan.run.changes_min) < 0.02 * len(steps) else "the changes do not add up"
        right = self.plan.run.bound_min <= self.plan.run.changes_min + 1e-6
        yield None if right else "the bound lies above what was found"
        for step in steps:
            work = sum(o.minutes for o in self.plan.set_up(step.set_up).operations)
            right = abs(step.place_min + step.cut_min - work) < 1e-6
            yield None if right else f"{step.set_up}: its minutes do not add up"


def _is_bore(feature: Feature) -> bool:
    return feature.kind in ("hole", "slot", "keyhole", "segment pocket", "undercut slot", "angled pocket")


def _alike(found: Iterable[float], wanted: Iterable[float]) -> bool:
    return all(abs(f - w) < 1e-6 for f, w in zip(found, wanted, strict=True))


def _outward(panel: Panel, surface: Surface) -> tuple[int, int, int]:
    way = panel.frame.direction(surface.axis)
    sign = way.sign if surface.is_far else -way.sign
    return (
        sign if way.nth == 0 else 0,
        sign if way.nth == 1 else 0,
        sign if way.nth == 2 else 0,
    )


def _fault(words: str) -> Fault:
    return Fault(
        code="run-check",
        field="run",
        found=words,
        allowed="a plan that its own check finds right",
        do="Do not cut: this is a fault of the plan. Report it with the job file.",
    )
