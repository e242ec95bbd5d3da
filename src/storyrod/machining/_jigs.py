"""Jigs: which placings one jig serves, its stations and stops, and how it is made and checked.

Jigs are gathered by what runs in them: one opening, one cutter. The edge jig and the mid-panel jig of one opening have
the same stations (they are made clamped together), so a connector's two halves cannot part company along the joint.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from typing import Final

from storyrod.faults import Caution
from storyrod.machining._choose import Made
from storyrod.machining._hold import MARGIN, NARROW
from storyrod.machining._jig_words import checks_of, notes_of, pieces_of
from storyrod.machining._minutes import jig_minutes, minutes_of
from storyrod.machining._needs import Half
from storyrod.machining._nouns import noun_of
from storyrod.machining._reference import hand_of
from storyrod.machining._stations import Layout, Pattern, share_stations
from storyrod.measure.length import show_mm
from storyrod.model.feature import CutOut, Hole, Keyhole
from storyrod.model.machining import Hand, JigKind, JigPlan, LineUp, Stop
from storyrod.model.workshop import Along, Jig, Workshop

STOP_ROOM: Final = 30.0
WEB: Final = 3.0
"""Least strip of template between an opening and an edge that is used as reference; common practice, no source."""

_GRID: Final = 100


@dataclass(slots=True)
class _Family:
    """Placings that one opening serves, at one distance from the reference (rows) or at any (joints)."""

    kind: str
    members: list[Made] = field(default_factory=list)

    @property
    def edges(self) -> list[Made]:
        return [m for m in self.members if not is_free(m)]

    @property
    def frees(self) -> list[Made]:
        return [m for m in self.members if is_free(m)]


@dataclass(frozen=True, slots=True)
class JigUse:
    """How one need uses its jig."""

    jig: str
    offset: float
    stop: str


@dataclass(frozen=True, slots=True)
class Jigs:
    """All jigs, and how each need uses one, by the need's identity."""

    plans: tuple[JigPlan, ...]
    uses: dict[int, JigUse]
    cautions: tuple[Caution, ...]


def is_free(made: Made) -> bool:
    """Return whether a placing has no edge for a fence to hang on, so that a line must be marked."""
    return made.need.half is Half.RECEIVING and not made.reference.at_end


def plan_jigs(made: Sequence[Made], workshop: Workshop) -> Jigs:
    """Return the fewest jigs that serve all placings that are made with one, owned ones first."""
    families: dict[tuple[object, ...], _Family] = {}
    for m in made:
        if m.choice.way.along is Along.JIG:
            key = _family_key(m)
            families.setdefault(key, _Family(str(key[0]))).members.append(m)
    maker = _Maker(workshop)
    for family in families.values():
        for part in _narrow_apart(family):
            maker.add(part)
    return Jigs(tuple(maker.plans), maker.uses, tuple(maker.cautions))


def _family_key(m: Made) -> tuple[object, ...]:
    opening = tuple(round(x, 2) for x in m.choice.opening or (0.0, 0.0))
    bush = m.choice.bush.diameter if m.choice.bush else None
    cutter = m.choice.cutter.code if m.choice.cutter else ""
    base = (m.choice.way.code, opening, bush, cutter)
    if isinstance(m.need.first, CutOut):
        return ("template", *base, m.need.plan)
    if m.need.half is Half.OTHER or m.need.joint is None:
        return ("row", *base)
    return ("joint", *base)


def shift_of(m: Made) -> float:
    """Return how far, along the line, a mark lies from the middle of the opening that makes it."""
    shape = m.need.first
    if isinstance(shape, Keyhole) and shape.run is m.need.along:
        return shape.lock_sign * shape.travel / 2 * (-1 if m.need.from_far else 1)
    return 0.0


