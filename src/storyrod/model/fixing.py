"""What is bought and fixed by hand, where, and with which screws: runners, hinges, fronts, clothes rails, shelf pins,
worktops.

Each fixing is one placing of one fitting on one panel. The buying list, the steps of assembly and the sheets are all
made from it, so that nothing a step uses is missing from what is bought.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from storyrod.model.feature import FeatureId
from storyrod.model.panel import PanelId


class FixingKind(StrEnum):
    """What is fixed, and to what."""

    RUNNER_CASE = "runner on the case"
    RUNNER_DRAWER = "runner on the drawer"
    RUNNER_CATCH = "runner's catches under the drawer"
    FRONT = "drawer front"
    HINGE_CUP = "hinge in the door"
    HINGE_PLATE = "hinge plate"
    SHELF_PIN = "shelf pin"
    RAIL_SOCKET = "socket of a clothes rail"
    WORKTOP = "worktop"
    FOOT = "levelling foot"
    CLIP = "clip of a plinth board"
    FILLER = "filler"


@dataclass(frozen=True, slots=True, kw_only=True)
class Screws:
    """Screws of one size.

    Attributes:
        item: what is bought, with its diameter and length.
        length: under the head (mm).
        seat: what lies between the head and the board it holds in (mm).
        skin: board left under the tip (mm).
        pilot: diameter of the pilot hole; `pilot_depth` how deep it goes into the board.
        root: diameter of the screw's core (mm), where the workshop says it.
        marked: whether the pilot holes are marks of the panel, bored in the run; if not, they are bored in place.
    """

    item: str
    count: int
    diameter: float
    length: float
    seat: float
    skin: float
    pilot: float
    pilot_depth: float
    marked: bool
    root: float | None = field(default=None, repr=False)  # not in plan.json: it stands in the workshop file

    @property
    def bite(self) -> float:
        """How deep the tip goes into the board (mm)."""
        return self.length - self.seat


@dataclass(frozen=True, slots=True, kw_only=True)
class Fixing:
    """One fitting on one panel.

    Attributes:
        panel: the panel it is fixed to.
        about: id of the drawer, door, clothes rail or loose shelf that it serves; of a worktop or filler, the panel
            that the screws pass.
        item: the fitting as it is bought; `count` how many of it are handled here.
        features: the cuts it is fixed at, from the first.
        screws: None where none are driven, as for pins.
    """

    kind: FixingKind
    panel: PanelId
    about: str
    item: str
    name: str
    count: int
    features: tuple[FeatureId, ...] = ()
    screws: Screws | None = None
