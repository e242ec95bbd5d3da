"""A joint sawn through across its line at a connector: both boards, what is cut in each, and the figures."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from storyrod.drawing._drawing import Drawing, bounds_of
from storyrod.drawing._figures import Figures
from storyrod.drawing._pens import HEIGHTS, Fill, Hatch, Pen, Role, Tint, board_fill
from storyrod.drawing._scale import fitted
from storyrod.drawing._section import section_of
from storyrod.drawing._symbols import line, move_arrow, rectangle
from storyrod.drawing._types import Anchor, Bounds, Dimension, Entity, Path, Place, Text
from storyrod.measure.space import PANEL_AXES, Axis, Box, Point
from storyrod.model.detail import DetailedCase
from storyrod.model.feature import Channel, Feature
from storyrod.model.joint import Joint
from storyrod.model.method import Motion
from storyrod.model.panel import Panel, PanelId

_AROUND = 42.0
"""How far from the joint the boards are shown."""


def joint_detail(
    case: DetailedCase,
    joint: Joint,
    *,
    figures: Figures | None = None,
    boards: tuple[str, ...] = (),
    room: tuple[float, float] = (120.0, 98.0),
    with_words: bool = True,
) -> Drawing:
    """Return the section through one connector of a joint, the boards as they lie in the case.

    A small picture is told by its shape alone, without words and sizes.
    """
    shown = figures or Figures()
    section = _Section.through(case, joint)
    receiving, entering = case.panel(joint.receiving), case.panel(joint.entering)
    extent = section.window
    what = {p.id: shown.call_out([f.shape for f in section.cuts if f.panel == p.id]) for p in (receiving, entering)}

    def draw(unit: float) -> Drawing:
        items: list[Entity] = []
        for panel, turn in ((receiving, False), (entering, True)):
            items += _board(section, panel, boards, other_way=turn)
        if with_words:
            items += _axis(section, unit)
            sizes = _thicknesses(section, (receiving, entering), shown, unit)
            items += (*sizes, *_words(section, (receiving, entering), what, unit))
            items += _going_home(section, joint, sizes, unit)
        return Drawing(
            id=f"{joint.id}.section",
            title=f"{joint.number}: {receiving.mark} {receiving.name} and {entering.mark} {entering.name}",
            alt=(
                f"Section through {joint.kind} joint {joint.number} of {receiving.name} and {entering.name}, "
                f"{joint.method}. In {receiving.mark}: {what[receiving.id] or 'nothing'}. "
                f"In {entering.mark}: {what[entering.id] or 'nothing'}."
            ),
            items=tuple(items),
            unit=unit,
            notes=_notes(joint, shown),
        )

    return fitted(draw, room, (extent.width, extent.height))


def _notes(joint: Joint, figures: Figures) -> tuple[str, ...]:
    by = f"{joint.lock.word} " if joint.lock else ""
    home = {
        Motion.STRAIGHT: "The entering board goes straight in.",
        Motion.STRAIGHT_THEN_SLIDE: f"The entering board goes straight in, then slides {by}{figures.of(joint.travel)}.",
        Motion.SLIDE: f"The entering board slides {by}into place.",
        Motion.FREE: "Only its fixing holds the board in place.",
    }[joint.motion]
    return (home, figures.said)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Section:
    """A plane across a joint's line: which case axes lie across and up the paper, and what is seen in it."""

    across: Axis
    up: Axis
    joint: Joint
    cuts: tuple[Feature, ...]
    window: Bounds
    middle: Place

    @staticmethod
    def through(case: DetailedCase, joint: Joint) -> _Section:
        across, up = {
            Axis.X: (Axis.Y, Axis.Z), Axis.Y: (Axis.X, Axis.Z), Axis.Z: (Axis.X, Axis.Y),
        }[joint.run.axis]  # fmt: skip
        mine = [f for f in case.features if f.joint == joint.id or _takes_in(case, joint, f)]
        first = min((f.station for f in mine if f.station), default=0)
        cuts = tuple(f for f in mine if f.station in {0, first})
        centre = joint.contact.centre
        middle = centre.along(across), centre.along(up)
        window = Bounds(
            left=middle[0] - _AROUND, right=middle[0] + _AROUND, bottom=middle[1] - _AROUND, top=middle[1] + _AROUND
        )
        boxes = [_clipped(case.panel(p).box, across, up, window) for p in (joint.receiving, joint.entering)]
        seen = Bounds(
            left=min(b.left for b in boxes), right=max(b.right for b in boxes),
            bottom=min(b.bottom for b in boxes), top=max(b.top for b in boxes),
        )  # fmt: skip
        return _Section(across=across, up=up, joint=joint, cuts=cuts, window=seen, middle=middle)

    def on(self, point: Point) -> Place:
        return point.along(self.across), point.along(self.up)

    def board(self, panel: Panel) -> Bounds:
        return _clipped(panel.box, self.across, self.up, self.window)


