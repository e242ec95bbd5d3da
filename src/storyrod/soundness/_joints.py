"""What each joint is asked to carry, against what its connectors hold where that is known.

The load across a connector (a shelf pressing down beside a side) is held against the method's own figure, where it has
one: no published formula here covers dowels or screws across sheet material. What pulls a connector out is worked out
by formula or taken from tests, and decides only where the load pulls that way (a drawer's bottom under its box).
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from storyrod.faults import Caution
from storyrod.measure.space import Axis
from storyrod.model.detail import DetailedCase, Details
from storyrod.model.feature import Hole
from storyrod.model.hung import Hanging
from storyrod.model.job import Board, BoardKind
from storyrod.model.joint import Joint, JointId
from storyrod.model.method import Method
from storyrod.model.panel import Role
from storyrod.model.soundness import Capacity, JointLoad, Rest, Sag
from storyrod.model.thresholds import GRAVITY
from storyrod.soundness._carry import Carrying
from storyrod.trade.fasteners import Fastened, Fastener, fastener_of
from storyrod.trade.strength import (
    DOWEL_IN_BOARD,
    DOWEL_IN_WOOD,
    DOWEL_TENSILE_N_MM2,
    END_GRAIN,
    OVEN_DRY,
    dowel_withdrawal_n,
    screw_withdrawal_n,
)

_IN_A_HOUSING: Final = "rests in its housing; what the housing carries is not known"
_UNKNOWN_ACROSS: Final = "not known: the method gives no figure and no published formula covers it; test one"

SCREW_IN_EDGE_N: Final[dict[BoardKind, tuple[float, str]]] = {
    BoardKind.CHIPBOARD: (900.0, "screw in the edge of US particleboard, general-reference article; screw not named"),
    BoardKind.FACED_CHIPBOARD: (
        900.0,
        "screw in the edge of US particleboard, general-reference article; screw not named",
    ),
    BoardKind.MDF: (850.0, "EN 320, edge of dense MDF of 15 mm and up, specification of an Asian fibreboard maker"),
}
_SCREW_SPREAD: Final = (0.7, 1.3)
"""Share of a stated hold that is reckoned with at the least and most; common practice, no source."""


def joint_loads(
    case: DetailedCase, details: Details, carrying: Carrying, sags: tuple[Sag, ...], hanging: Hanging | None = None
) -> tuple[JointLoad, ...]:
    """Return the load of every joint whose share is known: of planks that span, drawers' bottoms, a hanging rail."""
    joints = {j.id: j for j in case.joints}
    maker = _Loads(case, details)
    found = []
    for plank in carrying.planks:
        bent = carrying.bent.get(plank.panel.id)
        if bent is None:
            continue
        for held, force in zip(plank.held, bent.reactions_n, strict=True):
            if held.joint is not None and held.by in {Rest.JOINT, Rest.UPRIGHT}:
                found.append(maker.of(joints[held.joint], force, upright=held.by is Rest.UPRIGHT))
    found += maker.bottoms(sags)
    if hanging is not None:
        found += maker.rail_ends(hanging)
    return tuple(sorted(found, key=lambda load: int(load.number.lstrip("J") or 0)))


