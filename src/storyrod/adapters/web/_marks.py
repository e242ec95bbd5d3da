"""What the set-out page tells of a panel and of one mark: figures, its reason, joint, mate, set-ups and step."""

from __future__ import annotations

from dataclasses import dataclass

from storyrod.drawing import Drawing, Figures, joint_detail, mark_place
from storyrod.faults import Fault, JobError
from storyrod.model.assembly import Step
from storyrod.model.detail import DetailedCase
from storyrod.model.joint import Joint
from storyrod.model.machining import Operation, SetUp, WorkStage
from storyrod.model.mark import Gang, Mark, PanelSetOut, SetOut
from storyrod.model.panel import Panel, PanelId
from storyrod.planning import Plan

_MATE_ROOM = (80.0, 64.0)
_JOINT_ROOM = (86.0, 128.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A mark as the table tells it; a figure is empty where the surface itself is that end, edge or face."""

    mark: Mark
    from_end: str
    from_edge: str
    from_face: str
    depth: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutting:
    """Where a mark is worked: the set-up and, in it, the operation."""

    set_up: SetUp
    operation: Operation


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """All that is told of one mark.

    Attributes:
        line: its figures.
        before, after: labels of the marks before and after it on the panel, or "".
        held: the name of the joint's method, or "".
        other: the joint's other panel.
        mate: the mate's mark with its panel, and `mate_drawn` its picture.
        cuttings: the set-ups in which it is worked, in the order of the run.
        no_set_up: why there is none, where the work cannot be planned.
        step: the step of assembly in which its joint closes.
    """

    out: PanelSetOut
    line: Line
    before: str
    after: str
    joint: Joint | None
    held: str
    joint_words: str
    joint_drawn: Drawing | None
    other: Panel | None
    mate: tuple[PanelSetOut, Line] | None
    mate_drawn: Drawing | None
    cuttings: tuple[Cutting, ...]
    no_set_up: tuple[Fault, ...]
    step: Step | None


def lines_of(out: PanelSetOut, figures: Figures) -> tuple[Line, ...]:
    """Return the marks of a panel with their figures, in their order."""
    return tuple(line_of(mark, figures) for mark in out.marks)


def line_of(mark: Mark, figures: Figures) -> Line:
    """Return one mark with its figures."""

    def shown(axis: str) -> str:
        return "" if mark.surface.axis.value == axis else figures.of(getattr(mark, axis))

    through = bool(getattr(mark.feature.shape, "through", False))
    depth = "through" if through or mark.feature.kind == "cut-out" else figures.of(mark.feature.depth)
    return Line(mark=mark, from_end=shown("u"), from_edge=shown("v"), from_face=shown("w"), depth=depth)


def panel_named(set_out: SetOut, name: str) -> PanelSetOut | None:
    """Return a panel by its id or its mark, in whatever case it is; None where there is none of that name."""
    return next((p for c in set_out.cases for p in c.panels if name in {p.panel.id, p.panel.mark}), None)


def mark_named(set_out: SetOut, label: str) -> tuple[PanelSetOut, Mark] | None:
    """Return a mark by its label, as `A3.12`, with its panel; None where there is none."""
    out = panel_named(set_out, label.rpartition(".")[0])
    mark = next((m for m in out.marks if m.label == label), None) if out is not None else None
    return (out, mark) if out is not None and mark is not None else None


def gang_of(set_out: SetOut, panel: PanelId) -> Gang | None:
    """Return the gang that a panel is marked in."""
    return next((g for g in set_out.gangs if panel in g.panels), None)


def told_of(plan: Plan, label: str) -> Told:
    """Return all that is told of a mark.

    Raises:
        JobError: there is no mark of this label, or the job cannot be built.
    """
    found = mark_named(plan.set_out, label)
    if found is None:
        raise no_mark(label)
    out, mark = found
    figures = Figures.of_job(plan.job)
    case = _case_of(plan, out)
    joint = next((j for j in case.joints if j.id == mark.feature.joint), None)
    boards = tuple(b.code for b in plan.job.boards)
    place = out.marks.index(mark)
    mate = mark_named(plan.set_out, mark.mate) if mark.mate else None
    cuttings, no_set_up = _cuttings(plan, mark)
    return Told(
        out=out,
        line=line_of(mark, figures),
        before=out.marks[place - 1].label if place else "",
        after=out.marks[place + 1].label if place + 1 < len(out.marks) else "",
        joint=joint,
        held=plan.details.method(joint.method).name if joint is not None else "",
        joint_words=_joint_words(case, joint) if joint is not None else "",
        joint_drawn=(
            joint_detail(case, joint, figures=figures, boards=boards, room=_JOINT_ROOM) if joint is not None else None
        ),
        other=_other(case, joint, out) if joint is not None else None,
        mate=(mate[0], line_of(mate[1], figures)) if mate is not None else None,
        mate_drawn=mark_place(mate[0], mate[1], figures=figures, room=_MATE_ROOM) if mate is not None else None,
        cuttings=cuttings,
        no_set_up=no_set_up,
        step=_step_of(plan, case, joint),
    )


def no_mark(label: str) -> JobError:
    """Return the fault that a mark is not there."""
    return JobError(
        Fault(
            code="no-such-mark",
            field="mark",
            found=f"“{label[:40]}”",
            allowed="a mark of this job, as A1.3",
            do="Pick a panel and tap a mark on it; numbers may have changed with the job.",
        )
    )


def _case_of(plan: Plan, out: PanelSetOut) -> DetailedCase:
    return next(c for c in plan.details.cases if c.built.case.code == out.panel.case)


def _other(case: DetailedCase, joint: Joint, out: PanelSetOut) -> Panel:
    return case.panel(joint.entering if out.panel.id == joint.receiving else joint.receiving)


def _joint_words(case: DetailedCase, joint: Joint) -> str:
    entering, receiving = case.panel(joint.entering), case.panel(joint.receiving)
    return (
        f"{joint.entering_surface} of {entering.mark} {entering.name} "
        f"on the {joint.receiving_surface} of {receiving.mark} {receiving.name}"
    )


def _cuttings(plan: Plan, mark: Mark) -> tuple[tuple[Cutting, ...], tuple[Fault, ...]]:
    try:
        set_ups = plan.machining.set_ups
    except JobError as error:
        return (), error.faults
    own = mark.feature.id
    found = tuple(
        Cutting(set_up=s, operation=o)
        for s in set_ups
        for o in s.operations
        if s.stage is not WorkStage.MARK and (own in o.features or own in o.finishes)
    )
    return found, ()


def _step_of(plan: Plan, case: DetailedCase, joint: Joint | None) -> Step | None:
    if joint is None:
        return None
    steps = plan.assembly.case(case.built.case.code).steps
    return next((s for s in steps if joint.id in s.joints), None)
