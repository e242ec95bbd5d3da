"""Panels in their places: none shares room with another, sizes add up, frames and twins are sound."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import combinations
from typing import Final

from storyrod.faults import OUR_SLIP
from storyrod.measure.space import AXES, Axis, Box, Direction
from storyrod.measure.tolerance import EXACT, TOUCH
from storyrod.model.panel import Panel, Role
from storyrod.model.proof import Claim, Finding, figure
from storyrod.proof._tally import CaseView, Tally


def panels_keep_apart(views: Sequence[CaseView]) -> Finding:
    """Return whether no panel shares room with another, except in channels cut to take it in.

    The figure is the greatest depth by which two panels' boxes share room that no channel has cleared.
    """
    tally = Tally(
        claim=Claim.BOXES,
        subject="pairs of panels",
        holds="share no room but in the grooves, housings and rebates made for it",
        fails="share room",
        one="pair of panels shares no room but in the grooves, housings and rebates made for it",
        measure="deepest found",
        code="proof-boxes",
        limit=TOUCH,
    )
    for view in views:
        case = view.case
        for one, other in combinations(case.panels, 2):
            shared = one.box.overlap(other.box) if one.box.intersects(other.box, TOUCH) else None
            if shared is not None and _hook(one, other, shared):
                shared = None
            left = [] if shared is None else less_all([shared], [*view.rooms[one.id], *view.rooms[other.id]])
            deepest = max(left, key=_depth, default=None)
            deep = 0.0 if deepest is None else _depth(deepest)
            if not tally.see(deep) and deepest is not None:
                size = view.lengths.told_size(*(deepest.size(a) for a in AXES))
                tally.tell(
                    view.cause(other.id),
                    f"{view.panel(one.id)} and {view.panel(other.id)} in one room of {size}",
                    "each panel in its own room",
                    OUR_SLIP,
                )
    return tally.finding()


def _hook(one: Panel, other: Panel, shared: Box) -> bool:
    """Return whether all that two panels' boxes share is parted by the bevels on which one hangs on the other.

    The upper one is bevelled below and the lower one above, in opposite faces: their slopes are one plane where the
    upper one's wide face, to the wall, ends as far below the lower one's as the board is thick.
    """
    lower, upper = sorted((one, other), key=lambda p: p.box.low.z)
    if lower.bevel is None or upper.bevel is None:
        return False
    in_line = all(abs(a - b) <= TOUCH for a, b in zip(lower.box.span(Axis.Y), upper.box.span(Axis.Y), strict=True))
    edges = (upper.surface_toward("-z"), lower.surface_toward("+z")) == (upper.bevel.edge, lower.bevel.edge)
    faces = (upper.surface_toward("-y"), lower.surface_toward("+y")) == (upper.bevel.short, lower.bevel.short)
    return in_line and edges and faces and abs(shared.size(Axis.Z) - lower.thickness) <= TOUCH


def _depth(box: Box) -> float:
    return min(box.size(a) for a in AXES)


def less_all(boxes: list[Box], rooms: Iterable[Box]) -> list[Box]:
    """Return what is left of `boxes` when all `rooms` are taken away, as boxes thicker than a touch."""
    left = boxes
    for room in rooms:
        left = [part for box in left for part in _less_one(box, room)]
    return [b for b in left if _depth(b) > TOUCH]


def _less_one(box: Box, room: Box) -> list[Box]:
    """Return what is left of a box when another is taken away: up to six boxes, cut off one side at a time."""
    if not box.intersects(room, 0.0):
        return [box]
    left: list[Box] = []
    for axis in AXES:
        (low, high), (from_, to) = box.span(axis), room.span(axis)
        if from_ > low:
            left.append(box.with_span(axis, low, from_))
            low = from_
        if to < high:
            left.append(box.with_span(axis, to, high))
            high = to
        box = box.with_span(axis, low, high)
    return left


def sizes_add_up(views: Sequence[CaseView]) -> Finding:
    """Return whether panels and openings in one line add up to the outside of the case, across and upward.

    Through every opening that is left whole a line is drawn along x and one along z, seen from the front; the
    panels it crosses and the openings must follow each other without gap or overlap.
    """
    tally = Tally(
        claim=Claim.SUMS,
        subject="lines through openings",
        holds=f"add up to the outside within {figure(EXACT)} mm",
        fails="do not add up to the outside",
        one=f"line through an opening adds up to the outside within {figure(EXACT)} mm",
        measure="farthest off",
        code="proof-sums",
        limit=EXACT,
    )
    for view in views:
        case = view.case
        for axis, whole in ((Axis.X, case.built.case.width), (Axis.Z, case.built.case.height)):
            for opening in case.built.openings:
                if opening.children:
                    continue
                spans = _spans_on_line(view, opening.box, axis)
                off = _off_from(spans, whole)
                if not tally.see(off):
                    tally.tell(
                        opening.cause or case.built.case.field,
                        f"panels and openings in line with {opening.name} of case {view.code} that miss the outside "
                        f"by {figure(off)} mm along {axis.value}",
                        f"{view.told(whole)} in all",
                        OUR_SLIP,
                    )
    return tally.finding()


OFF_MIDDLE: Final = 0.381966
"""Share of an opening at which the line is drawn: its very middle may be where two neighbours beside it part."""

_SEEN_THROUGH: Final = {Role.BACK, Role.HANGING_RAIL}


def _spans_on_line(view: CaseView, through: Box, axis: Axis) -> list[tuple[float, float]]:
    """Return the stretches of a line through an opening that are panels or openings.

    Where one panel stands in the channel of another, what both have in common counts once.
    """
    cross = Axis.Z if axis is Axis.X else Axis.X
    at = through.low.along(cross) + OFF_MIDDLE * through.size(cross)
    panels = [p for p in view.case.panels if p.body == "carcass" and p.role not in _SEEN_THROUGH]
    crossed = sorted((p for p in panels if _crosses(p.box, cross, at)), key=lambda p: p.box.span(axis))
    spans = [o.box.span(axis) for o in view.case.built.openings if not o.children and _crosses(o.box, cross, at)]
    raised = view.case.built.case.raised
    if axis is Axis.Z and raised:
        spans.append((0.0, raised))  # under it there are feet, or a frame of its own
    before: Panel | None = None
    for panel in crossed:
        low, high = panel.box.span(axis)
        if before is not None and _stands_in(view, before, panel):
            low = max(low, before.box.span(axis)[1])
        spans.append((low, high))
        before = panel
    return sorted({(round(lo, 9), round(hi, 9)) for lo, hi in spans})


def _stands_in(view: CaseView, one: Panel, other: Panel) -> bool:
    """Return whether two panels' boxes share room, all of it cut out of one of them for the other."""
    if not one.box.intersects(other.box, TOUCH):
        return False
    shared = one.box.overlap(other.box)
    return shared is not None and not less_all([shared], [*view.rooms[one.id], *view.rooms[other.id]])


