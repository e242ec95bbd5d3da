"""Why a body cannot be put together: the panel that is shut out, the joints that do it, and what would free it.

Nothing is said to help that was not tried: each change is made to the parts, and the body taken apart again.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Final

from storyrod.assembly._bits import bits
from storyrod.assembly._body import Body, Locks, Parts, Shapes, make_body, make_ties, shapes_of
from storyrod.assembly._loosen import find_stuck
from storyrod.assembly._order import last_resorts, lock_combinations, preferred
from storyrod.assembly._shapes import WAYS
from storyrod.assembly._ties import Hold, Tie
from storyrod.assembly._words import called, listed
from storyrod.faults import Fault
from storyrod.measure.space import Box
from storyrod.measure.writing import METRIC
from storyrod.model.assembly import Remedy, ShutOut
from storyrod.model.hand_room import ROOM, Driver
from storyrod.model.joint import Joint, JointId
from storyrod.model.method import Method
from storyrod.model.panel import Panel, PanelId, Role

MOST_REMEDIES: Final = 3

FEW: Final = 4
"""More joints than this are told by their numbers alone."""

_BLAMED_FIRST: Final = (
    *(
        Role.LOOSE_SHELF,
        Role.SHELF,
        Role.DIVIDER,
        Role.RAIL,
        Role.DRAWER_BOTTOM,
        Role.BACK,
        Role.PLINTH,
        Role.HANGING_RAIL,
    ),
    *(Role.DRAWER_BACK, Role.DRAWER_BOX_FRONT, Role.DRAWER_SIDE, Role.BASE, Role.TOP),
)
"""Of several panels that could be called shut out, the inner one is: the sides are what it is shut out from."""


def goes_together(parts: Parts, fixed: Locks, shapes: Shapes | None = None) -> bool:
    """Return whether the panels can be put together with some choice of locks."""
    shapes = shapes or shapes_of(parts)
    ties = make_ties(parts, fixed)
    # First with every lock open both ways: what is stuck then is stuck with any choice.
    if find_stuck(make_body(parts, {t.joint.id: fixed.get(t.joint.id, t.locks) for t in ties if not t.stops}, shapes)):
        housings = any(t.stops for t in ties)
        choices = tuple(last_resorts(ties, fixed)) if housings else ()
    else:
        choices = (*lock_combinations(ties, fixed), *last_resorts(ties, fixed))
    return any(not find_stuck(make_body(parts, locks, shapes)) for locks in choices)


def find_shut_out(parts: Parts, fixed: Locks) -> tuple[ShutOut, ...]:
    """Return, for a body that cannot be put together, each panel that is shut out and what would free it."""
    body = make_body(parts, preferred(make_ties(parts, fixed), fixed))
    groups = find_stuck(body)
    return tuple(_explain(parts, fixed, body, stuck, alone=len(groups) == 1) for stuck in groups)


def _explain(parts: Parts, fixed: Locks, body: Body, stuck: int, *, alone: bool) -> ShutOut:
    if not find_stuck(body, stuck, driven=False):
        return _no_driver(parts, fixed, body, stuck, alone=alone)
    panel = _blamed(body, stuck)
    ties = _shutting(parts, body, stuck, panel)
    tried_on = parts if alone else _only(parts, body.ids(stuck))
    remedies = _remedies(tried_on, fixed, body, stuck, panel, ties)
    between = body.ids(stuck)
    return ShutOut(
        case=parts.case.built.case.code,
        panel=None if panel is None else body.panels[panel].id,
        joints=tuple(t.joint.id for t in ties),
        between=between,
        remedies=remedies,
        fault=_fault(parts, body, stuck, panel, ties, remedies),
    )


def _no_driver(parts: Parts, fixed: Locks, body: Body, stuck: int, *, alone: bool) -> ShutOut:
    """Return what keeps the driver from screws in a group that would go together by its shapes."""
    ties = body.undriven(stuck)
    joints = [t.joint for t in ties]
    tried_on = parts if alone else _only(parts, body.ids(stuck))
    tries = _other_methods(tried_on, fixed, [*((j,) for j in joints), tuple(joints)])
    remedies = tuple(itertools.islice(tries, MOST_REMEDIES))
    reaches = [body.reaches[t.number] for t in ties]
    before = body.ids(_union(r.locking for r in reaches if r is not None) & stuck)
    case = parts.case.built.case
    names = listed([p.name for p in body.panels if p.id in before])
    screws = listed([_told(parts, j) for j in joints[:FEW]])
    fault = Fault(
        code="no-driver",
        field=case.field,
        found=f"case {case.code}: no driver reaches the screws of {screws}: whatever the order, {names} is in the way",
        allowed=f"{METRIC.bought(ROOM[Driver.SHORT][-1].far)} clear in front of each screw head when it is driven",
        do=" Or: ".join(r.text for r in remedies) or "Join these panels by another method.",
    )
    return ShutOut(
        case=case.code,
        panel=None,
        joints=tuple(j.id for j in joints),
        between=before,
        remedies=remedies,
        fault=fault,
    )


def _union(groups: Iterable[int]) -> int:
    found = 0
    for group in groups:
        found |= group
    return found


def _blamed(body: Body, stuck: int) -> int | None:
    """Return the panel without which the others come apart, or None where no single one does it."""
    freeing = [i for i in bits(stuck) if not find_stuck(body, stuck & ~(1 << i))]
    order = {role: k for k, role in enumerate(_BLAMED_FIRST)}
    return min(freeing, key=lambda i: (order.get(body.panels[i].role, len(order)), i), default=None)


def _shutting(parts: Parts, body: Body, stuck: int, panel: int | None) -> tuple[Tie, ...]:
    """Return the joints (of the panel, where there is one) that keep the group stuck.

    These are all that do so on their own; where none does, the fewest that do so together.
    """
    near = [
        t
        for t in body.ties
        if stuck >> t.entering & 1
        and stuck >> t.receiving & 1
        and (panel is None or panel in {t.entering, t.receiving})
    ]
    alone = [t for t in near if t.hold is not Hold.PLAIN and _is_stuck_with(parts, body, stuck, near, [t])]
    if alone and not _is_stuck_with(parts, body, stuck, near, []):
        return tuple(alone)
    needed = list(near)
    for tie in near:
        fewer = [t for t in needed if t is not tie]
        if tie.hold is not Hold.PLAIN and _is_stuck_with(parts, body, stuck, near, fewer):
            needed = fewer
    return tuple(t for t in needed if t.hold is not Hold.PLAIN or t.clear > 0) or tuple(near)


def _is_stuck_with(parts: Parts, body: Body, stuck: int, near: Sequence[Tie], kept: Sequence[Tie]) -> bool:
    gone = {t.joint.id for t in near if t.hold is not Hold.PLAIN} - {t.joint.id for t in kept}
    locks = {t.joint.id: t.locks for t in body.ties if t.locks}
    rest = replace(parts, joints=tuple(j for j in parts.joints if j.id not in gone))
    return bool(find_stuck(make_body(rest, locks), stuck))


def _remedies(
    group: Parts, fixed: Locks, body: Body, stuck: int, panel: int | None, ties: Sequence[Tie]
) -> tuple[Remedy, ...]:
    """Return changes that free the group, each tried alone: one joint first, then several, then a loose panel."""
    near = [t.joint for t in body.ties if stuck >> t.entering & 1 and stuck >> t.receiving & 1]
    blamed = [t.joint for t in ties]
    others = [j for j in near if j not in blamed]
    tries = itertools.chain(
        _other_ways(group, fixed, [*blamed, *others]),
        _other_methods(group, fixed, [(j,) for j in blamed]),
    )
    found = list(itertools.islice(tries, MOST_REMEDIES - 1))
    if not found:
        tries = itertools.chain(
            _other_methods(group, fixed, [(j,) for j in others]),
            _other_methods(group, fixed, [tuple(blamed)]),
            _other_for_kind(group, fixed, blamed),
            _other_methods(group, fixed, _together(group, blamed, others)),
        )
        found = list(itertools.islice(tries, MOST_REMEDIES - 1))
    if panel is not None:
        found += _loose(group, fixed, body.panels[panel])
    return tuple(found)


def _together(parts: Parts, blamed: Sequence[Joint], others: Sequence[Joint]) -> list[tuple[Joint, ...]]:
    """Return sets of joints to change together: those of one panel's ends, then all of one method."""
    sets = []
    for panel in parts.panels:
        ends = tuple(j for j in (*blamed, *others) if j.entering == panel.id)
        if len(ends) > 1:
            sets.append(ends)
    near = (*blamed, *others)
    sets += [tuple(j for j in near if j.method == method) for method in dict.fromkeys(j.method for j in near)]
    return sets


