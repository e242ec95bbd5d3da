"""What a step fixes to panels that lie flat: each face before the maker, its holes, and what goes on them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from storyrod.drawing._drawing import Drawing
from storyrod.drawing._pens import HEIGHTS, Fill, Pen, Role, Tint
from storyrod.drawing._scale import fitted
from storyrod.drawing._symbols import rectangle
from storyrod.drawing._types import Anchor, Circle, Entity, Group, Place, Text
from storyrod.measure.space import Direction
from storyrod.model.assembly import ByHand, HandAct, Step
from storyrod.model.carcass import BuiltCase
from storyrod.model.detail import DetailedCase
from storyrod.model.feature import Feature, Hole
from storyrod.model.fixing import Fixing, FixingKind
from storyrod.model.panel import Panel, Surface

_DRAWN: Final = {
    HandAct.RUNNER_CASE: FixingKind.RUNNER_CASE,
    HandAct.RUNNER_DRAWER: FixingKind.RUNNER_DRAWER,
    HandAct.RUNNER_CATCH: FixingKind.RUNNER_CATCH,
    HandAct.PLATES: FixingKind.HINGE_PLATE,
    HandAct.HINGES: FixingKind.HINGE_CUP,
    HandAct.SOCKET: FixingKind.RAIL_SOCKET,
    HandAct.FEET: FixingKind.FOOT,
}

_BEYOND: Final = 22.0
"""How far a runner is drawn beyond its outer screws, and to either side of them a plate or hinge (mm)."""

_HALF: Final = 12.0
"""Half the height of a runner as it is drawn (mm)."""

_CATCH: Final = (60.0, 14.0)
"""A catch as it is drawn, across the box front and up from the bottom's edge (mm)."""

_GAP: Final = 4.0
"""Between two faces of one picture, on paper (mm)."""

