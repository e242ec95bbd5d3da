"""The front elevation: the case from the front, with its fronts or with its openings, and its sizes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from storyrod.drawing._drawing import Drawing
from storyrod.drawing._figures import Figures
from storyrod.drawing._hung import hung_items
from storyrod.drawing._lettering import width_of
from storyrod.drawing._outlines import around_of
from storyrod.drawing._pens import HEIGHTS, Fill, Hatch, Pen, Role, Tint, board_fill
from storyrod.drawing._rails import rails_from_front
from storyrod.drawing._running import Side, Wanted, laid_out
from storyrod.drawing._scale import fitted
from storyrod.drawing._symbols import line, rectangle
from storyrod.drawing._types import Dimension, Entity, Group, Path, Text, text_box
from storyrod.measure.space import Axis
from storyrod.model.carcass import OpeningPlace
from storyrod.model.detail import DetailedCase
from storyrod.model.feature import CutOut
from storyrod.model.job import Holds
from storyrod.model.panel import Panel, Surface
from storyrod.model.panel import Role as PanelRole

_FRONTS = frozenset({PanelRole.DOOR, PanelRole.DRAWER_FRONT})
_CUT_OUT = _FRONTS | {PanelRole.BACK}
_DRAWER_BOX = frozenset(
    {PanelRole.DRAWER_SIDE, PanelRole.DRAWER_BACK, PanelRole.DRAWER_BOX_FRONT, PanelRole.DRAWER_BOTTOM}
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Editing:
    """What an elevation shows while the case is being changed.

    Attributes:
        chosen: ids of the panels, openings and sizes that are chosen.
        faults: ids of the panels, openings and sizes at which faults stand, each with a word or two.
    """

    chosen: frozenset[str] = frozenset()
    faults: Mapping[str, str] = field(default_factory=dict)


def case_elevation(
    case: DetailedCase,
    *,
    fronts: bool = True,
    figures: Figures | None = None,
    boards: tuple[str, ...] = (),
    room: tuple[float, float] = (170.0, 150.0),
    editing: Editing | None = None,
) -> Drawing:
    """Return the case from the front: with its doors and drawer fronts, or with its openings and their clear sizes.

    Each front, and each opening, is a group that names it. With `editing`, so are the sizes over all, and what is
    chosen and where faults stand is shown.
    """
    shown = replace(figures or Figures(), seen=True)
    about = case.built.case
    what = "front" if fronts else "openings"
    hangs = f", its top {shown.of(about.hung.top_at)} above the floor" if about.hung is not None else ""
    alt = (
        f"Front elevation of case {about.code}, {about.name}: "
        f"{shown.of(about.width)} wide, {shown.of(about.height)} high{hangs}, with "
        + ("its doors and drawer fronts." if fronts else f"its {len(_leaves(case))} openings and their clear sizes.")
    )

    def draw(unit: float) -> Drawing:
        items = [*_boards(case, boards, fronts=fronts), *_sizes(case, shown, unit, fronts=fronts)]
        hung = hung_items(case, shown, unit, kind=_kind("size", f"{about.code}.hung", editing or Editing()))
        if editing is None:
            items[-2:-2] = [*_over(case, shown, unit), *hung]
        items += _hinge_signs(case, unit) if fronts else []
        items += _openings(case, shown, unit, named=not fronts)
        if editing is not None:
            items = [*_told_apart(items, editing), *_borders(case, fronts=fronts)]
            items += [*_over_all(case, shown, unit, editing), *hung]
            items += _fault_marks(case, editing, unit)
        return Drawing(
            id=f"{about.code}.elevation.{what}",
            title=f"{about.code} {about.name}, {what}",
            alt=alt,
            items=tuple(items),
            unit=unit,
            notes=(shown.said,),
        )

    return fitted(draw, room, (about.width, about.height))


def _boards(case: DetailedCase, boards: tuple[str, ...], *, fronts: bool) -> list[Entity]:
    """Every panel's front as a rectangle, the farthest first, so that the nearer cover them."""
    hidden = _DRAWER_BOX if fronts else _DRAWER_BOX | _FRONTS
    panels = sorted((p for p in case.panels if p.role not in hidden), key=lambda p: -p.box.low.y)
    items: list[Entity] = [*_feet(case)]
    hung = list(rails_from_front(case))
    for panel in panels:
        if panel.role in _FRONTS and hung:
            items += hung  # behind all fronts
            hung = []
        lo, hi = panel.box.low, panel.box.high
        is_front = panel.role in _FRONTS
        back = panel.role is PanelRole.BACK
        fill = Fill(Tint.PAPER) if back else board_fill(panel.board, boards, shade=0 if is_front else 1, hatched=False)
        pen = Pen.OUTLINE if is_front else Pen.EDGE
        shapes: list[Entity] = [rectangle((lo.x, lo.z), (hi.x, hi.z), pen=None if back else pen, fill=fill)]
        shapes += _cut_outs(case, panel)
        items.append(Group(items=tuple(shapes), id=panel.id, name=f"{panel.mark} {panel.name}", kind="panel"))
    return [*items, *hung]


