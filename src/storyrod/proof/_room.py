"""Every drawer, front, loose shelf, tube and place has its room: as it was written down, and measured afresh."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from storyrod.faults import OUR_SLIP
from storyrod.measure.space import AXES, Axis, Box, Direction
from storyrod.measure.tolerance import EXACT
from storyrod.model.carcass import ClearanceKind, DrawerPlace
from storyrod.model.job import Holds, OuterSide
from storyrod.model.panel import Panel, Role, Surface
from storyrod.model.proof import Claim, Finding
from storyrod.proof._places import less_all
from storyrod.proof._tally import CaseView, Tally

_FRONTS: Final = (Role.DRAWER_FRONT, Role.DOOR)
_DOORS: Final = (Holds.DOOR, Holds.PAIR_OF_DOORS)
_AT_CASE: Final = {
    Role.SIDE_LEFT: OuterSide.LEFT,
    Role.SIDE_RIGHT: OuterSide.RIGHT,
    Role.TOP: OuterSide.TOP,
    Role.RAIL: OuterSide.TOP,
    Role.BASE: OuterSide.BOTTOM,
}


def clearances_are_left(views: Sequence[CaseView]) -> Finding:
    """Return whether each clearance that was written down while building is no less than was wanted."""
    tally = Tally(
        claim=Claim.CLEARANCES,
        subject="clearances of drawers, fronts, loose shelves and places",
        one="clearance is what was wanted or more",
        holds="are what was wanted or more",
        fails="are less than was wanted",
        code="proof-clearance",
        limit=0.0,
        at_least=True,
        measure="least to spare",
    )
    for view in views:
        for c in view.case.built.clearances:
            if not tally.see(c.left - c.wanted):
                tally.tell(
                    view.case.built.case.field,
                    f"{view.told(c.left)} {c.side} of {c.about} in case {view.code}",
                    f"{view.told(c.wanted)} or more",
                    "Make the opening larger, or what goes into it smaller.",
                )
    return tally.finding()


@dataclass(frozen=True, slots=True)
class _Room:
    """A room measured from the panels' boxes: what for, how much there is and how much there must be."""

    about: str
    field: str
    left: float
    wanted: float


def clearances_are_measured(views: Sequence[CaseView]) -> Finding:
    """Return whether the panels' own boxes, where they ended up, leave the room that was wanted.

    What is wanted of fronts, loose shelves and places comes from the job itself; of drawers and clothes rails, whose
    fittings are the workshop's, from what was written down while building.
    """
    tally = Tally(
        claim=Claim.MEASURED,
        subject="clearances measured between the finished panels",
        one="clearance measured between the finished panels is what was wanted or more",
        holds="are what was wanted or more",
        fails="are less than was wanted",
        code="proof-clearance",
        limit=0.0,
        at_least=True,
        measure="least to spare",
    )
    for view in views:
        for room in (
            *_of_fronts(view),
            *_of_loose_shelves(view),
            *_of_drawers(view),
            *_of_rails(view),
            *_of_place(view),
            *_of_skirting(view),
        ):
            if not tally.see(room.left - room.wanted):
                tally.tell(
                    room.field,
                    f"{view.told(room.left)} {room.about} in case {view.code}",
                    f"{view.told(room.wanted)} or more",
                    "Make the opening larger, or what goes into it smaller.",
                )
    return tally.finding()


def _of_fronts(view: CaseView) -> Iterator[_Room]:
    """Measure the gap of each front to every front, and to every carcass panel, that it could rub against."""
    gap = view.case.built.case.fronts.gap
    fronts = [p for p in view.case.panels if p.role in _FRONTS]
    carcass = [p for p in view.case.panels if p.body == "carcass"]
    for n, front in enumerate(fronts):
        for other in (*fronts[n + 1 :], *carcass):
            for axis, cross in ((Axis.X, Axis.Z), (Axis.Z, Axis.X)):
                if not _pass_each_other(front.box, other.box, (cross, Axis.Y)):
                    continue
                left = _between(front.box, other.box, axis)
                wanted = _gap_at_case(view, front, other.role) if other in carcass else gap
                yield _Room(f"between {front.name} and {other.name}", front.cause, left, wanted)


