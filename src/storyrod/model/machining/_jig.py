"""Jigs, to be made or already owned."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from storyrod.model.machining._setting import Hand


class JigKind(StrEnum):
    """What a jig is placed from."""

    EDGE = "edge jig with a fence"
    LINE = "line jig"
    ROW = "row jig with a fence"
    TEMPLATE = "template set to centre marks"


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One piece of a jig's own cutting list."""

    name: str
    count: int
    length: float
    width: float
    thickness: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """A stop of a jig: where it stands from the jig's zero, and which joints use it."""

    label: str
    at: float
    used_by: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class LineUp:
    """A line-up mark scribed across a jig, `from_centre` of its openings, for boards of a thickness."""

    from_centre: float
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class JigPlan:
    """One jig, to be made or already owned.

    Its zero is where the panel's edge lies when stop A is used. x runs along the openings, y across them from
    their centre line toward the reference.

    Attributes:
        stations: centres of its openings from zero.
        opening: length along and width across of each opening; equal and `round_` for a drilled or round one.
        corner: radius of the opening's ends.
        reference: from the openings' centre line to the fence, or to the edge or line that is set on a line.
        has_fence: whether a fence hangs over the panel's edge; it can be changed to the other face for the other hand.
        start, end: where the template begins and ends from zero; `near`, `far` its edges from the centre line.
        in_step_with: id of the jig whose stations it shares, or "".
        owned: code of the owned jig that it is, or "".
        serves: joints or rows served, in words; `placings` how many placings in the batch.
        saves: what it saves against setting each cut to its mark, in minutes of the batch, making it not counted.
        proven_least: whether no jig with fewer stations can serve all that it serves.
    """

    id: str
    name: str
    kind: JigKind
    way: str
    stations: tuple[float, ...]
    opening: tuple[float, float]
    corner: float
    round_: bool
    thickness: float
    reference: float
    has_fence: bool
    stops: tuple[Stop, ...]
    line_ups: tuple[LineUp, ...]
    start: float
    end: float
    near: float
    far: float
    bush: float | None
    cutter: str
    pieces: tuple[Piece, ...]
    checks: tuple[str, ...]
    hands: tuple[Hand, ...]
    serves: tuple[str, ...]
    placings: int
    making_min: float
    saves: float
    in_step_with: str = ""
    owned: str = ""
    small: bool = False
    proven_least: bool = True
    notes: tuple[str, ...] = ()

    @property
    def length(self) -> float:
        """Length of the template."""
        return self.end - self.start

    @property
    def width(self) -> float:
        """Width of the template."""
        return self.far - self.near


@dataclass(frozen=True, slots=True, kw_only=True)
class JigTally:
    """How many jigs are to be made, no fewer than how many would do, and how many owned ones are used.

    `bound` holds for the ways chosen: so many placings there are of which no two could share a jig, by opening, by what
    a packer makes up, or by how long a jig a part can hold.
    """

    to_make: int
    bound: int
    owned: int = 0

    @property
    def proven(self) -> bool:
        """Whether no fewer jigs would do."""
        return self.to_make <= self.bound
