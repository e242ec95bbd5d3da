"""Stations that joints share: how far each may be moved, and where it is moved to.

A station is shared where one opening of a jig serves the joints of several lengths. Only joints that ask for it
(`spread = "shared"`) are moved, and only where that saves a station.
"""

from __future__ import annotations

from dataclasses import dataclass

from storyrod.model.joint import JointId


@dataclass(frozen=True, slots=True, kw_only=True)
class StationRoom:
    """The stations of one joint as they stand, clashes settled, and how far each could be moved freely.

    Attributes:
        stations: distances from the start of the joint.
        spans: for each station the lowest and highest place that no other cut is too near to, whatever the other
            joints do within their own spans.
    """

    joint: JointId
    stations: tuple[float, ...]
    spans: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SharedStations:
    """Where the stations of one joint are moved to."""

    joint: JointId
    stations: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SharedRow:
    """The stations that serve all joints of one method and size.

    Attributes:
        method: code of the method.
        boards: thickness of the thinner board of each joint.
        small: whether these are the narrow parts, which have a jig of their own.
        lengths: of the joints served.
        now: how many different stations there are without moving any.
        stations: those that serve all, after moving where that saves some; else those there are.
        bound: no fewer would do; equal to the number of `stations` where that is proven.
        moved: how many joints have a station moved.
    """

    method: str
    boards: tuple[float, ...]
    small: bool
    lengths: tuple[float, ...]
    now: int
    stations: tuple[float, ...]
    bound: int
    moved: int

    @property
    def proven(self) -> bool:
        """Whether no fewer stations could serve these joints, each with as many connectors as it has."""
        return len(self.stations) <= self.bound


@dataclass(frozen=True, slots=True, kw_only=True)
class Sharing:
    """All that is moved so that joints share stations, and what that saves."""

    moved: tuple[SharedStations, ...] = ()
    rows: tuple[SharedRow, ...] = ()

    def by_joint(self) -> dict[JointId, tuple[float, ...]]:
        """Return the new stations of every joint that is moved."""
        return {m.joint: m.stations for m in self.moved}
