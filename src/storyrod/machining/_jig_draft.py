"""One jig drawn up: template, reference, stops, line-up marks, and what it saves."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from typing import Final

from storyrod.machining._choose import Made
from storyrod.machining._hold import (
    BASE_ROOM,
    CLAMP_ROOM,
    MARGIN,
    WEB,
    Swept,
    swept,
    template_axis,
)
from storyrod.machining._jig_holds import Outline, Under, holds_of, under, widened
from storyrod.machining._jig_owned import clamped_on, owned_outline
from storyrod.machining._jig_words import pieces_of
from storyrod.machining._minutes import jig_minutes, minutes_of
from storyrod.machining._nouns import cutter_words, noun_of
from storyrod.machining._reference import hand_of
from storyrod.machining._stations import Pattern
from storyrod.model.act import Act
from storyrod.model.feature import CutOut, Hole, Keyhole, Shape
from storyrod.model.machining import FENCE_THICKNESS, Area, Hand, Hold, HoldKind, JigKind, JigPlan, LineUp, Stop
from storyrod.model.workshop import BEHIND_STOP, Jig, Workshop
from storyrod.trade.bush import opening_corner

GRID: Final = 100
"""Places of patterns are whole hundredths of a mm."""


def widest_sweep(members: Sequence[Made]) -> Swept:
    """Return what is swept by whichever tool of the members sweeps most."""
    every = {id(m.choice): m.choice for m in members}.values()
    return max((swept(c.tool, c.bush, c.opening) for c in every), key=lambda s: (s.along, s.across))


def shift_of(m: Made) -> float:
    """Return how far, along the line, a mark lies from the middle of the opening that makes it."""
    shape = m.need.first
    if isinstance(shape, Keyhole) and shape.run is m.need.along:
        return shape.lock_sign * shape.travel / 2 * (-1 if m.need.from_far else 1)
    return 0.0


def pattern_of(m: Made) -> Pattern:
    """Return where the openings must stand for a placing, from the edge that the stop meets."""
    shift = shift_of(m)
    return tuple(round((s - shift) * GRID) for s in m.need.from_stop)


def is_round(shape: Shape) -> bool:
    """Return whether the opening that makes a cut is a round hole."""
    return isinstance(shape, Hole) or (isinstance(shape, CutOut) and shape.outline == "round")


@dataclass(frozen=True, slots=True)
class Draft:
    """A jig about to be planned: what it serves, where its stations are, what its stops are called.

    `owned` is the jig that it is, where the workshop has it already: then its template is as large as that is.
    `held_by` comes to name what holds it on each need, by the need's identity.
    """

    id: str
    kind: JigKind
    members: Sequence[Made]
    stations: tuple[float, ...]
    reference: float
    labels: dict[int, str]
    offsets: dict[Pattern, int]
    proven: bool
    small: bool = False
    owned: Jig | None = None
    held_by: dict[int, str] = field(default_factory=dict)

    def plan(self, workshop: Workshop) -> JigPlan:
        """Return the jig with its figures, its pieces, and what making it saves."""
        members, choice = self.members, self.members[0].choice
        stops = self._stops()
        outline, holds = self._held(stops, workshop)
        sweep = outline.sweep
        plan = JigPlan(
            id=self.id,
            name=self._name(),
            kind=self.kind,
            way=choice.way.code,
            stations=self.stations,
            opening=choice.opening or (0.0, 0.0),
            corner=self._opening_corner(),
            round_=is_round(members[0].need.first),
            thickness=choice.guide,
            reference=outline.reference,
            has_fence=self._has_fence,
            stops=stops,
            line_ups=self._line_ups(edge_used=abs(outline.far - outline.reference) < 0.05),
            start=outline.start,
            end=outline.end,
            near=outline.near,
            far=outline.far,
            bush=choice.bush.diameter if choice.bush else None,
            cutter=", ".join(dict.fromkeys(m.choice.cutter.code for m in members if m.choice.cutter)),
            cutter_name=", ".join(
                dict.fromkeys(cutter_words(m.choice.cutter, m.need.lengths) for m in members if m.choice.cutter)
            ),
            base=sweep.base,
            sweep=Area(
                left=self.stations[0] - sweep.along,
                right=self.stations[-1] + sweep.along,
                near=-sweep.across,
                far=sweep.across,
            ),
            holds=holds,
            pieces=(),
            checks=(),
            hands=self._hands(),
            serves=_in_order(_serves_words(m) for m in members),
            placings=sum(m.need.copies for m in members),
            making_min=jig_minutes(workshop, len(self.stations), pins=self.kind is JigKind.PINS)
            + sum(h.making_min for h in holds),
            saves=0.0 if self.kind is JigKind.TEMPLATE else _saves(members, workshop),
            small=self.small,
            proven_least=self.proven,
        )
        return replace(plan, pieces=pieces_of(plan))

    @property
    def _has_fence(self) -> bool:
        return self.kind in (JigKind.EDGE, JigKind.ROW, JigKind.PINS)

    def _opening_corner(self) -> float:
        if isinstance(self.members[0].need.first, CutOut):
            return self._corner()
        return min(self.members[0].choice.opening or (0.0, 0.0)) / 2

    def _held(self, stops: tuple[Stop, ...], workshop: Workshop) -> tuple[Outline, tuple[Hold, ...]]:
        """Return the template, large enough for base and clamps, and how it is held on every part."""
        offsets = [-self._offset_of(m) / GRID if self.kind is not JigKind.TEMPLATE else 0.0 for m in self.members]
        placings = [under(m, o, _serves_words(m)) for m, o in zip(self.members, offsets, strict=True)]
        if self.owned is None:
            on = outline = widened(self._outline(stops, placings), placings)
        else:
            sweep = widest_sweep(self.members)
            outline = owned_outline(self.owned, self.reference, sweep, placings, fenced=self._has_fence)
            on = clamped_on(outline)
        holds = holds_of(self.id, on, placings, workshop)
        for hold, group in holds:
            for p in group:
                self.held_by[id(p.made.need)] = hold.id
        return outline, tuple(h for h, _ in holds)

    def _outline(self, stops: tuple[Stop, ...], placings: Sequence[Under]) -> Outline:
        """Return the template before any trough: what the base sweeps stays on it, and clamps have their strip."""
        choice = self.members[0].choice
        (long, wide), sweep = choice.opening or (0.0, 0.0), widest_sweep(self.members)
        start, end = self._ends(long, stops, sweep)
        if self.kind is JigKind.TEMPLATE:
            return _round_marks(placings, sweep)
        near, base = sweep.near, 0.0 if sweep.base is None else math.ceil(sweep.across + BASE_ROOM)
        far = float(math.ceil(max(self.reference, wide / 2) + MARGIN))
        clamped = [p for p in placings if p.made.choice.hold is HoldKind.CLAMPED]
        if self._edge_used(sweep) and all(p.part.near <= near for p in clamped):
            far = self.reference
        elif self.kind in (JigKind.ROW, JigKind.PINS):
            far = self.reference + FENCE_THICKNESS + 2.0
        return Outline(start, end, near, max(far, base), self.reference, sweep)

    def _hands(self) -> tuple[Hand, ...]:
        """Return the ways round in which it lies, as drawn first; a template to centre marks has only one."""
        if self.kind is JigKind.TEMPLATE:
            return (Hand.AS_DRAWN,)
        used = {hand_of(m.need, m.reference.toward) for m in self.members}
        return tuple(h for h in Hand if h in used)

    def _corner(self) -> float:
        shape, choice = self.members[0].need.first, self.members[0].choice
        assert isinstance(shape, CutOut)  # noqa: S101  # the caller has looked
        if shape.outline in ("round", "slot"):
            return min(choice.opening or (0.0, 0.0)) / 2
        if choice.bush is None or choice.cutter is None:
            return shape.corner
        return opening_corner(shape.corner, choice.bush.diameter, choice.cutter.diameter)

    def _name(self) -> str:
        nouns = _in_order(noun_of(m.need) for m in self.members)
        what = " and ".join(nouns[:2]) if len(nouns) < 3 else f"{nouns[0]} and others"
        size = "small " if self.small else ""
        return f"{size}{self.kind.value}, {what}"

    def _stops(self) -> tuple[Stop, ...]:
        if self.kind is JigKind.TEMPLATE:
            return ()
        by_offset: dict[int, list[str]] = {}
        for m in self.members:
            by_offset.setdefault(self._offset_of(m), []).append(_serves_words(m))
        return tuple(
            Stop(label=self.labels[o], at=-o / GRID, used_by=_in_order(words))
            for o, words in sorted(by_offset.items(), key=lambda i: self.labels[i[0]])
        )

    def _offset_of(self, m: Made) -> int:
        return self.offsets[pattern_of(m)]

    def _edge_used(self, sweep: Swept) -> bool:
        """Return whether the template's own edge can be the reference, set on a line: no base may hang over it."""
        wide = (self.members[0].choice.opening or (0.0, 0.0))[1]
        return self.kind is JigKind.LINE and sweep.base is None and self.reference - wide / 2 >= WEB

    def _line_ups(self, *, edge_used: bool) -> tuple[LineUp, ...]:
        if self.kind is JigKind.TEMPLATE:
            return (LineUp(from_centre=0.0, words="on the centre marks, both ways"),)
        if self.kind is not JigKind.LINE or edge_used:
            return ()
        by_distance: dict[float, set[float]] = {}
        for m in self.members:
            by_distance.setdefault(round(m.reference.wanted, 2), set()).add(0.0)
        lengths = self.members[0].need.lengths
        return tuple(LineUp(from_centre=c, words=f"{lengths.n(c)}: on the face line") for c in sorted(by_distance))

    def _ends(self, long: float, stops: tuple[Stop, ...], sweep: Swept) -> tuple[float, float]:
        first = min([s.at for s in stops], default=0.0) - BEHIND_STOP
        low = min(self.stations[0] - long / 2 - MARGIN / 2 - BEHIND_STOP, self.stations[0] - sweep.end_room)
        high = self.stations[-1] + max(long / 2 + MARGIN, sweep.end_room)
        return float(math.floor(min(first, low))), float(math.ceil(high))


