"""No screw comes out on the other side, or, of a fitting, meets one that is driven from there.

Worked out from the size that is bought: its length is read off the name of the screw, not taken from the plan.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence

from storyrod.model.detail import Details
from storyrod.model.feature import AngledPocket, Feature, FeatureId, Hole
from storyrod.model.fixing import Fixing, FixingKind
from storyrod.model.joint import Joint
from storyrod.model.panel import PanelId, Surface
from storyrod.model.proof import Claim, Finding
from storyrod.proof._tally import CaseView, Tally
from storyrod.trade.fasteners import Fastened, fastener_of


def screws_do_not_pierce(details: Details, views: Sequence[CaseView]) -> Finding:
    """Return whether every screw, of a fitting or a joint, leaves the job's `skin` under its tip."""
    skin = details.job.limits.skin
    tally = Tally(
        claim=Claim.SCREWS,
        subject="screws",
        holds=f"leave at least {details.job.lengths.told(skin)} under their tips",
        fails="leave too little under their tips",
        one=f"screw leaves at least {details.job.lengths.told(skin)} under its tip",
        code="proof-screws",
        limit=skin,
        at_least=True,
    )
    for view in views:
        for fixing, left in _left(view):
            if not tally.see(left) and fixing.screws is not None:
                tally.tell(
                    view.cause(fixing.panel),
                    f"{view.told(max(0.0, left))} of board under the tips of {fixing.screws.item} "
                    f"in {view.panel(fixing.panel)}",
                    f"{view.told(skin)} or more",
                    "Use shorter screws, or a thicker board.",
                )
        for joint, item, left in _of_joints(view):
            if not tally.see(left):
                tally.tell(
                    view.cause(joint.receiving),
                    f"{view.told(max(0.0, left))} of board under the tips of {item} in {joint.number} of case "
                    f"{view.code}",
                    f"{view.told(skin)} or more",
                    "Use shorter screws by a method of your own, or a thicker board.",
                )
    return tally.finding()


def _of_joints(view: CaseView) -> Iterator[tuple[Joint, str, float]]:
    """Yield the screws of joints: what is left beyond their tips, in the board's edge or behind its face."""
    for cut in view.case.features:
        joint = view.joints.get(str(cut.joint))
        named = [(i, fastener_of(i)) for i, _ in joint.connectors] if joint is not None else []
        item, screw = next(((i, f) for i, f in named if f is not None and f.kind is Fastened.SCREW), ("", None))
        if joint is None or screw is None:
            continue
        length = screw.length
        entering, receiving = view.panels[joint.entering], view.panels[joint.receiving]
        if isinstance(cut.shape, AngledPocket):
            slope = math.cos(math.radians(cut.shape.angle_deg))
            extent = entering.extent(cut.shape.run)
            to_edge = extent - cut.at.along(cut.shape.run) if cut.shape.sign > 0 else cut.at.along(cut.shape.run)
            beyond = length - (to_edge / slope - cut.shape.length)
            yield joint, item, receiving.thickness - max(0.0, beyond) * slope
        elif isinstance(cut.shape, Hole) and cut.shape.through and cut.panel == joint.receiving:
            deep = entering.box.size(receiving.frame.into.axis)
            yield joint, item, deep - (length - receiving.thickness)


def _left(view: CaseView) -> Iterator[tuple[Fixing, float]]:
    """Yield, screw by screw, the board left under its tip: to the far face, or to the tip that comes from there."""
    near: dict[tuple[PanelId, Surface], list[tuple[Feature, float]]] = defaultdict(list)
    driven = [f for f in view.case.built.fixings if f.screws is not None]
    for fixing in driven:
        for feature in _places(view, fixing):
            near[feature.panel, feature.surface].append((feature, _bite(view, fixing)))
    for fixing in driven:
        thickness, bite = _board(view, fixing), _bite(view, fixing)
        left = [thickness - bite] * (fixing.screws.count if fixing.screws is not None else 0)
        for n, feature in enumerate(_places(view, fixing)):
            across = Surface.FACE if feature.surface is Surface.FAR_FACE else Surface.FAR_FACE
            met = [b for other, b in near[feature.panel, across] if _is_over(feature, other)]
            left[n] = thickness - bite - max(met, default=0.0)
        yield from ((fixing, one) for one in left)


def _board(view: CaseView, fixing: Fixing) -> float:
    """Return how much board the tip goes into: a panel's thickness, or the width of a filler once it is scribed."""
    panel = view.panels[fixing.panel]
    if fixing.kind is not FixingKind.FILLER:
        return panel.thickness
    return panel.width - (panel.scribed.allowance if panel.scribed is not None else 0.0)


def _places(view: CaseView, fixing: Fixing) -> list[Feature]:
    """Return the holes that lie in the panel itself; a drawer front is screwed through those of its box front."""
    return [view.features[f] for f in fixing.features if view.features[f].panel == fixing.panel]


def _bite(view: CaseView, fixing: Fixing) -> float:
    """Return how deep the tip goes, from the size as it is bought and what lies under the head."""
    assert fixing.screws is not None  # noqa: S101  # asked only of what is screwed
    length = float(fixing.screws.item.rsplit(" x ", 1)[1])
    through = [view.panels[view.features[f].panel].thickness for f in fixing.features if _is_through(view, f)]
    return length - max(through, default=fixing.screws.seat)


def _is_through(view: CaseView, feature: FeatureId) -> bool:
    shape = view.features[feature].shape
    return isinstance(shape, Hole) and shape.through


def _is_over(one: Feature, other: Feature) -> bool:
    """Return whether two screws from opposite faces lie on one spot."""
    a, b = one.shape, other.shape
    if not (isinstance(a, Hole) and isinstance(b, Hole)):
        return False
    reach = (a.diameter + b.diameter) / 2
    return (one.at.u - other.at.u) ** 2 + (one.at.v - other.at.v) ** 2 < reach * reach
