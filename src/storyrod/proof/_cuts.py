"""No cut breaks out of its panel, and enough board is left under it and beside it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from storyrod.measure.space import PANEL_AXES, PanelAxis
from storyrod.measure.tolerance import EXACT
from storyrod.model.detail import Details
from storyrod.model.feature import AngledPocket, Channel, CutOut, Feature, Hole
from storyrod.model.panel import Panel
from storyrod.model.proof import Claim, Finding
from storyrod.proof._pieces import INDEX, CutPieces, extents
from storyrod.proof._shapes import gap_between
from storyrod.proof._tally import CaseView, Tally

_MOVE = "Move the joint or the fitting, or choose a smaller connector."


def cuts_stay_inside(views: Sequence[CaseView]) -> Finding:
    """Return whether every cut stays inside its panel's outline and ends as it is told to (through or stopped).

    The figure is the least board between a closed cut and the sides of its panel. Grooves, rebates and scoops
    are open where they run off the panel; a pocket's screw comes out of the edge on purpose.
    """
    tally = Tally(
        claim=Claim.INSIDE,
        subject="cuts",
        holds="stay inside their panels",
        fails="do not stay inside their panels",
        one="cut stays inside its panel",
        code="proof-inside",
        limit=EXACT,
        at_least=True,
    )
    for view, panel, cut in _every_cut(views):
        left = _least_beside(cut, panel)
        is_open = left is None
        kept = tally.see(left)
        if is_open:
            kept = _within(cut, panel)
        elif not kept:
            tally.tell(
                view.cause(panel.id),
                f"{view.cut(cut.feature)} that breaks out of the panel by {view.told(max(0.0, -(left or 0.0)))}",
                "inside the panel all round",
                _MOVE,
            )
            continue
        wrong = _wrong_end(cut, panel, view) if kept else "that reaches beyond the panel"
        if wrong:
            tally.tell(
                view.cause(panel.id), f"{view.cut(cut.feature)} {wrong}", "a cut that ends where it is meant to", _MOVE
            )
    return tally.finding()


def _least_beside(cut: CutPieces, panel: Panel) -> float | None:
    """Return the least board beside a closed cut, negative where it breaks out; None for an open cut."""
    shape = cut.feature.shape
    if isinstance(shape, Channel | AngledPocket):
        return None
    if isinstance(shape, CutOut) and shape.outline in {"scoop", "notch"}:
        return None
    size = extents(panel)
    sides = [i for i in (0, 1, 2) if i != INDEX[cut.feature.surface.axis]]
    return min(min(cut.bounds.low[i], size[i] - cut.bounds.high[i]) for i in sides)


def _within(cut: CutPieces, panel: Panel) -> bool:
    """Return whether an open cut ends at the panel's sides at the latest (a pocket may open at its mouth).

    The rounds of a scoop's corners go on beyond the edge that it is open at, where their radius is more than half of
    its height: there is no board.
    """
    size, free = extents(panel), _open_sides(cut)
    return all(
        (cut.bounds.low[i] >= -EXACT or (i, False) in free)
        and (cut.bounds.high[i] <= size[i] + EXACT or (i, True) in free)
        for i in (0, 1, 2)
    )


def _open_sides(cut: CutPieces) -> frozenset[tuple[int, bool]]:
    """Return the sides of the panel, by axis and whether it is the far one, that a cut may go on beyond."""
    shape, axis = cut.feature.shape, INDEX[cut.feature.surface.axis]
    if isinstance(shape, AngledPocket):
        return frozenset({(axis, False), (axis, True)})
    if isinstance(shape, CutOut) and shape.outline == "scoop":
        across = 3 - INDEX[shape.run] - axis
        return frozenset({(across, cut.feature.at.along(PANEL_AXES[across]) > 0)})
    return frozenset()


def _wrong_end(cut: CutPieces, panel: Panel, view: CaseView) -> str:
    """Return what is wrong with how a cut ends, or nothing."""
    shape, size = cut.feature.shape, extents(panel)
    if isinstance(shape, Channel):
        run = INDEX[shape.run]
        ends = (cut.bounds.low[run] > EXACT, cut.bounds.high[run] < size[run] - EXACT)
        return "" if ends == shape.stopped else "whose ends are not stopped where they are meant to be"
    through = isinstance(shape, CutOut) or (isinstance(shape, Hole) and shape.through)
    if through and _left_under(cut, panel) > EXACT and not _opens_into_own(cut, view):
        return "that is told to go through and does not"
    return ""


def _opens_into_own(cut: CutPieces, view: CaseView) -> bool:
    """Return whether a cut ends in a channel of its own joint, as a screw hole behind a housing does."""
    return any(
        gap_between(a, b) <= EXACT
        for other in view.cuts[cut.feature.panel]
        if other.feature.joint == cut.feature.joint and isinstance(other.feature.shape, Channel)
        for a in cut.pieces
        for b in other.pieces
    )


def skin_is_left(details: Details, views: Sequence[CaseView]) -> Finding:
    """Return whether every blind cut, a drill's point included, leaves the job's `skin` under it."""
    skin = details.job.limits.skin
    tally = Tally(
        claim=Claim.SKIN,
        subject="blind cuts",
        holds=f"leave at least {details.job.lengths.told(skin)} under them",
        fails="leave too little under them",
        one=f"blind cut leaves at least {details.job.lengths.told(skin)} under it",
        code="proof-skin",
        limit=skin,
        at_least=True,
    )
    for view, panel, cut in _every_cut(views):
        shape = cut.feature.shape
        if isinstance(shape, CutOut) or (isinstance(shape, Hole) and shape.through):
            continue
        left = _left_under(cut, panel)
        if not tally.see(left):
            tally.tell(
                view.cause(panel.id),
                f"{view.told(left)} of board under the {view.cut(cut.feature)}",
                f"{view.told(skin)} or more",
                "Make it shallower, or use a thicker board.",
            )
    return tally.finding()


def _left_under(cut: CutPieces, panel: Panel) -> float:
    """Return the board between a cut's deepest place and the panel's opposite surface."""
    surface = cut.feature.surface
    i = INDEX[surface.axis]
    return cut.bounds.low[i] if surface.is_far else extents(panel)[i] - cut.bounds.high[i]


def wall_is_left(details: Details, views: Sequence[CaseView]) -> Finding:
    """Return whether every cut in an edge or end leaves the job's `wall` beside it on all sides."""
    wall = details.job.limits.wall
    tally = Tally(
        claim=Claim.WALL,
        subject="cuts in edges and ends",
        holds=f"leave at least {details.job.lengths.told(wall)} beside them",
        fails="leave too little beside them",
        one=f"cut in an edge leaves at least {details.job.lengths.told(wall)} beside it",
        code="proof-wall",
        limit=wall,
        at_least=True,
    )
    for view, panel, cut in _every_cut(views):
        left = _wall_beside(cut, panel)
        if left is not None and not tally.see(left):
            tally.tell(
                view.cause(panel.id),
                f"{view.told(left)} of board beside the {view.cut(cut.feature)}",
                f"{view.told(wall)} or more",
                "Use a thinner connector or a thicker board.",
            )
    return tally.finding()


