"""A case built from its brief: panels in place, openings, drawers, fronts, fittings and hardware."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from storyrod.faults import Caution
from storyrod.measure.space import Axis, Box, Direction
from storyrod.model.feature import HAND_HOLD, Feature
from storyrod.model.feet import FootPlace
from storyrod.model.fitting import RailMaterial
from storyrod.model.fixing import Fixing
from storyrod.model.hung import HungPlace
from storyrod.model.job import Case, Holds, Job
from storyrod.model.panel import Panel, PanelId, Role


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningPlace:
    """One opening of the inside tree, whole or cut further, with its clear box in the case frame.

    `box` runs from the carcass's front edge to the front of the back (or the inside's rear end). `depth_order`
    counts from the whole inside (0) inward. `children` are the ids of the openings it is cut into.
    """

    id: str
    name: str
    box: Box
    holds: Holds
    loose_shelves: int
    load_kg: float | None
    depth_order: int
    children: tuple[str, ...] = ()
    cause: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawerPlace:
    """One drawer: its box (outside of the drawer box), its runner and how far it comes out."""

    id: str
    name: str
    opening: str
    box: Box
    inside: Box
    runner: str
    runner_length: float
    extension: float
    load_kg: float
    panels: tuple[PanelId, ...]
    front: PanelId | None
    cause: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class DoorPlace:
    """One door and the side it hangs on; `arm` and `plate` (mm) say which of its hinges, where any reaches."""

    id: str
    opening: str
    panel: PanelId
    hinged: str
    hinge: str
    hinges: int
    arm: str = ""
    plate: float | None = None
    cause: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class RailPlace:
    """One clothes rail.

    Attributes:
        kind: code of its kind in the workshop; `diameter`, `wall` and `material` are its tube's.
        box: round the tube, as it lies in its sockets.
        lift: how much higher it comes in, before it is let down into its sockets (mm).
        front: where the opening begins for what hangs on it (case y): behind an inset door, or at the front edge.
        uprights: the panels left and right that carry its sockets.
        load_kg: what hangs on it; `load_given` whether the maker said so.
    """

    id: str
    name: str
    opening: str
    kind: str
    diameter: float
    wall: float | None
    material: RailMaterial
    box: Box
    lift: float
    front: float
    uprights: tuple[PanelId, PanelId]
    load_kg: float
    load_given: bool = False
    cause: str = ""

    @property
    def length(self) -> float:
        """What the tube is cut to (mm)."""
        return self.box.size(Axis.X)


@dataclass(frozen=True, slots=True, kw_only=True)
class Hardware:
    """Bought things that no joint asks for: runners, hinges, clothes rails, shelf pins, screws for them."""

    item: str
    name: str
    count: int
    unit: str
    where: str
    cause: str = ""


class ClearanceKind(StrEnum):
    """What a clearance lets pass or close."""

    DRAWER = "drawer"
    FRONT = "front"
    SHELF = "loose shelf"
    PLACE = "place"


@dataclass(frozen=True, slots=True, kw_only=True)
class Clearance:
    """A room that was left on purpose, to be proven: `wanted` at the least, `left` as built, in mm.

    Attributes:
        about: what it is left beside, as a maker calls it; `side` which side of it, in words.
        body: id of the drawer, and `toward` the side that the room lies on, by which it is measured anew; of a drawer's
            rooms alone, and not in plan.json, where the words stand.
    """

    kind: ClearanceKind
    about: str
    side: str
    wanted: float
    left: float
    body: str = field(default="", repr=False)
    toward: Direction | None = field(default=None, repr=False)

    def __post_init__(self) -> None:
        """Refuse a drawer's room that says not where it is: it would never be measured."""
        if self.kind is ClearanceKind.DRAWER and (not self.body or self.toward is None):
            raise ValueError(f"{self.about}, {self.side}: a drawer's room says which drawer, and which side of it")


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltCase:
    """One distinct case; `case.count` of them are made.

    Attributes:
        inside: the clear box inside the carcass, from its front edge to the back's front face.
        fittings: features that no joint asks for: hinge cups and plates, screws of runners and of rail sockets,
            pin rows, hand holds, the grooves and rebates of a back, the grooves of drawer bottoms.
        fixings: the fittings themselves, each on its panel, with the screws it is fixed with.
        rails: the clothes rails; `feet` the levelling feet that it stands on.
        hardware: what is bought for them.
        hung: where it hangs on a wall; None where it stands on the floor.
    """

    case: Case
    panels: tuple[Panel, ...]
    inside: Box
    openings: tuple[OpeningPlace, ...]
    drawers: tuple[DrawerPlace, ...]
    doors: tuple[DoorPlace, ...]
    fittings: tuple[Feature, ...]
    hardware: tuple[Hardware, ...]
    clearances: tuple[Clearance, ...]
    cautions: tuple[Caution, ...] = ()
    fixings: tuple[Fixing, ...] = ()
    hung: HungPlace | None = None
    rails: tuple[RailPlace, ...] = ()
    feet: tuple[FootPlace, ...] = ()

    def panel(self, panel_id: PanelId) -> Panel:
        """Return one panel by its id."""
        return next(p for p in self.panels if p.id == panel_id)

    @property
    def fronts_to_handle(self) -> tuple[Panel, ...]:
        """The doors and drawer fronts in which nothing is cut to open them by."""
        held = {f.panel for f in self.fittings if f.item == HAND_HOLD}
        return tuple(p for p in self.panels if p.role in {Role.DOOR, Role.DRAWER_FRONT} and p.id not in held)


@dataclass(frozen=True, slots=True, kw_only=True)
class Carcass:
    """All distinct cases of a job, built."""

    job: Job
    cases: tuple[BuiltCase, ...]
    cautions: tuple[Caution, ...] = ()
