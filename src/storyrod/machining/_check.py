"""An independent check of a work plan: it shares no code with the search, and reads only the model.

Everything is counted and worked out again from the details, the marks and what the plan says of itself.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise

from storyrod.faults import Fault
from storyrod.machining._check_feed import channel_faults, round_faults
from storyrod.machining._check_jigs import MARK_WITHIN, JigsChecked
from storyrod.model.detail import Details
from storyrod.model.feature import Channel, Feature, Hole
from storyrod.model.machining import RunCheck, SetUp, WorkPlan, WorkStage
from storyrod.model.mark import SetOut
from storyrod.model.workshop import Jig, Registration

PACKER_WITHIN = 0.1
LOOSE_WITHIN = 0.5
"""Where no fit hangs on a cut, as for screws."""

LEFT_OUT = 0.3
"""A packer thinner than this may be left out where both halves of a joint shift alike."""

_STAGES = {stage: number for number, stage in enumerate(WorkStage)}


def check_run(plan: WorkPlan, details: Details, set_out: SetOut, owned: Sequence[Jig] = ()) -> RunCheck:
    """Return what holds of a work plan and what does not, each claim counted.

    `owned` are the jigs of the workshop, against which those are held that the plan says are owned.
    """
    return _Check(plan, details, set_out, owned).report()


class _Check(JigsChecked):
    def __init__(self, plan: WorkPlan, details: Details, set_out: SetOut, owned: Sequence[Jig] = ()) -> None:
        super().__init__(plan, details, set_out, owned)
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
            ("set-up is once in the run", "set-ups are each once in the run", self._set_ups_once),
            ("pair keeps its order", "pairs keep their order", self._precedence),
            (
                f"cut is made within {mark} of its mark by the stations of a jig",
                f"cuts are made within {mark} of their marks by the stations of a jig",
                self.stations,
            ),
            (
                "jig to be made leaves board between its openings",
                "jigs to be made leave board between their openings",
                self.webs,
            ),
            (
                "placing with a jig has the base on its template and clamps beyond it",
                "placings with a jig have the base on its template and clamps beyond it",
                self.holds,
            ),
            (
                "jig that is owned is no larger than the workshop file says",
                "jigs that are owned are no larger than the workshop file says",
                self.owned_jigs,
            ),
            (
                f"packer makes up the difference within {near}, or {loose} for screws",
                f"packers make up the difference within {near}, or {loose} for screws",
                self._packers,
            ),
            (
                "template, bush or plunge agrees with the cuts",
                "templates, bushes and plunges agree with the cuts",
                self.openings,
            ),
            ("placing with a jig lies the right way round", "placings with a jig lie the right way round", self.hands),
            ("count agrees with the details", "counts agree with the details", self._counts),
            (
                "placing with a jig finds its fence and stops on the right face",
                "placings with a jig find its fence and stops on the right face",
                self.turnings,
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
            yield f"{unknown} is made but nothing asks for it"
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
            yield None if times == 1 else f"set-up {set_up.id} is {times} times in the run"
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

    def _packers(self) -> Iterator[str | None]:
        for set_up in self.plan.set_ups:
            s = set_up.setting
            if s is None or s.packer is None or s.reference_to_centre is None or s.wanted is None:
                continue
            off = abs(abs(s.reference_to_centre - s.wanted) - s.packer.made)
            located = any(f in self.located for o in set_up.operations for f in o.features)
            allowed = PACKER_WITHIN if located else LOOSE_WITHIN
            if located and allowed < off < LEFT_OUT + 1e-9 and s.packer.made == 0 and self._mates_shift_alike(set_up):
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


def _fault(words: str) -> Fault:
    return Fault(
        code="run-check",
        field="run",
        found=words,
        allowed="a plan that its own check finds right",
        do="Do not cut: this is a mistake in storyrod, not in your job. Report it with the job file.",
    )
