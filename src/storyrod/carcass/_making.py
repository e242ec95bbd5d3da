"""One case in the making: panels, fittings, hardware, cautions and faults as they gather.

The only thing in this stage that changes while it is filled. `build` makes one for each case and turns it into
a frozen `BuiltCase`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from storyrod.carcass._fixings import Draft
from storyrod.faults import Caution, Fault, WayOut, joined
from storyrod.measure.length import MM_PER_INCH, Unit
from storyrod.measure.space import Box, Direction, Frame, Point
from storyrod.measure.tolerance import EXACT
from storyrod.model.carcass import Clearance, DoorPlace, DrawerPlace, Hardware, OpeningPlace, RailPlace
from storyrod.model.feature import Feature, FeatureId, Shape
from storyrod.model.job import Board, Case, Edging, Job
from storyrod.model.panel import Bevel, EdgeStrip, Grain, Panel, PanelId, Role, Scribed, Surface, frame_in
from storyrod.model.workshop import RunnerMount, Workshop

_NOWHERE = Point(0.0, 0.0, 0.0)
_UPRIGHT = Frame(_NOWHERE, Direction.UP, Direction.BACKWARD, Direction.RIGHT)
_UPRIGHT_LEFT = Frame(_NOWHERE, Direction.UP, Direction.BACKWARD, Direction.LEFT)
_LYING = Frame(_NOWHERE, Direction.RIGHT, Direction.BACKWARD, Direction.DOWN)
FACING = Frame(_NOWHERE, Direction.RIGHT, Direction.UP, Direction.BACKWARD)
_FACING_UPRIGHT = Frame(_NOWHERE, Direction.UP, Direction.RIGHT, Direction.BACKWARD)
DRAWER_SIDE_LEFT = Frame(_NOWHERE, Direction.BACKWARD, Direction.UP, Direction.LEFT)
DRAWER_SIDE_RIGHT = Frame(_NOWHERE, Direction.BACKWARD, Direction.UP, Direction.RIGHT)

_FRAMES: dict[Role, Frame] = {
    Role.SIDE_LEFT: _UPRIGHT_LEFT,
    Role.SIDE_RIGHT: _UPRIGHT,
    Role.DIVIDER: _UPRIGHT,
    Role.TOP: _LYING,
    Role.BASE: _LYING,
    Role.SHELF: _LYING,
    Role.LOOSE_SHELF: _LYING,
    Role.DRAWER_BOTTOM: _LYING,
    Role.RAIL: _LYING,
    Role.WORKTOP: _LYING,
    Role.PLINTH: FACING,
    Role.PLINTH_BOARD: FACING,
    Role.HANGING_RAIL: FACING,
    Role.WALL_CLEAT: FACING,
    Role.FILLER: _FACING_UPRIGHT,
    Role.BACK: FACING,
    Role.DRAWER_FRONT: FACING,
    Role.DOOR: FACING,
    Role.DRAWER_BOX_FRONT: FACING,
    Role.DRAWER_BACK: FACING,
}

GRAIN_UPRIGHT = frozenset({Role.DOOR, Role.BACK})
"""Their length runs across the case, so grain that is to stand upright lies across it."""

CARCASS = "carcass"
"""The body of all panels that are jointed into the carcass."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Blank:
    """A panel before it gets its mark: what it is and where it lies."""

    suffix: str
    role: Role
    name: str
    board: Board
    box: Box
    sums: tuple[str, str]
    cause: str
    body: str = CARCASS
    opening: str = ""
    twin: str | None = None
    edged: tuple[Surface, ...] = ()
    frame: Frame | None = None
    strip: str = ""
    bevel: Bevel | None = None
    scribed: Scribed | None = None


