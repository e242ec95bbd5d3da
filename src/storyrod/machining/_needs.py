"""Needs: lines of like cuts on one surface of one panel, as they are made in one placing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from storyrod.measure.space import PanelAxis
from storyrod.measure.writing import LengthWriter
from storyrod.model.detail import DetailedCase, Details
from storyrod.model.feature import (
    SHELF_PIN,
    AngledPocket,
    Channel,
    CutOut,
    Feature,
    FeatureId,
    Hole,
    Keyhole,
    SegmentPocket,
    Shape,
    Slot,
    UndercutSlot,
)
from storyrod.model.joint import Joint
from storyrod.model.mark import JointLine, Mark, PanelSetOut, SetOut
from storyrod.model.method import Method
from storyrod.model.panel import Panel, Surface

FACES: Final = (Surface.FACE, Surface.FAR_FACE)
_GRID: Final = 100  # places and sizes are told apart to a hundredth of a mm


class Half(StrEnum):
    """Which half of a joint a need is."""

    ENTERING = "entering"
    RECEIVING = "receiving"
    OTHER = "other"


ShapeKey = tuple[object, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Need:
    """A line of like cuts.

    Attributes:
        copies: how many cases of the batch have it.
        along, across: panel axes along the line, and across it in the surface.
        at: place of the line across, from the panel's datum (exact); `stations` along it, as marked.
        locates: whether the joint's fit hangs on where the cuts are.
        through_mate: depth of the mate's through hole that it may be drilled through; 0 where it may not.
        line: where the mate's faces stand on this panel, for the receiving half.
        shape: of the cuts, to a hundredth; `plan` the same without its depth.
        lengths: how the job writes lengths, for whatever is said of it.
    """

    case: DetailedCase
    panel: Panel
    copies: int
    surface: Surface
    marks: tuple[Mark, ...]
    half: Half
    joint: Joint | None
    method: Method | None
    along: PanelAxis
    across: PanelAxis
    at: float
    stations: tuple[float, ...]
    locates: bool
    through_mate: float
    line: JointLine | None
    shape: ShapeKey
    plan: ShapeKey
    lengths: LengthWriter

    @property
    def on_edge(self) -> bool:
        """Whether it lies in an edge or end."""
        return self.surface not in FACES

    @property
    def first(self) -> Shape:
        """The shape of its cuts, as the first of them has it."""
        return self.marks[0].feature.shape

    @property
    def kind(self) -> str:
        """The plain name of its cuts."""
        return self.marks[0].feature.kind

    @property
    def lines_up(self) -> bool:
        """Whether it is a row of holes for shelf pins, which must stand level with the rows of other uprights."""
        return self.joint is None and self.marks[0].feature.item == SHELF_PIN

    @property
    def from_far(self) -> bool:
        """Whether a jig's stop meets the far end or edge: where all cuts of a face lie beyond its middle.

        Rows of shelf pins are always stopped at the same end, so that what a panel is off in length moves none of them.
        """
        if self.half is Half.ENTERING or self.lines_up:
            return False
        return min(self.stations) > self.run_length / 2

    @property
    def from_stop(self) -> tuple[float, ...]:
        """The places along the line from the end or edge that a jig's stop meets, rising."""
        if not self.from_far:
            return self.stations
        return tuple(self.run_length - s for s in reversed(self.stations))

    @property
    def run_length(self) -> float:
        """How long the panel is along the line."""
        return self.panel.extent(self.along)


def shape_key(shape: Shape) -> tuple[ShapeKey, ShapeKey]:
    """Return what tells a shape from another, with its depth and without."""
    plan: ShapeKey = (shape.kind,)
    match shape:
        case Hole():
            plan = (shape.kind, _g(shape.diameter), shape.through)
        case Slot():
            plan = (shape.kind, _g(shape.length), _g(shape.width), _turned(shape.run))
        case Keyhole():
            figures = (shape.entry_diameter, shape.slot_width, shape.undercut_width, shape.lip, shape.travel)
            plan = (shape.kind, *map(_g, figures), shape.lock_sign)
        case SegmentPocket():
            plan = (shape.kind, _g(shape.disc), _g(shape.width))
        case UndercutSlot():
            plan = (shape.kind, *map(_g, (shape.length, shape.width, shape.undercut_width, shape.lip)))
        case Channel():
            plan = (shape.kind, _g(shape.width), any(shape.stopped))
        case CutOut():
            plan = (shape.kind, shape.outline, *map(_g, (shape.length, shape.height, shape.corner)))
        case AngledPocket():
            plan = (shape.kind, *map(_g, (shape.diameter, shape.pilot, shape.angle_deg, shape.length)))
    return (*plan, _g(shape.depth)), plan


def _g(value: float) -> int:
    return round(value * _GRID)


def _turned(run: PanelAxis) -> str:
    return "" if run is not PanelAxis.W else "w"


