"""Set-ups without a card: sawing to size, edging and marking at the beginning, fitting connectors at the end."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

from storyrod.machining._minutes import minutes_of
from storyrod.measure.space import PanelAxis
from storyrod.measure.writing import LengthWriter
from storyrod.model.act import Act
from storyrod.model.bench_lines import BenchLine, sizing_lines
from storyrod.model.detail import DetailedCase, Details
from storyrod.model.job import Job
from storyrod.model.joint import Joint
from storyrod.model.machining import (
    LineToMark,
    Operation,
    SetUp,
    WorkStage,
)
from storyrod.model.mark import SetOut
from storyrod.model.method import FittedIn
from storyrod.model.panel import Panel
from storyrod.model.workshop import Workshop


def first_set_ups(details: Details, set_out: SetOut, workshop: Workshop) -> Iterator[SetUp]:
    """Yield the set-ups before machining: sawing to size, edging, marking out."""
    lengths = details.job.lengths
    saw = Act.CUT_PANEL_TRACK_SAW if workshop.saw.track_saw else Act.CUT_PANEL_TABLE_SAW
    yield _stage(
        WorkStage.CUT,
        "saw the panels to size",
        _each(
            details,
            lambda c, p: _panel_op(c, p, _cut_words(p, lengths), cut=minutes_of(workshop, saw), count=1),
        ),
        sizing_lines(lengths, track_saw=workshop.saw.track_saw),
    )
    edged = _each(details, lambda c, p: _edge_op(c, p, details.job, workshop))
    if edged:
        yield _stage(WorkStage.EDGE, "edge the panels", edged)
    lines = {p.panel.id: len(p.lines) for c in set_out.cases for p in c.panels}
    face, line = minutes_of(workshop, Act.FACE_EDGE_MARKS), minutes_of(workshop, Act.MARK_JOINT_LINE)
    yield _stage(
        WorkStage.MARK,
        "mark face side, face edge and joint lines",
        _each(
            details,
            lambda c, p: _panel_op(
                c, p, _mark_words(lines.get(p.id, 0)), place=face, cut=lines.get(p.id, 0) * line, count=1
            ),
        ),
    )


def last_set_up(details: Details, workshop: Workshop) -> SetUp | None:
    """Return the set-up in which connectors are fitted, or None where there are none to fit before assembly."""
    operations = [
        operation
        for case in details.cases
        for joint in case.joints
        if not details.method(joint.method).held_by_screws
        for operation in _fitted(details, case, joint, workshop)
    ]
    return _stage(WorkStage.FIT, "fit the connectors in their panels", operations) if operations else None


def _fitted(details: Details, case: DetailedCase, joint: Joint, workshop: Workshop) -> Iterator[Operation]:
    """Yield what is fitted for a joint before it closes, each in its own panel: a bolt in the one that receives.

    Of what has a half in each panel, the second half counts no minutes of its own.
    """
    entering, receiving = (case.panel(p) for p in (joint.entering, joint.receiving))
    size = details.method(joint.method).size_for(min(entering.thickness, receiving.thickness))
    homes = {c.item: c.fitted_in for c in size.consumes} if size is not None else {}
    each = minutes_of(workshop, Act.GLUE_CONNECTOR if joint.glue else Act.FIT_DRY_CONNECTOR)
    for item, count in joint.connectors:
        home, words = homes.get(item, FittedIn.ENTERING), f"{count} x {item}"
        in_both = home is FittedIn.BOTH
        first = _panel_op(
            case,
            receiving if home is FittedIn.RECEIVING else entering,
            f"{words}, one half" if in_both else words,
            cut=count * each,
            count=count,
        )
        yield replace(first, joint=joint.id, joint_number=joint.number, item=item)
        if in_both:
            other = _panel_op(case, receiving, f"{words}, the other half")
            yield replace(other, joint=joint.id, joint_number=joint.number, item=f"{item}, the other half")


def _stage(
    stage: WorkStage, title: str, operations: Iterable[Operation], cautions: tuple[BenchLine, ...] = ()
) -> SetUp:
    return SetUp(id="", stage=stage, title=title, setting=None, operations=tuple(operations), cautions=cautions)


def _each(details: Details, make: Callable[[DetailedCase, Panel], Operation | None]) -> list[Operation]:
    made = (make(case, panel) for case in details.cases for panel in case.panels)
    return [o for o in made if o is not None]


def _panel_op(
    case: DetailedCase,
    panel: Panel,
    what: str,
    *,
    place: float = 0.0,
    cut: float = 0.0,
    count: int = 0,
) -> Operation:
    return Operation(
        id="",
        case=panel.case,
        panel=panel.id,
        panel_mark=panel.mark,
        panel_name=panel.name,
        copies=case.built.case.count,
        what=what,
        line=LineToMark.NONE,
        place_min=place,
        cut_min=cut,
        count=count,
    )


def _cut_words(panel: Panel, lengths: LengthWriter) -> str:
    return f"{lengths.n(panel.cut_length)} x {lengths.n(panel.cut_width)}"


def _mark_words(lines: int) -> str:
    if lines == 0:
        return "face side and face edge"
    return f"face side, face edge, {lines} joint line{'s' if lines > 1 else ''}"


def _edge_op(case: DetailedCase, panel: Panel, job: Job, workshop: Workshop) -> Operation | None:
    """Return how a panel is edged: a tape ironed on, or a lipping glued on, and planed flush where it stands proud."""
    if not panel.edged:
        return None
    edgings = {strip.edging: job.edging(strip.edging) for strip in panel.edged}
    minutes = 0.0
    for strip in panel.edged:
        long = panel.extent(PanelAxis.V if strip.surface.axis is PanelAxis.U else PanelAxis.U)
        act = Act.LIP_SOLID_WOOD if edgings[strip.edging].solid else Act.EDGE_IRON
        minutes += minutes_of(workshop, act) * long / 1000
    proud = max((e.proud for e in edgings.values() if e.solid), default=0.0)
    what = ", ".join(e.surface.value for e in panel.edged)
    if proud:
        what += f"; {job.lengths.told(proud)} proud of each face, plane it flush once the glue has set"
    return _panel_op(case, panel, what, cut=minutes, count=len(panel.edged))
