"""What the maker owns: methods, cutters, bushes, packers, tools, runners, hinges, times and prices."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from enum import StrEnum

from storyrod.measure.tolerance import EXACT
from storyrod.model.act import unknown_act
from storyrod.model.method import Method


class CutterKind(StrEnum):
    """The shape of a cutter."""

    DRILL = "drill"
    STRAIGHT = "straight"
    DISC = "disc"
    KEYHOLE = "keyhole"
    UNDERCUT = "undercut"
    COUNTERSINK = "countersink"
    STEPPED = "stepped drill"
    SAW_BLADE = "saw blade"


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutter:
    """A cutter or drill: `reach` is how deep it cuts below its collet or chuck, `width` a disc's or blade's kerf."""

    code: str
    kind: CutterKind
    diameter: float
    reach: float
    width: float | None = None
    neck: float | None = None
    max_rpm: int | None = None
    field: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bush:
    """A guide bush: the outside diameter that runs in the template, and the bore a cutter passes through."""

    diameter: float
    bore: float | None = None
    length: float = 8.0
    field: str = ""


class ToolKind(StrEnum):
    """The ways of making a feature."""

    ROUTER = "router"
    ROUTER_TABLE = "router table"
    DISC_CUTTER = "disc cutter"
    LOOSE_TENON_CUTTER = "loose-tenon cutter"
    UNDERCUT_CUTTER = "undercut slot cutter"
    HAND_DRILL = "hand drill"
    DRILL_PRESS = "drill press"
    DRILL_JIG = "drill jig"
    POCKET_JIG = "pocket jig"
    TABLE_SAW = "table saw"
    TRACK_SAW = "track saw"
    HAND_SAW = "hand saw"
    JIGSAW = "jigsaw"
    NC_ROUTER = "numerically controlled router"


@dataclass(frozen=True, slots=True, kw_only=True)
class Tool:
    """A tool: `base_to_centre` from its flat base to the cutter's centre, `base_half` from the cutter's
    centre to the straight side of its base, `error` the usual error of its registration (+-).
    """

    code: str
    kind: ToolKind
    name: str
    base_to_centre: float | None = None
    base_half: float | None = None
    error: float | None = None
    owned: bool = True
    price_cents: int | None = None
    field: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Jig:
    """A jig already owned: its stations from the stop, what runs in it, and its length."""

    code: str
    name: str
    stations: tuple[float, ...]
    opening_width: float
    opening_length: float
    length: float
    thickness: float
    for_mid_panel: bool = False
    field: str = ""


class Registration(StrEnum):
    """Where a tool is placed from, across the line of the cuts."""

    FENCE = "fence or jig on the reference face"
    BASE = "tool's base on the reference face"
    EDGE = "fence against an edge"
    LINE = "straight edge on a line"
    MARK = "centre marks"
    MATE = "through the mate"
    PROGRAM = "program"


class Along(StrEnum):
    """How the places along a line of cuts are found."""

    JIG = "stations of a jig"
    MARKS = "marks"
    RUN = "run along"
    PROGRAM = "program"


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One way of making a kind of feature: which tool, cutter and registration, how true and how fast.

    Attributes:
        tool: kind of tool it takes; `cutter` the kind of cutter in it, or None where the tool has its own.
        makes: kinds of feature, by their plain names.
        on_edges, on_faces: whether it works on edges and ends, and on faces.
        bush: whether the cutter runs in a guide bush, in the opening of a template.
        jig_thickness: of the jig the cutter reaches through; None takes the workshop's template thickness.
        stopped: whether it can stop a groove or housing within the panel.
        from_edge: how far from an edge or end it reaches; None where it reaches everywhere.
        error_across, error_along: usual error of a cut across and along its line (+-); None takes the tool's own.
        place_act, cut_act: acts of `times` for placing it once, and for one cut.
        per_metre: whether `cut_act` is told per metre of cut.
    """

    code: str
    name: str
    tool: ToolKind
    makes: tuple[str, ...]
    registration: Registration
    along: Along
    cutter: CutterKind | None = None
    on_edges: bool = False
    on_faces: bool = False
    bush: bool = False
    jig_thickness: float | None = None
    stopped: bool = True
    from_edge: float | None = None
    error_across: float | None = None
    error_along: float | None = None
    place_act: str = ""
    cut_act: str = ""
    per_metre: bool = False
    field: str = ""


