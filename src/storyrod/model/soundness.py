"""Whether a piece will carry, stand and close: estimates from stated assumptions, never a certificate.

Forces are newtons, masses kg, lengths mm. Every figure keeps where it comes from; what is not known is `None` and says
why, never a guess.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import Final

from storyrod.faults import Caution
from storyrod.measure.space import Point
from storyrod.model.feet import FeetLoad
from storyrod.model.hung import Hanging
from storyrod.model.job import Climate, Floor
from storyrod.model.joint import JointId
from storyrod.model.panel import PanelId
from storyrod.model.simulation import ErrorTerm, Throws, spread
from storyrod.model.thresholds import GRAVITY, Thresholds
from storyrod.model.wall import WallFixing
from storyrod.model.worktop import Overhang

ESTIMATE: Final = (
    "These figures are estimates from stated assumptions, not a certificate. Local codes, the data sheets of boards "
    "and fittings, and a licensed or trained person's word come first."
)
"""Stands with every view of these figures."""


_TOLD_KG: Final = 0.5

# --- Sag --------------------------------------------------------------------------------------------------------------


class Rest(StrEnum):
    """What holds a plank up at one place."""

    JOINT = "joint"
    PINS = "shelf pins"
    UPRIGHT = "upright"
    EDGES = "all four edges"
    FLOOR = "floor"
    FEET = "feet"


@dataclass(frozen=True, slots=True, kw_only=True)
class Resting:
    """One place where a plank is held: `x` in the case frame, what by, and the force it gives (N, up)."""

    x: float
    by: Rest
    panel: PanelId | None
    force_n: float
    joint: JointId | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Carried:
    """What lies on a plank: spread over `start` to `end` (case x), and why so much; `by` the same without its place."""

    start: float
    end: float
    kg: float
    why: str
    by: str = field(default="", repr=False)


class RemedyKind(StrEnum):
    """What is changed to mend a sag."""

    RAIL = "rail"
    THICKER = "thicker board"
    LIPPING = "lipping"
    UPRIGHT = "upright"


@dataclass(frozen=True, slots=True, kw_only=True)
class Remedy:
    """One way to mend a sag, worked out: the sag it leaves in the long run, and whether that is within the limit."""

    kind: RemedyKind
    what: str
    sag: float
    limit: float
    enough: bool
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sag:
    """How far one plank sags.

    Attributes:
        span: between the supports of its worst stretch, which begins at `span_from` (case x).
        at: where it hangs lowest (case x).
        at_once, lasting: sag when loaded, and in the long run; None where the board's stiffness is not known.
        bending_share: how much of it is bending, the rest shear.
        limit: what is allowed over that span; `limit_share` is what the span was divided by.
        greatest_span: of this board under an even load like this one, on two supports.
        stress_n_mm2, strength_n_mm2: bending stress, and the board's strength where one is known.
        stiffness_n_mm2: reckoned with, and `stiffness_from` where it comes from.
        curve: places along the plank (case x) and how far down it is there at once.
    """

    panel: PanelId
    name: str
    span: float
    span_from: float
    at: float
    at_once: float | None
    lasting: float | None
    limit: float
    limit_share: float
    own_kg: float
    carried: tuple[Carried, ...]
    rests: tuple[Resting, ...]
    greatest_span: float | None
    bending_share: float
    stress_n_mm2: float | None
    strength_n_mm2: float | None
    stiffness_n_mm2: float | None
    stiffness_from: str
    creep_from: str
    edges: tuple[str, ...] = ()
    curve: tuple[tuple[float, float], ...] = ()
    remedies: tuple[Remedy, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def load_kg(self) -> float:
        """All that lies on it."""
        return sum(c.kg for c in self.carried)

    @property
    def pressed_kg(self) -> float:
        """What uprights that stand on it bring down, as the mass that weighs as much."""
        return sum(-r.force_n for r in self.rests if r.force_n < 0) / GRAVITY

    @property
    def under_words(self) -> str:
        """What it sags under: `28 kg`, `28 kg and 20 kg from uprights`, or `its own weight`."""
        words = [f"{self.load_kg:.0f} kg"] if self.load_kg >= _TOLD_KG else []
        if self.pressed_kg >= _TOLD_KG:
            words.append(f"{self.pressed_kg:.0f} kg from uprights")
        return " and ".join(words) or "its own weight"

    @property
    def within_limit(self) -> bool | None:
        """Whether the sag in the long run keeps the limit; None where it is not known."""
        return None if self.lasting is None else self.lasting <= self.limit + 1e-9


# --- Clothes rails ----------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class RailLoad:
    """What one clothes rail has to carry, and what its tube and its screws make of it.

    Attributes:
        span: between the uprights (mm).
        load_kg: what hangs on it, and `why` so much; `own_kg` the tube's own mass.
        at_once, lasting: sag of the tube in its middle when loaded, and in the long run; `limit` what is allowed.
        stress_n_mm2: bending stress in the tube; `usable_n_mm2` what may be used of its material.
        panel: the upright whose socket has the weaker screws.
        screw: what is driven there; `bite` how deep it goes, `screws` how many hold one socket.
        each_n: load across each of them.
        holds_n: what one holds, characteristic; `usable_n` what it may carry for good; None where no formula covers it.
        source: where that comes from.
    """

    rail: str
    name: str
    span: float
    load_kg: float
    why: str
    own_kg: float
    at_once: float
    lasting: float | None
    limit: float
    stress_n_mm2: float
    usable_n_mm2: float
    panel: PanelId
    screw: str
    bite: float
    screws: int
    each_n: float
    holds_n: float | None
    usable_n: float | None
    source: str

    @property
    def bends_too_much(self) -> bool:
        """Whether the tube sags beyond what is allowed, or is bent harder than its material may be."""
        return (self.lasting or self.at_once) > self.limit + 1e-9 or self.stress_n_mm2 > self.usable_n_mm2

    @property
    def used(self) -> float | None:
        """Load on one screw over what it may carry; None where that is not known."""
        return None if self.usable_n is None else self.each_n / self.usable_n


# --- Joints -----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Capacity:
    """What one connector holds (N): least, usual and most of tests or of a formula, and where that comes from."""

    low_n: float
    usual_n: float
    high_n: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class JointLoad:
    """What one joint is asked to carry.

    Attributes:
        how: `on connectors` across them, `pulled apart`, `rests` on the panel below, or `in its housing`.
        connectors: how many share the load; 0 where none does.
        each_n: load on each connector.
        capacity: of one connector in that direction; None is not known, and `unknown` says why.
        pull_out: what holds one connector in its hole, as a formula or test gives it, whatever the load's direction.
    """

    joint: JointId
    number: str
    about: str
    how: str
    force_n: float
    connectors: int
    each_n: float
    capacity: Capacity | None
    unknown: str
    pull_out: Capacity | None = None

    @property
    def used(self) -> float | None:
        """Load over the least capacity; None where that is not known."""
        return None if self.capacity is None else self.each_n / self.capacity.low_n


ENDLESS: Final = 1000.0
"""A ratio of moments that is said to be no limit, since files of plain data know no endless figures."""


# --- Tipping ----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class TipTest:
    """One condition in which a case may tip forward.

    Attributes:
        ratio: steadying over tipping moment; below 1 it tips, `ENDLESS` where next to nothing tips it.
        most_n: the force of this kind that it just stands, where the condition is a force and there is such a one.
        asked_n: the force that the published condition asks for.
        source: where the condition comes from.
        counts: whether it decides on the caution (it is meant for such a piece on such a floor).
        anchor_n: the greatest pull on a wall fixing at the height of `Tipping.fixing`, of all that was examined here:
            each drawer, each door. What is printed is `WallFixing.each_n`, never less.
        pull_height: height of an outward pull, where the condition is one.
        opened: ids of the drawers that stand open, and whether the doors do (`doors`).
    """

    code: str
    what: str
    ratio: float
    source: str
    counts: bool
    most_n: float | None = None
    asked_n: float | None = None
    anchor_n: float = 0.0
    pull_height: float | None = None
    opened: tuple[str, ...] = ()
    doors: bool = False

    @property
    def stands(self) -> bool:
        """Whether it stays upright in this condition."""
        return self.ratio >= 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Tipping:
    """How a case stands.

    Attributes:
        pivot: the front-most place where it meets the floor (case y); `rear` the rear-most.
        centre: the middle of its mass, empty and shut.
        body_kg: its mass, empty.
        margin: the least ratio of the conditions that count; `wanted` is the threshold.
        fixing: how it is fixed to the wall; none where it stands by itself.
        in_scope: whether ASTM F2057-23 would take it for a clothing storage unit by its size, were it one.
    """

    pivot: float
    rear: float
    centre: Point
    body_kg: float
    tests: tuple[TipTest, ...]
    margin: float
    wanted: float
    fix_to_wall: bool
    fixed: bool
    fixing: WallFixing | None
    tilt_deg: float
    floor: Floor
    in_scope: bool

    @property
    def worst(self) -> TipTest:
        """The condition, among those that count, in which it stands worst."""
        return min((t for t in self.tests if t.counts), key=lambda t: t.ratio)


# --- Weights ----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Handled:
    """One thing that is lifted: its mass, what is recommended for it, its length, and how many people it takes."""

    name: str
    kg: float
    recommended_kg: float
    persons: int
    longest: float
    ids: tuple[PanelId, ...] = ()

    @property
    def index(self) -> float:
        """Mass over recommended weight (the equation's lifting index)."""
        return self.kg / self.recommended_kg if self.recommended_kg else float("inf")


@dataclass(frozen=True, slots=True, kw_only=True)
class Weights:
    """Masses of a case: panels, drawers, the whole, empty and loaded; `turn_n` starts it turning onto its back."""

    panels: tuple[Handled, ...]
    drawers: tuple[Handled, ...]
    carcass: Handled
    empty_kg: float
    loaded_kg: float
    turn_n: float
    centre: Point

    @property
    def for_two(self) -> tuple[Handled, ...]:
        """The panels that are no lift for one person, heaviest first."""
        return tuple(sorted((p for p in self.panels if p.persons > 1), key=lambda p: -p.kg))


# --- Racking ----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Racking:
    """How a case resists leaning sideways.

    Attributes:
        back: what the back gives: `stiffens`, `locates` or `none`; `by` says how it is fixed.
        corner_nm: moment at each corner under `push_n` at the top, were there no back.
        lean_frame: lean at the top then, with corners that did not give at all: a lower bound; None where not known.
        lean_back: lean with the back alone as a shear panel that does not slip; None where it does not count.
        diagonals: how much the diagonals differ for a lean of 1 mm.
    """

    back: str
    by: str
    push_n: float
    corner_nm: float
    lean_frame: float | None
    lean_back: float | None
    diagonals: float
    corner_tests_nm: tuple[float, float] | None = None
    corner_source: str = ""


# --- Movement ---------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Movement:
    """How much one panel or lipping grows from the driest to the dampest of the year; `gap_left` of an inset front."""

    panel: PanelId
    name: str
    what: str
    size: float
    grows: float
    source: str
    gap: float | None = None
    gap_left: float | None = None


# --- Errors at joints -------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class JointErrors:
    """The errors of one joint: across it (they show as a step between faces), and along it (at the front edges)."""

    across: tuple[ErrorTerm, ...]
    along: tuple[ErrorTerm, ...] = ()
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ExpectedStep:
    """The step to be expected at one joint (mm, either way).

    Attributes:
        worst, rss: all errors at their worst, and the root of the sum of their squares.
        along: root of the sum of squares along the joint.
        throws: how the errors are simulated when `middle`, `most` or `chance` is asked for.
        halved_by: what would halve it.
    """

    joint: JointId
    number: str
    about: str
    worst: float
    rss: float
    along: float
    terms: tuple[ErrorTerm, ...]
    throws: Throws = field(repr=False)
    halved_by: str
    why: str

    @property
    def middle(self) -> float:
        """The step that half of the simulated joints keep under."""
        return spread(self.terms, self.throws)[0]

    @property
    def most(self) -> float:
        """The step that 19 in 20 of the simulated joints keep under."""
        return spread(self.terms, self.throws)[1]

    @property
    def chance(self) -> float:
        """The share of simulated joints whose step is beyond what shows."""
        return spread(self.terms, self.throws)[2]


# --- The whole --------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class CaseSoundness:
    """One case examined; it stands and may tip, or it hangs on a wall."""

    case: str
    name: str
    sags: tuple[Sag, ...]
    joints: tuple[JointLoad, ...]
    tipping: Tipping | None
    weights: Weights
    racking: Racking
    movements: tuple[Movement, ...]
    steps: tuple[ExpectedStep, ...]
    hanging: Hanging | None = None
    rails: tuple[RailLoad, ...] = ()
    overhangs: tuple[Overhang, ...] = ()
    feet: FeetLoad | None = None
    cautions: tuple[Caution, ...] = ()

    @property
    def likeliest_step(self) -> ExpectedStep | None:
        """The joint whose step is most likely to show, or None where there is no joint."""
        return max(self.steps, key=lambda s: (s.chance, s.rss), default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Soundness:
    """All cases examined, with the thresholds they were held against."""

    cases: tuple[CaseSoundness, ...]
    thresholds: Thresholds
    climate: Climate
    trials: int
    seed: int
    estimate: str = ESTIMATE
    cautions: tuple[Caution, ...] = field(default=())

    def case(self, code: str) -> CaseSoundness:
        """Return one case by its code."""
        return next(c for c in self.cases if c.case == code)
