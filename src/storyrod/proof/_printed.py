"""What a maker reads fits together: the figures as they are printed, taken back from their own words.

Every figure here goes through the writer that puts it on paper and is read again, so that a rounding anywhere on the
way is seen. A printed figure is at most half its last digit from the plan's; sums and differences of a few of them are
allowed as many halves, and nothing more.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from storyrod.faults import OUR_SLIP
from storyrod.measure.length import parse_length
from storyrod.measure.space import AXES, Axis, Box, PanelAxis, PanelPoint, Point
from storyrod.measure.tolerance import TOUCH
from storyrod.measure.writing import LengthWriter
from storyrod.model.feature import SHELF_PIN, Hole
from storyrod.model.job import Job
from storyrod.model.joint import Joint
from storyrod.model.mark import CaseSetOut, JointLine, Mark, PanelSetOut, SetOut
from storyrod.model.panel import Panel, PanelId, Surface
from storyrod.model.proof import Claim, Finding
from storyrod.proof._tally import CaseView, Tally

_FACES: Final = (Surface.FACE, Surface.FAR_FACE)

LEAST_ROOM: Final = 1.0
"""Room that a drawer keeps above and below it whatever rounding does (mm); common practice, no source."""


class _Paper:
    """Figures as they stand on paper: written, and read again in mm."""

    def __init__(self, job: Job) -> None:
        self.writer: LengthWriter = job.lengths
        self.half = self.writer.half_digit
        self.step = job.mark_step

    def read(self, mm: float) -> float:
        """Return what a maker who reads this figure sets out (mm)."""
        return parse_length(self.writer.told(mm))


# --- lengths and openings between lines ------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Wall:
    """A panel that a face is divided by: from where to where, as printed, along the face's length or width."""

    mate: PanelId
    low: float
    high: float


def lengths_agree(job: Job, views: Sequence[CaseView], setout: SetOut) -> Finding:
    """Return whether what stands or opens between two lines has, as printed, the length between them as printed."""
    paper = _Paper(job)
    limit = 4 * paper.half
    tally = Tally(
        claim=Claim.PRINTED_LENGTHS,
        subject="panels and openings between two lines",
        holds="are, as printed, as long as the lines on every panel beside them say",
        fails="are printed longer or shorter than the lines beside them say",
        one="panel or opening between two lines is, as printed, as long as the lines beside it say",
        measure="farthest off",
        code="proof-printed",
        limit=limit,
    )
    for view, drawn in zip(views, setout.cases, strict=True):
        for out in drawn.panels:
            for axis in (PanelAxis.U, PanelAxis.V):
                for low, high in _rooms(out, axis, view, paper):
                    for what, length in _between(view, drawn, out.panel, axis, (low.mate, high.mate), paper):
                        off = abs(high.low - low.high - length)
                        if not tally.see(off):
                            tally.tell(
                                view.cause(out.panel.id),
                                f"{what} {paper.writer.told(length)} long, between lines on "
                                f"{view.panel(out.panel.id)} that are {paper.writer.told(high.low - low.high)} apart",
                                "one figure for both",
                                OUR_SLIP,
                            )
    return tally.finding()


def _rooms(out: PanelSetOut, axis: PanelAxis, view: CaseView, paper: _Paper) -> Iterator[tuple[_Wall, _Wall]]:
    """Yield each two walls that follow each other on a face of the panel, along one of its directions."""
    for surface in _FACES:
        lines = [n for n in out.lines if n.surface is surface and _measured_along(n) is axis]
        walls = [_Wall(n.mate, paper.read(n.near), paper.read(n.far)) for n in lines]
        walls += _ends(out, axis, view, paper)
        walls.sort(key=lambda w: (w.low, w.high))
        yield from ((a, b) for n, a in enumerate(walls) for b in walls[n + 1 :] if b.low > a.high + LEAST_ROOM)


def _measured_along(line: JointLine) -> PanelAxis:
    return PanelAxis.U if line.across_length else PanelAxis.V


def _ends(out: PanelSetOut, axis: PanelAxis, view: CaseView, paper: _Paper) -> Iterator[_Wall]:
    """Yield the panels that the panel's own ends (or edges) stand in, as walls at its ends."""
    extent = paper.read(out.panel.extent(axis))
    for joint in view.case.joints:
        if joint.entering == out.panel.id and joint.entering_surface.axis is axis and joint.receiving_surface in _FACES:
            enters = paper.read(joint.enters)
            at = (extent - enters, extent) if joint.entering_surface.is_far else (0.0, enters)
            yield _Wall(joint.receiving, *at)