def _narrow_apart(family: _Family) -> Iterable[_Family]:
    """Split off the narrow parts where the long jig would be more than three times as long as they are.

    Rows are split where their distances from the fence are too far apart for a packer.
    """
    if family.kind == "row":
        return _rows_apart(family)
    if family.kind != "joint":
        return (family,)
    narrow = [m for m in family.members if m.need.run_length < NARROW]
    wide = [m for m in family.members if m.need.run_length >= NARROW]
    if not narrow or not wide:
        return (family,)
    reach = max(max(m.need.from_stop) for m in wide)
    small = [m for m in narrow if reach + MARGIN > 3 * m.need.run_length]
    if not small:
        return (family,)
    kept = {id(m) for m in small}
    rest = [m for m in family.members if id(m) not in kept]
    # The mates of a narrow part are placed with its jig too, so that both halves keep in step.
    joints = {(m.need.panel.case, m.need.joint.id) for m in small if m.need.joint}
    mates = [m for m in rest if m.need.joint and (m.need.panel.case, m.need.joint.id) in joints]
    moved = {id(m) for m in mates}
    return (
        _Family("joint", [m for m in rest if id(m) not in moved]),
        _Family("small", small + mates),
    )


PACKABLE: Final = 20.0
"""Rows whose distances from the fence differ by no more than this share a jig, with packers; a rule of thumb."""


def _rows_apart(family: _Family) -> list[_Family]:
    parts: list[_Family] = []
    for m in sorted(family.members, key=lambda m: -m.reference.wanted):
        if not parts or parts[-1].members[0].reference.wanted - m.reference.wanted > PACKABLE:
            parts.append(_Family("row"))
        parts[-1].members.append(m)
    return parts


class _Maker:
    """Makes jig plans, numbering them in order."""

    def __init__(self, workshop: Workshop) -> None:
        self.workshop = workshop
        self.plans: list[JigPlan] = []
        self.uses: dict[int, JigUse] = {}
        self.cautions: list[Caution] = []

    def add(self, family: _Family) -> None:
        """Plan the jigs of one family: what owned jigs serve first, then new ones."""
        if not family.members:
            return
        for free in (False, True):
            for jig in self.workshop.jigs:
                self._use_owned(jig, family, free=free)
        left = [m for m in family.members if id(m.need) not in self.uses]
        if left:
            self._make_new(_Family(family.kind, left))

    # --- owned jigs ---

    def _use_owned(self, jig: Jig, family: _Family, *, free: bool) -> None:
        asked = [m for m in (family.frees if free else family.edges) if id(m.need) not in self.uses]
        asked = [m for m in asked if _runs_in(jig, m) and jig.for_mid_panel is free]
        if not asked or family.kind == "template":
            return
        served = {p: o for p in {_pattern(m) for m in asked} if (o := _offset_in(jig, p)) is not None}
        taken = [m for m in asked if _pattern(m) in served]
        for m in asked:
            if _pattern(m) not in served:
                self._too_short(jig, m)
        if not taken:
            return
        layout = Layout(tuple(round(s * _GRID) for s in jig.stations), served, proven=True)
        self._plan(_Family(family.kind, taken), layout, free=free, owned=jig)

    def _too_short(self, jig: Jig, m: Made) -> None:
        reach, wanted = max(jig.stations), max(m.need.from_stop)
        if wanted <= reach + 0.05:
            why = f"Its stations are not where {_joint_words(m)} has its cuts"
        else:
            last = f"its last station stands {show_mm(reach)} mm from the stop, the last cut {show_mm(wanted)}"
            why = f"It is shorter than {_joint_words(m)}: {last}"
        told = Caution(
            code="jig-does-not-reach",
            about=jig.name,
            text=f"{why}, so that joint is made with a new jig.",
            do="Check the stations in the workshop file, or add stations to the jig.",
            ids=(str(m.need.panel.id),),
        )
        if not any(c.about == told.about and c.code == told.code for c in self.cautions):
            self.cautions.append(told)

    # --- new jigs ---

    def _make_new(self, family: _Family) -> None:
        layout = _layout(family)
        first = None
        for free in (False, True):
            members = family.frees if free else family.edges
            if members:
                made = self._plan(_Family(family.kind, members), layout, free=free, in_step=first, widest=family)
                first = first or made

    def _plan(
        self,
        family: _Family,
        layout: Layout,
        *,
        free: bool,
        owned: Jig | None = None,
        in_step: str | None = None,
        widest: _Family | None = None,
    ) -> str:
        members = family.members
        jig_id = f"G{len(self.plans) + 1}"
        reference = max(m.reference.wanted for m in (widest or family).members)
        offsets = {p: layout.offsets[p] for p in {_pattern(m) for m in members}} if family.kind != "template" else {}
        labels = _labels(offsets.values())
        for m in members:
            offset = offsets.get(_pattern(m), 0)
            self.uses[id(m.need)] = JigUse(jig_id, offset / _GRID, labels.get(offset, ""))
        stations = tuple(s / _GRID for s in layout.stations)
        kind = _kind(family, free=free)
        plan = _Draft(jig_id, kind, family, stations, reference, free, labels, offsets, layout.proven).plan(
            self.workshop
        )
        if owned is not None:
            plan = replace(
                plan, name=owned.name, owned=owned.code, making_min=0.0, pieces=(), thickness=owned.thickness
            )
        if in_step:
            plan = replace(plan, in_step_with=in_step)
        self.plans.append(replace(plan, checks=checks_of(plan), notes=notes_of(plan)))
        return jig_id