def _wall_beside(cut: CutPieces, panel: Panel) -> float | None:
    """Return the least board beside a cut in an edge; None for cuts in a face and for rebates, which are open."""
    shape, size = cut.feature.shape, extents(panel)
    if isinstance(shape, AngledPocket):
        return _beside_pilot(cut.feature, shape, size[2], size[INDEX[shape.run]])
    if cut.feature.surface.axis is PanelAxis.W or (isinstance(shape, Channel) and shape.kind == "rebate"):
        return None
    sides = [2] if isinstance(shape, Channel) else [i for i in (0, 1, 2) if i != INDEX[cut.feature.surface.axis]]
    return min(min(cut.bounds.low[i], size[i] - cut.bounds.high[i]) for i in sides)


def _beside_pilot(feature: Feature, shape: AngledPocket, thickness: float, length: float) -> float:
    """Return the board beside a pocket's pilot where it leaves the edge, on a slope."""
    slope = math.radians(shape.angle_deg)
    at = feature.at.along(shape.run)
    out = (length - at if shape.sign > 0 else at) * math.tan(slope)
    half = shape.pilot / 2 / math.cos(slope)
    return min(out - half, thickness - out - half)


def _every_cut(views: Sequence[CaseView]) -> Iterator[tuple[CaseView, Panel, CutPieces]]:
    for view in views:
        for panel, cut in view.every_cut():
            yield view, panel, cut