def _crosses(box: Box, cross: Axis, at: float) -> bool:
    low, high = box.span(cross)
    return low <= at < high


def _off_from(spans: list[tuple[float, float]], whole: float) -> float:
    """Return the greatest gap or overlap from 0 through all spans to `whole`."""
    off, reached = 0.0, 0.0
    for low, high in spans:
        off = max(off, abs(low - reached))
        reached = high
    return max(off, abs(whole - reached))


_U_V_INTO: Final[dict[Role, tuple[Direction, Direction, Direction]]] = {
    Role.SIDE_LEFT: (Direction.UP, Direction.BACKWARD, Direction.LEFT),
    Role.FILLER: (Direction.UP, Direction.RIGHT, Direction.BACKWARD),
    **dict.fromkeys((Role.SIDE_RIGHT, Role.DIVIDER), (Direction.UP, Direction.BACKWARD, Direction.RIGHT)),
    **dict.fromkeys(
        (Role.TOP, Role.BASE, Role.SHELF, Role.LOOSE_SHELF, Role.DRAWER_BOTTOM, Role.WORKTOP),
        (Direction.RIGHT, Direction.BACKWARD, Direction.DOWN),
    ),
    **dict.fromkeys(
        (
            Role.PLINTH,
            Role.PLINTH_BOARD,
            Role.HANGING_RAIL,
            Role.WALL_CLEAT,
            Role.BACK,
            Role.DRAWER_FRONT,
            Role.DOOR,
            Role.DRAWER_BOX_FRONT,
            Role.DRAWER_BACK,
        ),
        (Direction.RIGHT, Direction.UP, Direction.BACKWARD),
    ),
}
"""Face side, face edge and datum end of each role, read from `docs/conventions.md`; others must only be square."""