def _kind(family: _Family, *, free: bool) -> JigKind:
    if family.kind == "template":
        return JigKind.TEMPLATE
    if family.kind == "row":
        return JigKind.ROW
    return JigKind.MID_PANEL if free else JigKind.EDGE


def _layout(family: _Family) -> Layout:
    if family.kind == "template":
        return Layout((0,), {}, proven=True)
    return share_stations(_pattern(m) for m in family.members)


def _pattern(m: Made) -> Pattern:
    shift = shift_of(m)
    return tuple(round((s - shift) * _GRID) for s in m.need.from_stop)


def _labels(offsets: Iterable[int]) -> dict[int, str]:
    """Return a letter for each stop, A for the panel's edge itself."""
    others = sorted(set(offsets) - {0})
    return (
        {o: chr(ord("A") + n) for n, o in enumerate([0, *others])}
        if 0 in set(offsets)
        else {o: chr(ord("A") + n) for n, o in enumerate(others)}
    )


def _runs_in(jig: Jig, m: Made) -> bool:
    opening = m.choice.opening
    if opening is None or abs(jig.thickness - m.choice.guide) > 0.1:
        return False
    return abs(jig.opening_length - opening[0]) <= 0.1 and abs(jig.opening_width - opening[1]) <= 0.1


def _offset_in(jig: Jig, pattern: Pattern) -> int | None:
    """Return the stop's offset at which a jig's own stations serve a pattern within 0.05 mm, or None."""
    stations = [round(s * _GRID) for s in jig.stations]
    offsets = [0, *sorted({pattern[0] - s for s in stations}, key=abs)]
    for offset in offsets:
        if all(any(abs(p - offset - s) <= 5 for s in stations) for p in pattern):
            return offset
    return None


def _joint_words(m: Made) -> str:
    return f"joint {m.need.joint.number} of case {m.need.panel.case}" if m.need.joint else m.need.panel.name


