"""Where the edge of one panel meets the face of another, and how that is held."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import NewType

from storyrod.measure.space import Box, Direction
from storyrod.model.method import Motion
from storyrod.model.panel import PanelId, Surface

JointId = NewType("JointId", str)


class JointKind(StrEnum):
    """What sort of joint the geometry shows."""

    CORNER = "corner"
    MID_PANEL = "mid-panel"
    PLINTH = "plinth"
    BACK = "back"
    DRAWER_BOX = "drawer box"


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """One joint: the `entering` panel's edge against the `receiving` panel's face.

    Attributes:
        number: short label, as `J7`, unique in its case.
        kind: the class for which the maker chooses a method.
        at_corner: flush with the receiving panel's end (an L), not in its middle (a T).
        contact: the common patch in the case frame; flat across the `home` axis.
        home: the direction in which the entering panel goes home, toward the receiving panel.
        receiving_surface, entering_surface: which surface of each meets.
        run: direction along the joint in which stations are measured.
        length: of the joint along `run`.
        start: case coordinate, along `run`'s axis, of station 0 (the entering panel's face edge or datum end).
        shift: what is added to a station to get its distance from the receiving panel's own datum edge or end.
        stations: distances from `start` along `run`; not rounded.
        enters: how far the entering panel goes into the receiving one.
        back_to_back: id of the joint on the other face of the receiving panel, in line with this one.
        lock: for keyholes, the direction in the case in which the entering panel slides home.
        shares: whether its stations may be moved so that other joints share them.
    """

    id: JointId
    number: str
    case: str
    kind: JointKind
    at_corner: bool
    receiving: PanelId
    entering: PanelId
    receiving_surface: Surface
    entering_surface: Surface
    contact: Box
    home: Direction
    run: Direction
    length: float
    start: float
    shift: float
    method: str
    motion: Motion
    travel: float = 0.0
    enters: float = 0.0
    stations: tuple[float, ...] = ()
    moved_stations: tuple[int, ...] = ()
    back_to_back: JointId | None = None
    lock: Direction | None = None
    connectors: tuple[tuple[str, int], ...] = ()
    glue: bool = False
    shares: bool = False