class RunnerMount(StrEnum):
    """Where a runner is fixed to the drawer."""

    SIDE = "side"
    UNDER = "under"


@dataclass(frozen=True, slots=True, kw_only=True)
class Runner:
    """A pair of drawer runners; the figures are those of its own sheet.

    Attributes:
        lengths: nominal lengths that are sold, which are also the drawer box's depth.
        room_each_side: side-mounted: from the drawer box to the carcass.
        inside_less: under-mounted: opening width less the drawer box's inside width.
        box_shorter: drawer box depth = runner length less this.
        clear_behind: least room behind the drawer box.
        room_below, room_above: least room between the box and its opening.
        height: of the carcass part; its screw line stands `screw_up` above the opening's floor.
        screws: distances of the carcass screws from the front of the runner, for a runner length from..to.
        fixed_with, screw_length, screw_seat: code of the screws it is fixed with, the length its sheet asks for, and
            its metal between a screw's head and the board. Where a board is too thin for that length, a shorter one is
            taken.
        set_back: from the carcass's front edge (or the back of an inset front) to the runner's front.
        load_kg: what a pair carries, the drawer included.
        extension: share of the runner's length by which the drawer comes out.
        width_max: widest drawer on one pair.
    """

    code: str
    name: str
    mount: RunnerMount
    lengths: tuple[float, ...]
    room_each_side: float = 12.7
    inside_less: float = 42.0
    box_shorter: float = 0.0
    clear_behind: float = 5.0
    room_below: float = 15.0
    room_above: float = 10.0
    height: float = 45.0
    screw_up: float = 37.0
    screw_diameter: float = 2.5
    screw_depth: float = 10.0
    screws: tuple[float, ...] = (37.0, 165.0, 261.0)
    drawer_screws: tuple[float, ...] = (35.0, 163.0, 259.0)
    drawer_screw_up: float | None = None
    fixed_with: str = "pan-head screw 3.5"
    screw_length: float = 16.0
    screw_seat: float = 1.5
    set_back: float = 2.0
    load_kg: float = 30.0
    extension: float = 1.0
    width_max: float = 900.0
    price_cents: int | None = None
    field: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hinge:
    """A concealed hinge with its cup in the door and its plate on the carcass.

    `cup_in` is from the door's edge to the cup's centre; `plate_in` from the carcass's front edge (from the
    inset door's inner face) to the plate's screw line; the two plate screws stand `plate_pitch` apart along it.
    Cup and plate each name the screws they are fixed with, the length the sheet asks for, and the metal between a
    screw's head and the board.
    `from_end` is from the door's end to the first and last hinge; `per_door` gives (greatest door height, how many).
    """

    code: str
    name: str
    cup: float = 35.0
    cup_depth: float = 13.0
    cup_in: float = 22.5
    cup_screws: float = 46.0
    cup_screw_in: float = 8.0
    cup_screw_diameter: float = 2.5
    plate_in: float = 37.0
    plate_pitch: float = 32.0
    plate_screw: float = 5.0
    plate_depth: float = 12.0
    cup_fixed_with: str = "countersunk screw 3.5"
    cup_screw_length: float = 16.0
    cup_seat: float = 1.0
    plate_fixed_with: str = "system screw 6.3"
    plate_screw_length: float = 13.0
    plate_seat: float = 2.0
    from_end: float = 100.0
    per_door: tuple[tuple[float, int], ...] = ((900.0, 2), (1600.0, 3), (2000.0, 4), (2400.0, 5))
    price_cents: int | None = None
    field: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ScrewKind:
    """A kind of screw that fittings are fixed with, in all the lengths that are kept.

    Attributes:
        code: kind and diameter, such as "pan-head screw 3.5"; with a length it is the name of what is bought.
        lengths: from the shortest.
        pilot: diameter of its pilot hole where no hole of a fitting's own sheet stands.
    """

    code: str
    diameter: float
    lengths: tuple[float, ...]
    pilot: float
    field: str = ""

    def item(self, length: float) -> str:
        """Return the name of one size, as it is bought and priced: `pan-head screw 3.5 x 16`."""
        return f"{self.code} x {length:g}"

    def longest(self, bite: float, seat: float, sheet: float = math.inf) -> float | None:
        """Return the longest length kept that goes no deeper than `bite` under a seat, and is no longer than `sheet`.

        None where every length kept would go deeper.
        """
        fitting = [n for n in self.lengths if n - seat <= bite + EXACT and n <= sheet + EXACT]
        return max(fitting, default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Price:
    """What an item costs by the pack."""

    item: str
    pack: int
    price_cents: int
    on_hand: int = 0
    field: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ActTime:
    """Minutes for one act: low, usual and high."""

    act: str
    low_min: float
    usual_min: float
    high_min: float
    field: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Saw:
    """How sheets are cut: kerf, what is trimmed off each factory edge, and the least offcut worth keeping."""

    kerf: float = 3.0
    trim: float = 10.0
    offcut_length: float = 300.0
    offcut_width: float = 100.0
    track_saw: bool = True
    field: str = "saw"


@dataclass(frozen=True, slots=True, kw_only=True)
class RackOffcut:
    """An offcut on the rack: what board, how big; `length` runs along the grain."""

    code: str
    board: str
    length: float
    width: float
    field: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Money:
    """Rates of the workshop; whole cents and shares."""

    rate_cents_per_h: int = 0
    overhead_share: float = 0.0
    margin_share: float = 0.0
    carcasses_per_year: float = 0.0
    interest_per_year: float = 0.0
    write_off_years: float = 5.0
    currency: str = ""
    field: str = "money"


@dataclass(frozen=True, slots=True, kw_only=True)
class Handling:
    """What one person lifts here (kg), and other limits of the bench."""

    one_person_kg: float = 20.0
    bench_length: float = 2000.0
    bench_width: float = 800.0
    open_time_min: float = 5.0
    field: str = "handling"


@dataclass(frozen=True, slots=True, kw_only=True)
class Workshop:
    """One workshop, read and checked."""

    name: str
    methods: tuple[Method, ...]
    runners: tuple[Runner, ...]
    hinges: tuple[Hinge, ...]
    cutters: tuple[Cutter, ...] = ()
    bushes: tuple[Bush, ...] = ()
    packers: tuple[float, ...] = ()
    tools: tuple[Tool, ...] = ()
    jigs: tuple[Jig, ...] = ()
    ways: tuple[Way, ...] = ()
    template_thickness: float = 9.0
    deepest_pass: float = 6.0
    screws: tuple[ScrewKind, ...] = ()
    prices: tuple[Price, ...] = ()
    times: tuple[ActTime, ...] = ()
    saw: Saw = field(default_factory=Saw)
    rack: tuple[RackOffcut, ...] = ()
    money: Money = field(default_factory=Money)
    handling: Handling = field(default_factory=Handling)
    default_methods: tuple[tuple[str, str], ...] = ()
    default_runner: str = ""
    default_hinge: str = ""
    front_screw: str = "pan-head screw 4"

    def method(self, code: str) -> Method | None:
        """Return the method with this code, or None."""
        return next((m for m in self.methods if m.code == code), None)

    def runner(self, code: str) -> Runner | None:
        """Return the runner with this code, or None."""
        return next((r for r in self.runners if r.code == code), None)

    def hinge(self, code: str) -> Hinge | None:
        """Return the hinge with this code, or None."""
        return next((h for h in self.hinges if h.code == code), None)

    def screw(self, code: str) -> ScrewKind | None:
        """Return the kind of screw with this code, or None."""
        return next((s for s in self.screws if s.code == code), None)

    def time_of(self, act: str) -> ActTime:
        """Return the minutes of an act.

        Raises:
            JobError: the workshop has no minutes for it; counting none would be silent and wrong.
        """
        found = next((t for t in self.times if t.act == act), None)
        if found is None:
            raise unknown_act(act)
        return found

    def minutes(self, act: str) -> float:
        """Return the usual minutes of an act.

        Raises:
            JobError: the workshop has no minutes for it.
        """
        return self.time_of(act).usual_min
