"""How the planks of one case hang together: which rest where, and which uprights carry on to others.

All level panels of the carcass that span are bent together, with the uprights between them: a divider that stands on
a shelf goes down with it, and pulls the top along. Sides stand firm. A level panel that lies on the floor, or on a
plinth in front and on a plinth or a screwed back behind, is firm as well, and so is what stands on it. Joints are
taken to hold a plank up and let it turn: true sag is less.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Final

from storyrod.measure.space import Axis, Direction
from storyrod.model.detail import DetailedCase, Details
from storyrod.model.job import Board, Job
from storyrod.model.joint import Joint, JointId, JointKind
from storyrod.model.panel import Panel, PanelId, Role, Surface
from storyrod.model.soundness import Carried, Rest
from storyrod.model.thresholds import GRAVITY, Thresholds
from storyrod.model.weight import panel_mass_kg
from storyrod.soundness._beam import FIRM, Bent, Level, Line, Spread, Support, bend
from storyrod.soundness._boards import Stiffness, lipping_stiffness, stiffness_of
from storyrod.soundness._loads import beside, is_level, loads_on, opening_named
from storyrod.soundness._section import Part, Section, section_of

NARROWEST: Final = 10.0
"""A strip of board narrower than this (mm) between its lippings is not a plank of its own."""

ON_FLOOR: Final = 1.0
"""What is no higher above the floor than this (mm) lies on it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """One support of a plank with its cause."""

    support: Support
    by: Rest
    panel: PanelId | None
    joint: JointId | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Plank:
    """A level panel with all that bears on its sag.

    `firm` says what it lies on, where it does so all over; `rear_free`, that a plinth holds it in front alone.
    """

    panel: Panel
    board: Board
    stiffness: Stiffness
    section: Section | None
    edges: tuple[str, ...]
    own_kg: float
    carried: tuple[Carried, ...]
    held: tuple[Held, ...]
    firm: Rest | None = None
    rear_free: bool = False

    @property
    def is_reckoned(self) -> bool:
        """Whether it can be bent: it spans between two supports and its stiffness is known."""
        return self.section is not None and self.firm is None and len({h.support.x for h in self.held}) > 1

    @property
    def reach(self) -> tuple[float, float]:
        """From its first to its last support (case x)."""
        xs = [h.support.x for h in self.held]
        return min(xs), max(xs)

    def line(self) -> Line:
        """Return it as a line to be bent, with its own weight and what lies on it."""
        start, end = self.reach
        low, high = self.panel.box.span(Axis.X)
        own = Spread(start=low, end=high, n_per_mm=self.own_kg * GRAVITY / (high - low))
        spreads = [Spread(start=c.start, end=c.end, n_per_mm=c.kg * GRAVITY / (c.end - c.start)) for c in self.carried]
        section = self.section
        if section is None:
            raise ValueError("a plank of unknown stiffness is not bent")
        return Line(
            start=start,
            end=end,
            rigidity_n_mm2=section.rigidity_n_mm2,
            shear_n=section.shear_n,
            supports=tuple(h.support for h in self.held),
            spreads=(own, *spreads),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Carrying:
    """A case's planks, bent: `bent` by panel; planks that lie firm, or of unknown stiffness, are not in it."""

    planks: tuple[Plank, ...]
    bent: dict[PanelId, Bent] = field(default_factory=dict)
    firm_uprights: frozenset[PanelId] = frozenset()


def carry(case: DetailedCase, details: Details, thresholds: Thresholds) -> Carrying:
    """Return every plank of a case under its load."""
    found = _Case(case, details, thresholds)
    return found.carrying()


class _Case:
    """Gathers what holds what up in one case."""

    def __init__(self, case: DetailedCase, details: Details, thresholds: Thresholds) -> None:
        self.case = case
        self.job: Job = details.job
        self.details = details
        self.panels = {p.id: p for p in case.panels}
        self.boards = {b.code: b for b in details.job.boards}
        self.loads = self._shared(loads_on(case, thresholds, details.job.use.loads))
        self.features: dict[PanelId, tuple] = {p.id: case.on(p.id) for p in case.panels}  # type: ignore[type-arg]
        self.level_panels = [p for p in case.panels if p.body == "carcass" and is_level(p)]
        self.firm = {p.id: rest for p in self.level_panels if (rest := self._firm(p)) is not None}
        self.unknown = {p.id for p in self.level_panels if self._stiff(p).along is None}
        self.levels = self._levels()

    def _shared(self, loads: dict[PanelId, tuple[Carried, ...]]) -> dict[PanelId, tuple[Carried, ...]]:
        """Return the loads with those on a worktop shared out: it bends with the top or the rails that it lies on, so
        each bears by its own stiffness (they are not glued; the worktop's share goes straight into the sides).
        """
        top = next((p for p in self.case.panels if p.role is Role.WORKTOP), None)
        if top is None:
            return loads
        under = [
            p
            for p in self.case.panels
            if p.body == "carcass" and p.role in {Role.TOP, Role.RAIL} and abs(p.box.high.z - top.box.low.z) <= ON_FLOOR
        ]
        rigid = {p.id: self._rigidity(p) for p in (*under, top)}
        whole = sum(rigid.values())
        kg = sum(c.kg for p in under for c in loads.get(p.id, ())) + panel_mass_kg(top, self.boards[top.board])
        found = dict(loads)
        for panel in under:
            share = rigid[panel.id] / whole if whole > 0 else 1 / len(under)
            low, high = panel.box.span(Axis.X)
            why = f"the worktop and what is on it, by its share of their stiffness ({share:.0%})"
            found[panel.id] = (Carried(start=low, end=high, kg=kg * share, why=why),)
        return found

    def _rigidity(self, panel: Panel) -> float:
        """Return how stiff a plank is (N mm2); 0 where its board's stiffness is not known."""
        along = stiffness_of(panel, self.boards[panel.board]).along
        return 0.0 if along is None else along * panel.width * panel.thickness**3 / 12

    def _stiff(self, panel: Panel) -> Stiffness:
        return stiffness_of(panel, self.boards[panel.board])

    def _firm(self, panel: Panel) -> Rest | None:
        if self._on_floor(panel):
            return Rest.FLOOR
        front, rear = self._held_in_depth(panel)
        return Rest.EDGES if front and rear else None

    def _on_floor(self, panel: Panel) -> bool:
        return self.case.built.hung is None and panel.box.low.z <= ON_FLOOR

    def _held_in_depth(self, panel: Panel) -> tuple[bool, bool]:
        """Return whether a plinth holds it in front, and a plinth or a screwed back behind."""
        middle = panel.box.centre.y
        front = rear = False
        for joint in self.case.joints:
            other = self._other(joint, panel.id)
            if other is None:
                continue
            if joint.kind is JointKind.PLINTH and joint.receiving == panel.id:
                front, rear = front or other.box.centre.y < middle, rear or other.box.centre.y >= middle
            rear = rear or (other.role is Role.BACK and bool(joint.stations) and panel.role is Role.BASE)
        return front, rear

    def _other(self, joint: Joint, panel: PanelId) -> Panel | None:
        if joint.receiving == panel:
            return self.panels[joint.entering]
        return self.panels[joint.receiving] if joint.entering == panel else None

    def _levels(self) -> dict[PanelId, Level]:
        """The level of every upright between the sides: its own name where it stands on what bends, else firm."""
        levels: dict[PanelId, Level] = {}
        for panel in self.case.panels:
            if panel.body != "carcass" or panel.frame.into.axis is not Axis.X:
                continue
            if panel.role is not Role.DIVIDER or self._on_floor(panel):
                levels[panel.id] = FIRM
                continue
            below = [j.receiving for j in self.case.joints if j.entering == panel.id and j.home is Direction.DOWN]
            stands_firm = any(b in self.firm or b in self.unknown for b in below)
            spans = [
                p
                for j in self.case.joints
                for p in (self._other(j, panel.id),)
                if p is not None and is_level(p) and p.id not in self.firm and p.id not in self.unknown
            ]
            levels[panel.id] = FIRM if stands_firm or not spans else panel.id
        self._go_down_together(levels)
        return levels

    def _go_down_together(self, levels: dict[PanelId, Level]) -> None:
        """Give uprights that meet a plank at one place, from above and from below, one level: firm where one is."""
        met: dict[tuple[PanelId, int], list[PanelId]] = {}
        for joint in self.case.joints:
            if joint.home.axis is Axis.Z and joint.entering in levels and is_level(self.panels[joint.receiving]):
                x = self._foot(self.panels[joint.receiving], self.panels[joint.entering])
                met.setdefault((joint.receiving, round(x * 10)), []).append(joint.entering)
        changed = True
        while changed:
            changed = False
            for uprights in met.values():
                own = sorted({levels[u] for u in uprights})  # firm is "", before every name
                for upright in uprights:
                    changed = changed or levels[upright] != own[0]
                    levels[upright] = own[0]

    def carrying(self) -> Carrying:
        planks = tuple(self._plank(p) for p in self.level_panels) + tuple(self._loose())
        known = [p for p in planks if p.is_reckoned]
        on_levels = self._on_levels()
        bent = bend([p.line() for p in known], on_levels)
        return Carrying(
            planks=planks,
            bent={p.panel.id: b for p, b in zip(known, bent, strict=True)},
            firm_uprights=frozenset(k for k, v in self.levels.items() if v == FIRM),
        )

    def _plank(self, panel: Panel) -> Plank:
        return self._made(panel, tuple(self._held(panel)), self.firm.get(panel.id))

    def _made(self, panel: Panel, held: tuple[Held, ...], firm: Rest | None) -> Plank:
        board = self.boards[panel.board]
        stiffness = stiffness_of(panel, board)
        section, edges = section_with_lippings(panel, stiffness, self.job)
        return Plank(
            panel=panel,
            board=board,
            stiffness=stiffness,
            section=section,
            edges=edges,
            own_kg=panel_mass_kg(panel, board, self.features[panel.id]),
            carried=self.loads.get(panel.id, ()),
            held=_one_each(held),
            firm=firm,
            rear_free=self._held_in_depth(panel) == (True, False),
        )

    def _held(self, panel: Panel) -> list[Held]:
        found = []
        if panel.role is Role.BASE:
            places = sorted({f.x for f in self.case.built.feet})
            found = [Held(support=Support(x=x), by=Rest.FEET, panel=None, joint=None) for x in places]
        for joint in self.case.joints:
            other = self._other(joint, panel.id)
            if other is None or other.id not in self.levels:
                continue
            level = self.levels[other.id]
            if joint.entering == panel.id and joint.home.axis is Axis.X:
                x = other.box.high.x if joint.home is Direction.LEFT else other.box.low.x
                found.append(_held(x, level, Rest.JOINT, other, joint))
            elif joint.receiving == panel.id and joint.home.axis is Axis.Z:
                found.append(_held(self._foot(panel, other), level, Rest.UPRIGHT, other, joint))
        return found

    def _foot(self, panel: Panel, upright: Panel) -> float:
        """Where an upright meets a level panel: its inner face at the panel's ends, its middle elsewhere."""
        low, high = panel.box.span(Axis.X)
        if upright.box.low.x - low < upright.thickness:
            return upright.box.high.x
        return upright.box.low.x if high - upright.box.high.x < upright.thickness else upright.box.centre.x

    def _loose(self) -> list[Plank]:
        planks = []
        for panel in self.case.panels:
            if panel.role is not Role.LOOSE_SHELF:
                continue
            room = opening_named(self.case.built, panel.opening).box
            held = []
            for left in (True, False):
                upright = beside(self.case.panels, room, left=left)
                x = panel.box.low.x if left else panel.box.high.x
                # Its pins are the upright's, but it rests on them loosely: firm for its own sag.
                held.append(Held(support=Support(x=x), by=Rest.PINS, panel=upright.id if upright else None, joint=None))
            planks.append(self._made(panel, tuple(held), None))
        return planks

    def _on_levels(self) -> dict[Level, float]:
        """What presses on each upright that may go down: itself, and half of what hangs or rests beside it."""
        loads: dict[Level, float] = {}
        own = ((self.panels[p], self._kg(p)) for p, level in self.levels.items() if level != FIRM)
        for upright, kg in (*own, *self._beside()):
            level = self.levels.get(upright.id, FIRM)
            if level != FIRM:
                loads[level] = loads.get(level, 0.0) + kg * GRAVITY
        return loads

    def _beside(self) -> Iterator[tuple[Panel, float]]:
        """Yield every upright with half of each drawer, clothes rail and loose shelf beside it (kg)."""
        built = self.case.built
        for rail in built.rails:
            yield from ((self.panels[p], rail.load_kg / 2) for p in rail.uprights)
        wholes = [
            (d.opening, sum(map(self._kg, (*d.panels, *([d.front] if d.front else [])))) + d.load_kg)
            for d in built.drawers
        ]
        shelves = (p for p in self.case.panels if p.role is Role.LOOSE_SHELF)
        wholes += [(p.opening, self._kg(p.id) + sum(c.kg for c in self.loads.get(p.id, ()))) for p in shelves]
        for opening, kg in wholes:
            room = opening_named(built, opening).box
            for left in (True, False):
                upright = beside(self.case.panels, room, left=left)
                if upright is not None:
                    yield upright, kg / 2

    def _kg(self, panel_id: PanelId) -> float:
        panel = self.panels[panel_id]
        return panel_mass_kg(panel, self.boards[panel.board], self.features[panel_id])


def _held(x: float, level: Level, by: Rest, panel: Panel, joint: Joint) -> Held:
    return Held(support=Support(x=x, level=level), by=by, panel=panel.id, joint=joint.id)


def _one_each(held: tuple[Held, ...]) -> tuple[Held, ...]:
    """Return one support for each place; of two in one place (an upright above, one below) the firm one."""
    by_place: dict[int, Held] = {}
    for one in sorted(held, key=lambda h: h.support.level != FIRM):
        by_place.setdefault(round(one.support.x * 10), one)
    return tuple(sorted(by_place.values(), key=lambda h: h.support.x))


def section_with_lippings(panel: Panel, stiffness: Stiffness, job: Job) -> tuple[Section | None, tuple[str, ...]]:
    """Return a plank's section with its solid lippings, and their names; None where the board's E is not known."""
    if stiffness.along is None:
        return None, ()
    lippings = [
        (strip, job.edging(strip.edging))
        for strip in panel.edged
        if strip.surface in {Surface.FACE_EDGE, Surface.FAR_EDGE} and job.edging(strip.edging).solid
    ]
    width = panel.width - sum(strip.thickness for strip, _ in lippings)
    if width < NARROWEST:  # Nothing but lipping: reckoned as board, which is the less stiff.
        lippings, width = [], panel.width
    parts = [Part(width=width, height=panel.thickness, stiffness_n_mm2=stiffness.along)]
    parts += [
        Part(width=strip.thickness, height=panel.thickness, stiffness_n_mm2=lipping_stiffness(edging))
        for strip, edging in lippings
    ]
    return section_of(*parts), tuple(edging.name for _, edging in lippings)
