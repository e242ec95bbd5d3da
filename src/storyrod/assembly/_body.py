"""A body to be put together: its panels, its joints, and for each movement which panel stops which.

The tables are blocking graphs (Wilson and Latombe, Geometric reasoning about mechanical assembly, Artificial
Intelligence 71, 1994): for one movement, `stops[p]` is the set of panels that stop panel p. A group can leave by that
movement when none of its panels is stopped by one that stays. Sets of panels are bits of a whole number.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from storyrod.assembly._reach import Reach, reach_of
from storyrod.assembly._shapes import (
    GRAZE,
    WAYS,
    Block,
    block_of,
    channels_of,
    common,
    hits,
    moved,
    without,
)
from storyrod.assembly._ties import Hold, Move, Tie, hold_of, lock_choices, proud
from storyrod.model.detail import JoinedCase
from storyrod.model.job import Job
from storyrod.model.joint import Joint, JointId
from storyrod.model.method import Method
from storyrod.model.panel import Panel, PanelId, Role

CONTACT: Final = 1.0
"""A panel that would meet another within this distance rests against it (mm); more than a back's play in a groove."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """Panels that are joined to each other.

    Attributes:
        blocks: each panel's block.
        mass_kg: each panel's mass.
        ties: the joints.
        moves: the movements that may be tried; of a body of panels the first six are the straight ones, in order.
        stops: for each movement, for each panel, the panels that stop it.
        rests: for each of the six directions, for each panel, the panels that stop it from beginning to move that
            way while no joint is fastened.
        kept: groups that come together as one, and are not taken apart.
        reaches: for each joint, where a driver must come, if anywhere.
    """

    code: str
    panels: tuple[Panel, ...]
    blocks: tuple[Block, ...]
    mass_kg: tuple[float, ...]
    ties: tuple[Tie, ...]
    moves: tuple[Move, ...]
    stops: tuple[tuple[int, ...], ...]
    rests: tuple[tuple[int, ...], ...]
    kept: tuple[int, ...] = ()
    reaches: tuple[Reach | None, ...] = ()

    @property
    def everything(self) -> int:
        """The set of all panels."""
        return (1 << len(self.panels)) - 1

    def undriven(self, group: int) -> tuple[Tie, ...]:
        """Return the joints inside a group to whose screws no driver comes while all of it is together."""
        return tuple(
            tie
            for tie, reach in zip(self.ties, self.reaches, strict=True)
            if reach is not None and reach.locking & group and group >> tie.entering & 1 and group >> tie.receiving & 1
        )

    def locked(self, group: int) -> tuple[int, ...] | None:
        """Return, for each panel, those it cannot part from while a group is together; None where there are none.

        A joint can only be opened, and so closed, where a driver comes to its screws. Taking panels away opens more.
        """
        undriven = self.undriven(group)
        if not undriven:
            return None
        rows = [0] * len(self.panels)
        for tie in undriven:
            rows[tie.entering] |= 1 << tie.receiving
            rows[tie.receiving] |= 1 << tie.entering
        return tuple(rows)

    def ids(self, group: int) -> tuple[PanelId, ...]:
        """Return the ids of a set of panels, in the case's order."""
        return tuple(p.id for i, p in enumerate(self.panels) if group >> i & 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Parts:
    """What a body is made from: its panels and joints, before any choice of locks."""

    code: str
    job: Job
    methods: Mapping[str, Method]
    case: JoinedCase
    panels: tuple[Panel, ...]
    joints: tuple[Joint, ...]
    mass_kg: tuple[float, ...]
    kept: tuple[tuple[PanelId, ...], ...] = ()


Locks = Mapping[JointId, tuple[int, ...]]


def make_body(parts: Parts, locks: Locks, shapes: Shapes | None = None) -> Body:
    """Return the body in which each joint named in `locks` may lock only so.

    `shapes`, those of the same panels, save following the same ways again.
    """
    shapes = shapes or shapes_of(parts)
    ties = make_ties(parts, locks)
    moves = _moves(ties)
    place = {p.id: i for i, p in enumerate(parts.panels)}
    kept = tuple(sum(1 << place[p] for p in group) for group in parts.kept)
    return Body(
        code=parts.code,
        panels=parts.panels,
        blocks=shapes.blocks,
        mass_kg=parts.mass_kg,
        ties=ties,
        moves=moves,
        stops=_stops(shapes, ties, moves, kept),
        rests=_rests(shapes, ties),
        kept=kept,
        reaches=shapes.reaches if shapes.joints == parts.joints else _reaches(parts, shapes.blocks),
    )


def make_ties(parts: Parts, locks: Locks) -> tuple[Tie, ...]:
    """Return the joints of a body as ties."""
    place = {p.id: i for i, p in enumerate(parts.panels)}
    found = []
    for number, joint in enumerate(parts.joints):
        method = parts.methods[joint.method]
        size = method.size_for(_thinner(parts, place, joint))
        hold = hold_of(joint, method)
        stop_short = size.stop_short if size and method.whole_line else 0.0
        choices = lock_choices(joint, hold, stop_short=stop_short)
        dry = not method.glue and not method.held_by_screws
        found.append(
            Tie(
                number=number,
                joint=joint,
                entering=place[joint.entering],
                receiving=place[joint.receiving],
                hold=hold,
                home=WAYS.index(joint.home),
                clear=joint.enters + (proud(method, size) if hold is Hold.PINS else 0.0),
                travel=joint.travel or method.slide_travel,
                locks=locks.get(joint.id, choices),
                stops=hold is Hold.PLAIN and bool(choices),
                fast=method.held_by_screws or hold is Hold.KEYHOLE or (dry and hold is Hold.PINS and method.undone),
                glue=joint.glue or method.glue,
                clamps=method.clamps,
                screws=method.held_by_screws,
                opposite=_opposite(parts.joints, joint),
            )
        )
    return tuple(found)


def _thinner(parts: Parts, place: Mapping[PanelId, int], joint: Joint) -> float:
    return min(parts.panels[place[p]].thickness for p in (joint.entering, joint.receiving))


def _opposite(joints: Sequence[Joint], joint: Joint) -> tuple[int, ...]:
    """Return the joints at the far end of the entering panel, seen from this one."""
    return tuple(
        i for i, other in enumerate(joints) if other.entering == joint.entering and other.home is joint.home.reverse
    )


_LET_IN: Final = (Role.BACK, Role.DRAWER_BOTTOM)
"""Panels for which the others are cut, even where they receive the joint: a back in its rebate."""


Shift = tuple[int, float] | None
"""A direction, and how far (mm); None for not at all."""


class Shapes:
    """Blocks of each panel, with what is cut out of a panel where its mate is let in; ways once followed are kept."""

    def __init__(
        self,
        blocks: tuple[Block, ...],
        let_in: Mapping[tuple[int, int], tuple[Block, ...]],
        joints: tuple[Joint, ...] = (),
        reaches: tuple[Reach | None, ...] = (),
    ) -> None:
        self.blocks = blocks
        self.joints = joints
        self.reaches = reaches
        self._let_in = let_in
        self._followed: dict[tuple[int, float | None, Shift], tuple[int, ...]] = {}
        self._beside: dict[tuple[int, float], list[int]] = {}

    def of(self, panel: int, beside: int) -> tuple[Block, ...]:
        """Return what `panel` is made of where `beside` is concerned."""
        return self._let_in.get((panel, beside)) or (self.blocks[panel],)

    def stopped(self, way: int, by: float | None, *, shift: Shift = None) -> list[int]:
        """Return for each panel the panels it meets when it goes that way, begun `shift`ed."""
        key = (way, by, shift)
        if key not in self._followed:
            self._followed[key] = self._follow(way, by, shift)
        return list(self._followed[key])

    def _follow(self, way: int, by: float | None, shift: Shift) -> tuple[int, ...]:
        beside = [self._side_by_side(axis, shift) for axis in range(3) if axis != way >> 1]
        ahead = self._ahead(way, by, shift)
        rows = [ahead[a] & beside[0][a] & beside[1][a] & ~(1 << a) for a in range(len(self.blocks))]
        for a, b in self._let_in:
            for mover, still in ((a, b), (b, a)):
                if rows[mover] >> still & 1 and not self._meets(mover, still, way, by, shift):
                    rows[mover] ^= 1 << still
        return tuple(rows)

    def _side_by_side(self, axis: int, shift: Shift) -> list[int]:
        """Return for each panel, `shift`ed, the panels whose whole blocks lie beside it along an axis."""
        step = _step_along(axis, shift)
        key = (axis, step)
        if key not in self._beside:
            spans = [(b[axis], b[axis + 3]) for b in self.blocks]
            self._beside[key] = [
                _set_of(high + step - lo > GRAZE and hi - (low + step) > GRAZE for lo, hi in spans)
                for low, high in spans
            ]
        return self._beside[key]

    def _ahead(self, way: int, by: float | None, shift: Shift) -> list[int]:
        """Return for each panel, `shift`ed, the panels before it that its whole block would reach."""
        axis = way >> 1
        step = _step_along(axis, shift)
        spans = [(b[axis], b[axis + 3]) for b in self.blocks]
        moved_on = [(low + step, high + step) for low, high in spans]
        if way & 1:
            return [
                _set_of(high - lo > GRAZE and (by is None or hi - (low - by) > GRAZE) for lo, hi in spans)
                for low, high in moved_on
            ]
        return [
            _set_of(hi - low > GRAZE and (by is None or high + by - lo > GRAZE) for lo, hi in spans)
            for low, high in moved_on
        ]

    def _meets(self, a: int, b: int, way: int, by: float | None, shift: Shift) -> bool:
        mine, yours = self.of(a, b), self.of(b, a)
        if shift is not None:
            mine = tuple(moved(block, *shift) for block in mine)
        return any(hits(m, y, way, by) for m in mine for y in yours)


def _step_along(axis: int, shift: Shift) -> float:
    if shift is None or shift[0] >> 1 != axis:
        return 0.0
    return -shift[1] if shift[0] & 1 else shift[1]


def _set_of(members: Iterable[bool]) -> int:
    """Return the set of those numbers at which a member stands."""
    return sum(1 << n for n, is_in in enumerate(members) if is_in)


def shapes_of(parts: Parts) -> Shapes:
    """Return the shapes of a body's panels."""
    blocks = tuple(block_of(p.box) for p in parts.panels)
    return Shapes(blocks, _let_in(parts, blocks), parts.joints, _reaches(parts, blocks))


def _reaches(parts: Parts, blocks: tuple[Block, ...]) -> tuple[Reach | None, ...]:
    return tuple(_reach(parts, tie, blocks) for tie in make_ties(parts, {}))


def _reach(parts: Parts, tie: Tie, blocks: tuple[Block, ...]) -> Reach | None:
    method = parts.methods[tie.joint.method]
    thinner = min(parts.panels[i].thickness for i in (tie.entering, tie.receiving))
    return reach_of(tie, method, method.size_for(thinner), parts.panels, blocks)


def _let_in(parts: Parts, blocks: Sequence[Block]) -> dict[tuple[int, int], tuple[Block, ...]]:
    """Return what is left of each panel that takes another in, by (giver, taker)."""
    left = {}
    place = {p.id: i for i, p in enumerate(parts.panels)}
    for joint in parts.joints:
        giver, taker = place[joint.receiving], place[joint.entering]
        shared = common(blocks[giver], blocks[taker])
        if shared is None:
            continue
        if parts.panels[giver].role in _LET_IN and parts.panels[taker].role not in _LET_IN:
            giver, taker = taker, giver
        rest = without((blocks[giver],), shared)
        for channel in channels_of(parts.panels[giver], parts.case.fittings):
            if common(channel, shared) is not None:
                rest = without(rest, channel)
        left[giver, taker] = rest
    return left


def _moves(ties: Sequence[Tie]) -> tuple[Move, ...]:
    """Return the six straight moves, and the two-part moves that some joint asks for or profits from."""
    legs: dict[tuple[int, float], None] = {}
    for tie in ties:
        for unseat, by in _unseatings(tie):
            legs[unseat, round(by, 3)] = None
    straight = [Move(unseat=-1, by=0.0, out=way) for way in range(6)]
    bent = [Move(unseat=u, by=by, out=out) for u, by in legs for out in range(6) if out >> 1 != u >> 1]
    return (*straight, *bent)


def _unseatings(tie: Tie) -> list[tuple[int, float]]:
    if tie.hold is Hold.KEYHOLE:
        return [(way, tie.travel) for lock in tie.locks for way in (lock, lock ^ 1)]
    if tie.hold is Hold.SLIDE:
        return [(way, tie.joint.length) for lock in tie.locks for way in (lock, lock ^ 1)]
    return [(tie.home, tie.clear), (tie.home ^ 1, tie.clear)] if tie.clear > 0 else []


def _stops(
    shapes: Shapes, ties: Sequence[Tie], moves: Sequence[Move], kept: Sequence[int]
) -> tuple[tuple[int, ...], ...]:
    unseated: dict[tuple[int, float], list[int]] = {}
    tables = []
    for move in moves:
        if move.unseat < 0:
            rows = shapes.stopped(move.out, None)
        else:
            leg = (move.unseat, move.by)
            if leg not in unseated:
                unseated[leg] = shapes.stopped(*leg)
            first, then = unseated[leg], shapes.stopped(move.out, None, shift=leg)
            rows = [a | b for a, b in zip(first, then, strict=True)]
        for tie in ties:
            if not tie.lets(move, entering_moves=True):
                rows[tie.entering] |= 1 << tie.receiving
            if not tie.lets(move, entering_moves=False):
                rows[tie.receiving] |= 1 << tie.entering
        for group in kept:
            rows = [row | group if group >> i & 1 else row for i, row in enumerate(rows)]
        tables.append(tuple(rows))
    return tuple(tables)


def _rests(shapes: Shapes, ties: Sequence[Tie]) -> tuple[tuple[int, ...], ...]:
    tables = []
    for way in range(6):
        rows = shapes.stopped(way, CONTACT)
        for tie in ties:
            if not tie.gives_way(way):
                rows[tie.entering] |= 1 << tie.receiving
            if not tie.gives_way(way ^ 1):
                rows[tie.receiving] |= 1 << tie.entering
        tables.append(tuple(rows))
    return tuple(tables)
