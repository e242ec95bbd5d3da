"""Where drawer fronts and doors lie: inset with a gap all round, or over the carcass's edges with shared gaps."""

from __future__ import annotations

from dataclasses import dataclass

from storyrod.carcass._inside import BEHIND_INSET_DOOR, Bay, Bound
from storyrod.carcass._making import Making, box_of
from storyrod.carcass._shell import LEAST_INSIDE
from storyrod.carcass._sums import Term, told
from storyrod.faults import WayOut
from storyrod.measure.space import Axis, Box
from storyrod.measure.tolerance import EXACT
from storyrod.model.carcass import Clearance, ClearanceKind
from storyrod.model.job import FrontKind
from storyrod.model.panel import Panel, Role, Surface

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
    inset = fronts.kind is FrontKind.INSET or bay.behind_door
    left, right, above, below = (_cover(making, b, inset=inset) for b in (bay.left, bay.right, bay.above, bay.below))
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


def _cover(making: Making, bound: Bound, *, inset: bool) -> float:
    """Return how far the front lies over what bounds its opening; below 0 where it stays short of it."""
    fronts = making.case.fronts
    if bound.is_open and not (inset and bound.has_ends):
        return -fronts.gap / 2
    if inset:
        return -fronts.gap
    return bound.reach - fronts.reveal if bound.outside else (bound.reach - fronts.gap) / 2


def leave_gaps(making: Making) -> None:
    """Note the gaps of all fronts of the case: to the panels round an inset one, and between neighbours."""
    gap = making.case.fronts.gap
    fronts = [p for p in making.panels.values() if p.role in {Role.DRAWER_FRONT, Role.DOOR}]
    others = [p for p in making.panels.values() if p.body == "carcass" and p.role is not Role.BACK]
    for front in fronts:
        for axis, side in ((Axis.X, "right"), (Axis.Z, "above")):
            _leave_to(making, front, fronts, axis, 1, side, gap)
        if front.box.high.y <= EXACT:
            continue
        for axis, sign, side in (
            (Axis.X, -1, "left"),
            (Axis.X, 1, "right"),
            (Axis.Z, -1, "below"),
            (Axis.Z, 1, "above"),
        ):
            _leave_to(making, front, others, axis, sign, side, gap)


def _leave_to(making: Making, front: Panel, others: list[Panel], axis: Axis, sign: int, side: str, gap: float) -> None:
    """Note the gap to the nearest of the panels on one side of a front, where one is near enough to rub."""
    across = Axis.Z if axis is Axis.X else Axis.X
    near: tuple[float, str] | None = None
    for other in others:
        if other is front or not _beside(front, other, across):
            continue
        far = other.box.low.along(axis) - front.box.high.along(axis)
        room = far if sign > 0 else front.box.low.along(axis) - other.box.high.along(axis)
        if -gap - 1 < room <= 2 * gap + 1 and (near is None or room < near[0]):
            near = (room, other.name)
    if near:
        making.leave(
            Clearance(
                kind=ClearanceKind.FRONT,
                about=front.name,
                side=f"{side}, to {near[1]}",
                wanted=gap,
                left=near[0],
            )
        )


def _beside(a: Panel, b: Panel, across: Axis) -> bool:
    """Whether two panels pass each other at one depth and at one place across the gap."""
    return all(
        min(a.box.high.along(x), b.box.high.along(x)) - max(a.box.low.along(x), b.box.low.along(x)) > EXACT
        for x in (across, Axis.Y)
    )