def _feet(case: DetailedCase) -> list[Entity]:
    """The front row of feet, their plates and stems: seen where no plinth board is before them."""
    feet, about = case.built.feet, case.built.case
    if not feet:
        return []
    shapes: list[Entity] = []
    for foot in (f for f in feet if f.y <= feet[0].y):
        for half, low, high in ((foot.plate / 2, 0.94, 1.0), (foot.plate / 5, 0.08, 0.94), (foot.plate / 3, 0.0, 0.08)):
            low_z, high_z = low * about.raised, high * about.raised
            shapes.append(
                rectangle((foot.x - half, low_z), (foot.x + half, high_z), pen=Pen.EDGE, fill=Fill(Tint.PAPER))
            )
    return [Group(items=tuple(shapes), id=f"{about.code}.feet", name="levelling feet", kind="panel")]


def _cut_outs(case: DetailedCase, panel: Panel) -> list[Entity]:
    out: list[Entity] = []
    for feature in case.on(panel.id):
        if isinstance(feature.shape, CutOut) and feature.surface is Surface.FACE and panel.role in _CUT_OUT:
            for points in around_of(feature, panel):
                corners = tuple((c.x, c.z) for c in (panel.frame.to_case(p) for p in points))
                out.append(Path(points=corners, closed=True, pen=Pen.FEATURE, fill=Fill(Tint.INK)))
    return out


def _hinge_signs(case: DetailedCase, unit: float) -> list[Entity]:
    """Two barrels at the edge on which a door hangs, and lines that meet at the edge that opens."""
    items: list[Entity] = []
    for door in case.built.doors:
        box = case.panel(door.panel).box
        hung, free = (box.low.x, box.high.x) if door.hinged == "left" else (box.high.x, box.low.x)
        inward = 1.0 if door.hinged == "left" else -1.0
        low, high = box.low.z, box.high.z
        tip = (free - inward * 3.0 * unit, (low + high) / 2)
        items.append(line((hung, low), tip, (hung, high), pen=Pen.GHOST))
        for share in (0.15, 0.85):
            z = low + share * (high - low)
            corner = (hung + inward * 1.6 * unit, z + 3.0 * unit)
            items.append(rectangle((hung, z - 3.0 * unit), corner, pen=Pen.THIN, fill=Fill(Tint.INK)))
    return items


def _leaves(case: DetailedCase) -> Sequence[OpeningPlace]:
    return [o for o in case.built.openings if not o.children]


def _openings(case: DetailedCase, figures: Figures, unit: float, *, named: bool) -> list[Entity]:
    items: list[Entity] = []
    for opening in _leaves(case):
        box = opening.box
        area = rectangle((box.low.x, box.low.z), (box.high.x, box.high.z), fill=Fill(Tint.CLEAR))
        free, held = _room_for_words(case, opening), _held(case, opening)
        words = _opening_words(opening, held, free, figures, unit) if named else []
        items.append(Group(items=(area, *words), id=opening.id, name=opening.name, kind="opening"))
    return items


