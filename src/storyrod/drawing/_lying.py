"""How the work lies on the bench: which directions of the case point right, away from the maker, and up."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from storyrod.measure.space import AXES, Box, Direction, Point
from storyrod.model.assembly import Step, StepKind

_RIGHT_AND_AWAY: Final = {
    Direction.DOWN: (Direction.RIGHT, Direction.BACKWARD),
    Direction.UP: (Direction.LEFT, Direction.BACKWARD),
    Direction.RIGHT: (Direction.UP, Direction.BACKWARD),
    Direction.LEFT: (Direction.DOWN, Direction.BACKWARD),
    Direction.BACKWARD: (Direction.RIGHT, Direction.UP),
    Direction.FORWARD: (Direction.RIGHT, Direction.DOWN),
}
"""For each direction of the case that points to the floor: the front stays toward the maker where it can."""

_LIES: Final = {
    Direction.DOWN: "Upright",
    Direction.UP: "Upside down",
    Direction.LEFT: "On its left side",
    Direction.RIGHT: "On its right side",
    Direction.FORWARD: "On its front edges",
    Direction.BACKWARD: "On its back",
}

_SIDE: Final = {
    Direction.LEFT: "left side",
    Direction.RIGHT: "right side",
    Direction.FORWARD: "front",
    Direction.BACKWARD: "back",
    Direction.DOWN: "underside",
    Direction.UP: "top",
}


@dataclass(frozen=True, slots=True)
class Lying:
    """The case turned as it lies before the maker; a quarter turn at a time, never mirrored.

    Attributes:
        right, away, up: directions of the case that point to the right, away from the maker, and up.
    """

    right: Direction
    away: Direction
    up: Direction

    @property
    def from_behind(self) -> Lying:
        """The same, with the maker gone round to the other side."""
        return Lying(self.right.reverse, self.away.reverse, self.up)

    @property
    def words(self) -> str:
        """How it lies and which way round, in a sentence."""
        return f"{_LIES[self.up.reverse]}, {_SIDE[self.away.reverse]} toward you."

    @property
    def flat_words(self) -> str:
        """How a single panel lies flat and which way round, in a sentence."""
        side = "bottom edge" if self.away is Direction.UP else f"{_SIDE[self.away.reverse]} edge"
        return f"Flat, {side} toward you."

    @property
    def is_usual(self) -> bool:
        """Whether it stands upright with its front toward the maker."""
        return self == lying_on(Direction.DOWN)

    def place(self, at: Point) -> Point:
        """Return a place, or a vector, of the case as it lies: x to the right, y away, z up."""
        return Point(*(way.sign * at.along(way.axis) for way in (self.right, self.away, self.up)))

    def box(self, box: Box) -> Box:
        """Return a box of the case as it lies."""
        a, b = self.place(box.low), self.place(box.high)
        low = Point(*(min(a.along(axis), b.along(axis)) for axis in AXES))
        return Box(low, Point(*(max(a.along(axis), b.along(axis)) for axis in AXES)))


def lying_on(down: Direction) -> Lying:
    """Return how the work lies when the case's direction `down` points to the floor."""
    right, away = _RIGHT_AND_AWAY[down]
    return Lying(right, away, down.reverse)


def lying_for(step: Step) -> Lying:
    """Return how the work lies while a step is done; seen from behind where its movement would go on out of sight."""
    lying = lying_on(step.down)
    if step.kind is StepKind.FIT and step.down is Direction.FORWARD:
        return lying.from_behind  # A door on its front: its face edge, the bottom one, toward the maker.
    behind = bool(step.legs) and lying.place(step.legs[0].vector).y < -1e-6
    return lying.from_behind if behind else lying