def _only(parts: Parts, ids: Sequence[PanelId]) -> Parts:
    keep = [i for i, p in enumerate(parts.panels) if p.id in ids]
    return replace(
        parts,
        panels=tuple(parts.panels[i] for i in keep),
        mass_kg=tuple(parts.mass_kg[i] for i in keep),
        joints=tuple(j for j in parts.joints if j.entering in ids and j.receiving in ids),
        kept=tuple(g for g in parts.kept if set(g) <= set(ids)),
    )


def _other_ways(parts: Parts, fixed: Locks, joints: Sequence[Joint]) -> Iterator[Remedy]:
    for joint in joints:
        lock = fixed.get(joint.id)
        if lock is not None and len(lock) == 1 and goes_together(parts, {**fixed, joint.id: (lock[0] ^ 1,)}):
            new, old = WAYS[lock[0] ^ 1].word, WAYS[lock[0]].word
            text = f"Let {_told(parts, joint)} lock the other way: {new} instead of {old}."
            yield Remedy(kind="slot direction", joints=(joint.id,), panel=None, text=text)


def _other_methods(parts: Parts, fixed: Locks, sets: Sequence[tuple[Joint, ...]]) -> Iterator[Remedy]:
    for joints, change in _changes(parts, fixed, sets):
        text = f"Join {_told_together(parts, joints)} with {change}."
        yield Remedy(kind="method", joints=tuple(j.id for j in joints), panel=None, text=text)