def _round_marks(placings: Sequence[Under], sweep: Swept) -> Outline:
    """Return a template to centre marks: round its opening the base's sweep, and strips for clamps at two ends."""
    axes = {template_axis(p.part, sweep) for p in placings}
    along = sweep.along + (BASE_ROOM if axes == {"across"} else CLAMP_ROOM)
    across = sweep.across + (CLAMP_ROOM if "across" in axes else BASE_ROOM)
    half, wide = float(math.ceil(along)), float(math.ceil(across))
    return Outline(-half, half, -wide, wide, 0.0, sweep)


def _in_order(words: Iterable[str]) -> tuple[str, ...]:
    """Return words each once, the figures in them in order of their size."""
    return tuple(sorted(set(words), key=lambda w: [(p.isdigit(), int(p) if p.isdigit() else 0, p) for p in _parts(w)]))


def _parts(words: str) -> list[str]:
    return re.findall(r"\d+|\D+", words)


def _serves_words(m: Made) -> str:
    if m.need.joint is not None:
        return f"{m.need.panel.case} {m.need.joint.number}"
    return f"{m.need.panel.mark} {m.need.panel.name}"


def _saves(members: Sequence[Made], workshop: Workshop) -> float:
    """Return what a jig saves against marking every cut and setting the tool to it, the making not counted."""
    saved = 0.0
    for m in members:
        cuts = len(m.need.marks)
        by_mark = cuts * (minutes_of(workshop, Act.SET_JIG_TO_MARK) + minutes_of(workshop, Act.MARK_CONNECTOR))
        saved += m.need.copies * (by_mark - minutes_of(workshop, m.choice.way.place_act))
    return saved