def _gap_at_case(view: CaseView, front: Panel, role: Role) -> float:
    """Return the gap that a front is to keep from a panel of the carcass: its own at the case's sides, top and base.

    A front behind a door keeps the gap of all: what a job says of the case's sides is said of what is seen there.
    """
    built = view.case.built
    fronts = built.case.fronts
    own = _AT_CASE.get(role)
    outer = any(o.holds in _DOORS and front.opening.startswith(f"{o.id}.") for o in built.openings)
    return fronts.gap if own is None or outer else fronts.outer(own, inset=True)


def _pass_each_other(one: Box, other: Box, axes: Iterable[Axis]) -> bool:
    return all(
        min(one.high.along(a), other.high.along(a)) - max(one.low.along(a), other.low.along(a)) > EXACT for a in axes
    )


def _between(one: Box, other: Box, axis: Axis) -> float:
    """Return the room between two boxes along an axis, negative where they overlap along it."""
    return max(other.low.along(axis) - one.high.along(axis), one.low.along(axis) - other.high.along(axis))


def _of_loose_shelves(view: CaseView) -> Iterator[_Room]:
    """Measure the room at the ends of each loose shelf and behind it."""
    wanted = view.case.built.case.loose_shelves
    carcass = [p for p in view.case.panels if p.body == "carcass"]
    for shelf in (p for p in view.case.panels if p.role is Role.LOOSE_SHELF):
        for word, way, least in (
            ("left", Direction.LEFT, wanted.slack),
            ("right", Direction.RIGHT, wanted.slack),
            ("behind", Direction.BACKWARD, wanted.behind),
        ):
            left = _room_toward(shelf.box, carcass, way)
            if left is not None:
                yield _Room(f"{word} of {shelf.name}", shelf.cause, left, least)


def _room_toward(box: Box, others: Iterable[Panel], way: Direction) -> float | None:
    """Return the room from a box to the nearest panel that way, None where no panel stands there.

    A panel that already shares room with the box gives a negative figure.
    """
    axis = way.axis
    across = [a for a in AXES if a is not axis]
    rooms = []
    for other in others:
        if not _pass_each_other(box, other.box, across):
            continue
        ahead = other.box.centre.along(axis) - box.centre.along(axis)
        if ahead * way.sign > 0:
            rooms.append(_between(box, other.box, axis))
    return min(rooms, default=None)


def _of_drawers(view: CaseView) -> Iterator[_Room]:
    """Measure the room round each drawer's box to the carcass and to the boxes of the other drawers."""
    for drawer in view.case.built.drawers:
        own = [p for p in view.case.panels if p.body == drawer.id]
        if not own:
            continue
        others = [p for p in view.case.panels if p.body != drawer.id and p.role not in _FRONTS]
        box = _round(own)
        for clearance in view.case.built.clearances:
            if clearance.kind is not ClearanceKind.DRAWER or clearance.body != drawer.id or clearance.toward is None:
                continue
            left = _room_toward(box, others, clearance.toward)
            if left is not None:
                yield _Room(f"{clearance.side} of {drawer.name}", drawer.cause, left, clearance.wanted)


def _of_rails(view: CaseView) -> Iterator[_Room]:
    """Measure the room round each tube: its ends between the uprights, and over it what it comes in by."""
    carcass = [p for p in view.case.panels if p.body == "carcass"]
    for rail in view.case.built.rails:
        for word, way, least in (
            ("left of the tube", Direction.LEFT, 0.0),
            ("right of the tube", Direction.RIGHT, 0.0),
            ("over the tube", Direction.UP, rail.lift),
            ("under the tube", Direction.DOWN, 0.0),
            ("behind the tube", Direction.BACKWARD, 0.0),
        ):
            left = _room_toward(rail.box, carcass, way)
            if left is not None:
                yield _Room(f"{word} of {rail.name}", rail.cause, left, least)