@dataclass(frozen=True, slots=True)
class _Draft:
    """A jig about to be planned."""

    id: str
    kind: JigKind
    family: _Family
    stations: tuple[float, ...]
    reference: float
    free: bool
    labels: dict[int, str]
    offsets: dict[Pattern, int]
    proven: bool

    def plan(self, workshop: Workshop) -> JigPlan:
        members, choice = self.family.members, self.family.members[0].choice
        long, wide = choice.opening or (0.0, 0.0)
        stops = self._stops()
        used = self._edge_used(wide)
        start, end = self._ends(long, stops)
        near = -float(math.ceil(max(60.0, wide / 2 + MARGIN)))
        far = self.reference if used else float(math.ceil(max(self.reference, wide / 2) + MARGIN))
        if self.kind is JigKind.TEMPLATE:
            far = -near
        if self.kind is JigKind.ROW:
            far = self.reference + 20.0
        round_ = isinstance(members[0].need.first, Hole) or (
            isinstance(members[0].need.first, CutOut) and members[0].need.first.outline == "round"
        )
        plan = JigPlan(
            id=self.id,
            name=self._name(),
            kind=self.kind,
            way=choice.way.code,
            stations=self.stations,
            opening=(long, wide),
            corner=min(long, wide) / 2 if not isinstance(members[0].need.first, CutOut) else self._corner(),
            round_=round_,
            thickness=choice.guide,
            reference=0.0 if self.kind is JigKind.TEMPLATE else self.reference,
            has_fence=self.kind in (JigKind.EDGE, JigKind.ROW),
            stops=stops,
            line_ups=self._line_ups(edge_used=used),
            start=start,
            end=end,
            near=near,
            far=far,
            bush=choice.bush.diameter if choice.bush else None,
            cutter=choice.cutter.code if choice.cutter else "",
            pieces=(),
            checks=(),
            hands=self._hands(),
            serves=tuple(dict.fromkeys(_serves_words(m) for m in members)),
            placings=sum(m.need.copies for m in members),
            making_min=jig_minutes(workshop, len(self.stations)),
            saves=0.0 if self.kind is JigKind.TEMPLATE else _saves(members, workshop),
            small=self.family.kind == "small",
            proven_least=self.proven,
        )
        return replace(plan, pieces=pieces_of(plan))

    def _hands(self) -> tuple[Hand, ...]:
        """Return the ways round in which it lies, as drawn first; a template to centre marks has only one."""
        if self.kind is JigKind.TEMPLATE:
            return (Hand.AS_DRAWN,)
        used = {hand_of(m.need, m.reference.toward) for m in self.family.members}
        return tuple(h for h in Hand if h in used)

    def _corner(self) -> float:
        shape, choice = self.family.members[0].need.first, self.family.members[0].choice
        assert isinstance(shape, CutOut)  # noqa: S101  # the caller has looked
        if shape.outline in ("round", "slot"):
            return min(choice.opening or (0.0, 0.0)) / 2
        return shape.corner + choice.offset if shape.corner else 0.0

    def _name(self) -> str:
        what = noun_of(self.family.members[0].need)
        size = "small " if self.family.kind == "small" else ""
        return f"{size}{self.kind.value}, {what}"

    def _stops(self) -> tuple[Stop, ...]:
        if self.kind is JigKind.TEMPLATE:
            return ()
        by_offset: dict[int, list[str]] = {}
        for m in self.family.members:
            by_offset.setdefault(self._offset_of(m), []).append(_serves_words(m))
        return tuple(
            Stop(label=self.labels[o], at=-o / _GRID, used_by=tuple(dict.fromkeys(words)))
            for o, words in sorted(by_offset.items(), key=lambda i: self.labels[i[0]])
        )

    def _offset_of(self, m: Made) -> int:
        return self.offsets[_pattern(m)]

    def _edge_used(self, wide: float) -> bool:
        """Return whether the template's own edge can be the reference, set on a line."""
        return self.kind is JigKind.MID_PANEL and self.reference - wide / 2 >= WEB

    def _line_ups(self, *, edge_used: bool) -> tuple[LineUp, ...]:
        if self.kind is JigKind.TEMPLATE:
            return (LineUp(from_centre=0.0, words="on the centre marks, both ways"),)
        if self.kind is not JigKind.MID_PANEL or edge_used:
            return ()
        by_distance: dict[float, set[float]] = {}
        for m in self.family.members:
            by_distance.setdefault(round(m.reference.wanted, 2), set()).add(0.0)
        return tuple(LineUp(from_centre=c, words=f"{show_mm(c, 2)}: on the face line") for c in sorted(by_distance))

    def _ends(self, long: float, stops: tuple[Stop, ...]) -> tuple[float, float]:
        first = min([s.at for s in stops], default=0.0)
        if self.kind is JigKind.TEMPLATE:
            half = long / 2 + 2 * MARGIN
            return -half, half
        return (
            math.floor(min(first, self.stations[0] - long / 2 - MARGIN / 2) - STOP_ROOM),
            float(math.ceil(self.stations[-1] + long / 2 + MARGIN)),
        )


def _serves_words(m: Made) -> str:
    if m.need.joint is not None:
        return f"{m.need.panel.case} {m.need.joint.number}"
    return f"{m.need.panel.mark} {m.need.panel.name}"


def _saves(members: Sequence[Made], workshop: Workshop) -> float:
    """Return what a jig saves against marking every cut and setting the tool to it, the making not counted."""
    saved = 0.0
    for m in members:
        cuts = len(m.need.marks)
        by_mark = cuts * (minutes_of(workshop, "set the jig to a mark") + minutes_of(workshop, "mark a connector"))
        saved += m.need.copies * (by_mark - minutes_of(workshop, m.choice.way.place_act))
    return saved
