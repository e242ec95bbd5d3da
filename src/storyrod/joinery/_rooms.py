"""How far each station could be moved without meeting another cut, whatever the other stations do meanwhile.

Boxes round the cuts are compared, so a little room is given away. Two stations that may both move toward each other
get half of the room between them; where the lines of two joints cross, neither enters the crossing.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from storyrod.joinery._bores import Bore
from storyrod.joinery._clash import FITTING, WHOLE, Panels, Spot
from storyrod.measure.tolerance import EXACT
from storyrod.model.panel import PanelId
from storyrod.model.sharing import StationRoom

Span = tuple[float, float]


def rooms_of(panels: Panels) -> Iterator[StationRoom]:
    """Yield every joint that has stations, with the room of each; joints that do not share have none."""
    spots = panels.spots()
    for owner, cuts in enumerate(panels.joints):
        if cuts.stations:
            yield StationRoom(
                joint=cuts.joint.id,
                stations=cuts.stations,
                spans=tuple(_span(panels, spots, owner, n) for n in range(len(cuts.stations))),
            )


def _span(panels: Panels, spots: Mapping[PanelId, Sequence[Spot]], owner: int, index: int) -> Span:
    cuts = panels.joints[owner]
    at = cuts.stations[index]
    if not cuts.joint.shares:
        return at, at
    low, high = -at, cuts.joint.length - at  # moves of the station, not places
    for bore in cuts.bores:
        panel = bore.slab.panel.id
        here = next(s for s in spots[panel] if s.owner == owner and s.station == index and s.cut is bore)
        for other in spots[panel]:
            if other.owner != owner:
                down, up = _limits(panels, here, bore, other)
                low, high = max(low, -down), min(high, up)
    return at + min(low, 0.0), at + max(high, 0.0)


def _limits(panels: Panels, here: Spot, bore: Bore, other: Spot) -> Span:
    """Return how far a station may move down and up its joint before it comes too near to another cut."""
    run, room = bore.run, panels.wanted_room(here, other)
    low, high, shared = _reach_of(panels, other)
    beside = all(low[i] < here.high[i] + room and here.low[i] < high[i] + room for i in (0, 1, 2) if i != run)
    if not beside or panels.on_purpose(here, other):
        return float("inf"), float("inf")
    parallel = shared and isinstance(other.cut, Bore) and other.cut.run == run
    if parallel:
        low, high = other.low, other.high
    below, above = here.low[run] - room - high[run], low[run] - room - here.high[run]
    if below < -EXACT and above < -EXACT:
        return 0.0, 0.0  # too near by their boxes already: it stays
    part = 0.5 if parallel else 1.0
    down = below * part if below >= -EXACT else float("inf")
    up = above * part if above >= -EXACT else float("inf")
    return (down, up) if bore.step > 0 else (up, down)


def _reach_of(panels: Panels, spot: Spot) -> tuple[Sequence[float], Sequence[float], bool]:
    """Return all that a cut may come to take up: its own box, or the whole line along which it may be moved."""
    if spot.owner == FITTING or spot.station == WHOLE or not isinstance(spot.cut, Bore):
        return spot.low, spot.high, False
    joint = panels.joints[spot.owner].joint
    if not joint.shares:
        return spot.low, spot.high, False
    bore = spot.cut
    ends = (bore.at(0.0), bore.at(joint.length))
    low = [min(e[i] for e in ends) + bore.reach[0][i] for i in (0, 1, 2)]
    high = [max(e[i] for e in ends) + bore.reach[1][i] for i in (0, 1, 2)]
    return low, high, True