_BESIDE: Final = (Role.WORKTOP, Role.FILLER)


def _scribed(panel: Panel) -> Panel:
    """Return a panel without what is to be scribed off it, by its frame and that edge alone."""
    if panel.scribed is None:
        return panel
    way = panel.frame.v if panel.scribed.edge is Surface.FAR_EDGE else panel.frame.v.reverse
    low, high = panel.box.span(way.axis)
    off = (0.0, panel.scribed.allowance) if way.sign > 0 else (panel.scribed.allowance, 0.0)
    return replace(panel, box=panel.box.with_span(way.axis, low + off[0], high - off[1]))


def _round(panels: Sequence[Panel]) -> Box:
    box = panels[0].box
    for panel in panels[1:]:
        for axis in AXES:
            low, high = panel.box.span(axis)
            box = box.with_span(axis, min(low, box.low.along(axis)), max(high, box.high.along(axis)))
    return box


def _of_place(view: CaseView) -> Iterator[_Room]:
    """Measure the carcass, with its worktop and fillers, against the place that it must go into."""
    fits = view.case.built.case.fits
    if fits is None:
        return
    whole = _round([_scribed(p) for p in view.case.panels if p.body == "carcass" or p.role in _BESIDE])
    for axis, place, word in (
        (Axis.X, fits.width, "wide"),
        (Axis.Z, fits.height, "high"),
        (Axis.Y, fits.depth, "deep"),
    ):
        if place is not None:
            left = place - whole.size(axis)
            yield _Room(f"left in the place {view.told(place)} {word}", fits.field, left, fits.clearance)


def _of_skirting(view: CaseView) -> Iterator[_Room]:
    """Measure what each panel, less what is cut out of it, leaves free over a skirting board and before it."""
    case = view.case.built.case
    skirting = case.skirting
    if skirting is None:
        return
    front = case.depth + (case.worktop.back if case.worktop is not None else 0.0) - skirting.depth
    for panel in view.case.panels:
        if panel.box.low.z >= skirting.top or panel.box.high.y <= front - skirting.clearance:
            continue
        for part in less_all([panel.box], view.rooms[panel.id]):
            left = max(part.low.z - skirting.height, front - part.high.y)
            yield _Room(f"between {panel.name} and the skirting board", skirting.field, left, skirting.clearance)


def drawers_come_out(views: Sequence[CaseView]) -> Finding:
    """Return whether each drawer, with its front, can be drawn out as far as its runner lets it, meeting nothing.

    Doors before it are taken as open.
    """
    tally = Tally(
        claim=Claim.DRAWERS_OUT,
        subject="drawers",
        holds="come out without meeting anything",
        fails="meet something on their way out",
        one="drawer comes out without meeting anything",
        code="proof-drawer-way",
    )
    for view in views:
        for drawer in view.case.built.drawers:
            tally.see()
            met = _met_on_the_way(view, drawer)
            if met:
                tally.tell(
                    drawer.cause or view.case.built.case.field,
                    f"{drawer.name} of case {view.code}, which meets {met.name} on its way out",
                    "a free way to the front",
                    OUR_SLIP,
                )
    return tally.finding()


def _met_on_the_way(view: CaseView, drawer: DrawerPlace) -> Panel | None:
    own = {p.id for p in view.case.panels if p.body == drawer.id or p.id == drawer.front}
    moving = [view.panels[i].box for i in sorted(own)]
    ways = [b.with_span(Axis.Y, b.low.y - drawer.extension, b.high.y) for b in moving]
    still = [p for p in view.case.panels if p.id not in own and p.role is not Role.DOOR]
    return next((p for p in still if any(w.intersects(p.box) for w in ways)), None)