def _takes_in(case: DetailedCase, joint: Joint, feature: Feature) -> bool:
    """Whether a groove or rebate that belongs to no joint (a back's, a drawer bottom's) takes in this joint's board."""
    if feature.joint or feature.panel != joint.receiving or not isinstance(feature.shape, Channel):
        return False
    panel = case.panel(joint.receiving)
    run = panel.frame.panel_axis(joint.run.axis)
    if feature.surface is not joint.receiving_surface or feature.shape.run is not run:
        return False
    across = next(a for a in PANEL_AXES if a not in {run, feature.surface.axis})
    middle = panel.frame.to_panel(joint.contact.centre).along(across)
    return abs(feature.at.along(across) - middle) <= feature.shape.width / 2


def _clipped(box: Box, across: Axis, up: Axis, window: Bounds) -> Bounds:
    (left, right), (low, high) = box.span(across), box.span(up)
    return Bounds(
        left=max(left, window.left), right=min(right, window.right),
        bottom=max(low, window.bottom), top=min(high, window.top),
    )  # fmt: skip


def _board(section: _Section, panel: Panel, boards: tuple[str, ...], *, other_way: bool) -> list[Entity]:
    """A board cut through, its true edges drawn, its ends left open where it runs on; what is cut out left white."""
    shown = section.board(panel)
    fill = board_fill(panel.board, boards, shade=0)
    cut = Fill(fill.tint, Hatch.BACK_SLANT if other_way else Hatch.SLANT, 0)
    corners = ((shown.left, shown.bottom), (shown.right, shown.top))
    items: list[Entity] = [rectangle(*corners, fill=cut)]
    (left, right), (low, high) = panel.box.span(section.across), panel.box.span(section.up)
    for ends, is_true in (
        (((shown.left, shown.bottom), (shown.left, shown.top)), abs(shown.left - left) < 1e-6),
        (((shown.right, shown.bottom), (shown.right, shown.top)), abs(shown.right - right) < 1e-6),
        (((shown.left, shown.bottom), (shown.right, shown.bottom)), abs(shown.bottom - low) < 1e-6),
        (((shown.left, shown.top), (shown.right, shown.top)), abs(shown.top - high) < 1e-6),
    ):
        items.append(line(*ends, pen=Pen.CUT if is_true else Pen.GHOST))
    run = panel.frame.panel_axis(section.joint.run.axis)
    for feature in section.cuts:
        if feature.panel == panel.id and feature.surface.axis is not run:
            for chain in section_of(feature, panel, run):
                points = tuple(section.on(panel.frame.to_case(p)) for p in chain)
                points = tuple(
                    (min(max(x, shown.left), shown.right), min(max(y, shown.bottom), shown.top)) for x, y in points
                )
                items.append(Path(points=points, closed=True, pen=Pen.FEATURE, fill=Fill(Tint.PAPER)))
    return items


