"""Moves at a joint: its stations where the cuts are, or clear of them; fewer; another method; its panel shifted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from storyrod.measure.space import AXES, PANEL_AXES, Axis, Box, Point
from storyrod.model.detail import ConnectorCount, DetailedCase
from storyrod.model.feature import Feature
from storyrod.model.joint import Joint
from storyrod.model.panel import Panel, Role
from storyrod.model.rescue import Move, MoveKind
from storyrod.rescue._costs import MINUTES
from storyrod.rescue._draft import Bench, Draft
from storyrod.rescue._limits import BESIDE_PLUG, NEAR, STANDS_OFF
from storyrod.rescue._move_beside import fitted
from storyrod.rescue._plugs import near
from storyrod.rescue._reading import Lying, Reader, same_kind, width_of

type Found = tuple[Move, Draft]

MOST_TROUBLED: Final = 2
"""Where more joints than this are in trouble, another method at one of them helps little and is not worked out."""

MOST_CLEAR: Final = 60.0
"""Stations are moved no farther than this (mm) to be clear of old cuts."""

FARTHEST: Final = 50.0
"""A panel is shifted no farther than this (mm): beyond it, it is another piece of furniture."""

_MOVED_ROLES: Final = (Role.SHELF, Role.DIVIDER)
OUTER_ROLES: Final = (Role.TOP, Role.BASE)
"""Panels on the lines of the outside: off them, what is in line with them no longer adds up to it."""

MOST_OUTER: Final = 5.0
"""A top or base is left so far (mm) off its lines at the most: beyond it the case is another one."""


@dataclass(frozen=True)
class JointMoves:
    """The moves that change where or how panels are joined."""

    bench: Bench
    reader: Reader

    def of(self, draft: Draft, *, late: bool = True) -> Iterator[Found]:
        """Yield every move of a state, with the state that it leads to; other methods only where `late`."""
        panels = {p.id: p for p in draft.case.panels}
        sides = {
            j.id: [self.reader.lying(draft, panels[p]) for p in (j.receiving, j.entering)] for j in draft.case.joints
        }
        troubled = [j for j in draft.case.joints if any(self._is_troubled(s, j) for s in sides[j.id])]
        for joint in draft.case.joints:
            if not _is_moved(draft, joint):
                yield from self._to_the_cuts(draft, joint, sides[joint.id])
        for joint in troubled:
            if not _is_moved(draft, joint):
                yield from self._clear(draft, joint, sides[joint.id])
            yield from self._left_out(draft, joint, sides[joint.id])
            if late and len(troubled) <= MOST_TROUBLED:
                yield from self._other_methods(draft, joint, sides[joint.id])
        yield from self._shifts(draft, late=late)

    def _is_troubled(self, lying: Lying, joint: Joint) -> bool:
        """Return whether an old cut was meant for a joint or is in its way, or a cut of it is too wide."""
        own = [f for f in lying.to_cut if f.joint == joint.id and f.station]
        wall = self.bench.job.limits.wall
        if own and any(c.joint == joint.id or any(near(c, f, wall) for f in own) for c in lying.old.values()):
            return True
        return (bool(own) and bool(lying.piece.damage)) or any(True for _ in _loose_stations(lying, joint))

    # --- stations ---------------------------------------------------------------------------------------------------

    def _to_the_cuts(self, draft: Draft, joint: Joint, sides: Sequence[Lying]) -> Iterator[Found]:
        seen = set()
        for lying in sides:
            for stations in _where_cuts_are(joint, lying):
                key = tuple(round(s, 3) for s in stations)
                if key in seen or len(set(key)) < len(key):
                    continue
                seen.add(key)
                yield self._moved(draft, joint, stations, MoveKind.MATES, lying)

    def _clear(self, draft: Draft, joint: Joint, sides: Sequence[Lying]) -> Iterator[Found]:
        """Move all stations of a joint the least way, to either side, clear of old cuts and what becomes old."""
        room, step = max(self.bench.job.limits.wall, BESIDE_PLUG), self.bench.job.mark_step
        pairs = [p for lying in sides for p in _beside_each_other(joint, lying, room)]
        if all(abs(apart) >= reach for apart, reach in pairs):
            return
        for sign in (1, -1):
            ways = (sign * n * step for n in range(1, int(MOST_CLEAR / step) + 1))
            by = next((b for b in ways if all(abs(apart + b) >= reach for apart, reach in pairs)), None)
            if by is not None:
                yield self._moved(draft, joint, tuple(s + by for s in joint.stations), MoveKind.CLEAR, sides[0])

    def _moved(self, draft: Draft, joint: Joint, stations: tuple[float, ...], kind: MoveKind, lying: Lying) -> Found:
        other = joint.entering if lying.panel.id == joint.receiving else joint.receiving
        mate = draft.case.panel(other)
        places = ", ".join(map(self.bench.lengths.told, stations))
        what = "to where the cuts are" if kind is MoveKind.MATES else "clear of the old cuts"
        move = Move(
            kind=kind,
            code=f"{kind.value} {joint.number} to {places}",
            text=f"Move the connectors of {joint.number} {what}: stations {places}, on "
            f"{_name(lying.panel)} and {_name(mate)} alike.",
            minutes=MINUTES[kind],
            risk=1,
            watch=f"The set-out pages of {lying.panel.mark} and {mate.mark} no longer hold for {joint.number}.",
        )
        return move, replace(draft, case=with_stations(draft.case, joint, stations)).after(move)

    def _left_out(self, draft: Draft, joint: Joint, sides: Sequence[Lying]) -> Iterator[Found]:
        rules = self.bench.method(joint.method).rules
        if rules is None:
            return
        bad = {f.station for s in sides if s.old for f in s.to_cut if f.joint == joint.id and f.station}
        bad |= {n for s in sides for n in _loose_stations(s, joint)}
        sets = [(n,) for n in sorted(bad)] + ([tuple(sorted(bad))] if len(bad) > 1 else [])
        for gone in sets:
            if len(joint.stations) - len(gone) < rules.least:
                continue
            places = ", ".join(self.bench.lengths.told(joint.stations[n - 1]) for n in gone)
            move = Move(
                kind=MoveKind.LEAVE_OUT,
                code=f"{MoveKind.LEAVE_OUT.value} {joint.number} at {places}",
                text=f"Leave out the connector of {joint.number} at {places}.",
                minutes=MINUTES[MoveKind.LEAVE_OUT],
                risk=1,
                weaker=f"{joint.number} is held by {len(joint.stations) - len(gone)} connectors, "
                f"not by {len(joint.stations)}.",
            )
            yield move, replace(draft, case=self._without(draft.case, joint, gone)).after(move)

    def _without(self, case: DetailedCase, joint: Joint, gone: tuple[int, ...]) -> DetailedCase:
        kept = [n for n in range(1, len(joint.stations) + 1) if n not in gone]
        thinner = min(case.panel(joint.receiving).thickness, case.panel(joint.entering).thickness)
        size = self.bench.method(joint.method).size_for(thinner)
        each = {c.item: c.each for c in size.consumes} if size is not None else {}
        fewer = Counter({item: n * len(gone) for item, n in each.items()})
        new = replace(
            joint,
            stations=tuple(joint.stations[n - 1] for n in kept),
            moved_stations=(),
            connectors=tuple((item, count - fewer[item]) for item, count in joint.connectors),
        )
        number = {old: n for n, old in enumerate(kept, start=1)}
        features = tuple(
            replace(f, station=number[f.station]) if f.joint == joint.id and f.station else f
            for f in case.features
            if f.joint != joint.id or f.station not in gone
        )
        counts = tuple(
            replace(c, count=c.count - fewer[c.item]) if c.method == joint.method else c for c in case.connectors
        )
        return _with(case, new, features, counts)

    # --- another method ---------------------------------------------------------------------------------------------

    def _other_methods(self, draft: Draft, joint: Joint, sides: Sequence[Lying]) -> Iterator[Found]:
        if draft.case is not self.bench.case or any(s.piece.glued for s in sides):
            return  # worked out for the case as it was planned, and only where both panels are still loose
        for code in self.bench.others.get(joint.id, ()):
            case = self.bench.by_method(draft.case, joint.id, code)
            if case is None:
                continue
            method = self.bench.method(code)
            move = Move(
                kind=MoveKind.METHOD,
                code=f"{MoveKind.METHOD.value} {joint.number} {code}",
                text=f"Hold {joint.number} by {method.name} instead.",
                minutes=MINUTES[MoveKind.METHOD],
                risk=1,
                seen=1 if method.shows else 0,
                watch=f"What shows: {method.shows}." if method.shows else "",
            )
            yield move, replace(draft, case=case).after(move)

    # --- a panel shifted --------------------------------------------------------------------------------------------

    def _shifts(self, draft: Draft, *, late: bool) -> Iterator[Found]:
        for panel in draft.case.panels:
            is_outer = panel.role in OUTER_ROLES
            if not is_outer and panel.role not in _MOVED_ROLES:
                continue
            for by in self._distances(draft, panel):
                if is_outer and abs(by) > MOST_OUTER:
                    continue
                move, words = self._shift(panel, by, is_outer=is_outer)
                yield move, replace(draft, case=with_shift(draft.case, panel, by)).after(move)
                if late and not is_outer:
                    yield from fitted(self.bench, draft, panel, (by, words), with_shift(draft.case, panel, by))

    def _shift(self, panel: Panel, by: float, *, is_outer: bool) -> tuple[Move, str]:
        """Return the move, and how far and which way in words."""
        axis = panel.frame.into.axis
        way = {Axis.X: ("left", "right"), Axis.Y: ("forward", "back"), Axis.Z: ("down", "up")}[axis][by > 0]
        far, name = self.bench.lengths.told(abs(by)), _name(panel)
        if is_outer:
            watch = f"{name} then stands {far} {way} beside the ends that it meets: level them, or it is seen."
        else:
            watch = f"The openings beside {panel.mark} are {far} larger and smaller for it."
        move = Move(
            kind=MoveKind.SHIFT,
            code=f"{MoveKind.SHIFT.value} {panel.mark} {way} {far}",
            text=f"Shift {name} {far} {way}, with all its joints.",
            minutes=MINUTES[MoveKind.SHIFT],
            risk=1,
            seen=2 if is_outer else 0,
            watch=watch,
        )
        return move, f"{far} {way}"

    def _distances(self, draft: Draft, panel: Panel) -> Iterator[float]:
        """Yield how far a panel could be shifted so that cuts of its joints, or its glue, are where they are wanted."""
        axis, found = panel.frame.into.axis, Counter[float]()
        planned = self.bench.case.panel(panel.id).box.centre.along(axis)
        piece = draft.piece_in(panel.id)
        if piece.glued:
            off = round(piece.off - (panel.box.centre.along(axis) - planned), 3)
            if abs(off) > STANDS_OFF:
                yield off
            return
        for joint in draft.case.joints:
            if joint.entering != panel.id:
                continue
            lying = self.reader.lying(draft, draft.case.panel(joint.receiving))
            for one in lying.to_cut:
                if one.joint == joint.id:
                    found.update(_across(one, lying, axis))
        yield from (by for by, _ in found.most_common(3) if abs(by) <= FARTHEST)


def _across(wanted: Feature, lying: Lying, axis: Axis) -> Iterator[float]:
    """Yield how far along a case axis old cuts of a wanted one's kind are from it, where they are off that way only."""
    for old in lying.old.values():
        if old.surface is not wanted.surface or not same_kind(old, wanted):
            continue
        by = _vector(lying.panel, wanted, old)
        if all(abs(by.along(a)) <= NEAR for a in AXES if a is not axis) and abs(by.along(axis)) > NEAR:
            yield round(by.along(axis), 3)