_ENDS: Final = {
    Direction.UP: "bottom",
    Direction.DOWN: "top",
    Direction.RIGHT: "left",
    Direction.LEFT: "right",
    Direction.BACKWARD: "front",
    Direction.FORWARD: "back",
}
"""Where a panel begins in the case, by the direction in which it runs from there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Face:
    """One face of a panel as it lies, with what is fixed to it."""

    panel: Panel
    surface: Surface
    holes: tuple[Feature, ...]
    fixings: tuple[Fixing, ...]

    @property
    def starts_left(self) -> bool:
        """Whether the datum end is at the maker's left: so it is with a mirrored frame's face side up."""
        return self.panel.frame.is_mirrored is not self.surface.is_far

    def place(self, feature: Feature) -> Place:
        """Return where a hole lies, face edge toward the maker."""
        u = feature.at.u if self.starts_left else self.panel.length - feature.at.u
        return u, feature.at.v


def fitting_picture(case: DetailedCase, step: Step, *, room: tuple[float, float]) -> Drawing:
    """Return the picture of a step in which fittings are fixed to panels that lie flat."""
    faces = tuple(_faces(case.built, step))
    width = max((f.panel.length for f in faces), default=1.0)
    height = sum(f.panel.width for f in faces)

    def draw(unit: float) -> Drawing:
        items: list[Entity] = []
        at = 0.0
        for face in reversed(faces):
            items += _drawn(face, case.built, at, unit)
            at += face.panel.width + (_GAP + 4 * HEIGHTS[Role.NOTE]) * unit
        return Drawing(
            id=f"{case.built.case.code}.step-{step.number}",
            title=f"Step {step.number}",
            alt=f"Step {step.number} of case {case.built.case.code}: {step.text}",
            items=tuple(items),
            unit=unit,
        )

    return fitted(draw, room, (width, height))


def _faces(built: BuiltCase, step: Step) -> Iterator[_Face]:
    for own in step.onto:
        mine = [f for one in step.by_hand for f in _fixings(built, one) if f.panel == own]
        held = {i for f in mine for i in f.features}
        here = [f for f in built.fittings if f.panel == own]
        surface = next((f.surface for f in here if f.id in held), Surface.FAR_FACE)
        holes = tuple(f for f in here if f.surface is surface and isinstance(f.shape, Hole))
        panel = next(p for p in built.panels if p.id == own)
        yield _Face(panel=panel, surface=surface, holes=holes, fixings=tuple(mine))


def _fixings(built: BuiltCase, one: ByHand) -> list[Fixing]:
    kind = _DRAWN.get(one.act)
    return [f for f in built.fixings if f.kind is kind and f.about == one.about and str(f.panel) == one.panel]


def _drawn(face: _Face, built: BuiltCase, base: float, unit: float) -> Iterator[Entity]:
    panel, note = face.panel, HEIGHTS[Role.NOTE]
    length, width = panel.length, panel.width
    outline = rectangle((0.0, base), (length, base + width), pen=Pen.OUTLINE, fill=Fill(Tint.PAPER))
    yield Group(items=(outline,), id=panel.id, name=f"{panel.mark} {panel.name}", kind="panel")
    for fixing in face.fixings:
        yield from _fitting(face, fixing, built, base, unit)
    for hole in face.holes:
        (x, y), shape = face.place(hole), hole.shape
        assert isinstance(shape, Hole)  # noqa: S101  # only holes are taken
        yield Circle(centre=(x, base + y), radius=max(shape.diameter / 2, 0.35 * unit), pen=Pen.FEATURE)
    edge = f"{_ENDS[panel.frame.v]} edge, toward you"
    yield _note((length / 2, base - note * unit), edge, note)
    title = f"{panel.mark} {panel.name}, {face.surface.value} up"
    yield _note((length / 2, base + width + note * unit), title, note, bold=True)
    x, sign = (0.0, -1) if face.starts_left else (length, 1)
    at = x + sign * note * unit, base + width / 2
    yield Text(at=at, text=_ENDS[panel.frame.u], height=note, angle_deg=90.0, role=Role.NOTE)


def _note(at: Place, text: str, height: float, *, bold: bool = False) -> Text:
    return Text(at=at, text=text, height=height, anchor=Anchor.MIDDLE, bold=bold, role=Role.NOTE)


def _fitting(face: _Face, fixing: Fixing, built: BuiltCase, base: float, unit: float) -> Iterator[Entity]:
    """Yield what is fixed, as a plain shape round its holes, with what it serves beside it."""
    if fixing.kind is FixingKind.RUNNER_CATCH:
        yield from _catches(face, base)
        return
    places = [face.place(h) for h in face.holes if h.id in fixing.features]
    for spots in _apart(fixing, places):
        low, high = _round(fixing, spots, face)
        yield rectangle((low[0], base + low[1]), (high[0], base + high[1]), pen=Pen.THIN, fill=Fill(Tint.CHOSEN))
    if not places or fixing.kind not in {FixingKind.RUNNER_CASE, FixingKind.HINGE_PLATE, FixingKind.RAIL_SOCKET}:
        return
    names = {d.id: d.name for d in built.drawers} | {r.id: r.name for r in built.rails}
    name = names.get(fixing.about) or next(p.name for p in built.panels if p.id == fixing.about)
    note = HEIGHTS[Role.NOTE]
    if fixing.kind in {FixingKind.HINGE_PLATE, FixingKind.RAIL_SOCKET}:
        first = places[: len(places) // fixing.count]
        at = sum(p[0] for p in first) / len(first), base + max(p[1] for p in first) + _HALF + note * unit
        yield _note(at, name, note)
        return
    away = _HALF + 0.8 * note * unit
    x = max(p[0] for p in places) + away
    if x + note * unit > face.panel.length:
        x = min(p[0] for p in places) - away
    yield Text(at=(x, base + face.panel.width / 2), text=name, height=note, angle_deg=90.0, role=Role.NOTE)


def _catches(face: _Face, base: float) -> Iterator[Entity]:
    """Yield the catches of a runner, which have no holes of their own: one in each lower corner."""
    wide, high = min(_CATCH[0], face.panel.length / 3), min(_CATCH[1], face.panel.width / 3)
    for x in (0.0, face.panel.length - wide):
        yield rectangle((x, base), (x + wide, base + high), pen=Pen.THIN, fill=Fill(Tint.CHOSEN))


def _apart(fixing: Fixing, places: Sequence[Place]) -> Iterator[Sequence[Place]]:
    """Yield the holes of each piece: a runner has all of them, a hinge or plate two."""
    if fixing.kind in {FixingKind.HINGE_CUP, FixingKind.HINGE_PLATE, FixingKind.FOOT}:
        each = len(places) // fixing.count
        yield from (places[n * each : (n + 1) * each] for n in range(fixing.count))
    elif places:
        yield places


def _round(fixing: Fixing, spots: Sequence[Place], face: _Face) -> tuple[Place, Place]:
    """Return the corners of a piece round its holes, no larger than the panel."""
    xs, ys = [s[0] for s in spots], [s[1] for s in spots]
    wide, high = (_HALF, _HALF)
    if fixing.kind in {FixingKind.RUNNER_CASE, FixingKind.RUNNER_DRAWER}:
        along_x = max(xs) - min(xs) > max(ys) - min(ys)
        wide, high = (_BEYOND, _HALF) if along_x else (_HALF, _BEYOND)
    low = max(0.0, min(xs) - wide), max(0.0, min(ys) - high)
    return low, (min(face.panel.length, max(xs) + wide), min(face.panel.width, max(ys) + high))
