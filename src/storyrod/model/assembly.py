"""How a case is put together: steps in order, what each moves and how, and what was chosen on the way."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from storyrod.faults import Caution, Fault
from storyrod.measure.space import Direction, Point
from storyrod.model.detail import Choices
from storyrod.model.glue_time import GlueTime
from storyrod.model.joint import JointId
from storyrod.model.panel import PanelId


class StepKind(StrEnum):
    """What is done in a step."""

    JOIN = "join"
    TURN = "turn"
    DRAWER = "drawer"
    FRONT = "front"
    DOOR = "door"
    SHELF = "loose shelf"
    FIT = "fittings"
    RAIL = "clothes rail"
    WORKTOP = "worktop"
    FEET = "feet"
    PLINTH = "plinth board"
    PLACE = "in its place"
    FILLER = "filler"


class Verdict(StrEnum):
    """How sure it is that no better order exists."""

    PROVEN_BEST = "proven best"
    FOUND = "found"
    IMPOSSIBLE = "proven impossible"


@dataclass(frozen=True, slots=True, kw_only=True)
class Leg:
    """A straight piece of a movement, in the case frame.

    Attributes:
        way: the direction in which the moving panels go while they are put together.
        distance: how far, in mm. For the first leg of a movement, which begins in free air, the distance at which
            a drawing may show them pulled apart.
    """

    way: Direction
    distance: float

    @property
    def vector(self) -> Point:
        """The movement as a vector of the case frame (mm)."""
        return Point(0.0, 0.0, 0.0).with_(self.way.axis, self.way.sign * self.distance)


@dataclass(frozen=True, slots=True, kw_only=True)
class Connectors:
    """Connectors to be fitted, or glue to be spread, before a step: `count` of `item` in `panel`, for `joint`."""

    joint: JointId
    panel: PanelId
    item: str
    count: int


class HandAct(StrEnum):
    """What is done by hand with something bought, or with what it holds; the values name it in logs and files."""

    RUNNER_CASE = "runner-case"
    RUNNER_DRAWER = "runner-drawer"
    RUNNER_CATCH = "runner-catch"
    PLATES = "hinge-plates"
    HINGES = "hinges"
    FRONT = "front-screws"
    SET_DOOR = "set-door"
    PINS = "shelf-pins"
    SOCKET = "rail-socket"
    TUBE = "rail-tube"
    WORKTOP = "worktop-screws"
    FEET = "feet"
    CLIPS = "plinth-clips"
    FILLER = "filler-screws"
    DRIVE = "joint-screws"
    TURN = "cams"


@dataclass(frozen=True, slots=True, kw_only=True)
class Used:
    """So many of one bought thing that are used up in a step."""

    item: str
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ByHand:
    """One thing done by hand in a step, after its panels have come together.

    Attributes:
        about: id of the joint, drawer, door, clothes rail or loose shelf that it is done for.
        panel: id of the panel that it is done to, or "" where it is a joint's two.
        name: what is done when it is done, in a few words: `runner of drawer 1 on A1 left side`.
        count: how many times it is done at once: so many cams of a joint.
        uses: what it uses up, for one case.
        text: how it is done, in words.
    """

    act: HandAct
    about: str
    panel: str
    name: str
    text: str
    count: int = 1
    uses: tuple[Used, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Diagonals:
    """A check for square: two equal diagonals, measured over the corners of a frame of panels.

    Attributes:
        across, along: outside width and height of the frame (mm).
        length: what both diagonals measure when the frame is square.
        per_mm: by how much they differ for each mm that the frame leans over its height.
        allowed: the greatest difference to be left; common practice, no source.
        panels: the panels that make the frame.
    """

    across: float
    along: float
    length: float
    per_mm: float
    allowed: float
    panels: tuple[PanelId, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Price:
    """What a step costs, part by part, in points: a scale of trouble, told in `docs/assembly.md`."""

    parts: tuple[tuple[str, int], ...] = ()

    @property
    def total(self) -> int:
        """All points together."""
        return sum(points for _, points in self.parts)


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step at the bench.

    Attributes:
        number: from 1, within the case.
        body: the body worked on: `carcass`, the id of a drawer or clothes rail, or of a panel that is hung or laid in.
        moving: the panels that move; for a turn, all of the group that is turned; none where a tube goes in.
        onto: the panels they are brought to, which stand still; empty for a turn.
        legs: the movement, in the order in which it is made; a slide after entry is the second leg.
        down: the direction of the case that points to the floor while the step is done.
        was_down: for a turn, the direction that pointed to the floor before it.
        rests_on: the panels that touch bench or floor, or in case of a moved part, what bears the rest.
        joints: the joints that close in this step.
        at_once: how many joints must be started together.
        lay_first: how the panel that a body begins with is laid down before the step, in words; "" where it stands.
        fit_first: connectors to be fitted before the step.
        hold: what to hold or clamp, in words, one thing each.
        clamps: the joints that want clamps.
        clamp_count: how many clamps these are.
        screws: the joints that are screwed before the hand lets go.
        short_driver: the joints to whose screws or cams only a right-angle driver or a stubby screwdriver comes.
        glue: the joints that get glue.
        glue_min: minutes to spread it and close, by rule of thumb.
        go: the go in which this glue is spread, where the body is glued up in several; else 0.
        moved_kg, whole_kg: mass of what moves, and of all that is together after the step.
        persons: how many it takes to lift what moves.
        diagonals: the check for square that follows the step.
        do_not_turn: why the work must not be turned yet, or "".
        open_first: doors that stand open during the step.
        cautions: what the maker must heed in this step.
        by_hand: what is fixed, driven, turned and set in this step, in order.
        text: the step in words.
        price: its cost in points, part by part.
    """

    number: int
    kind: StepKind
    body: str
    moving: tuple[PanelId, ...]
    onto: tuple[PanelId, ...] = ()
    legs: tuple[Leg, ...] = ()
    down: Direction = Direction.DOWN
    was_down: Direction | None = None
    rests_on: tuple[PanelId, ...] = ()
    joints: tuple[JointId, ...] = ()
    at_once: int = 0
    lay_first: str = ""
    fit_first: tuple[Connectors, ...] = ()
    hold: tuple[str, ...] = ()
    clamps: tuple[JointId, ...] = ()
    clamp_count: int = 0
    screws: tuple[JointId, ...] = ()
    short_driver: tuple[JointId, ...] = ()
    glue: tuple[JointId, ...] = ()
    glue_min: float = 0.0
    go: int = 0
    moved_kg: float = 0.0
    whole_kg: float = 0.0
    persons: int = 1
    diagonals: Diagonals | None = None
    do_not_turn: str = ""
    open_first: tuple[PanelId, ...] = ()
    cautions: tuple[Caution, ...] = ()
    by_hand: tuple[ByHand, ...] = ()
    text: str = ""
    price: Price = Price()

    @property
    def hands(self) -> str:
        """How many people and clamps the step takes, in words: `2 people, 4 clamps`."""
        people = "1 person" if self.persons == 1 else f"{self.persons} people"
        clamps = {0: "no clamps", 1: "1 clamp"}.get(self.clamp_count, f"{self.clamp_count} clamps")
        return f"{people}, {clamps}"

    @property
    def apart(self) -> Point:
        """The vector from home to where a drawing shows the moving panels pulled apart (mm)."""
        total = Point(0.0, 0.0, 0.0)
        for leg in self.legs:
            total -= leg.vector
        return total