def _room_for_words(case: DetailedCase, opening: OpeningPlace) -> tuple[float, float]:
    """Return from where to where, in height, an opening is free of loose shelves and tubes: the highest such room, of
    equal ones the nearest to the middle.
    """
    low, high = opening.box.span(Axis.Z)
    shelves = [p.box.span(Axis.Z) for p in case.panels if p.role is PanelRole.LOOSE_SHELF and p.opening == opening.id]
    rails = [r.box.span(Axis.Z) for r in case.built.rails if r.opening == opening.id]
    if rails:
        return low, rails[0][0]
    edges = [low, *(z for shelf in sorted(shelves) for z in shelf), high]
    rooms = list(zip(edges[::2], edges[1::2], strict=True))
    return max(rooms, key=lambda r: (round(r[1] - r[0], 3), -abs(r[0] + r[1] - low - high)))


def _opening_words(
    opening: OpeningPlace, held: str, free: tuple[float, float], figures: Figures, unit: float
) -> list[Text]:
    """The clear size, and what the opening holds, as far as there is room for them between the heights `free`.

    Level and large, else level and small, else upright where no loose shelf is in the way. Between loose shelves the
    size is told as that of all their rooms, for it could be read as that of the room in which it stands.
    """
    box = opening.box
    width, height = box.size(Axis.X), box.size(Axis.Z)
    room = free[1] - free[0]
    x, z = (box.low.x + box.high.x) / 2, (free[0] + free[1]) / 2
    size = f"{figures.of(width)} × {figures.of(height)}"
    if room < height - 1e-6 and opening.loose_shelves:
        size += " in all"
    note, figure = HEIGHTS[Role.NOTE], HEIGHTS[Role.FIGURE]
    ways = [(False, figure, width, room), (False, note, width, room)]
    if height > width and room > height - 1e-6:
        ways.append((True, figure, height, width))
    for upright, tall, length, across in ways:
        if width_of(size, tall) * unit > length * 0.96 or across < 1.3 * tall * unit:
            continue
        lines = [(size, tall, Role.FIGURE if tall == figure else Role.NOTE)]
        holds = held
        if holds and across > 2.2 * (tall + note) * unit and width_of(holds, note) * unit < length * 0.94:
            lines.append((holds, note, Role.NOTE))
        off = (tall + note) * 0.7 * unit / 2 if len(lines) > 1 else 0.0
        return [
            Text(
                at=(x - by, z) if upright else (x, z + by),
                text=words,
                height=high,
                angle_deg=90.0 if upright else 0.0,
                role=role,
            )
            for (words, high, role), by in zip(lines, (off, -off), strict=False)
        ]
    return []


def _held(case: DetailedCase, opening: OpeningPlace) -> str:
    if any(rail.opening == opening.id for rail in case.built.rails):
        return "clothes rail" if opening.holds is Holds.OPEN else f"{opening.holds}, clothes rail"
    if opening.holds is Holds.LOOSE_SHELVES or opening.loose_shelves:
        count = opening.loose_shelves
        shelves = f"{count} loose {'shelf' if count == 1 else 'shelves'}"
        return shelves if opening.holds in {Holds.LOOSE_SHELVES, Holds.OPEN} else f"{opening.holds}, {shelves}"
    return str(opening.holds)


def _over(case: DetailedCase, figures: Figures, unit: float) -> list[Entity]:
    """Width and height over all."""
    w, h, height = case.built.case.width, case.built.case.height, HEIGHTS[Role.FIGURE]
    return [
        Dimension(a=(0.0, h), b=(w, h), away=6.0 * unit, text=figures.of(w), height=height),
        Dimension(a=(w, 0.0), b=(w, h), away=-7.0 * unit, text=figures.of(h), height=height),
    ]


def _over_all(case: DetailedCase, figures: Figures, unit: float, editing: Editing) -> list[Entity]:
    """The sizes over all, each a thing of its own to be chosen."""
    code, told = case.built.case.code, _over(case, figures, unit)
    named = zip(told, ("width", "height"), strict=True)
    return [
        Group(items=(d,), id=f"{code}.{what}", name=f"{what} over all", kind=_kind("size", f"{code}.{what}", editing))
        for d, what in named
    ]


def _borders(case: DetailedCase, *, fronts: bool) -> list[Entity]:
    """Where openings end at one another without a panel between them, which nothing else shows."""
    places = {o.id: o.box for o in case.built.openings}
    lines: list[Entity] = []
    for outer in case.built.openings if not fronts else ():
        boxes = [places[c] for c in outer.children if c in places]
        for one, other in pairwise(boxes):
            if abs(one.low.z - other.high.z) < 0.01:
                lines.append(line((one.low.x, one.low.z), (one.high.x, one.low.z), pen=Pen.GHOST))
            elif abs(one.high.x - other.low.x) < 0.01:
                lines.append(line((one.high.x, one.low.z), (one.high.x, one.high.z), pen=Pen.GHOST))
    return lines