class _Loads:
    def __init__(self, case: DetailedCase, details: Details) -> None:
        self.case = case
        self.details = details
        self.panels = {p.id: p for p in case.panels}
        self.boards: dict[str, Board] = {b.code: b for b in details.job.boards}
        self.holes: dict[JointId, list[Hole]] = {}
        for feature in case.features:
            if isinstance(feature.shape, Hole):
                self.holes.setdefault(JointId(feature.joint), []).append(feature.shape)

    def of(self, joint: Joint, force_n: float, *, upright: bool) -> JointLoad:
        """Return the load of a joint in which a plank is held up by `force_n`; `upright`: it stands on the other."""
        method = self.details.method(joint.method)
        if upright:
            below = self.panels[joint.entering].box.centre.z < self.panels[joint.receiving].box.centre.z
            pressed = force_n >= 0 if below else force_n <= 0
            if pressed:
                return self._told(joint, "rests", abs(force_n), 0, None, "bears on the panel below")
            return self._pulled(joint, method, abs(force_n))
        if not joint.stations:
            words = _IN_A_HOUSING if joint.enters > 0 else _UNKNOWN_ACROSS
            how = "in its housing" if joint.enters > 0 else "across the joint"
            return self._told(joint, how, abs(force_n), 0, None, words)
        capacity = None
        if method.strength_n is not None:
            s = method.strength_n
            capacity = Capacity(low_n=s, usual_n=s, high_n=s, source=method.strength_source or "your own figure")
        words = "" if capacity else _UNKNOWN_ACROSS
        count = len(joint.stations)
        pull = self.pull_out(joint, method)
        return self._told(joint, "on connectors", abs(force_n), count, capacity, words, pull)

    def _pulled(self, joint: Joint, method: Method, force_n: float) -> JointLoad:
        pull = self.pull_out(joint, method)
        words = "" if pull else "not known: no formula for this connector in this board"
        return self._told(joint, "pulled apart", force_n, len(joint.stations), pull, words, pull)

    def bottoms(self, sags: tuple[Sag, ...]) -> Iterator[JointLoad]:
        """The screws of bottoms that hang under their drawers; a bottom in grooves rests."""
        weights = {s.panel: s for s in sags}
        for joint in self.case.joints:
            bottom = self.panels[joint.receiving]
            if bottom.role is not Role.DRAWER_BOTTOM or not joint.stations or bottom.id not in weights:
                continue
            sag = weights[bottom.id]
            whole = sum(len(j.stations) for j in self.case.joints if j.receiving == bottom.id)
            force = (sag.own_kg + sag.load_kg) * GRAVITY * len(joint.stations) / whole
            yield self._pulled(joint, self.details.method(joint.method), force)

    def rail_ends(self, hanging: Hanging) -> Iterator[JointLoad]:
        """The joints of a hanging rail to the sides: they are taken to carry the case without the joint to the top."""
        ends = [j for j in self.case.joints if j.entering == hanging.place.rail and j.home.axis is Axis.X]
        for joint in ends:
            yield self.of(joint, hanging.down_n / len(ends), upright=False)

    def pull_out(self, joint: Joint, method: Method) -> Capacity | None:
        """Return what holds one connector of a joint in its hole, or None where no formula or test covers it."""
        entering = self.boards[self.panels[joint.entering].board]
        thinner = min(self.panels[i].thickness for i in (joint.entering, joint.receiving))
        size = method.size_for(thinner)
        held = [fastener_of(c.item) for c in size.consumes] if size else []
        dowel = next((f for f in held if f is not None and f.kind is Fastened.DOWEL), None)
        if dowel is not None and method.glue:
            return self._dowel(joint, dowel, entering)
        screw = next((f for f in held if f is not None and f.kind is Fastened.SCREW), None)
        return None if screw is None else _screw(screw, entering, self.panels[joint.receiving].thickness)

    def _dowel(self, joint: Joint, dowel: Fastener, entering: Board) -> Capacity | None:
        depths = [h.depth for h in self.holes.get(joint.id, ())]
        if not depths:
            return None
        diameter = dowel.diameter
        glued = min(*depths, dowel.length - min(depths))
        wood = entering.kind is BoardKind.SOLID
        low, usual, high = (
            dowel_withdrawal_n(tau, diameter, glued, DOWEL_TENSILE_N_MM2)
            for tau in (DOWEL_IN_WOOD if wood else DOWEL_IN_BOARD)
        )
        source = f"tau pi D L, {diameter:g} x {glued:g} glued; tests of dowels in {'wood' if wood else 'boards'}"
        return Capacity(low_n=low, usual_n=usual, high_n=high, source=source)

    def _told(
        self,
        joint: Joint,
        how: str,
        force_n: float,
        connectors: int,
        capacity: Capacity | None,
        unknown: str,
        pull_out: Capacity | None = None,
    ) -> JointLoad:
        names = f"{self.panels[joint.entering].name} to {self.panels[joint.receiving].name}"
        return JointLoad(
            joint=joint.id,
            number=joint.number,
            about=names,
            how=how,
            force_n=force_n,
            connectors=connectors,
            each_n=force_n / connectors if connectors else 0.0,
            capacity=capacity,
            unknown=unknown,
            pull_out=pull_out,
        )


def _screw(screw: Fastener, board: Board, through: float) -> Capacity | None:
    """What one screw holds in the entering panel's edge; no figure without board and edge."""
    low, high = _SCREW_SPREAD
    if board.kind is BoardKind.SOLID:
        gravity = board.density_kg_m3 / 1000 * OVEN_DRY
        threaded = max(0.0, screw.length - through)
        usual = screw_withdrawal_n(gravity, screw.diameter, threaded) * END_GRAIN
        source = "108.25 G2 D L, Wood Handbook ch. 8, three quarters of it in end grain"
    elif board.kind in SCREW_IN_EDGE_N:
        usual, source = SCREW_IN_EDGE_N[board.kind]
    else:
        return None
    return Capacity(low_n=usual * low, usual_n=usual, high_n=usual * high, source=source)


def joint_cautions(case_name: str, loads: tuple[JointLoad, ...]) -> Iterator[Caution]:
    """Return a caution for each joint that is asked for more than the least that its connectors hold."""
    for load in loads:
        if load.used is not None and load.capacity is not None and load.used > 1:
            text = (
                f"Each of {load.connectors} connectors has to carry {load.each_n:,.0f} N and holds "
                f"{load.capacity.low_n:,.0f} to {load.capacity.high_n:,.0f} N ({load.capacity.source}). An estimate."
            )
            yield Caution(
                code="joint-over-capacity",
                about=f"{case_name}, {load.number} {load.about}",
                text=text,
                do="Load it less, use more connectors, or let the panel rest in a housing.",
                ids=(str(load.joint),),
            )
