"""All that the builder reads from a packet: panels, joints, lines, marks, cards, steps, things to buy.

Nothing here is worked out: what the paper says is kept as it says it, in exact millimetres.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from storyrod_blind._finding import Finding
from storyrod_blind._length import Length, Span, Unit
from storyrod_blind._what import What

FACES = ("face side", "far face")
EDGES = ("face edge", "far edge")
ENDS = ("datum end", "far end")

CutId = tuple[str, int]
"""A panel's mark and the number of the mark on it, as `A3.12`."""
JointId = tuple[str, str]
"""A case's code and the joint's number."""


@dataclass(frozen=True, slots=True)
class Panel:
    """A panel of the cutting list.

    `hand` is 1 where (u, v, into the board) is right-handed, -1 where left-handed, 0 where no sheet says it.
    """

    mark: str
    name: str
    case: str
    pieces: int
    length: Fraction
    width: Fraction
    thickness: Fraction
    hand: int = 0


@dataclass(frozen=True, slots=True)
class Joint:
    """A row of the joint schedule."""

    id: JointId
    entering: str
    receiving: str
    held_by: str
    length: Fraction


@dataclass(frozen=True, slots=True)
class Line:
    """Where a mate stands on a panel's face; `face` is that of the mate's two faces which stands at `face_at`."""

    joint: JointId
    panel: str
    surface: str
    mate: str
    mate_surface: str
    u: Span
    v: Span
    face: str
    face_at: Fraction


@dataclass(frozen=True, slots=True)
class Cut:
    """One cut of a panel. A place is None across the surface that is worked."""

    id: CutId
    surface: str
    what: What
    u: Span | None
    v: Span | None
    w: Span | None
    joint: JointId | None
    mate: CutId | None
    use: str
    words: str


@dataclass(frozen=True, slots=True)
class Placing:
    """A row of a card's work: which marks of which panel, all that it says, and the heading that it stands under."""

    panel: str
    numbers: tuple[int, ...]
    words: str
    group: str = ""


@dataclass(frozen=True, slots=True)
class Card:
    """A set-up card: what is set to what, and the work."""

    id: str
    title: str
    settings: Mapping[str, str]
    work: tuple[Placing, ...]
    text: str
    page: int
    unit: Unit

    @property
    def depth(self) -> str:
        """What the depth is set to, whatever sets it on that tool; "" where nothing does."""
        return next((words for name in DEPTHS if (words := self.settings.get(name, ""))), "")


DEPTHS = ("depth stop", "blade height", "blade depth", "cutter height", "depth")
"""What a card calls the setting of a depth, after the tool."""


@dataclass(frozen=True, slots=True)
class Step:
    """A step of the assembly: its heading, what is done, and all that is said under the heading.

    Attributes:
        body: what a row of a table of alike steps belongs to, as `drawer 3`; "" where a step has a heading of its own.
        told: what is done and what to watch for, without warnings, weights and what is checked.
        joints: those that it closes.
        hands: how many people and clamps it says it takes.
    """

    case: str
    number: int
    title: str
    done: str
    words: str
    body: str = ""
    told: str = ""
    joints: tuple[str, ...] = ()
    hands: str = ""


@dataclass(frozen=True, slots=True)
class Bought:
    """A line of the connectors or the hardware."""

    name: str
    where: str
    count: int = 0


@dataclass(frozen=True, slots=True)
class Case:
    """A row of the cover."""

    code: str
    count: int
    width: Length
    height: Length
    depth: Length


@dataclass(slots=True)
class Paper:
    """The whole packet as read, with what could not be read.

    Attributes:
        order: the rows of the order of work: a set-up's name, and what is done.
        unit: what the whole packet says its lengths are in; a part may say otherwise.
        handles: by case, the fronts for which the buying list asks for a handle.
        past: how far the mate of a line runs past the panel, at which of its ends or edges.
        sums: how the length and the width of a panel come about, in words.
        edged: the panels that the cutting list has an edging for.
    """

    cases: dict[str, Case] = field(default_factory=dict)
    panels: dict[str, Panel] = field(default_factory=dict)
    joints: dict[JointId, Joint] = field(default_factory=dict)
    lines: list[Line] = field(default_factory=list)
    cuts: dict[CutId, Cut] = field(default_factory=dict)
    cards: list[Card] = field(default_factory=list)
    steps: list[Step] = field(default_factory=list)
    bought: list[Bought] = field(default_factory=list)
    order: list[tuple[str, str]] = field(default_factory=list)
    edged: set[str] = field(default_factory=set)
    past: dict[tuple[str, JointId], dict[str, Fraction]] = field(default_factory=dict)
    handles: dict[str, tuple[str, ...]] = field(default_factory=dict)
    unit: Unit = Unit.MM
    sums: dict[str, tuple[str, str]] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)

    def cuts_of(self, panel: str) -> list[Cut]:
        """Return the cuts of one panel, by number."""
        return sorted((c for (mark, _), c in self.cuts.items() if mark == panel), key=lambda c: c.id)
