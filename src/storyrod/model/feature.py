"""What is cut into a panel: holes, slots, grooves and the rest, each knowing its place and its mate.

Places and axes are in the panel's frame (u, v, w). `at` lies on the surface that is worked.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final, NewType

from storyrod.measure.space import PanelAxis, PanelPoint
from storyrod.model.panel import PanelId, Surface

FeatureId = NewType("FeatureId", str)

SHELF_PIN: Final = "shelf pin"
"""The item of the holes that carry loose shelves, and what is bought for a shelf, four for each."""

HAND_HOLD: Final = "hand hold"
"""The item of what is cut in a front to open it by; a front without any gets a handle of the maker's own choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole:
    """A round hole. `depth` from the surface to the full width; a through hole's depth is the board's.

    `point` is how much deeper the drill's point goes; `countersink` the diameter of a 90 degree countersink.
    """

    diameter: float
    depth: float
    through: bool = False
    countersink: float | None = None
    point: float = 0.0
    kind: str = "hole"


@dataclass(frozen=True, slots=True, kw_only=True)
class Slot:
    """A round-ended slot, `length` overall along `run`, `width` wide (its cutter)."""

    length: float
    width: float
    depth: float
    run: PanelAxis
    kind: str = "slot"


@dataclass(frozen=True, slots=True, kw_only=True)
class Keyhole:
    """A keyhole slot: `at` is the lock centre; the entry lies `travel` from it, against `lock_sign` along `run`.

    The neck run is `slot_width` wide from the surface to `lip`; below it, to `depth`, it is `undercut_width` wide.
    """

    entry_diameter: float
    slot_width: float
    undercut_width: float
    lip: float
    depth: float
    travel: float
    run: PanelAxis
    lock_sign: int
    kind: str = "keyhole"

    def entry(self, at: PanelPoint) -> PanelPoint:
        """Return the entry's centre for a keyhole whose lock centre is `at`."""
        return at.moved(self.run, -self.lock_sign * self.travel)


@dataclass(frozen=True, slots=True, kw_only=True)
class SegmentPocket:
    """The pocket a disc cutter plunges: a segment of a circle of diameter `disc`, `width` the cutter's thickness."""

    disc: float
    depth: float
    width: float
    run: PanelAxis
    kind: str = "segment pocket"

    @property
    def chord(self) -> float:
        """Length on the surface, `2 sqrt(2 R d - d^2)` (geometry of the circle)."""
        r = self.disc / 2
        return 2 * math.sqrt(max(0.0, 2 * r * self.depth - self.depth**2))


@dataclass(frozen=True, slots=True, kw_only=True)
class UndercutSlot:
    """A slot undercut along its length: `width` at the mouth down to `lip`, then `undercut_width` to `depth`."""

    length: float
    width: float
    undercut_width: float
    lip: float
    depth: float
    run: PanelAxis
    kind: str = "undercut slot"


@dataclass(frozen=True, slots=True, kw_only=True)
class Channel:
    """A groove, housing or rebate: square-bottomed, `length` along `run`, `width` across it, `depth` down.

    `at` is the middle of its opening on the surface. `stopped` says whether its low and high end stop within
    the panel. A rebate's channel is open along one side as it lies on the panel's edge.
    """

    kind: str
    length: float
    width: float
    depth: float
    run: PanelAxis
    stopped: tuple[bool, bool] = (False, False)


NOTCH: Final = "notch"
"""The outline of a square cut that is open at an edge."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutOut:
    """An opening through the board.

    `outline` is "round" (diameter `length`), "slot" (round-ended, `length` x `height`), "scoop" (open at the
    edge that `at` lies on; `height` deep, inner corners of radius `corner`), or "notch" (square).
    `length` runs along `run`.
    """

    outline: str
    length: float
    height: float
    corner: float
    depth: float
    run: PanelAxis
    kind: str = "cut-out"


@dataclass(frozen=True, slots=True, kw_only=True)
class AngledPocket:
    """A pocket bored at a slope for a screw: `at` is where its axis meets the face; it runs toward `run` in the
    sense of `sign`, down at `angle_deg` to the face, `length` along its axis; the pilot goes on to the edge.
    """

    diameter: float
    pilot: float
    angle_deg: float
    length: float
    run: PanelAxis
    sign: int
    kind: str = "angled pocket"

    @property
    def depth(self) -> float:
        """How deep the pocket's axis ends below the face."""
        return self.length * math.sin(math.radians(self.angle_deg))


Shape = Hole | Slot | Keyhole | SegmentPocket | UndercutSlot | Channel | CutOut | AngledPocket


@dataclass(frozen=True, slots=True, kw_only=True)
class Feature:
    """One cut in one panel.

    Attributes:
        surface: the surface it is worked from.
        at: where its axis or middle meets that surface.
        joint: id of the joint it belongs to, or "" for hinges, runners, pins and hand holds.
        station: number of the station along the joint, from 1; 0 where it has none.
        mate: id of its other half, on another panel.
        why: what asked for it, in words.
        item: the fitting or connector it serves.
        pattern: cuts of one name keep their distances from each other, on whichever panels they are: the cups and
            plate of a hinge, the screws of a runner on both uprights, a row of pin holes. Rounded as one.
    """

    id: FeatureId
    panel: PanelId
    surface: Surface
    at: PanelPoint
    shape: Shape
    joint: str = ""
    station: int = 0
    mate: FeatureId | None = None
    why: str = ""
    item: str = ""
    pattern: str = ""

    @property
    def kind(self) -> str:
        """The plain name of what is cut."""
        return self.shape.kind

    @property
    def depth(self) -> float:
        """How deep it goes below the surface worked."""
        return self.shape.depth
