"""What is checked of jigs: stations, openings, how they are held, and which way round they lie."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from itertools import pairwise

from storyrod.machining._check_holds import held_wrong, owned_wrong
from storyrod.machining._check_known import Known, stop_of
from storyrod.measure.space import PanelAxis
from storyrod.model.feature import CutOut, Hole, Slot
from storyrod.model.machining import Area, Hand, JigKind, JigPlan, Operation
from storyrod.model.panel import Panel, Surface
from storyrod.trade.bush import corner_of_cut, cut_from_opening

MARK_WITHIN = 0.05

BETWEEN_OPENINGS = 3.0
"""Board that is left between two openings of a jig."""


class JigsChecked(Known):
    """A work plan whose jigs are checked: each check yields None for what is right, else what is wrong."""

    def stations(self) -> Iterator[str | None]:
        for set_up, operation, jig in self.jigged():
            if jig.kind is JigKind.TEMPLATE:
                continue
            for feature in operation.features:
                place = self.from_stop(operation, feature)
                centre = place - operation.stop_offset - self.shift(operation, feature)
                off = min(abs(centre - s) for s in jig.stations)
                yield None if off <= MARK_WITHIN else f"{set_up.id}: {jig.id} misses {feature} by {self.told(off)}"

    def webs(self) -> Iterator[str | None]:
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

    def holds(self) -> Iterator[str | None]:
        for set_up, operation, jig in self.jigged():
            if set_up.setting is None:
                continue
            is_template = jig.kind is JigKind.TEMPLATE
            centres = [
                self.from_stop(operation, f) - operation.stop_offset - self.shift(operation, f)
                for f in operation.features
                if not is_template
            ]
            wrong = held_wrong(jig, operation, set_up.setting, centres or [0.0], self._part_under(operation, jig))
            yield None if wrong is None else f"{set_up.id}: {operation.id} with {jig.id}: {wrong}"

    def owned_jigs(self) -> Iterator[str | None]:
        """Hold each owned jig against the one that the workshop file describes: openings, and board on every side."""
        for jig in self.plan.jigs:
            if jig.owned:
                wrong = owned_wrong(jig, self.owned.get(jig.owned))
                yield None if wrong is None else f"{jig.id}: {wrong}"

    def _part_under(self, o: Operation, jig: JigPlan) -> Area:
        """Return what the part takes up in the frame of a jig, from its marks and its size alone."""
        panel, mark = self.panels[str(o.panel)], self.marks[o.features[0]]
        assert o.surface is not None  # noqa: S101  # what a jig is clamped to has one
        if jig.kind is JigKind.TEMPLATE:
            shape = self.features[o.features[0]].shape
            assert isinstance(shape, CutOut)  # noqa: S101  # only cut-outs have one
            along, across = (mark.u, mark.v) if shape.run is PanelAxis.U else (mark.v, mark.u)
            long, wide = (panel.length, panel.width) if shape.run is PanelAxis.U else (panel.width, panel.length)
            return Area(left=-along, right=long - along, near=-across, far=wide - across)
        is_across_u = stop_of(o).axis is PanelAxis.V
        run = panel.width if is_across_u else panel.length
        if o.surface.axis is not PanelAxis.W:
            at, extent, low, high = mark.w, panel.thickness, Surface.FACE, Surface.FAR_FACE
        elif is_across_u:
            at, extent, low, high = mark.u, panel.length, Surface.DATUM_END, Surface.FAR_END
        else:
            at, extent, low, high = mark.v, panel.width, Surface.FACE_EDGE, Surface.FAR_EDGE
        toward_high = o.reference == high if o.reference in (low, high) else (o.line_at or 0.0) > at
        above = extent - at if toward_high else at
        left = -o.stop_offset
        return Area(left=left, right=left + run, near=above - extent, far=above)

    def openings(self) -> Iterator[str | None]:
        for set_up, operation, jig in self.jigged():
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

    def hands(self) -> Iterator[str | None]:
        for set_up, operation, jig in self.jigged():
            if jig.kind is JigKind.TEMPLATE or operation.surface is None:
                continue
            sign = self._turn_of(operation)
            if sign is None:
                continue
            right = (sign > 0) == (operation.hand is Hand.AS_DRAWN)
            yield None if right else f"{set_up.id}: {operation.id} would be cut mirrored"

    def turnings(self) -> Iterator[str | None]:
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

    def _turn_of(self, o: Operation) -> float | None:
        """Return the sense of (away from the stop, to the reference, out of the work), or None where it is a line
        whose side the plan does not tell by a surface.
        """
        panel = self.panels[str(o.panel)]
        stop = _outward(panel, stop_of(o))
        out = _outward(panel, o.surface) if o.surface is not None else (0, 0, 0)
        if o.reference in set(Surface):
            toward = _outward(panel, Surface(o.reference))
        elif o.line_at is not None:
            mark = self.marks[o.features[0]]
            across_u = stop_of(o).axis is PanelAxis.V
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
