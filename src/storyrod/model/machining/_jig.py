"""Jigs, to be made or already owned."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from storyrod.measure.writing import LengthWriter
from storyrod.model.machining._setting import Hand

FENCE_THICKNESS: Final = 18.0
STOP_THICKNESS: Final = 18.0
STOP_LENGTH: Final = 40.0
"""Fences and stops are cut from the usual board; a stop is so long across the jig (mm). Common practice, no source."""


WIDEST_BIT: Final = 60.0
"""Wider holes are sawn, not bored (mm); common practice, no source."""

_ROUND: Final = 0.01
"""An opening is round where its sides differ by less than this (mm)."""


class JigKind(StrEnum):
    """What a jig is placed from."""

    EDGE = "edge jig with a fence"
    LINE = "line jig"
    ROW = "row jig with a fence"
    PINS = "pin template with a fence"
    TEMPLATE = "template set to centre marks"


class HoldKind(StrEnum):
    """What holds a jig and the part under it while the tool runs."""

    CLAMPED = "clamped on the part"
    FENCES = "clamped across its fence"
    BOARD = "beside boards of the same thickness"
    BACKING = "ganged to a wider board"
    TROUGH = "in a holding trough"


@dataclass(frozen=True, slots=True)
class Sentence:
    """A whole sentence with named gaps for lengths, so that each reader writes them in the job's unit.

    Attributes:
        words: the sentence, its gaps as `{name}`; `{bought_name}` for what is bought by its trade size.
        lengths: what stands in each gap (mm), one length or several in a row.
    """

    words: str
    lengths: tuple[tuple[str, tuple[float, ...]], ...] = ()

    def told(self, writer: LengthWriter) -> str:
        """Return the sentence with its gaps filled, for a page that says its unit once."""
        gaps = {}
        for name, values in self.lengths:
            write = writer.bought_n if name.startswith("bought_") else writer.n
            gaps[name] = ", ".join(map(write, values))
        return self.words.format(**gaps)


@dataclass(frozen=True, slots=True, kw_only=True)
class Area:
    """An upright rectangle in the frame of a jig: x along its openings from its zero, y from their centre line."""

    left: float
    right: float
    near: float
    far: float


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
class Hold:
    """How a jig is held on some of the parts that it serves.

    Attributes:
        id: `G1.1`, the jig's id and a number.
        serves: joints or rows held so, in words.
        clamps: where clamps press: on the template, or, with `across`, across fence and part below it.
        across: whether the clamps go across the fence.
        part: what the part takes up under the jig.
        part_thickness: of the thinnest part (mm).
        beside: what else the jig lies on: guard boards, the cheeks of a trough, the board a part is ganged to.
        pieces: what must be cut for it.
        steps: how it is made and used.
        making_min: minutes of making it.
    """

    id: str
    kind: HoldKind
    serves: tuple[str, ...]
    clamps: tuple[Area, ...]
    across: bool
    part: Area
    part_thickness: float
    beside: tuple[Area, ...] = ()
    pieces: tuple[Piece, ...] = ()
    steps: tuple[Sentence, ...] = ()
    making_min: float = 0.0


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
        base: half the width of the base that runs on it, or None for a drill.
        sweep: what the base passes over at all stations, or a drill's chuck; clamps stay out of it.
        holds: how it is held, on one kind of part after another.
        steps: how it is made; `checks` how it is tried before use; `notes` what to watch for, in making and in use.
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
    cutter_name: str
    base: float | None
    sweep: Area
    holds: tuple[Hold, ...]
    pieces: tuple[Piece, ...]
    checks: tuple[Sentence, ...]
    hands: tuple[Hand, ...]
    serves: tuple[str, ...]
    placings: int
    making_min: float
    saves: float
    in_step_with: str = ""
    owned: str = ""
    small: bool = False
    proven_least: bool = True
    steps: tuple[Sentence, ...] = ()
    notes: tuple[Sentence, ...] = ()

    @property
    def length(self) -> float:
        """Length of the template."""
        return self.end - self.start

    @property
    def width(self) -> float:
        """Width of the template."""
        return self.far - self.near

    @property
    def bores(self) -> tuple[float, ...]:
        """The drills or bits (mm) with which its openings are made; wider round ones are sawn out."""
        long, wide = self.opening
        if self.bush is None:
            return (long,)
        if self.round_ or abs(long - wide) < _ROUND:
            return (long,) if long <= WIDEST_BIT else ()
        if 2 * self.corner >= min(long, wide) - _ROUND:
            return (min(long, wide),)
        return (max(2 * self.corner, self.bush),)


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