def _vector(panel: Panel, wanted: Feature, old: Feature) -> Point:
    """Return the way from a wanted cut to an old one on its surface, in the case."""
    axis = wanted.surface.axis
    flat = old.at.with_(axis, wanted.at.along(axis))
    return panel.frame.to_case(flat) - panel.frame.to_case(wanted.at)


def _where_cuts_are(joint: Joint, lying: Lying) -> Iterator[tuple[float, ...]]:
    """Yield the stations at which old cuts of a panel would serve: all moved alike, or each to its own."""
    pairs = [(w, by) for w in lying.to_cut if w.joint == joint.id and w.station for by in _along(joint, w, lying)]
    open_at = {w.station for w, _ in pairs}
    for by, _ in Counter(round(by, 3) for _, by in pairs).most_common(3):
        yield tuple(s + by for s in joint.stations)
        if open_at != set(range(1, len(joint.stations) + 1)):
            yield tuple(s + by if n in open_at else s for n, s in enumerate(joint.stations, start=1))
    firsts = {n: next(w for w, _ in pairs if w.station == n) for n in sorted(open_at)}
    if not firsts:
        return
    some = next(iter(firsts.values()))
    places = sorted({round(joint.stations[some.station - 1] + by, 3) for w, by in pairs if w is some})
    if len(places) == len(firsts):
        new = dict(zip(sorted(firsts, key=lambda n: joint.stations[n - 1]), places, strict=True))
        yield tuple(new.get(n, s) for n, s in enumerate(joint.stations, start=1))


