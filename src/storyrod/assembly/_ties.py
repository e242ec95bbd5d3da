"""What a joint allows: the motions by which its two panels part, as seen from the entering panel."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto
from typing import Final

from storyrod.assembly._shapes import GRAZE, NUMBER
from storyrod.measure.space import Axis, Direction
from storyrod.model.joint import Joint, JointKind
from storyrod.model.method import CutKind, CutPlace, Method, Motion, SizeForBoard

PROUD_CUTS: Final = (CutKind.HOLE, CutKind.SLOT, CutKind.SEGMENT_POCKET, CutKind.UNDERCUT_SLOT, CutKind.KEYHOLE)
"""Cuts that a connector stands in, so that it is in the way until the panel is drawn clear of it."""

PREFERRED: Final = {
    Axis.Y: (Direction.BACKWARD, Direction.FORWARD),
    Axis.Z: (Direction.DOWN, Direction.UP),
    Axis.X: (Direction.RIGHT, Direction.LEFT),
}
"""Ways for a panel to slide home, the one that use pushes home first; across the case neither is better."""


class Hold(Enum):
    """What keeps the two panels of a joint from going anywhere but out."""

    PLAIN = auto()  # Nothing but their shapes: faces, housings, grooves.
    PINS = auto()  # Connectors that stand straight in.
    KEYHOLE = auto()  # Heads behind a lip: back by the travel, then straight out.
    SLIDE = auto()  # A run along the whole joint.


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """How a group of panels leaves: `unseat` by `by` mm first (or -1 for nothing), then `out` for good."""

    unseat: int
    by: float
    out: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Tie:
    """A joint, as the planner sees it; panels and directions are numbers.

    Attributes:
        clear: how far the entering panel must be drawn straight out before it is free.
        locks: the ways in which it may slide home (keyhole, slide), or the end at which its housing may stop.
        stops: whether `locks` is the stopped end of a housing.
        fast: whether it holds as soon as it is closed (screws, cams, clips, heads behind a lip).
        opposite: numbers of the ties at the other end of the entering panel, which a clamp needs.
    """

    number: int
    joint: Joint
    entering: int
    receiving: int
    hold: Hold
    home: int
    clear: float
    travel: float
    locks: tuple[int, ...]
    stops: bool
    fast: bool
    glue: bool
    clamps: bool
    screws: bool
    opposite: tuple[int, ...]

    def lets(self, move: Move, *, entering_moves: bool) -> bool:
        """Return whether the joint lets one of its panels leave by `move` while the other stands still."""
        turn = 0 if entering_moves else 1
        out = move.out ^ turn
        if move.unseat < 0:
            return self._lets_straight(out)
        unseat = move.unseat ^ turn
        if self.hold is Hold.PINS:
            return unseat == self.home ^ 1 and move.by >= self.clear - GRAZE
        if self.hold is Hold.KEYHOLE:
            return unseat ^ 1 in self.locks and out == self.home ^ 1 and abs(move.by - self.travel) <= GRAZE
        if self.hold is Hold.SLIDE:
            return unseat ^ 1 in self.locks and move.by >= self.joint.length - GRAZE
        return not self._stopped(unseat) and (unseat == self.home ^ 1 or not self._stopped(out))

    def _lets_straight(self, out: int) -> bool:
        if self.hold is Hold.PINS:
            return out == self.home ^ 1
        if self.hold is Hold.KEYHOLE:
            return False
        if self.hold is Hold.SLIDE:
            return out ^ 1 in self.locks
        return not self._stopped(out)

    def _stopped(self, way: int) -> bool:
        return self.stops and way in self.locks

    def gives_way(self, way: int) -> bool:
        """Return whether, unfastened, the entering panel could begin to move that way."""
        if self.hold is Hold.PINS:
            return way == self.home ^ 1
        if self.hold in {Hold.KEYHOLE, Hold.SLIDE}:
            return way ^ 1 in self.locks
        return not self._stopped(way)


def hold_of(joint: Joint, method: Method) -> Hold:
    """Return what keeps the panels of a joint together, from its motion and its method."""
    if joint.motion is Motion.STRAIGHT_THEN_SLIDE:
        return Hold.KEYHOLE
    if joint.motion is Motion.SLIDE:
        return Hold.SLIDE
    if joint.motion is Motion.FREE or method.whole_line:
        return Hold.PLAIN
    return Hold.PINS


def proud(method: Method, size: SizeForBoard | None) -> float:
    """Return how far the connectors of a method stand proud before the joint closes, in mm.

    They sit in the entering edge, but for a bolt that a cam catches: that one sits in the receiving face.
    """
    if size is None or method.held_by_screws:
        return 0.0
    receiving = [c.depth or 0.0 for c in size.receiving if c.place is CutPlace.JOINT and c.kind in PROUD_CUTS]
    entering = [c.depth or 0.0 for c in size.entering if c.place is CutPlace.JOINT and c.kind in PROUD_CUTS]
    by_cam = any(c.place in {CutPlace.FACE_SIDE, CutPlace.FAR_FACE} for c in size.entering)
    if by_cam or not receiving:
        receiving += entering
    return max(receiving, default=0.0)


def lock_choices(joint: Joint, hold: Hold, *, stop_short: float) -> tuple[int, ...]:
    """Return the ways in which the joint may lock, the preferred one first; none where there is no choice.

    A housing's lock is its stopped end: it stops at the end that shows (the face edge or datum end; in a drawer box the
    upper edge) unless the order needs it open.
    """
    if hold in {Hold.KEYHOLE, Hold.SLIDE}:
        return tuple(NUMBER[way] for way in PREFERRED[joint.run.axis])
    if stop_short > 0:
        shows = joint.run if joint.kind is JointKind.DRAWER_BOX else joint.run.reverse
        return (NUMBER[shows], NUMBER[shows] ^ 1)
    return ()
