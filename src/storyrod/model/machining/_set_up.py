"""Operations, and the set-ups that gather those of one setting."""

from __future__ import annotations

from dataclasses import dataclass, field

from storyrod.model.bench_lines import BenchLine
from storyrod.model.feature import FeatureId
from storyrod.model.joint import JointId
from storyrod.model.machining._jig import HoldKind
from storyrod.model.machining._place import CutPlace
from storyrod.model.machining._setting import Hand, LineToMark, Setting, WorkStage
from storyrod.model.panel import PanelId, Surface


@dataclass(frozen=True, slots=True, kw_only=True)
class Operation:
    """One placing of the tool or jig on one panel, and the cuts made in it.

    Attributes:
        places: where each cut lies by its walls and ends, and its straight edge; empty for cuts set by marks alone.
        copies: how often it is done in the whole batch.
        features: the cuts made; empty for sawing to size, edging, marking out and fitting.
        finishes: cuts made before that this one completes, such as countersinks.
        marks: numbers of the marks on the panel, in the order in which they are worked.
        reference: the surface that fence, jig or base stands against, or from which is measured.
        reference_why: why this one.
        line: what must be marked; `line_at` where, running from `line_from`: the panel's datum end or face edge.
        stop: the surface that the stop meets; `stop_label` which stop of the jig; `stop_offset` how far the jig's zero
            stands beyond it.
        stations: places along the line, from the stop's surface.
        same_face: whether both halves of the joint are placed from the same face of the same panel.
        hold: id of the way in which its jig is held on this part, or "" without one.
        held_in: what a narrow part is held in or beside; None where clamps on part or fence will do.
        place_min, cut_min: minutes of one copy.
        count: cuts, connectors or panels in one copy, for the count sheet.
        item: the connector that is fitted, where one is.
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
    line_from: str = ""
    stop: str = ""
    stop_label: str = ""
    stop_offset: float = 0.0
    stations: tuple[float, ...] = ()
    places: tuple[CutPlace, ...] = ()
    hand: Hand = Hand.AS_DRAWN
    same_face: bool = False
    hold: str = ""
    held_in: HoldKind | None = None
    place_min: float = 0.0
    cut_min: float = 0.0
    count: int = 0
    item: str = field(default="", repr=False)  # not in plan.json: the connectors stand there with their joint

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
        fence: whether a fence, or the tool's base, stands at the reference; `base` says that it is the base.
        mate: whether the guide is the mate, held in place and drilled through.
        near_wall: from the fence to the near wall of the cut, where that is what is set.
        straight_edge: from a straight edge, which the tool's base runs along, to the near wall of the cut.
        open_edge: whether the cut is open along the board's edge, as a rebate is.
        below: whether the cutter comes up through a table on which the worked face lies.
        slant_deg, slant_length, pilot: of a pocket bored at a slope: to the face, along its axis, and the thin hole
            that goes on to the edge.
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
    base: bool = False
    mate: bool = False
    near_wall: float | None = None
    straight_edge: float | None = None
    open_edge: bool = False
    below: bool = False
    slant_deg: float | None = None
    slant_length: float = 0.0
    pilot: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class SetUp:
    """Operations that share one setting.

    Attributes:
        id: `S1`, `S2`, ... in the order of the run.
        title: what is done, in a few words.
        why: why the work is placed from where it is.
        hands: ways round in which its jig lies, in the order of the operations; empty without one.
        turns: how often its jig is changed over to its other face: between the two hands, or before the first where
            it was left the other way.
        trial: the trial joint to be made after setting, or "".
        trial_on_page: the same as it is read on a page, which corrects a setting itself.
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
    hands: tuple[Hand, ...] = ()
    turns: int = 0
    trial: str = ""
    trial_kind: str = ""
    trial_on_page: str = field(default="", repr=False)
    cautions: tuple[BenchLine, ...] = ()
    section: SectionData | None = None

    @property
    def stops(self) -> int:
        """How many stop blocks the tool's base meets at one cut: none, one at a stopped end, or one at each."""
        places = (p for o in self.operations for p in o.places)
        return max((sum(at is not None for at in p.base_stops) for p in places), default=0)

    @property
    def is_cut(self) -> bool:
        """Whether something is cut into panels: at the machines, or in place while the joint is held closed."""
        return self.stage in {WorkStage.MACHINE, WorkStage.IN_PLACE}

    @property
    def turned_first(self) -> bool:
        """Whether its jig must be changed over before the first operation."""
        return 0 < len(self.hands) == self.turns

    @property
    def cuts(self) -> int:
        """Cuts of the whole batch in this set-up."""
        return sum(o.copies * o.count for o in self.operations)

    @property
    def panels(self) -> tuple[PanelId, ...]:
        """The panels it works on, each once, in order."""
        return tuple(dict.fromkeys(o.panel for o in self.operations))
