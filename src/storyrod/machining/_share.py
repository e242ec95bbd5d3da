"""Stations that joints share: which joints make one row of stations, and where theirs are moved to."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from storyrod.machining._hold import NARROW, hold_of, reach_of
from storyrod.machining._shared_search import Found, StationRow, fewest_shared, place, tightened
from storyrod.measure.tolerance import rounded_to
from storyrod.model.detail import DetailedCase, Details, Joined, JoinedCase
from storyrod.model.joint import Joint, JointId
from storyrod.model.method import Method, StationRules
from storyrod.model.sharing import SharedRow, SharedStations, Sharing, StationRoom

_DUST: Final = 1e-6


@dataclass(frozen=True, slots=True)
class _Standing:
    """One joint with its stations as they stand, how far each may be moved, and how often it is made."""

    joint: Joint
    room: StationRoom
    copies: int

    @property
    def sort(self) -> tuple[object, ...]:
        """What joints that stand alike have in common."""
        return (round(self.joint.length, 3), tuple(round(s, 3) for s in self.room.stations))


@dataclass(frozen=True, slots=True)
class _Group:
    """Joints of one method and size, which one row of stations serves; `boards` of these thicknesses."""

    method: Method
    boards: tuple[float, ...]
    small: bool
    joints: tuple[_Standing, ...]


def share_stations(joined: Joined, rooms: Sequence[StationRoom]) -> Sharing:
    """Return where the stations of joints that ask for it are moved, so that the fewest stations serve them all.

    Joints of one method and size make one row of stations, narrow parts another. Joints that stand alike are moved
    alike, so that pairs and the two ends of a panel stay so. Nothing is moved where that saves no station. Every joint
    keeps as many connectors as it has. Joints that do not share stay where they are, and count.

    Args:
        joined: the joints of all cases.
        rooms: where their stations stand, and how far each may be moved.
    """
    known = {r.joint: r for r in rooms}
    moved: list[SharedStations] = []
    rows: list[SharedRow] = []
    for group in _groups(joined.cases, joined.methods, known):
        if any(j.joint.shares for j in group.joints):
            here, row = _shared(group, joined.job.mark_step)
            moved += here
            rows.append(row)
    return Sharing(moved=tuple(moved), rows=tuple(rows))


def rows_if_shared(details: Details) -> Iterator[SharedRow]:
    """Yield, for joints that do not share, with how few stations a jig could do if they did.

    A quick answer that looks at the rules of the methods and not at other cuts.
    """
    free = {
        j.id: StationRoom(joint=j.id, stations=j.stations, spans=((0.0, j.length),) * len(j.stations))
        for c in details.cases
        for j in c.joints
    }
    for group in _groups(details.cases, details.methods, free):
        if not any(j.joint.shares for j in group.joints):
            yield _shared(group, details.job.mark_step)[1]


def _groups(
    cases: Iterable[JoinedCase | DetailedCase], methods: Sequence[Method], rooms: Mapping[JointId, StationRoom]
) -> Iterator[_Group]:
    """Yield the joints that have stations for a jig, by method, size and whether they are narrow parts."""
    by_code = {m.code: m for m in methods}
    found: dict[tuple[str, float], list[_Standing]] = {}
    thinner: dict[str, float] = {}
    for case in cases:
        boards = {p.id: p.thickness for p in case.panels}
        for joint in case.joints:
            method, room = by_code[joint.method], rooms.get(joint.id)
            if method.rules is None or method.held_by_screws or room is None or not room.stations:
                continue
            thinner[joint.id] = min(boards[joint.receiving], boards[joint.entering])
            size = method.size_for(thinner[joint.id])
            here = found.setdefault((method.code, size.low if size else 0.0), [])
            here.append(_Standing(joint, room, case.built.case.count))
    for (code, _), joints in found.items():
        wide = [j for j in joints if j.joint.length >= NARROW]
        reach = reach_of(max((max(j.room.stations) for j in wide), default=0.0))
        small = [j for j in joints if wide and reach > hold_of(j.joint.length)]
        apart = {j.joint.id for j in small}
        rest = [j for j in joints if j.joint.id not in apart]
        for is_small, members in ((False, rest), (True, small)):
            if members:
                thick = sorted({round(thinner[j.joint.id], 2) for j in members})
                yield _Group(by_code[code], tuple(thick), is_small, tuple(members))


def _shared(group: _Group, step: float) -> tuple[list[SharedStations], SharedRow]:
    """Return what is moved of one group, and its row of stations."""
    sorts: dict[tuple[object, ...], list[_Standing]] = {}
    for standing in group.joints:
        sorts.setdefault(standing.sort, []).append(standing)
    rules = group.method.rules
    assert rules is not None  # noqa: S101  # groups are made of joints with rules only
    rows = [_row(alike, rules, step) for alike in sorts.values()]
    now = tuple(sorted({p for r in rows for p in r.base}))
    found = fewest_shared(rows)
    if len(found.stations) >= len(now):
        found = Found(now, tuple(r.base for r in rows), found.bound)
    moved = [
        SharedStations(joint=standing.joint.id, stations=tuple(round(p * step, 6) for p in taken))
        for alike, row, taken in zip(sorts.values(), rows, found.rows, strict=True)
        if taken != row.base
        for standing in alike
    ]
    return moved, SharedRow(
        method=group.method.code,
        boards=group.boards,
        small=group.small,
        lengths=tuple(sorted({round(j.joint.length, 1) for j in group.joints})),
        now=len(now),
        stations=tuple(round(p * step, 6) for p in found.stations),
        bound=found.bound,
        moved=len(moved),
    )


def _row(alike: Sequence[_Standing], rules: StationRules, step: float) -> StationRow:
    """Return what joints that stand alike want, in whole steps; where they cannot be moved, just where they stand."""
    first = alike[0]
    base = tuple(round(rounded_to(s, step) / step) for s in first.room.stations)
    weight = sum(j.copies for j in alike)
    fixed = StationRow(base, tuple((p, p) for p in base), 0, tuple(b - a for a, b in pairwise(base)), weight)
    if not all(_may_move(j) for j in alike):
        return fixed
    spans = [(max(j.room.spans[n][0] for j in alike), min(j.room.spans[n][1] for j in alike)) for n in range(len(base))]
    row = _by_rules(base, first.room.stations, first.joint.length, rules, step, spans, weight)
    return row if place(row, sorted(set(base))) is not None else fixed


def _may_move(standing: _Standing) -> bool:
    return any(low < high for low, high in standing.room.spans)


def _by_rules(
    base: tuple[int, ...],
    exact: Sequence[float],
    length: float,
    rules: StationRules,
    step: float,
    spans: Sequence[tuple[float, float]],
    weight: int,
) -> StationRow:
    """Return the row within the method's rules and the room there is.

    What was moved off a clash or staggered may stand outside the usual first place or pitch: no further. The far end is
    left no further from a connector than `end`, or than it is now: sharing weakens no joint.
    """
    lows = [max(low, rules.end_min) for low, _ in spans]
    highs = [min(high, length - rules.end_min) for _, high in spans]
    if len(base) > 1:
        highs[0] = min(highs[0], max(rules.end, exact[0]))
        lows[-1] = max(lows[-1], min(length - rules.end, exact[-1]))
    windows = tuple(
        (math.ceil(low / step - _DUST), math.floor(high / step + _DUST)) for low, high in zip(lows, highs, strict=True)
    )
    gaps = tuple(max(math.floor(rules.pitch / step + _DUST), b - a) for a, b in pairwise(base))
    return tightened(StationRow(base, windows, math.ceil(rules.gap_min / step - _DUST), gaps, weight))
