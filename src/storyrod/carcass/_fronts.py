"""Where drawer fronts and doors lie: inset with a gap all round, or over the carcass's edges with shared gaps."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from storyrod.carcass._covers import cover_over
from storyrod.carcass._inside import BEHIND_INSET_DOOR, DOORS, Bay, Bound, is_inset
from storyrod.carcass._making import Making, box_of
from storyrod.carcass._shell import LEAST_INSIDE
from storyrod.carcass._sums import Term, told
from storyrod.faults import WayOut
from storyrod.measure.space import Axis, Box
from storyrod.measure.tolerance import EXACT
from storyrod.model.carcass import Clearance, ClearanceKind
from storyrod.model.case import LEAST_FRONT_GAP
from storyrod.model.job import OuterSide
from storyrod.model.panel import Panel, PanelId, Role, Surface

SIDES: Final = (OuterSide.LEFT, OuterSide.RIGHT, OuterSide.TOP, OuterSide.BOTTOM)

ALL_EDGES = (Surface.FACE_EDGE, Surface.FAR_EDGE, Surface.DATUM_END, Surface.FAR_END)


@dataclass(frozen=True, slots=True, kw_only=True)
class Front:
    """Where a front lies, before a pair of doors is parted in the middle."""

    box: Box
    sums: tuple[str, str]
    inset: bool


def lay_front(making: Making, bay: Bay) -> Front | None:
    """Return where the bay's front lies, or None after noting that its gaps leave nothing of it.

    A front behind a door is inset, whatever the case's other fronts are.
    """
    fronts, unit = making.case.fronts, making.job.unit
    inset = is_inset(making, bay)
    if inset and not bay.behind_door and not _keeps_gaps(making, bay):
        return None
    left, right, above, below = (cover(making, bay, side) for side in SIDES)
    x, z = bay.box.span(Axis.X), bay.box.span(Axis.Z)
    x, z = (x[0] - left, x[1] + right), (z[0] - below, z[1] + above)
    if min(x[1] - x[0], z[1] - z[0]) < LEAST_INSIDE:
        making.fault(
            "front-gap",
            f"{fronts.field}.gap",
            found=f"gaps of {making.mm(fronts.gap)} round a front in {bay.name}, "
            f"{making.mm(bay.width)} wide and {making.mm(bay.height)} high",
            allowed=f"gaps that leave a front at least {making.least(LEAST_INSIDE)} either way",
            do="Make the gap smaller or the opening larger.",
            ways=(WayOut(field="", value=None),),
        )
        return None
    sums = (
        told(unit, bay.width, Term(1, left), Term(1, right)),
        told(unit, bay.height, Term(1, above), Term(1, below)),
    )
    return Front(box=box_of(x, _depth(making, bay, inset=inset), z), sums=sums, inset=inset)


def _depth(making: Making, bay: Bay, *, inset: bool) -> tuple[float, float]:
    fronts = making.case.fronts
    thick = making.board(fronts.board).measured
    if not inset:
        return (-thick, 0.0)
    start = max(bay.box.low.y, BEHIND_INSET_DOOR) if bay.behind_door else fronts.back
    return (start, start + thick)


def cover(making: Making, bay: Bay, side: OuterSide) -> float:
    """Return how far a bay's front lies over what bounds its opening on one side (mm); below 0 where it stays short."""
    inset = is_inset(making, bay)
    return cover_over(making, bound_at(bay, side), side, inset=inset, behind_door=bay.behind_door)


def bound_at(bay: Bay, side: OuterSide) -> Bound:
    """Return what an opening ends at on one side."""
    return {
        OuterSide.LEFT: bay.left,
        OuterSide.RIGHT: bay.right,
        OuterSide.TOP: bay.above,
        OuterSide.BOTTOM: bay.below,
    }[side]


def _keeps_gaps(making: Making, bay: Bay) -> bool:
    """Return whether an inset front keeps a gap at the case's own panels, or note where it would rub."""
    fronts = making.case.fronts
    tight = [s for s in SIDES if bound_at(bay, s).outside and fronts.outer(s, inset=True) < LEAST_FRONT_GAP - EXACT]
    for side in tight:
        making.fault(
            "front-gap",
            f"{fronts.field}.{side.value}",
            found=f"a gap of {making.mm(fronts.outer(side, inset=True))} at an inset front in {bay.name}",
            allowed=f"at least {making.least(LEAST_FRONT_GAP)} at an inset front",
            do="Make it larger, or leave it out: then it is the same gap as the others.",
            ways=(making.at_least(LEAST_FRONT_GAP), WayOut(field="", value=None)),
        )
    return not tight


_OWN: Final = {
    OuterSide.LEFT: {Role.SIDE_LEFT},
    OuterSide.RIGHT: {Role.SIDE_RIGHT},
    OuterSide.TOP: {Role.TOP, Role.RAIL},
    OuterSide.BOTTOM: {Role.BASE},
}
"""What a case itself ends with on each side."""

_WAYS: Final = (
    (Axis.X, -1, "left", OuterSide.LEFT),
    (Axis.X, 1, "right", OuterSide.RIGHT),
    (Axis.Z, -1, "below", OuterSide.BOTTOM),
    (Axis.Z, 1, "above", OuterSide.TOP),
)


def leave_gaps(making: Making) -> None:
    """Note the gaps of all fronts of the case: to the panels round an inset one, and between neighbours."""
    gap = making.case.fronts.gap
    fronts = [p for p in making.panels.values() if p.role in {Role.DRAWER_FRONT, Role.DOOR}]
    others = [p for p in making.panels.values() if p.body == "carcass" and p.role is not Role.BACK]
    for front in fronts:
        for axis, sign, side, _ in _WAYS:
            if sign > 0:
                _leave_to(making, front, fronts, (axis, sign, side), {p.id: gap for p in fronts})
        if front.box.high.y <= EXACT:
            continue
        for axis, sign, side, at in _WAYS:
            outer = gap if _is_behind_door(making, front) else making.case.fronts.outer(at, inset=True)
            wanted = {p.id: outer if p.role in _OWN[at] else gap for p in others}
            _leave_to(making, front, others, (axis, sign, side), wanted)


def _is_behind_door(making: Making, front: Panel) -> bool:
    return any(o.holds in DOORS and front.opening.startswith(f"{o.id}.") for o in making.openings)


def _leave_to(
    making: Making, front: Panel, others: list[Panel], way: tuple[Axis, int, str], wanted: Mapping[PanelId, float]
) -> None:
    """Note the gap to the nearest of the panels on one side of a front, where one is near enough to rub."""
    axis, sign, side = way
    across = Axis.Z if axis is Axis.X else Axis.X
    near: tuple[float, Panel] | None = None
    for other in others:
        if other is front or not _beside(front, other, across):
            continue
        far = other.box.low.along(axis) - front.box.high.along(axis)
        room = far if sign > 0 else front.box.low.along(axis) - other.box.high.along(axis)
        most = wanted[other.id]
        if -most - 1 < room <= 2 * most + 1 and (near is None or room < near[0]):
            near = (room, other)
    if near:
        making.leave(
            Clearance(
                kind=ClearanceKind.FRONT,
                about=front.name,
                side=f"{side}, to {near[1].name}",
                wanted=wanted[near[1].id],
                left=near[0],
            )
        )


def _beside(a: Panel, b: Panel, across: Axis) -> bool:
    """Whether two panels pass each other at one depth and at one place across the gap."""
    return all(
        min(a.box.high.along(x), b.box.high.along(x)) - max(a.box.low.along(x), b.box.low.along(x)) > EXACT
        for x in (across, Axis.Y)
    )
