"""How the cuts are made: settings, jigs, set-ups, the order of work, and what is counted at its end.

A *need* is a line of like cuts on one surface of one panel. Making it once is an *operation*: one placing of the tool
or jig. Operations with the same tool, cutter, depth, jig and registration are one *set-up*; the *run* is their order.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from storyrod.faults import Caution, Fault
from storyrod.model.feature import FeatureId
from storyrod.model.joint import JointId
from storyrod.model.panel import PanelId, Surface
from storyrod.model.workshop import Along, Registration, ToolKind


class WorkStage(StrEnum):
    """What is done in a set-up, in the order in which a panel meets it."""

    CUT = "cut"
    EDGE = "edge"
    MARK = "mark out"
    MACHINE = "machine"
    FIT = "fit connectors"


class Hand(StrEnum):
    """Which way round a jig or tool lies: as drawn, or turned over for the mirrored part."""

    AS_DRAWN = "as drawn"
    TURNED = "turned over"


class PackerSide(StrEnum):
    """What a packer lies under or between."""

    NONE = "none"
    WORK = "under the work"
    TOOL = "under the tool"
    FENCE = "between fence and work"
    LINE = "between line and fence"


class LineToMark(StrEnum):
    """The line that must be on the panel before the tool is placed."""

    NONE = "none"
    FACE_LINE = "face line"
    CENTRE_LINE = "centre line"
    CENTRES = "centres"
    WALLS = "both walls"


@dataclass(frozen=True, slots=True, kw_only=True)
class PackerStack:
    """What makes up a thickness: packers on the shelf, or one to be milled.

    Attributes:
        wanted: the thickness asked for.
        pieces: the packers taken, the thickest first; empty for none at all.
        mill: the thickness to mill, to 0.1 mm (0.05 under 1 mm), where the shelf has nothing that comes within 0.1 mm.
    """

    wanted: float
    pieces: tuple[float, ...] = ()
    mill: float | None = None

    @property
    def made(self) -> float:
        """The thickness that results."""
        return self.mill if self.mill is not None else sum(self.pieces)

    @property
    def error(self) -> float:
        """How far the result is from what was asked for, with its sign."""
        return self.made - self.wanted


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """How a tool is set for one set-up.

    Attributes:
        way, tool, cutter: codes in the workshop; `cutter` is "" where the tool has its own.
        cutter_diameter, cutter_width: what cuts; `cutter_width` of a disc or blade.
        bush: outside diameter of the guide bush, or None.
        bush_offset: from the cutter's wall to the bush's, `(bush - cutter) / 2`.
        opening: length along the line and width across it of the template's opening, or None.
        guide: thickness of the template or jig that the cutter reaches through; 0 where there is none.
        depth: of the cut below the panel's surface; `through` where it goes out at the other side.
        plunge: the depth stop: guide thickness and depth of cut together.
        reference_to_centre: from the tool's or jig's reference to the middle of the cut.
        wanted: from the panel's reference to the middle of the cut; `packer` is the difference.
        fence: from fence or straight edge to the near wall of the cut, or for a drill to its centre.
        speed_rpm: highest speed to be used, by the cutter's mark and the chart; None for drills and saws.
        passes: how many passes, by depth and by width.
        jig: id of the jig, or "".
    """

    way: str
    way_name: str
    tool: str
    tool_name: str
    tool_kind: ToolKind
    registration: Registration
    along: Along
    cutter: str = ""
    cutter_name: str = ""
    cutter_diameter: float = 0.0
    cutter_width: float | None = None
    bush: float | None = None
    bush_offset: float = 0.0
    opening: tuple[float, float] | None = None
    guide: float = 0.0
    depth: float = 0.0
    through: bool = False
    plunge: float = 0.0
    reference_to_centre: float | None = None
    wanted: float | None = None
    packer: PackerStack | None = None
    packer_side: PackerSide = PackerSide.NONE
    fence: float | None = None
    speed_rpm: int | None = None
    passes: tuple[int, int] = (1, 1)
    jig: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Operation:
    """One placing of the tool or jig on one panel, and the cuts made in it.

    Attributes:
        copies: how often it is done in the whole batch.
        features: the cuts made; empty for sawing to size, edging, marking out and fitting.
        finishes: cuts made before that this one completes, such as countersinks.
        marks: numbers of the marks on the panel, in the order in which they are worked.
        reference: the surface that fence, jig or base stands against, or from which is measured.
        reference_why: why this one.
        line: what must be marked; `line_at` where, running from the panel's datum end or face edge.
        stop: the surface that the stop meets; `stop_label` which stop of the jig; `stop_offset` how far the jig's zero
            stands beyond it.
        stations: places along the line, from the stop's surface.
        same_face: whether both halves of the joint are placed from the same face of the same panel.
        place_min, cut_min: minutes of one copy.
        count: cuts, connectors or panels in one copy, for the count sheet.
    """

    id: str
    case: str
    panel: PanelId
    panel_mark: str
    panel_name: str
    copies: int
    what: str
    surface: Surface | None = None
    features: tuple[FeatureId, ...] = ()
    finishes: tuple[FeatureId, ...] = ()
    marks: tuple[int, ...] = ()
    joint: JointId | None = None
    joint_number: str = ""
    reference: str = ""
    reference_why: str = ""
    line: LineToMark = LineToMark.NONE
    line_at: float | None = None
    stop: str = ""
    stop_label: str = ""
    stop_offset: float = 0.0
    stations: tuple[float, ...] = ()
    hand: Hand = Hand.AS_DRAWN
    same_face: bool = False
    place_min: float = 0.0
    cut_min: float = 0.0
    count: int = 0

    @property
    def minutes(self) -> float:
        """Minutes of all copies."""
        return self.copies * (self.place_min + self.cut_min)


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionData:
    """What a section through the work shows: figures of the panel, the guide and the cutter (mm).

    Attributes:
        on_edge: the cut goes into an edge or end; else into a face.
        reference_at_end: the reference is an edge, end or face that a fence can touch; else a line on the face.
        centre: from the reference to the middle of the cut, or None where it stands on marks.
        fence: whether a fence, or the tool's base, stands at the reference.
    """

    on_edge: bool
    board: float
    reference_at_end: bool
    depth: float
    cutter: float
    centre: float | None
    fence: bool = False
    guide: float = 0.0
    bush: float | None = None
    opening: float | None = None
    packer: float = 0.0
    reference_to_centre: float | None = None
    through: bool = False
    undercut: float | None = None
    lip: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SetUp:
    """Operations that share one setting.

    Attributes:
        id: `S1`, `S2`, ... in the order of the run.
        title: what is done, in a few words.
        why: why the work is placed from where it is.
        trial: the trial joint to be made after setting, or "".
        trial_kind: what its reading corrects: `packer`, `fence`, `depth`, or "".
        cautions: lines for the card, those of the tool first.
        section: the figures of its section drawing, or None where nothing is cut into a panel.
    """

    id: str
    stage: WorkStage
    title: str
    setting: Setting | None
    operations: tuple[Operation, ...]
    why: str = ""
    trial: str = ""
    trial_kind: str = ""
    cautions: tuple[str, ...] = ()
    section: SectionData | None = None

    @property
    def cuts(self) -> int:
        """Cuts of the whole batch in this set-up."""
        return sum(o.copies * o.count for o in self.operations)

    @property
    def panels(self) -> tuple[PanelId, ...]:
        """The panels it works on, each once, in order."""
        return tuple(dict.fromkeys(o.panel for o in self.operations))


class JigKind(StrEnum):
    """What a jig is placed from."""

    EDGE = "edge jig with a fence"
    MID_PANEL = "mid-panel jig"
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
        has_fence: whether a fence stands out on both faces, so that the jig can be turned over for the other hand.
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


class Sureness(StrEnum):
    """How sure it is that nothing better exists."""

    PROVEN_BEST = "proven best"
    FOUND = "found"


@dataclass(frozen=True, slots=True, kw_only=True)
class RunStep:
    """One set-up in the run, with its minutes for the whole batch."""

    set_up: str
    change_min: float
    trial_min: float
    place_min: float
    cut_min: float
    handle_min: float

    @property
    def minutes(self) -> float:
        """All of its minutes together."""
        return self.change_min + self.trial_min + self.place_min + self.cut_min + self.handle_min


@dataclass(frozen=True, slots=True, kw_only=True)
class Lot:
    """The minutes of the batch when it is worked in lots of `size` carcasses."""

    size: int
    lots: int
    changes_min: float
    handling_min: float
    work_min: float

    @property
    def minutes(self) -> float:
        """All minutes of the batch together."""
        return self.changes_min + self.handling_min + self.work_min


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """The order of the set-ups.

    Attributes:
        steps: in order, for one lot; repeated `lots` times.
        before: pairs of set-ups of which the first must be done before the second.
        changes_min: minutes of changing and of trial joints in this order.
        bound_min: no order can change in less.
        sureness: proven best where the two agree.
        panel_by_panel_min, nearest_min: changing minutes of two other orders, for comparison.
        lot: the size of lot chosen, and `lot_table` what others would take.
    """

    steps: tuple[RunStep, ...]
    before: tuple[tuple[str, str], ...]
    changes_min: float
    bound_min: float
    sureness: Sureness
    panel_by_panel_min: float
    nearest_min: float
    lot: Lot
    lot_table: tuple[Lot, ...]

    @property
    def gap(self) -> float:
        """How far the order found may be above the best, as a share."""
        return 0.0 if self.changes_min <= 0 else max(0.0, 1 - self.bound_min / self.changes_min)

    @property
    def minutes(self) -> float:
        """Minutes of the whole batch."""
        return self.lot.minutes

    @property
    def saved_min(self) -> float:
        """Minutes of changing saved against working panel by panel."""
        return self.panel_by_panel_min - self.changes_min


@dataclass(frozen=True, slots=True, kw_only=True)
class Count:
    """Halves or cuts wanted and planned for one panel, joint or set-up, in the whole batch."""

    about: str
    name: str
    wanted: int
    planned: int

    @property
    def agrees(self) -> bool:
        """Whether nothing is missing and nothing is made twice."""
        return self.wanted == self.planned


@dataclass(frozen=True, slots=True, kw_only=True)
class Reconciliation:
    """Halves wanted and planned, per panel, joint and set-up."""

    panels: tuple[Count, ...]
    joints: tuple[Count, ...]
    set_ups: tuple[Count, ...]

    @property
    def wanted(self) -> int:
        """All cuts wanted."""
        return sum(c.wanted for c in self.panels)

    @property
    def agrees(self) -> bool:
        """Whether every count agrees."""
        return all(c.agrees for c in (*self.panels, *self.joints, *self.set_ups))


@dataclass(frozen=True, slots=True, kw_only=True)
class Contribution:
    """One cause of an error: its tolerance (+-), and by how much of it the result moves."""

    name: str
    tolerance: float
    factor: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Stack:
    """How errors add up: worst case, root-sum-square, and the spread seen in a simulation (+-3 sigma of it)."""

    contributions: tuple[Contribution, ...]
    worst: float
    rss: float
    simulated: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ExpectedStep:
    """The step to be expected across one kind of joint, and the misfit along it.

    Attributes:
        across: as planned; `centre_line` the same joint if both halves were placed from centre lines.
        same_face: whether both halves are placed from the same face, so that the board's thickness cancels.
        joints: the joints that are made in this way.
    """

    name: str
    method: str
    ways: tuple[str, str]
    same_face: bool
    across: Stack
    along: Stack
    centre_line: Stack
    joints: tuple[JointId, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StationAdvice:
    """Fewest stations that could serve all joints of a method, if stations were moved within its rules."""

    method: str
    lengths: tuple[float, ...]
    now: int
    fewest: int
    stations: tuple[float, ...]
    proven: bool
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkPlan:
    """Everything the maker needs to cut a batch of panels and miss nothing."""

    set_ups: tuple[SetUp, ...]
    jigs: tuple[JigPlan, ...]
    run: Run
    reconciliation: Reconciliation
    steps_expected: tuple[ExpectedStep, ...]
    stations: tuple[StationAdvice, ...] = ()
    cautions: tuple[Caution, ...] = ()

    def set_up(self, set_up_id: str) -> SetUp:
        """Return one set-up by its id."""
        return next(s for s in self.set_ups if s.id == set_up_id)

    def jig(self, jig_id: str) -> JigPlan:
        """Return one jig by its id."""
        return next(j for j in self.jigs if j.id == jig_id)

    @property
    def operations(self) -> tuple[Operation, ...]:
        """All operations, in the order of the run."""
        return tuple(o for s in self.set_ups for o in s.operations)

    @property
    def minutes(self) -> float:
        """Minutes of the whole batch."""
        return self.run.minutes


class TrialKind(StrEnum):
    """What was measured on a trial joint."""

    STEP = "step"
    GAP = "gap"
    FENCE = "fence"


@dataclass(frozen=True, slots=True, kw_only=True)
class Correction:
    """What to change after a trial joint.

    Attributes:
        kind: what was measured; `reading` how much, in mm.
        what: what is changed: `packer`, `depth` or `fence`.
        was, becomes: its setting before and after.
        packer: how the new packer is made up, or None.
        direction: which way it goes and why, a whole sentence.
        text: what to do, a whole sentence.
    """

    kind: TrialKind
    reading: float
    what: str
    was: float
    becomes: float
    packer: PackerStack | None
    direction: str
    text: str

    @property
    def change(self) -> float:
        """How much is added."""
        return self.becomes - self.was


@dataclass(frozen=True, slots=True, kw_only=True)
class RunCheck:
    """What an independent check of a work plan found: claims that held, in words, and faults."""

    held: tuple[str, ...]
    faults: tuple[Fault, ...]

    @property
    def passed(self) -> bool:
        """Whether nothing was found wrong."""
        return not self.faults