def _kind(kind: str, thing: str, editing: Editing) -> str:
    return f"{kind} chosen" if thing in editing.chosen else kind


def _told_apart(items: list[Entity], editing: Editing) -> list[Entity]:
    """Mark the groups of what is chosen."""
    return [
        replace(i, kind=_kind(i.kind, i.id, editing)) if isinstance(i, Group) and i.id in editing.chosen else i
        for i in items
    ]


def _fault_marks(case: DetailedCase, editing: Editing, unit: float) -> list[Entity]:
    """A crossed area over every opening and panel at which a fault stands, with its word on a plain ground."""
    places = {o.id: o.box for o in case.built.openings} | {p.id: p.box for p in case.panels}
    size = case.built.case
    code, edge = size.code, 2.0 * unit
    areas = {thing: (b.low.x, b.low.z, b.high.x, b.high.z) for thing, b in places.items()}
    areas |= {
        f"{code}.width": (0.0, size.height, size.width, size.height + edge),
        f"{code}.height": (size.width, 0.0, size.width + edge, size.height),
        code: (0.0, -edge, size.width, 0.0),
    }
    items: list[Entity] = []
    for thing, word in editing.faults.items():
        if thing in areas:
            items.append(_fault_mark(areas[thing], f"× {word}", unit, thing))
    return items


def _fault_mark(area: tuple[float, float, float, float], words: str, unit: float, thing: str) -> Group:
    left, bottom, right, top = area
    height = HEIGHTS[Role.NOTE]
    text = Text(at=((left + right) / 2, (bottom + top) / 2), text=words, height=height, bold=True)
    box = text_box(text, unit).grown(0.8 * unit)
    shapes = (
        rectangle((left, bottom), (right, top), pen=Pen.FAULT, fill=Fill(Tint.FAULT, Hatch.CROSSED)),
        rectangle((box.left, box.bottom), (box.right, box.top), pen=Pen.FAULT, fill=Fill(Tint.PAPER)),
        text,
    )
    return Group(items=shapes, name=f"fault: {words}", kind="fault-mark", id=f"fault.{thing}")


def _sizes(case: DetailedCase, figures: Figures, unit: float, *, fronts: bool) -> list[Entity]:
    """Heights and widths of the parts, running from the floor and from the left."""
    about = case.built.case
    w, h = about.width, about.height
    levels = {0.0, h}
    across = {0.0, w}
    for panel in case.panels:
        if (panel.role in _FRONTS) if fronts else (panel.role in _PARTING):
            levels |= {panel.box.low.z, panel.box.high.z} if fronts else {panel.box.high.z}
            across |= {panel.box.low.x, panel.box.high.x} if panel.role in _UPRIGHT or fronts else set()
    worktop = next((p.box for p in case.panels if p.role is PanelRole.WORKTOP), None)
    if worktop is not None:
        levels.add(worktop.high.z)
        across |= {worktop.low.x, worktop.high.x}
        w, h = max(w, worktop.high.x), worktop.high.z
    for filler in (p.box for p in case.panels if p.role is PanelRole.FILLER):
        across |= {filler.low.x, filler.high.x}
        w = max(w, filler.high.x)
    levels |= set() if fronts else {rail.box.centre.z for rail in case.built.rails}
    up = Side(along_x=False, way=1, line_at=-5.0 * unit, toward=-1, extent=h)
    along = Side(along_x=True, way=1, line_at=-5.0 * unit, toward=-1, extent=w)
    return [
        laid_out([Wanted(z, -unit) for z in sorted(levels)], figures, unit, up),
        laid_out([Wanted(x, -unit) for x in sorted(across)], figures, unit, along),
    ]


_UPRIGHT = frozenset({PanelRole.DIVIDER, PanelRole.SIDE_LEFT, PanelRole.SIDE_RIGHT})
_PARTING = _UPRIGHT | {PanelRole.TOP, PanelRole.BASE, PanelRole.SHELF, PanelRole.RAIL}