def _changes(parts: Parts, fixed: Locks, sets: Sequence[tuple[Joint, ...]]) -> Iterator[tuple[tuple[Joint, ...], str]]:
    """Yield joints whose other method lets the case go together, with the change: `dowels instead of biscuits`."""
    shapes = shapes_of(parts)
    told: list[set[JointId]] = []
    for joints in sets:
        if any(less <= {j.id for j in joints} for less in told):
            continue
        for method in _fitting(parts, joints):
            changed = _with_method(parts, joints, method)
            same = all(a.box == b.box for a, b in zip(parts.panels, changed.panels, strict=True))
            if goes_together(changed, _without_locks(fixed, joints), shapes if same else None):
                told.append({j.id for j in joints})
                now = parts.methods[joints[0].method].name
                yield joints, f"{method.name} instead of {now}"
                break


def _other_for_kind(parts: Parts, fixed: Locks, blamed: Sequence[Joint]) -> Iterator[Remedy]:
    """Yield another method for all joints of a kind, which is one line of the job file."""
    for kind in dict.fromkeys(j.kind for j in blamed):
        joints = tuple(j for j in parts.joints if j.kind is kind)
        for held, change in _changes(parts, fixed, [joints]):
            text = f"Join all {kind.value} joints with {change} (methods.{kind.name.lower()})."
            yield Remedy(kind="method", joints=tuple(j.id for j in held), panel=None, text=text)


def _without_locks(fixed: Locks, joints: Sequence[Joint]) -> dict[JointId, tuple[int, ...]]:
    gone = {j.id for j in joints}
    return {joint: lock for joint, lock in fixed.items() if joint not in gone}