def find_needs(details: Details, set_out: SetOut) -> tuple[Need, ...]:
    """Return the needs of every distinct case, in order of panel and surface; every feature is in exactly one."""
    methods = {m.code: m for m in details.methods}
    needs: list[Need] = []
    for case in details.cases:
        panels = {p.panel.id: p for c in set_out.cases if c.case == case.built.case.code for p in c.panels}
        joints = {str(j.id): j for j in case.joints}
        shapes = {f.id: f.shape for f in case.features}
        for panel in case.panels:
            if panel.id in panels:
                needs.extend(_Grouper(case, panels[panel.id], joints, methods, shapes, details.job.lengths).needs())
    return tuple(needs)


class _Grouper:
    """Groups the marks of one panel."""

    def __init__(
        self,
        case: DetailedCase,
        set_out: PanelSetOut,
        joints: Mapping[str, Joint],
        methods: Mapping[str, Method],
        shapes: Mapping[FeatureId, Shape],
        lengths: LengthWriter,
    ) -> None:
        self.case = case
        self.panel = set_out.panel
        self.marks = set_out.marks
        self.lines = {str(line.joint): line for line in set_out.lines}
        self.joints = joints
        self.methods = methods
        self.shapes = shapes
        self.lengths = lengths

    def needs(self) -> Iterator[Need]:
        groups: dict[tuple[object, ...], list[Mark]] = {}
        for mark in self.marks:
            groups.setdefault(self._group(mark), []).append(mark)
        for members in groups.values():
            yield from self._lines(members)

    def _group(self, mark: Mark) -> tuple[object, ...]:
        feature = mark.feature
        alone = isinstance(feature.shape, Channel | CutOut)
        use = "" if feature.joint else feature.item
        return (mark.surface, feature.joint, use, shape_key(feature.shape)[0], feature.id if alone else "")

    def _lines(self, members: list[Mark]) -> Iterator[Need]:
        """Split a group into straight lines: along its joint, or whichever way gives fewer of them."""
        joint = self.joints.get(members[0].feature.joint)
        axes = _plane(members[0].surface)
        if joint is not None:
            along = self.panel.frame.panel_axis(joint.run.axis)
            along = along if along in axes else axes[0]
        elif isinstance(members[0].feature.shape, Channel | CutOut):
            along = members[0].feature.shape.run
            along = along if along in axes else axes[0]
        else:
            along = min(axes, key=lambda a: (len({_g(_place(m, _other(axes, a))) for m in members}), a is axes[1]))
        across = _other(axes, along)
        lines: dict[int, list[Mark]] = {}
        for mark in members:
            lines.setdefault(_g(_place(mark, across)), []).append(mark)
        for line in lines.values():
            yield self._need(joint, along, across, sorted(line, key=lambda m: _place(m, along)))

    def _need(self, joint: Joint | None, along: PanelAxis, across: PanelAxis, marks: list[Mark]) -> Need:
        first = marks[0].feature
        half = _half(joint, first)
        method = self.methods.get(joint.method) if joint else None
        mate = self.shapes.get(first.mate) if first.mate else None
        by_screw = method is not None and method.held_by_screws
        is_entering = half is Half.ENTERING
        shape, plan = shape_key(first.shape)
        return Need(
            case=self.case,
            panel=self.panel,
            copies=self.case.built.case.count,
            surface=marks[0].surface,
            marks=tuple(marks),
            half=half,
            joint=joint,
            method=method,
            along=along,
            across=across,
            # Depth in the thickness is never rounded: the whole panel moves with its line.
            at=first.at.w if across is PanelAxis.W else _place(marks[0], across),
            stations=tuple(_place(m, along) for m in marks),
            locates=half is not Half.OTHER and first.mate is not None and not by_screw,
            through_mate=mate.depth if by_screw and isinstance(mate, Hole) and mate.through and is_entering else 0.0,
            line=self.lines.get(first.joint) if half is Half.RECEIVING else None,
            shape=shape,
            plan=plan,
            lengths=self.lengths,
        )


def _half(joint: Joint | None, feature: Feature) -> Half:
    if joint is None:
        return Half.OTHER
    if (feature.panel, feature.surface) == (joint.entering, joint.entering_surface):
        return Half.ENTERING
    if (feature.panel, feature.surface) == (joint.receiving, joint.receiving_surface):
        return Half.RECEIVING
    return Half.OTHER


def _plane(surface: Surface) -> tuple[PanelAxis, PanelAxis]:
    first, second = (a for a in PanelAxis if a is not surface.axis)
    return first, second


def _other(axes: Iterable[PanelAxis], one: PanelAxis) -> PanelAxis:
    return next(a for a in axes if a is not one)


def _place(mark: Mark, axis: PanelAxis) -> float:
    return mark.u if axis is PanelAxis.U else mark.v if axis is PanelAxis.V else mark.w