def _between(
    view: CaseView,
    drawn: CaseSetOut,
    beside: Panel,
    axis: PanelAxis,
    mates: tuple[PanelId, PanelId],
    paper: _Paper,
) -> Iterator[tuple[str, float]]:
    """Yield what reaches from one mate to the other, with the clear length it is printed to bridge."""
    way = beside.frame.direction(axis).axis
    for panel in view.case.panels:
        joints = [j for j in view.case.joints if j.entering == panel.id and j.receiving in mates]
        along = [j for j in joints if j.receiving_surface in _FACES and j.home.axis is way]
        if {j.receiving for j in along} == set(mates) and panel.id != beside.id:
            length = paper.read(panel.extent(panel.frame.panel_axis(way)))
            yield view.panel(panel.id), length - sum(paper.read(j.enters) for j in _one_each(along))
    shown = {o.id: o for o in drawn.openings}
    boxes = [view.panels[m].box for m in mates]
    for opening in view.case.built.openings:
        touched = [b for b in boxes if _touch(opening.box, b, way)]
        if len(touched) == 2 and _touch(opening.box, beside.box, beside.frame.into.axis):
            box = shown[opening.id].box
            yield f"{opening.name} of case {view.code}", paper.read(box.size(way))


def _one_each(joints: Sequence[Joint]) -> Iterator[Joint]:
    yield from {j.receiving: j for j in joints}.values()


def _touch(one: Box, other: Box, way: Axis) -> bool:
    """Return whether two boxes meet flat, across one axis, over some area."""
    gap = max(other.low.along(way) - one.high.along(way), one.low.along(way) - other.high.along(way))
    shares = (
        min(one.high.along(a), other.high.along(a)) - max(one.low.along(a), other.low.along(a)) > TOUCH
        for a in AXES
        if a is not way
    )
    return abs(gap) <= TOUCH and all(shares)


# --- mates and patterns ----------------------------------------------------------------------------------------------


def mates_agree_as_printed(job: Job, views: Sequence[CaseView], setout: SetOut) -> Finding:
    """Return whether both halves of every connector carry the same figures on paper.

    Each half's printed place is taken into the case, the entering panel put to its line as printed. Across the joint's
    run both must then be where the other is, but for the last digits.
    """
    paper = _Paper(job)
    tally = Tally(
        claim=Claim.PRINTED_MATES,
        subject="pairs of printed marks",
        holds="meet when the panels are put to their printed lines, but for the last digit",
        fails="do not meet as printed",
        one="pair of printed marks meets when the panels are put to their printed lines, but for the last digit",
        measure="farthest off",
        code="proof-printed",
        limit=2 * paper.half,
    )
    for view, drawn in zip(views, setout.cases, strict=True):
        marks = {m.feature.id: m for p in drawn.panels for m in p.marks}
        lines = {n.joint: n for p in drawn.panels for n in p.lines}
        for feature in view.case.features:
            mate = view.features.get(feature.mate) if feature.mate is not None else None
            if mate is None or mate.id < feature.id or feature.joint not in view.joints:
                continue
            joint, pair = view.joints[feature.joint], (marks.get(feature.id), marks.get(mate.id))
            if pair[0] is None or pair[1] is None:
                continue  # told by `marks_are_true`
            off = _apart(view, joint, (pair[0], pair[1]), lines.get(joint.id), paper)
            if not tally.see(off):
                tally.tell(
                    view.cause(feature.panel),
                    f"marks {pair[0].label} and {pair[1].label} of two mates, "
                    f"{paper.writer.told(off)} apart as printed",
                    "the same place on both",
                    OUR_SLIP,
                )
    return tally.finding()


def _apart(view: CaseView, joint: Joint, pair: tuple[Mark, Mark], line: JointLine | None, paper: _Paper) -> float:
    """Return how far apart two marks are as printed, along the joint and, where a line says so, across it (mm)."""
    places = [_printed_place(view, m, paper) for m in pair]
    axes = [joint.run.axis]
    if line is not None:
        through = view.panels[joint.entering].frame.into.axis
        axes.append(through)
        moved = _put_to_line(view, line, paper)
        places = [p + moved if m.panel == joint.entering else p for p, m in zip(places, pair, strict=True)]
    flat = [a for a in axes if all(view.panels[m.panel].frame.direction(m.surface.axis).axis is not a for m in pair)]
    return max((abs(places[0].along(a) - places[1].along(a)) for a in flat), default=0.0)


def _printed_place(view: CaseView, mark: Mark, paper: _Paper) -> Point:
    """Return where a mark is in the case when its figures are taken from paper."""
    at = PanelPoint(paper.read(mark.u), paper.read(mark.v), paper.read(mark.w))
    return view.panels[mark.panel].frame.to_case(at)


def _put_to_line(view: CaseView, line: JointLine, paper: _Paper) -> Point:
    """Return how far the mate of a line moves in the case when its face side is put to the line as printed."""
    frame, contact = view.panels[line.panel].frame, view.joints[line.joint].contact
    axis = _measured_along(line)
    exact = sorted((frame.to_panel(contact.low).along(axis), frame.to_panel(contact.high).along(axis)))
    way, is_far = frame.direction(axis), line.face_side_line == line.far
    return Point(0.0, 0.0, 0.0).with_(way.axis, (paper.read(line.face_side_line) - exact[is_far]) * way.sign)