def _fitting(parts: Parts, joints: Sequence[Joint]) -> list[Method]:
    """Return the methods that hold all these joints' boards: those of the case first, then the most alike."""
    used = {j.method for j in parts.joints}
    by_id = {p.id: p for p in parts.panels}
    fits = [
        m
        for m in parts.methods.values()
        if all(
            j.kind.value in {c.value for c in m.classes}
            and m.code != j.method
            and m.size_for(min(by_id[j.entering].thickness, by_id[j.receiving].thickness)) is not None
            for j in joints
        )
    ]
    now = parts.methods[joints[0].method]
    return sorted(fits, key=lambda m: (m.code not in used, m.glue is not now.glue, m.undone is not now.undone))


def _with_method(parts: Parts, joints: Sequence[Joint], method: Method) -> Parts:
    """Return the parts with other joints, entering panels made longer or shorter by what their housings swallow."""
    panels = {p.id: p for p in parts.panels}
    changed = {}
    for joint in joints:
        one, other = panels[joint.entering], panels[joint.receiving]
        size = method.size_for(min(one.thickness, other.thickness))
        enters = size.enters if size else 0.0
        panels[one.id] = one.with_box(_grown(one.box, joint, enters - joint.enters))
        changed[joint.id] = replace(
            joint,
            method=method.code,
            motion=method.motion,
            travel=method.slide_travel,
            enters=enters,
            glue=method.glue,
        )
    return replace(
        parts,
        panels=tuple(panels.values()),
        joints=tuple(changed.get(j.id, j) for j in parts.joints),
    )


def _grown(box: Box, joint: Joint, by: float) -> Box:
    axis = joint.home.axis
    low, high = box.span(axis)
    return box.with_span(axis, low, high + by) if joint.home.sign > 0 else box.with_span(axis, low - by, high)


def _loose(parts: Parts, fixed: Locks, panel: Panel) -> list[Remedy]:
    rest = _only(parts, [p.id for p in parts.panels if p.id != panel.id])
    if not goes_together(rest, fixed):
        return []
    name = called(panel.name)
    if panel.role in {Role.SHELF, Role.LOOSE_SHELF}:
        text = f"Leave {name} loose, on pins, or fix it with brackets once the rest is together."
    else:
        text = f"Leave {name} out of the joints, and fix it with brackets or screws once the rest is together."
    return [Remedy(kind="loose", joints=(), panel=panel.id, text=text)]


def _told(parts: Parts, joint: Joint) -> str:
    names = {p.id: p.name for p in parts.panels}
    return f"{names[joint.entering]} to {names[joint.receiving]} ({joint.number})"


def _told_together(parts: Parts, joints: Sequence[Joint]) -> str:
    if len(joints) <= FEW:
        return listed([_told(parts, j) for j in joints])
    return f"all {len(joints)} of these: {listed([j.number for j in joints])},"


def _fault(
    parts: Parts,
    body: Body,
    stuck: int,
    panel: int | None,
    ties: Sequence[Tie],
    remedies: Sequence[Remedy],
) -> Fault:
    case = parts.case.built.case
    group = listed([p.name for i, p in enumerate(body.panels) if stuck >> i & 1 and i != panel])
    joints = listed([f"{_told(parts, t.joint)}, {parts.methods[t.joint.method].name}" for t in ties])
    if panel is None:
        found = f"case {case.code}: {group} lock each other in, so none of them can go in last"
    else:
        found = f"case {case.code}: {called(body.panels[panel].name)} cannot go in once {group} are together"
    if joints:
        found += f", because of {joints}"
    tried = " Or: ".join(r.text for r in remedies)
    return Fault(
        code="shut-out",
        field=case.field if panel is None else body.panels[panel].cause or case.field,
        found=found,
        allowed="an order in which every panel can go in",
        do=tried or "No single change tried frees it: choose other methods for more than one of these joints.",
    )
