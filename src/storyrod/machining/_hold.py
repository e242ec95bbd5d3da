"""How a jig is held: what its base sweeps, where clamps have room, and what a narrow part is held in.

A router's base must rest on the template at every station, and clamps stand beyond what it sweeps. A part that leaves
no room for them is held otherwise: beside boards of its own thickness, ganged to a wider board, or in a trough.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from storyrod.machining._needs import Need
from storyrod.machining._reference import Reference
from storyrod.model.feature import CutOut
from storyrod.model.machining import Area, HoldKind
from storyrod.model.workshop import Bush, Tool

NARROW: Final = 150.0
"""A part shorter than this along the joint cannot hold a long jig, or a router's base; common practice, no source."""

MARGIN: Final = 40.0
"""Template left beyond the last opening of a drilled jig, and at least this much beside openings; common practice, no
source."""

WEB: Final = 3.0
"""Least strip of template between two openings, or an opening and an edge that is used as reference; common practice,
no source."""

PAD: Final = 40.0
"""Room that the pad of one clamp takes, both ways (mm); common practice, no source."""

CLAMP_ROOM: Final = PAD + 10.0
"""Strip of template beyond what the base sweeps: a clamp's pad, and 10 mm of air; common practice, no source."""

BASE_ROOM: Final = 5.0
"""Template left beyond the base at the ends of its sweep (mm); common practice, no source."""

CHUCK: Final = 25.0
"""Half of a drill's chuck, which clamps stay clear of (mm); common practice, no source."""

USUAL_BASE: Final = 75.0
"""Half of a plunge router's base where the workshop file does not give it (mm); common practice, no source."""

GRIP: Final = 100.0
"""A part that reaches no further than this below a worked edge leaves fence and vice no grip (mm); common practice, no
source."""

TALLEST: Final = 1500.0
"""No router is led on an end that stands higher than this above the floor (mm); common practice, no source."""

LEAST: Final = 20.0
"""A part shorter than this along the joint is not held at all (mm); common practice, no source."""

_TIMES: Final = 3.0
"""A narrow part still holds a jig that is this many times as long; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Swept:
    """Half of what a base or a chuck passes over at one station, along the openings and across them."""

    base: float | None
    along: float
    across: float

    @property
    def end_room(self) -> float:
        """Template wanted beyond the last station."""
        return 0.0 if self.base is None else self.along + BASE_ROOM

    @property
    def near(self) -> float:
        """The edge of the template away from its reference: beyond the sweep, with room for clamps."""
        return -float(math.ceil(self.across + CLAMP_ROOM))


def swept(tool: Tool, bush: Bush | None, opening: tuple[float, float] | None) -> Swept:
    """Return what a tool sweeps in an opening: its base, moved as far as the bush has play there."""
    long, wide = opening or (0.0, 0.0)
    if bush is None:
        return Swept(None, CHUCK, CHUCK)
    base = tool.base_half if tool.base_half is not None else USUAL_BASE
    return Swept(base, (long - bush.diameter) / 2 + base, (wide - bush.diameter) / 2 + base)


def work_of(need: Need, reference: Reference, stop_at: float = 0.0) -> Area:
    """Return what a part takes up under a jig whose stop stands at `stop_at`; round its centre marks for a template."""
    extent = need.panel.extent(need.across)
    if isinstance(need.first, CutOut):
        at = need.stations[0]
        return Area(left=-at, right=need.run_length - at, near=-need.at, far=extent - need.at)
    is_high = reference.toward == need.panel.frame.direction(need.across)
    below, above = (need.at, extent - need.at) if is_high else (extent - need.at, need.at)
    return Area(left=stop_at, right=stop_at + need.run_length, near=-below, far=above)


def hold_kind(need: Need, reference: Reference, sweep: Swept) -> HoldKind:
    """Return what holds jig and part; clamps alone where they have room."""
    if isinstance(need.first, CutOut):
        return HoldKind.CLAMPED if template_axis(work_of(need, reference), sweep) else HoldKind.BOARD
    if need.run_length < least_run(sweep):
        return HoldKind.TROUGH
    if need.on_edge:
        return HoldKind.FENCES if _standing(need) >= GRIP else HoldKind.BACKING
    work = work_of(need, reference)
    has_room = work.near <= sweep.near + 1e-6 or (not reference.at_end and work.far >= -sweep.near - 1e-6)
    return HoldKind.CLAMPED if has_room else HoldKind.BOARD


def least_run(sweep: Swept) -> float:
    """Return how long a part is along the joint that holds a jig with two clamps."""
    return 2 * PAD if sweep.base is None else NARROW


def template_axis(work: Area, sweep: Swept) -> str:
    """Return on which ends of a template to centre marks a part has room for clamps: along, across, or "" for none."""
    if min(-work.left, work.right) >= math.ceil(sweep.along + CLAMP_ROOM) and work.far - work.near >= PAD:
        return "along"
    has_room = min(-work.near, work.far) >= math.ceil(sweep.across + CLAMP_ROOM) and work.right - work.left >= PAD
    return "across" if has_room else ""


def not_held(need: Need, sweep: Swept) -> str:
    """Return what is missing where no way of holding will do, or ""."""
    if need.run_length < LEAST and not isinstance(need.first, CutOut):
        return f"a part of {need.lengths.told(LEAST)} or more along the joint, which a trough can hold"
    if sweep.base is not None and need.on_edge and _standing(need) > TALLEST:
        tall = need.lengths.told(_standing(need))
        return f"a tool held to the edge of a part lying flat: on edge, {tall} is too high for a router"
    return ""


def _standing(need: Need) -> float:
    """Return how far a part reaches down below a worked edge or end."""
    return need.panel.extent(need.surface.axis)


def hold_of(length: float) -> float:
    """Return how long a jig may be that is clamped to a part so long along the joint."""
    return math.inf if length >= NARROW else _TIMES * length


def reach_of(last_station: float, sweep: Swept | None = None) -> float:
    """Return how far a jig goes from its stop when its last opening stands there."""
    return last_station + max(MARGIN, sweep.end_room if sweep else 0.0)


def openings_apart(opening: tuple[float, float] | None) -> float:
    """Return how far two openings in one line stand apart at least, from centre to centre."""
    return (opening[0] if opening else 0.0) + WEB