def _along(joint: Joint, wanted: Feature, lying: Lying) -> Iterator[float]:
    axis = joint.run.axis
    for old in lying.old.values():
        if old.surface is wanted.surface and same_kind(old, wanted):
            by = _vector(lying.panel, wanted, old)
            if all(abs(by.along(a)) <= NEAR for a in AXES if a is not axis):
                yield by.along(axis) * joint.run.sign


def _is_moved(draft: Draft, joint: Joint) -> bool:
    """Return whether the stations of a joint were moved already: moved once more, they had been moved wrong."""
    begins = tuple(f"{kind.value} {joint.number} to " for kind in (MoveKind.MATES, MoveKind.CLEAR))
    return any(m.code.startswith(begins) for m in draft.moves)


def _beside_each_other(joint: Joint, lying: Lying, room: float) -> Iterator[tuple[float, float]]:
    """Yield how far each cut of a joint is from each that may come in its way along the joint, and how far it must be.

    In the way are old cuts, and cuts of the joint that are there already: moved away from, they are old too.
    """
    axis = lying.panel.frame.panel_axis(joint.run.axis)
    sign = joint.run.sign * lying.panel.frame.direction(axis).sign
    there = [cut for name, (_, cut) in lying.there.items() if cut.joint == joint.id and cut.station]
    for wanted in lying.wanted:
        if wanted.joint != joint.id or not wanted.station:
            continue
        for old in (*lying.old.values(), *there):
            reach = (_length(old) + _length(wanted)) / 2 + room
            across = [a for a in PANEL_AXES if a not in {axis, wanted.surface.axis}]
            is_beside = all(abs(old.at.along(a) - wanted.at.along(a)) < reach for a in across)
            if old.surface is wanted.surface and is_beside:
                yield sign * (wanted.at.along(axis) - old.at.along(axis)), reach