@dataclass(frozen=True, slots=True, kw_only=True)
class Parting:
    """A step of taking apart: the step it undoes, what leaves which way, and what is undone before."""

    undoes: int
    moving: tuple[PanelId, ...]
    legs: tuple[Leg, ...]
    undo: tuple[JointId, ...]
    lasting: tuple[JointId, ...]
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Remedy:
    """A change that was tried and found to let the case go together."""

    kind: str
    joints: tuple[JointId, ...]
    panel: PanelId | None
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ShutOut:
    """Why a case cannot be put together.

    Attributes:
        panel: the panel that cannot get in, or None where no single panel is at fault.
        joints: the joints that shut it out.
        between: the panels that no order can bring together.
        remedies: changes that free it, the least first, each tried.
        fault: the same, told to the maker.
    """

    case: str
    panel: PanelId | None
    joints: tuple[JointId, ...]
    between: tuple[PanelId, ...]
    remedies: tuple[Remedy, ...]
    fault: Fault


@dataclass(frozen=True, slots=True, kw_only=True)
class BodyResult:
    """How the search for one body's order ended.

    Attributes:
        states: states that were opened (a group of panels resting one way).
        splits: ways of parting a group that were looked at.
        cost: points of the plan found, of its joining and turning.
        bound: no plan can cost less than this.
    """

    body: str
    panels: int
    verdict: Verdict
    states: int
    splits: int
    cost: int
    bound: int