def patterns_keep_their_shape(job: Job, views: Sequence[CaseView], setout: SetOut) -> Finding:
    """Return whether the cuts of each hinge, runner, rail and row of pins are as far apart on paper as they must be."""
    paper = _Paper(job)
    tally = Tally(
        claim=Claim.PRINTED_PATTERNS,
        subject="hinges, runners, clothes rails and rows of pins",
        holds="keep their own distances, on all panels they are cut in, as printed",
        fails="do not keep their own distances as printed",
        one="hinge, runner, clothes rail or row of pins keeps its own distances as printed",
        measure="farthest off",
        code="proof-printed",
        limit=2 * paper.half,
    )
    for view, drawn in zip(views, setout.cases, strict=True):
        built = view.case.built
        kept = (
            {d.runner for d in built.drawers}
            | {d.hinge for d in built.doors}
            | {r.kind for r in built.rails}
            | {SHELF_PIN}
        )
        patterns: dict[str, list[Mark]] = {}
        for mark in (m for p in drawn.panels for m in p.marks):
            feature = mark.feature
            if feature.pattern:
                patterns.setdefault(feature.pattern, []).append(mark)
            elif feature.item in kept and isinstance(feature.shape, Hole):
                tally.see()
                tally.tell(
                    view.cause(feature.panel), f"{view.cut(feature)}, kept to nothing", "its own pattern", OUR_SLIP
                )
        for marks in patterns.values():
            off = _out_of_shape(view, marks, paper)
            if not tally.see(off):
                first = marks[0]
                tally.tell(
                    view.cause(first.panel),
                    f"{view.cut(first.feature)} and the cuts that go with it, out by {paper.writer.told(off)}",
                    "the distances their maker gives",
                    OUR_SLIP,
                )
    return tally.finding()


def _out_of_shape(view: CaseView, marks: Sequence[Mark], paper: _Paper) -> float:
    """Return the greatest difference between the moves of one pattern's cuts, in any direction of the case (mm)."""
    moves: list[tuple[Mark, Point]] = []
    for mark in marks:
        exact = view.panels[mark.panel].frame.to_case(mark.feature.at)
        place = _printed_place(view, mark, paper)
        moves.append((mark, place + Point(-exact.x, -exact.y, -exact.z)))
    worst = 0.0
    for axis in AXES:
        told = [p.along(axis) for m, p in moves if view.panels[m.panel].frame.panel_axis(axis) is not m.surface.axis]
        worst = max(worst, max(told, default=0.0) - min(told, default=0.0))
    return worst


# --- what rounding leaves of a room ----------------------------------------------------------------------------------


def drawers_keep_room(job: Job, views: Sequence[CaseView], setout: SetOut) -> Finding:
    """Return whether each drawer, hung by its runner's marks as printed, keeps room above and below."""
    paper = _Paper(job)
    tally = Tally(
        claim=Claim.PRINTED_ROOM,
        subject="rooms above and below drawers",
        holds=f"are {paper.writer.told(LEAST_ROOM)} or more with the runners where they are marked",
        fails="are too little with the runners where they are marked",
        one=f"room above or below a drawer is {paper.writer.told(LEAST_ROOM)} or more with its runners as marked",
        measure="least found",
        code="proof-printed",
        limit=LEAST_ROOM,
        at_least=True,
    )
    for view, drawn in zip(views, setout.cases, strict=True):
        marks = [m for p in drawn.panels for m in p.marks]
        openings = {o.id: o for o in drawn.openings}
        for drawer in view.case.built.drawers:
            lifted = _lift(view, marks, paper, f"{drawer.id}-runner")
            lifted -= _lift(view, marks, paper, f"{drawer.id}-box-runner")
            room = openings[drawer.opening].box
            for word, left in (
                ("above", room.high.z - drawer.box.high.z - lifted),
                ("below", drawer.box.low.z + lifted - room.low.z),
            ):
                if not tally.see(left):
                    tally.tell(
                        drawer.cause or view.case.built.case.field,
                        f"{paper.writer.told(left)} {word} {drawer.name} of case {view.code}, its runners as marked",
                        f"{paper.writer.told(LEAST_ROOM)} or more",
                        "Leave more room above or below the drawer's box.",
                    )
    return tally.finding()


def _lift(view: CaseView, marks: Sequence[Mark], paper: _Paper, pattern: str) -> float:
    """Return by how much the printed marks of a pattern stand above their exact places (mm), by the first of them."""
    first = next((m for m in marks if m.feature.pattern == pattern), None)
    if first is None:
        return 0.0
    return _printed_place(view, first, paper).z - view.panels[first.panel].frame.to_case(first.feature.at).z
