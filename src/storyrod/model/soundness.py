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
from storyrod.measure.writing import METRIC, LengthWriter
from storyrod.model.job import Climate, Floor, Use
from storyrod.model.joint import JointId
from storyrod.model.panel import PanelId
from storyrod.model.simulation import ErrorTerm, Throws, spread
from storyrod.model.wall import WallFixing

ESTIMATE: Final = (
    "These figures are estimates from stated assumptions, not a certificate. Local codes, the data sheets of board and "
    "fittings, and a licensed or trained person's word come before them."
)
"""Stands with every view of these figures."""


_USE: Final = Use()
"""What a job says of its use where it says nothing."""


# --- Thresholds -------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Thresholds:
    """From where on something is told, and what is reckoned with; `THRESHOLD_SOURCES` says where each comes from.

    Attributes:
        sag_limit: a plank may sag by its span over this in the long run.
        stress_share: share of the board's bending strength that may be used.
        lasting_share: share of a load that is taken to lie there for good, for creep.
        top_kg_dm2: load on a case's top, up to `top_reach` above the floor.
        tip_margin: steadying moment over tipping moment below which a case is to be fixed to a wall.
        child_kg: hung on the front of an open drawer.
        fill_kg_m3: what drawers are filled with in the tipping test.
        pull_n: outward pull at a hand hold, not above `pull_height`.
        block: height of the block that stands for a carpet, under the rear edge.
        anchor_above: a case higher than this, than twice its depth, or with drawers, is always to be fixed.
        fixing_n: no wall fixing is asked to hold less than this.
        push_n: sideways push at the top that racking is reckoned with.
        lean: lean over the case's height under that push which is told, as height over this.
        step_shows: a step from which on a finger feels it.
        step_chance: chance of such a step from which on a joint is told.
        front_gap: least gap that an inset front must keep in damp weather.
        one_person_kg: what one person lifts; None takes the workshop's own.
        lengths: how what is told writes lengths.
    """

    sag_limit: float = _USE.sag_limit
    stress_share: float = 1 / 3
    lasting_share: float = 0.8
    top_kg_dm2: float = _USE.loads.top_kg_dm2
    top_reach: float = 1400.0
    tip_margin: float = _USE.tip_margin
    child_kg: float = _USE.child_kg
    fill_kg_m3: float = _USE.loads.drawers_kg_m3
    pull_n: float = _USE.pull_n
    pull_height: float = 1422.0
    block: float = 10.9
    anchor_above: float = _USE.fix_above
    fixing_n: float = 200.0
    push_n: float = 89.0
    lean: float = 200.0
    step_shows: float = _USE.step_shows
    step_chance: float = 0.2
    front_gap: float = _USE.front_gap
    one_person_kg: float | None = None
    lengths: LengthWriter = field(default=METRIC, repr=False)


THRESHOLD_SOURCES: Final[dict[str, str]] = {
    "sag_limit": "L/240 is visible: the board trade's span tables",
    "stress_share": "common practice, no source",
    "lasting_share": "psi 2 of stored goods, EN 1990, from memory",
    "top_kg_dm2": "shelf load, domestic light, from memory",
    "top_reach": "common practice, no source: higher tops are hardly loaded",
    "tip_margin": "common practice, no source",
    "child_kg": "60 lb class of ASTM F2057-23, as a test laboratory explains it",
    "fill_kg_m3": "8.5 lb/ft3: Clothing Storage Units business guidance, US Consumer Product Safety Commission",
    "pull_n": "10 lbf, ASTM F2057-23, from memory",
    "pull_height": "56 in, ASTM F2057-23, from memory",
    "block": "0.43 in, ASTM F2057-23, as a test laboratory explains it",
    "anchor_above": "common practice, no source",
    "fixing_n": "wall anchors in tests of EN 14749, about 200 N, from memory, uncertain",
    "push_n": "20 lbf sideways at the top, office storage: an Indian standards reference site, unconfirmed",
    "lean": "common practice, no source",
    "step_shows": "common practice, no source",
    "step_chance": "common practice, no source",
    "front_gap": "common practice, no source",
    "one_person_kg": "the workshop's own `handling`",
}


GRAVITY: Final = 9.80665
"""Standard acceleration of free fall, m/s² (CGPM 1901)."""
_TOLD_KG: Final = 0.5

# --- Sag --------------------------------------------------------------------------------------------------------------


class Rest(StrEnum):
    """What holds a plank up at one place."""

    JOINT = "joint"
    PINS = "shelf pins"
    UPRIGHT = "upright"
    EDGES = "all four edges"
    FLOOR = "floor"


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
    """One thing that is lifted: its mass, the recommended weight of such a lift, and how many persons it wants."""

    name: str
    kg: float
    recommended_kg: float
    persons: int
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
    """One case examined."""

    case: str
    name: str
    sags: tuple[Sag, ...]
    joints: tuple[JointLoad, ...]
    tipping: Tipping
    weights: Weights
    racking: Racking
    movements: tuple[Movement, ...]
    steps: tuple[ExpectedStep, ...]
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