def _length(feature: Feature) -> float:
    return float(getattr(feature.shape, "length", width_of(feature)))


def _loose_stations(lying: Lying, joint: Joint) -> Iterator[int]:
    """Yield the stations whose cuts are wider than wanted."""
    for one in lying.wanted:
        if one.joint == joint.id and one.station and one.id in lying.there:
            cut = lying.there[one.id][1]
            if width_of(cut) > width_of(one) + NEAR or cut.depth > one.depth + NEAR:
                yield one.station


def with_stations(case: DetailedCase, joint: Joint, stations: tuple[float, ...]) -> DetailedCase:
    """Return a case with the cuts of a joint at other stations, on both panels."""
    by = {n: (new - old) * joint.run.sign for n, (old, new) in enumerate(zip(joint.stations, stations, strict=True), 1)}
    panels = {p.id: p for p in case.panels}
    features = []
    for one in case.features:
        if one.joint == joint.id and one.station:
            frame = panels[one.panel].frame
            at = frame.to_panel(frame.to_case(one.at).moved(joint.run.axis, by[one.station]))
            one = replace(one, at=at)  # noqa: PLW2901 - the same cut, moved
        features.append(one)
    moved = tuple(n for n, b in by.items() if abs(b) > NEAR)
    return _with(case, replace(joint, stations=stations, moved_stations=moved), tuple(features), case.connectors)


