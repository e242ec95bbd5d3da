"""What a step fixes to panels that lie flat: each face before the maker, its holes, and what goes on them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from storyrod.drawing._drawing import Drawing, bounds_of
from storyrod.drawing._labels import Taken
from storyrod.drawing._lettering import width_of
from storyrod.drawing._pens import HEIGHTS, Fill, Pen, Role, Tint
from storyrod.drawing._scale import fitted
from storyrod.drawing._symbols import rectangle
from storyrod.drawing._types import Anchor, Bounds, Circle, Entity, Group, Place, Text
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

_GAP: Final = 2.0
"""Between two faces of one picture and their words, on paper (mm)."""

_OVER: Final = 1.62
"""From a face to the far side of the words above or below it, in heights of a word."""

_TURNED: Final = (0.5, 0.3, 0.7, 0.2, 0.8)
"""Where the turned name of a runner may stand along it, as shares of the panel's width."""

_NOTE: Final = HEIGHTS[Role.NOTE]

_NAMED: Final = frozenset({FixingKind.RUNNER_CASE, FixingKind.HINGE_PLATE, FixingKind.RAIL_SOCKET})
"""What serves one of several things: its name stands beside it."""

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
            items += _Drawn(face, case.built, at, unit, room[0]).items()
            at += face.panel.width + (_GAP + 2 * _OVER * _NOTE) * unit
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


@dataclass(frozen=True, slots=True)
class _Drawn:
    """One face as it is drawn, its face edge at `base`; `most` is how wide its words may be on paper."""

    face: _Face
    built: BuiltCase
    base: float
    unit: float
    most: float

    def items(self) -> Iterator[Entity]:
        face, base, unit, panel = self.face, self.base, self.unit, self.face.panel
        length, width = panel.length, panel.width
        outline = rectangle((0.0, base), (length, base + width), pen=Pen.OUTLINE, fill=Fill(Tint.PAPER))
        yield Group(items=(outline,), id=panel.id, name=f"{panel.mark} {panel.name}", kind="panel")
        taken = Taken(unit)
        for fixing in face.fixings:
            pieces = list(self._pieces(fixing))
            yield from pieces
            for piece in pieces:
                taken.take(bounds_of((piece,), unit))
        for hole in face.holes:
            (x, y), shape = face.place(hole), hole.shape
            assert isinstance(shape, Hole)  # noqa: S101  # only holes are taken
            circle = Circle(centre=(x, base + y), radius=max(shape.diameter / 2, 0.35 * unit), pen=Pen.FEATURE)
            taken.take(bounds_of((circle,), unit))
            yield circle
        yield self._note((length / 2, base - _NOTE * unit), f"{_ENDS[panel.frame.v]} edge, toward you")
        yield self._note((length / 2, base + width + _NOTE * unit), self._title(), bold=True)
        yield self._end()
        within = Bounds(left=0.0, right=length, bottom=base, top=base + width).grown(-0.4 * unit)
        # A name with few places chooses first: a runner near the end of the panel has its name on one side only.
        tries = sorted((list(self._names(f, within)) for f in face.fixings), key=len)
        for texts in tries:
            text = taken.first_free(texts, unit, 0.3 * unit) or (texts[0] if texts else None)
            if text is not None:
                yield text

    def _title(self) -> str:
        """Return the panel's mark and name and the face that is up; without the name where that has no room."""
        panel, up = self.face.panel, f"{self.face.surface.value} up"
        whole = f"{panel.mark} {panel.name}, {up}"
        return whole if width_of(whole, _NOTE, bold=True) <= self.most else f"{panel.mark}, {up}"

    def _end(self) -> Text:
        """Return the name of the datum end, turned along it; level beside a face that is lower than it is long."""
        face, unit = self.face, self.unit
        words = _ENDS[face.panel.frame.u]
        sign, x = (-1, 0.0) if face.starts_left else (1, face.panel.length)
        y = self.base + face.panel.width / 2
        if width_of(words, _NOTE) * unit > face.panel.width:
            anchor = Anchor.END if sign < 0 else Anchor.START
            return Text(at=(x + sign * unit, y), text=words, height=_NOTE, anchor=anchor, role=Role.NOTE)
        return Text(at=(x + sign * _NOTE * unit, y), text=words, height=_NOTE, angle_deg=90.0, role=Role.NOTE)

    def _note(self, at: Place, text: str, *, bold: bool = False) -> Text:
        return Text(at=at, text=text, height=_NOTE, anchor=Anchor.MIDDLE, bold=bold, role=Role.NOTE)

    def _places(self, fixing: Fixing) -> list[Place]:
        return [self.face.place(h) for h in self.face.holes if h.id in fixing.features]

    def _pieces(self, fixing: Fixing) -> Iterator[Entity]:
        """Yield what is fixed, as a plain shape round its holes."""
        if fixing.kind is FixingKind.RUNNER_CATCH:
            yield from _catches(self.face, self.base)
            return
        for spots in _apart(fixing, self._places(fixing)):
            low, high = _round(fixing, spots, self.face)
            ends = (low[0], self.base + low[1]), (high[0], self.base + high[1])
            yield rectangle(*ends, pen=Pen.THIN, fill=Fill(Tint.CHOSEN))

    def _names(self, fixing: Fixing, within: Bounds) -> Iterator[Text]:
        """Yield where what a fitting serves may be written beside it, on the panel."""
        places = self._places(fixing)
        if not places or fixing.kind not in _NAMED:
            return
        built, unit = self.built, self.unit
        names = {d.id: d.name for d in built.drawers} | {r.id: r.name for r in built.rails}
        name = names.get(fixing.about) or next(p.name for p in built.panels if p.id == fixing.about)
        if fixing.kind in {FixingKind.HINGE_PLATE, FixingKind.RAIL_SOCKET}:
            each = len(places) // fixing.count
            for n in range(fixing.count):
                yield self._over(places[n * each : (n + 1) * each], name, within)
            return
        away = _HALF + 0.8 * _NOTE * unit
        for x in (max(p[0] for p in places) + away, min(p[0] for p in places) - away):
            if within.left < x - _NOTE * unit / 2 and x + _NOTE * unit / 2 < within.right:
                for share in _TURNED:
                    at = (x, self.base + share * self.face.panel.width)
                    yield Text(at=at, text=name, height=_NOTE, angle_deg=90.0, role=Role.NOTE)

    def _over(self, spots: Sequence[Place], name: str, within: Bounds) -> Text:
        """Return the name over a plate or socket, moved along where it would reach beyond the panel."""
        half = width_of(name, _NOTE) / 2 * self.unit
        x = min(max(sum(p[0] for p in spots) / len(spots), within.left + half), within.right - half)
        return self._note((x, self.base + max(p[1] for p in spots) + _HALF + _NOTE * self.unit), name)


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
