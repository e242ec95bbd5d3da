"""What is to be done for a batch, read off the details: the ledger's own list, whatever comes from other stages.

Without a run of set-ups from machining, cutting the joints is reckoned by the figures of each method; with one, by
its operations (`_work_run`). Everything before and after the machines is the same in both.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from storyrod.ledger._cutting import Cutting
from storyrod.ledger._fittings import Fittings
from storyrod.ledger._stages import (
    edge_length,
    finished_m2,
    is_bare,
    is_drawer,
    size_of,
    stage_of_joint,
    stage_of_panel,
)
from storyrod.ledger._times import Times
from storyrod.ledger._ways import marks_needed, needs_jig, tools_of
from storyrod.ledger._work_run import RunItems
from storyrod.measure.length import Unit
from storyrod.model.act import Act
from storyrod.model.detail import DetailedCase, Details
from storyrod.model.joint import Joint, JointKind
from storyrod.model.machining import WorkPlan
from storyrod.model.method import Method
from storyrod.model.panel import Panel, Role
from storyrod.model.sheet import CuttingPlan
from storyrod.model.work import Minutes, Stage, Work, WorkItem
from storyrod.model.workshop import Workshop
from storyrod.trade.sold import commonest

USED_OF_SHEET: Final = 0.82
"""Share of a sheet that ends up in parts, where no layout is known: 15 to 20 % is waste (a woodworking knowledge base
on job estimating)."""

JIG_STATIONS: Final = 3
JIG_M2: Final = 0.12
"""Stations and board of one jig, where none was worked out: three on 600 x 200; common practice, no source."""


def list_work(
    details: Details, workshop: Workshop, *, run: WorkPlan | None = None, sheets: CuttingPlan | None = None
) -> Work:
    """Return everything to be done for the whole batch, act by act.

    With `run`, machining's own operations and set-ups are taken; without it, the minutes of each method's figures.
    With `sheets`, as many sheets are broken down as the layout has; without it, as the area wants.
    """
    return _Lister(details, workshop, run, sheets).work()


class _Lister:
    def __init__(self, details: Details, workshop: Workshop, run: WorkPlan | None, sheets: CuttingPlan | None) -> None:
        self.details, self.workshop, self.run, self.sheets = details, workshop, run, sheets
        self.times = Times(workshop)
        self.methods = {m.code: m for m in details.methods}
        self.names: dict[str, str] = {}
        self.covered = _stages_of(run)

    def work(self) -> Work:
        items = [*self._sawing(), *self._edging(), *self._marking(), *self._machining()]
        for case in self.details.cases:
            items += self._assembling(case)
            items += self._finishing(case)
        order = list(Stage)
        return Work(
            items=tuple(sorted((i for i in items if i.times > 0), key=lambda i: order.index(i.stage))),
            copies=tuple((c.built.case.code, c.built.case.count) for c in self.details.cases),
            source="the run of set-ups" if self.run is not None else "the figures of each method",
            **self._jigs(),  # type: ignore[arg-type]
            tools=self._tools(),
            set_up_names=tuple(self.names.items()),
            panel_names=tuple((str(p.id), f"{p.mark} {p.name}") for c in self.details.cases for p in c.panels),
        )

    def _item(self, act: str, stage: Stage, case: DetailedCase | None = None, **more: object) -> WorkItem:
        each = more.pop("each", None) or self.times.of(act)
        code, copies = (case.built.case.code, case.built.case.count) if case else ("", 1)
        return WorkItem(act=act, stage=stage, each=each, case=code, copies=copies, **more)  # type: ignore[arg-type]

    def _panels(self) -> Iterator[tuple[DetailedCase, Panel]]:
        for case in self.details.cases:
            for panel in case.panels:
                yield case, panel

    def _sawing(self) -> Iterator[WorkItem]:
        if Stage.CUT in self.covered:
            return
        act = Act.CUT_PANEL_TRACK_SAW if self.workshop.saw.track_saw else Act.CUT_PANEL_TABLE_SAW
        for case, panel in self._panels():
            yield self._item(act, Stage.CUT, case, panel=str(panel.id))
        if not self.workshop.saw.track_saw:  # The time of the track saw is that of cutting from the whole sheet.
            yield self._item(Act.BREAK_DOWN_SHEET, Stage.CUT, count=self._sheet_count())

    def _sheet_count(self) -> float:
        if self.sheets is not None:
            return float(sum(1 for s in self.sheets.sheets if not s.offcut))
        areas: dict[str, float] = {}
        for case, panel in self._panels():
            areas[panel.board] = areas.get(panel.board, 0.0) + panel.length * panel.width * case.built.case.count
        whole = 0.0
        for code, area in areas.items():
            sizes = self.details.job.board(code).sheets
            size = max((s.length * s.width for s in sizes), default=math.prod(commonest(Unit.MM)))
            whole += -(-area // (size * USED_OF_SHEET))
        return whole

    def _edging(self) -> Iterator[WorkItem]:
        if Stage.EDGE in self.covered:
            return
        for case, panel in self._panels():
            for strip in panel.edged:
                solid = self.details.job.edging(strip.edging).solid
                act = Act.LIP_SOLID_WOOD if solid else Act.EDGE_IRON
                metres = edge_length(panel, strip.surface) / 1000
                yield self._item(act, Stage.EDGE, case, count=metres, panel=str(panel.id))

    def _marking(self) -> Iterator[WorkItem]:
        if Stage.MARK in self.covered:
            return
        for case, panel in self._panels():
            stage = stage_of_panel(case, panel, Stage.MARK)
            for act in (Act.READ_CARD, Act.FACE_EDGE_MARKS):
                yield self._item(act, stage, case, panel=str(panel.id))
        for case in self.details.cases:
            for joint in case.joints:
                yield from self._joint_marks(case, joint)

    def _joint_marks(self, case: DetailedCase, joint: Joint) -> Iterator[WorkItem]:
        method = self.methods[joint.method]
        size = size_of(case, joint, method)
        if size is None or not (size.receiving or size.entering or size.enters):
            return
        stage = stage_of_joint(joint, Stage.MARK)
        told = {"joint": str(joint.id), "method": method.code}
        yield self._item(Act.MARK_JOINT_LINE, stage, case, panel=str(joint.receiving), **told)
        if joint.stations and marks_needed(method, self.workshop):
            yield self._item(
                Act.MARK_CONNECTOR, stage, case, count=len(joint.stations), panel=str(joint.entering), **told
            )

    def _machining(self) -> Iterator[WorkItem]:
        if self.run is not None:
            yield from RunItems(self.run, self.details, self.workshop).items()
            self.names = {s.id: s.title for s in self.run.set_ups}
            return
        cutting, fittings = Cutting(self.times, self.methods), Fittings(self.times, self.details.job.lengths)
        for case in self.details.cases:
            yield from cutting.items(case)
            for item in fittings.items(case):
                self.names[item.set_up] = item.set_up
                yield item
        self.names |= cutting.names

    def _assembling(self, case: DetailedCase) -> Iterator[WorkItem]:
        for joint in case.joints:
            yield from self._closing(case, joint)
        glued = {case.panel(j.entering).body for j in case.joints if j.glue}
        for body, stage in _bodies(case).items():
            yield self._item(Act.CHECK_DIAGONALS, stage, case)
            if body in glued:
                yield self._item(Act.LEAVE_IN_CLAMPS, stage, case, hands_on=False)
        yield self._item(Act.CLEAR_UP, Stage.ASSEMBLE, case)
        yield from self._hanging(case)

    def _closing(self, case: DetailedCase, joint: Joint) -> Iterator[WorkItem]:
        method = self.methods[joint.method]
        work = method.work
        told = {"joint": str(joint.id), "method": method.code, "panel": str(joint.entering)}
        assemble = stage_of_joint(joint, Stage.ASSEMBLE)
        if joint.stations and work.fit_min > 0 and Stage.FIT not in self.covered:
            act = f"{method.code}: fit a connector"
            yield self._item(
                act,
                stage_of_joint(joint, Stage.FIT),
                case,
                each=self.times.taken(act, work.fit_min),
                count=len(joint.stations),
                **told,
            )
        if joint.kind is JointKind.BACK and method.whole_line:
            return  # Slid into its groove: one act for the whole back.
        # Beside its stations a joint takes as long as closing any line, or as its method says where that is longer.
        own = 0.0 if method.whole_line and not is_bare(method) else work.per_joint_min
        yield self._item(Act.CLOSE_JOINT_LINE, assemble, case, each=self._close(max(work.close_min, own)), **told)
        cams = sum(count for item, count in joint.connectors if item in _turned(method))
        if cams:
            yield self._item(Act.TURN_CAM, assemble, case, count=cams, **told)
        if joint.glue:
            yield self._item(Act.WIPE_OFF_GLUE, assemble, case, **told)

    def _close(self, minutes: float) -> Minutes:
        usual = self.times.of(Act.CLOSE_JOINT_LINE)
        return usual if minutes == _USUAL_CLOSE else self.times.taken(Act.CLOSE_JOINT_LINE, minutes)

    def _hanging(self, case: DetailedCase) -> Iterator[WorkItem]:
        grooved = {j.entering for j in case.joints if j.kind is JointKind.BACK and self.methods[j.method].whole_line}
        for back in sorted(grooved):
            yield self._item(Act.FIT_BACK, Stage.BACK, case, panel=str(back))
        for drawer in case.built.drawers:
            yield self._item(Act.FIT_RUNNERS, Stage.FITTINGS, case, panel=str(drawer.front or ""))
            if drawer.front is not None:
                yield self._item(Act.FIX_DRAWER_FRONT, Stage.FITTINGS, case, panel=str(drawer.front))
        for door in case.built.doors:
            yield self._item(Act.HANG_DOOR, Stage.FITTINGS, case, panel=str(door.panel))
        for rail in case.built.rails:
            yield self._item(Act.FIT_CLOTHES_RAIL, Stage.FITTINGS, case, panel=str(rail.uprights[0]))
        yield from self._on_and_under(case)

    def _on_and_under(self, case: DetailedCase) -> Iterator[WorkItem]:
        """Yield what goes in, on and under a case that stands: loose shelves, a worktop, feet and their board."""
        if case.built.feet:
            yield self._item(Act.FIT_FOOT, Stage.FITTINGS, case, count=len(case.built.feet))
        acts = {
            Role.LOOSE_SHELF: Act.LAY_IN_SHELF,
            Role.PLINTH_BOARD: Act.CLIP_PLINTH,
            Role.WORKTOP: Act.FIX_WORKTOP,
        }
        for panel in case.panels:
            if panel.scribed is not None or panel.role is Role.FILLER:
                yield self._item(Act.SCRIBE, Stage.FITTINGS, case, panel=str(panel.id))
            if panel.role in acts:
                yield self._item(acts[panel.role], Stage.FITTINGS, case, panel=str(panel.id))

    def _finishing(self, case: DetailedCase) -> Iterator[WorkItem]:
        finish = self.details.job.finish
        area = finished_m2(case, self.details.job) if finish is not None else 0.0
        if finish is not None and area > 0:
            yield self._item(Act.FINISH_COAT, Stage.FINISH, case, count=area * finish.coats)

    def _jigs(self) -> dict[str, object]:
        if self.run is not None:
            made = [j for j in self.run.jigs if not j.owned]
            area = sum(p.count * p.length * p.width for j in made for p in j.pieces) / 1e6
            return {
                "jigs": tuple(j.name for j in made),
                "joint_jigs": len({j.id for j in made} & self._jigs_for_joints(self.run)),
                "jig_min": sum(j.making_min for j in made),
                "jig_m2": area,
            }
        names: list[str] = []
        for code in dict.fromkeys(j.method for c in self.details.cases for j in c.joints if j.stations):
            method = self.methods[code]
            if needs_jig(method, self.workshop):
                names += [f"{method.name}: jig for edges", f"{method.name}: jig for faces"]
        each = self.times.of(Act.MAKE_JIG).usual + JIG_STATIONS * self.times.of(Act.MAKE_JIG_STATION).usual
        count = len(names)
        return {"jigs": tuple(names), "joint_jigs": count, "jig_min": count * each, "jig_m2": count * JIG_M2}

    def _jigs_for_joints(self, run: WorkPlan) -> set[str]:
        """Return the ids of the jigs that some carcass joint is cut with."""
        joints = {
            j.id for c in self.details.cases for j in c.joints if stage_of_joint(j, Stage.MACHINE) is Stage.MACHINE
        }
        return {
            s.setting.jig
            for s in run.set_ups
            if s.setting is not None and s.setting.jig and any(o.joint in joints for o in s.operations)
        }

    def _tools(self) -> tuple[str, ...]:
        if self.run is not None:
            used = [s.setting.tool for s in self.run.set_ups if s.setting is not None and s.setting.tool]
            return tuple(dict.fromkeys(used))
        used_methods = dict.fromkeys(j.method for c in self.details.cases for j in c.joints)
        return tools_of([self.methods[c] for c in used_methods], self.workshop)


def _turned(method: Method) -> frozenset[str]:
    """Return what of a method's connectors locks by being turned."""
    return frozenset(c.item for s in method.sizes for c in s.consumes if c.turned)


_USUAL_CLOSE: Final = 0.9


def _stages_of(run: WorkPlan | None) -> frozenset[Stage]:
    """Return which of our stages a run has operations for, so that nothing is counted twice."""
    if run is None:
        return frozenset()
    told = {s.stage.value for s in run.set_ups if s.operations}
    words = {"cut": Stage.CUT, "edge": Stage.EDGE, "mark out": Stage.MARK, "fit connectors": Stage.FIT}
    return frozenset(stage for word, stage in words.items() if word in told)


def _bodies(case: DetailedCase) -> dict[str, Stage]:
    """Return the bodies that are joined together: the carcass and each drawer's box."""
    found = {p.body: Stage.ASSEMBLE for p in case.panels if p.body == "carcass"}
    return found | {p.body: Stage.DRAWERS for p in case.panels if is_drawer(case, p.body)}