def with_shift(case: DetailedCase, panel: Panel, by: float) -> DetailedCase:
    """Return a case with a panel shifted along its thickness: its box, its joints, their cuts, the openings beside.

    What ends at it ends where it now is, and is longer or shorter for it.
    """
    axis = panel.frame.into.axis
    way = Point(0.0, 0.0, 0.0).with_(axis, by)
    own = {j.id for j in case.joints if panel.id in {j.entering, j.receiving}}
    before = {p.id: p for p in case.panels}
    ending = {j.entering for j in case.joints if j.receiving == panel.id and _meets_along(panel, j, axis)}
    now = {p.id: _ended(p, panel, axis, by) if p.id in ending else p for p in case.panels}
    now[panel.id] = panel.with_box(panel.box.moved(way))
    joints = tuple(replace(j, contact=j.contact.moved(way)) if j.id in own else j for j in case.joints)
    features = []
    for one in case.features:
        if one.panel != panel.id and (one.joint in own or one.panel in ending):
            place = before[one.panel].frame.to_case(one.at)
            place = place + way if one.joint in own else place
            one = replace(one, at=now[one.panel].frame.to_panel(place))  # noqa: PLW2901 - the same cut, moved
        features.append(one)
    low, high = panel.box.span(axis)
    openings = []
    for opening in case.built.openings:
        box, (start, end) = opening.box, opening.box.span(axis)
        if _beside(panel, opening.box, axis):
            start, end = start + by * (abs(start - high) < NEAR), end + by * (abs(end - low) < NEAR)
            box = box.with_span(axis, start, end)
        openings.append(replace(opening, box=box))
    built = replace(case.built, openings=tuple(openings))
    shifted = tuple(now[p.id] for p in case.panels)
    return replace(case, built=built, panels=shifted, joints=joints, features=tuple(features), _by_panel={})


def _meets_along(panel: Panel, joint: Joint, axis: Axis) -> bool:
    """Return whether what is joined to a panel ends against one of its faces."""
    return panel.frame.direction(joint.receiving_surface.axis).axis is axis


def _ended(ending: Panel, at: Panel, axis: Axis, by: float) -> Panel:
    """Return a panel whose end against another one is moved by so much."""
    low, high = ending.box.span(axis)
    is_above = ending.box.centre.along(axis) > at.box.centre.along(axis)
    return ending.with_box(ending.box.with_span(axis, low + by * is_above, high + by * (not is_above)))


def _beside(panel: Panel, box: Box, axis: Axis) -> bool:
    return all(
        min(panel.box.high.along(a), box.high.along(a)) - max(panel.box.low.along(a), box.low.along(a)) > NEAR
        for a in AXES
        if a is not axis
    )


def _with(
    case: DetailedCase, joint: Joint, features: tuple[Feature, ...], connectors: tuple[ConnectorCount, ...]
) -> DetailedCase:
    joints = tuple(joint if j.id == joint.id else j for j in case.joints)
    return replace(case, joints=joints, features=features, connectors=connectors, _by_panel={})


def _name(panel: Panel) -> str:
    return f"{panel.mark} {panel.name}"