def _axis(section: _Section, unit: float) -> list[Entity]:
    """The connector's common axis."""
    x, y = section.middle
    level = section.joint.home.axis is section.across
    reach = 40.0
    if not section.cuts:
        return []
    ends = ((x - reach, y), (x + reach, y)) if level else ((x, y - reach), (x, y + reach))
    box = section.window.grown(2.0 * unit)
    clipped = [(min(max(a, box.left), box.right), min(max(b, box.bottom), box.top)) for a, b in ends]
    return [line(*clipped, pen=Pen.CENTRE)]


def _thicknesses(section: _Section, panels: Sequence[Panel], figures: Figures, unit: float) -> list[Entity]:
    """How thick each board is, at an end of it away from the joint."""
    items: list[Entity] = []
    window = section.window
    for panel in panels:
        shown, text = section.board(panel), figures.of(panel.thickness)
        height = HEIGHTS[Role.FIGURE]
        if panel.frame.into.axis is section.across:
            below = abs(shown.bottom - window.bottom) <= abs(shown.top - window.top)
            y, away = (shown.bottom, -5.0 * unit) if below else (shown.top, 5.0 * unit)
            items.append(Dimension(a=(shown.left, y), b=(shown.right, y), away=away, text=text, height=height))
        elif panel.frame.into.axis is section.up:
            right = abs(shown.right - window.right) <= abs(shown.left - window.left)
            x, away = (shown.right, -5.0 * unit) if right else (shown.left, 5.0 * unit)
            items.append(Dimension(a=(x, shown.bottom), b=(x, shown.top), away=away, text=text, height=height))
    return items


def _words(section: _Section, panels: Sequence[Panel], what: dict[PanelId, str], unit: float) -> list[Entity]:
    """Names of the boards and what is cut in each, above the picture, with a thin line to the board."""
    items: list[Entity] = []
    top = section.window.top + 12.5 * unit
    for n, panel in enumerate(sorted(panels, key=lambda p: (-section.board(p).top, p is not panels[-1]))):
        shown = section.board(panel)
        y = top + n * 9.5 * unit
        words = f"{panel.mark} {panel.name}"
        note = what[panel.id]
        x = section.window.left
        items.append(
            Text(
                at=(x, y + 4.4 * unit),
                text=words,
                height=HEIGHTS[Role.NAME],
                anchor=Anchor.START,
                bold=True,
                role=Role.NAME,
            )
        )
        if note:
            items.append(Text(at=(x, y), text=note, height=HEIGHTS[Role.NOTE], anchor=Anchor.START))
        # The board whose top is lower is named above: its leader runs further out and ends lower, and so crosses none.
        lane, down = x - (3.0 + 2.5 * n) * unit, min((2.5 + 3.5 * n) * unit, shown.height * (0.5 + 0.3 * n))
        to = (shown.left + min(6.0 * unit, shown.width / 2), shown.top - down)
        items.append(
            line(
                (x - 1.2 * unit, y + 4.4 * unit),
                (lane, y + 4.4 * unit),
                (lane, to[1]),
                to,
                pen=Pen.EXTENSION,
            )
        )
    return items


def _going_home(section: _Section, joint: Joint, figures: Sequence[Entity], unit: float) -> list[Entity]:
    """The arrow that shows how the entering board goes home, below the picture, or beside it and its `figures`."""
    if joint.home.axis not in {section.across, section.up}:
        return []
    box = bounds_of(
        (
            rectangle(
                (section.window.left, section.window.bottom), (section.window.right, section.window.top), pen=Pen.THIN
            ),
        ),
        unit,
    )
    sign = float(joint.home.sign)
    if joint.home.axis is section.across:
        y = box.bottom - 14.0 * unit
        x = (box.left + box.right) / 2
        return list(move_arrow(((x - sign * 8.0 * unit, y), (x + sign * 8.0 * unit, y)), unit))
    x = max(box.right + 20.5 * unit, bounds_of(figures, unit).right + 4.0 * unit)
    y = (box.bottom + box.top) / 2
    return list(move_arrow(((x, y - sign * 8.0 * unit), (x, y + sign * 8.0 * unit)), unit))