@dataclass(slots=True)
class Making:
    """A case as far as it has been built."""

    job: Job
    case: Case
    workshop: Workshop
    panels: dict[PanelId, Panel] = field(default_factory=dict)
    fittings: dict[PanelId, list[Feature]] = field(default_factory=dict)
    openings: list[OpeningPlace] = field(default_factory=list)
    drawers: list[DrawerPlace] = field(default_factory=list)
    doors: list[DoorPlace] = field(default_factory=list)
    rails: list[RailPlace] = field(default_factory=list)
    hardware: list[Hardware] = field(default_factory=list)
    drafts: list[Draft] = field(default_factory=list)
    shallow: dict[FeatureId, float] = field(default_factory=dict)
    clearances: list[Clearance] = field(default_factory=list)
    places: list[list[str]] = field(default_factory=list)
    cautions: list[Caution] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)
    _boards: dict[str, Board] = field(default_factory=dict)
    _edgings: dict[str, Edging] = field(default_factory=dict)

    def board(self, *codes: str | None) -> Board:
        """Return the first board that is named, or else the case's own."""
        code = next((c for c in codes if c), self.case.board)
        if code not in self._boards:
            self._boards[code] = self.job.board(code)
        return self._boards[code]

    def path(self, name: str) -> str:
        """Return the path of one of the case's own fields."""
        return joined(self.case.field, name)

    def mm(self, length: float) -> str:
        """Return a length with its unit, as the maker reads it in a fault."""
        return with_unit(self.job, length)

    def least(self, length: float) -> str:
        """Return a least length with its unit: written up, never down, so that the written figure will do."""
        return self.job.lengths.told_least(length)

    def most(self, length: float) -> str:
        """Return a greatest length with its unit: written down, never up."""
        return self.job.lengths.told_most(length)

    def fault(  # what a fault is made of
        self, code: str, field: str, *, found: str, allowed: str, do: str, ways: Sequence[WayOut] = ()
    ) -> None:
        """Note one reason why this case cannot be built as written."""
        told = Fault(code=code, field=field, found=found, allowed=allowed, do=do, ways=tuple(ways))
        self.faults.append(told.at(field))

    def at_most(self, length: float, field: str = "") -> WayOut:
        """Return the way out that makes a length as great as is allowed, on a step that a maker writes."""
        step = self.step
        return WayOut(field=field, value=math.floor(length / step + EXACT) * step, is_length=True)

    def at_least(self, length: float, field: str = "") -> WayOut:
        """Return the way out that makes a length as small as is allowed, on a step that a maker writes."""
        step = self.step
        return WayOut(field=field, value=math.ceil(length / step - EXACT) * step, is_length=True)

    def boards_of(self, least: float = 0.0, most: float = math.inf, field: str = "") -> tuple[WayOut, ...]:
        """Return the ways out that take another board of the job, of so much measured thickness: the thinnest first."""
        fitting = sorted(
            (b for b in self.job.boards if least - EXACT <= b.measured <= most + EXACT), key=lambda b: b.measured
        )
        return tuple(WayOut(field=field, value=b.code) for b in fitting[:2])

    def runners_of(self, mount: RunnerMount | None = None) -> tuple[WayOut, ...]:
        """Return the ways out that take another runner of the workshop: of one mount, or any."""
        field = f"{self.case.drawers.field}.runner"
        fitting = (r for r in self.workshop.runners if mount is None or r.mount is mount)
        return tuple(WayOut(field=field, value=r.code) for r in fitting)[:3]

    def larger(self, field: str, size: str, clear: float, more: float) -> tuple[WayOut, ...]:
        """Return the way out that gives a place `more` room, or less: by its own size, `clear` now, or by the case's.

        `size` is the size of the case that gives it: `width`, `height` or `depth`.
        """
        set_to = self.at_least if more > 0 else self.at_most
        if field.endswith(f".{size}") and field != self.path(size):
            return (set_to(clear + more, field),)
        return (set_to(getattr(self.case, size) + more, self.path(size)),)

    @property
    def step(self) -> float:
        """What lengths are written to (mm): half a millimetre, or a fraction of an inch that a rule has."""
        return MM_PER_INCH / self.job.fraction if self.job.unit is Unit.INCH else 0.5

    def caution(self, code: str, about: str, text: str, do: str, ids: Sequence[str] = ()) -> None:
        """Note something the maker must know."""
        self.cautions.append(Caution(code=code, about=about, text=text, do=do, ids=tuple(ids)))

    def leave(self, clearance: Clearance) -> None:
        """Note a room left on purpose."""
        self.clearances.append(clearance)

    def id_of(self, suffix: str) -> PanelId:
        """Return the id of a panel, drawer or opening of this case."""
        return PanelId(f"{self.case.code}.{suffix}")

    def add(self, blank: Blank) -> Panel:
        """Put a panel in its place, with the next mark."""
        own = self.id_of(blank.suffix)
        grain = Grain.ACROSS if blank.role in GRAIN_UPRIGHT else Grain.ALONG
        panel = Panel(
            id=own,
            case=self.case.code,
            mark=f"{self.case.code}{len(self.panels) + 1}",
            role=blank.role,
            name=blank.name,
            body=blank.body or own,
            board=blank.board.code,
            box=blank.box,
            frame=frame_in(blank.box, blank.frame or _FRAMES[blank.role]),
            grain=grain if blank.board.grain else Grain.FREE,
            edged=self._strips(blank),
            sums=blank.sums,
            cause=blank.cause,
            opening=blank.opening,
            twin=self.id_of(blank.twin) if blank.twin else None,
            strip=blank.strip,
            bevel=blank.bevel,
            scribed=blank.scribed,
        )
        self.panels[own] = panel
        self.fittings[own] = []
        return panel

    def cut(  # noqa: PLR0913 - the last three say what it is for
        self,
        panel: Panel,
        name: str,
        surface: Surface,
        at: Point,
        shape: Shape,
        *,
        why: str,
        item: str = "",
        pattern: str = "",
    ) -> Feature:
        """Cut a fitting's feature into a panel; `at` is told in the case frame and brought onto the surface.

        `pattern` is what the cut keeps its distance in (`Feature.pattern`).
        """
        place = panel.frame.to_panel(at)
        level = panel.extent(surface.axis) if surface.is_far else 0.0
        feature = Feature(
            id=FeatureId(f"{panel.id}.{name}"),
            panel=panel.id,
            surface=surface,
            at=place.with_(surface.axis, level),
            shape=shape,
            why=why,
            item=item,
            pattern=pattern,
        )
        self.fittings[panel.id].append(feature)
        return feature

    def stock(self, item: str, name: str, count: int, unit: str, where: str, cause: str = "") -> None:
        """Put bought things on the list, together with their like."""
        if not count:
            return
        for i, had in enumerate(self.hardware):
            if (had.item, had.name, had.unit) == (item, name, unit):
                places = self.places[i]
                if where not in places:
                    places.append(where)
                self.hardware[i] = replace(had, count=had.count + count, where=", ".join(places))
                return
        self.places.append([where])
        self.hardware.append(Hardware(item=item, name=name, count=count, unit=unit, where=where, cause=cause))

    def _strips(self, blank: Blank) -> tuple[EdgeStrip, ...]:
        code = blank.board.edging
        if not (self.case.edged and code and blank.edged):
            return ()
        if code not in self._edgings:
            self._edgings[code] = self.job.edging(code)
        edging = self._edgings[code]
        return tuple(EdgeStrip(surface=s, edging=edging.code, thickness=edging.thickness) for s in blank.edged)


def with_unit(job: Job, length: float) -> str:
    """Return a length in the job's unit, with the unit."""
    return job.lengths.told(length)


def box_of(x: tuple[float, float], y: tuple[float, float], z: tuple[float, float]) -> Box:
    """Return the box that spans these in the case frame."""
    return Box(Point(x[0], y[0], z[0]), Point(x[1], y[1], z[1]))