def frames_are_sound(views: Sequence[CaseView]) -> Finding:
    """Return whether every panel's frame is square, starts at the right corner of its box and follows its role.

    With u x v as its third axis each frame is right-handed; `into` runs along that axis, one way or the other.
    """
    tally = Tally(
        claim=Claim.FRAMES,
        subject="panels",
        holds="have their face side, face edge and datum end where their role puts them",
        fails="have a frame that is not sound",
        one="panel has its face side, face edge and datum end where its role puts them",
        measure="farthest off",
        code="proof-frames",
        limit=EXACT,
    )
    for view in views:
        case = view.case
        for panel in case.panels:
            if not tally.see(_origin_off(panel)) or not _is_framed(panel):
                tally.tell(
                    view.cause(panel.id),
                    f"{view.panel(panel.id)} with its datum corner in the wrong place",
                    "the corner of datum end, face edge and face side",
                    OUR_SLIP,
                )
    return tally.finding()


def _origin_off(panel: Panel) -> float:
    """Return how far the frame's origin is from the corner of the box at which u, v and w begin."""
    frame = panel.frame
    corner = frame.origin
    for way in (frame.u, frame.v, frame.into):
        low, high = panel.box.span(way.axis)
        corner = corner.with_(way.axis, low if way.sign > 0 else high)
    return corner.distance(frame.origin)


def _is_framed(panel: Panel) -> bool:
    ways = (panel.frame.u, panel.frame.v, panel.frame.into)
    is_square = len({w.axis for w in ways}) == 3 and all(panel.box.size(a) > 0 for a in AXES)
    return is_square and _U_V_INTO.get(panel.role, ways) == ways


def twins_are_mirrored(views: Sequence[CaseView]) -> Finding:
    """Return whether mirrored twins name each other, have the same sizes and mirrored frames."""
    tally = Tally(
        claim=Claim.TWINS,
        subject="mirrored pairs",
        holds="are alike in size and mirrored in hand",
        fails="are not mirrored",
        one="mirrored pair is alike in size and mirrored in hand",
        measure="farthest off",
        code="proof-twins",
        limit=EXACT,
    )
    for view in views:
        case = view.case
        for panel in case.panels:
            twin = view.panels.get(panel.twin) if panel.twin else None
            if panel.twin is None or (twin is not None and twin.twin == panel.id and twin.id < panel.id):
                continue
            off = float("inf") if twin is None or twin.twin != panel.id else _twin_off(panel, twin)
            if not tally.see(off):
                tally.tell(
                    view.cause(panel.id),
                    f"{view.panel(panel.id)} and its twin, which are not mirrored",
                    "the same sizes, the same u and v, faces toward each other or both away",
                    OUR_SLIP,
                )
    return tally.finding()


def _twin_off(one: Panel, other: Panel) -> float:
    """Return the greatest difference of two twins' sizes, or of their places up, down and to the front."""
    frames = one.frame, other.frame
    if (frames[0].u, frames[0].v) != (frames[1].u, frames[1].v) or frames[0].into is not frames[1].into.reverse:
        return float("inf")
    sizes = (abs(one.box.size(a) - other.box.size(a)) for a in AXES)
    flat = [a for a in AXES if a is not frames[0].into.axis]
    places = (abs(one.box.low.along(a) - other.box.low.along(a)) for a in flat)
    return max(*sizes, *places)