@dataclass(frozen=True, slots=True, kw_only=True)
class CasePlan:
    """How one case is put together; made `count` times over for the copies of a case.

    Attributes:
        verdict: proven best only where it was for every body of the case.
        parting: how to take it apart again; empty where glue holds it for good.
        shut_out: why it cannot be done; there are then no steps.
        glue: how long each glued joint waits for its clamp.
    """

    case: str
    count: int
    verdict: Verdict
    steps: tuple[Step, ...]
    bodies: tuple[BodyResult, ...]
    choices: Choices
    parting: tuple[Parting, ...] = ()
    cautions: tuple[Caution, ...] = ()
    shut_out: tuple[ShutOut, ...] = ()
    glue: tuple[GlueTime, ...] = ()

    @property
    def gap(self) -> int:
        """By how many points another order could be easier at most; 0 where none is."""
        return sum(b.cost - b.bound for b in self.bodies if b.verdict is Verdict.FOUND)

    @property
    def easiest(self) -> str:
        """How sure it is that no easier order exists, in a sentence."""
        if self.verdict is Verdict.PROVEN_BEST:
            return "This is the easiest order."
        of = sum(b.cost for b in self.bodies)
        return f"An easier order may exist, at most {self.gap / max(of, 1):.0%} easier."

    @property
    def cost(self) -> int:
        """The points of all steps together."""
        return sum(step.price.total for step in self.steps)


@dataclass(frozen=True, slots=True, kw_only=True)
class AssemblyPlan:
    """All cases of a job, each planned once, and the choices that joinery takes up."""

    cases: tuple[CasePlan, ...]
    choices: Choices
    cautions: tuple[Caution, ...] = ()

    def case(self, code: str) -> CasePlan:
        """Return the plan of one case."""
        return next(c for c in self.cases if c.case == code)


@dataclass(frozen=True, slots=True, kw_only=True)
class Replay:
    """What replaying a plan step by step showed: how much was checked, and every fault found.

    Attributes:
        sweeps: pairs of a moving and a standing panel whose way was followed.
        joints: joints whose motion was followed to their close.
        panels: panels that came into their places.
    """

    case: str
    steps: int
    sweeps: int
    joints: int
    panels: int
    faults: tuple[Fault, ...] = ()

    @property
    def passed(self) -> bool:
        """Whether every step can be made as it is told."""
        return not self.faults

    def lines(self) -> tuple[str, ...]:
        """Return what was proven, or what was found wrong, in plain sentences."""
        if self.faults:
            return tuple(f"case {self.case}: {fault.found}." for fault in self.faults)
        said = (
            f"case {self.case}: {self.panels} panels come into their places in {self.steps} steps;"
            f" in {self.sweeps} pairs the moving one meets nothing on its way,"
            f" and {self.joints} joints close by the motion of their method."
        )
        return (said,)
