"""Every cut on both panels, clashes settled, connectors counted: `detail(joined, choices)`."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from typing import Final

from storyrod.faults import Caution, Fault, raise_if_any
from storyrod.joinery._bores import Bore, JointCuts, joint_line, surface_number
from storyrod.joinery._clash import Panels
from storyrod.joinery._codes import GLUED_BUTT
from storyrod.joinery._fittings import to_the_tips
from storyrod.joinery._rooms import rooms_of
from storyrod.joinery._settle import Settler
from storyrod.joinery._slab import Slab
from storyrod.joinery._stations import connectors_of, rules_kept
from storyrod.measure.space import Direction, PanelPoint
from storyrod.model.detail import Choices, ConnectorCount, DetailedCase, Details, Joined, JoinedCase
from storyrod.model.feature import Channel, Feature, FeatureId
from storyrod.model.joint import Joint, JointId, JointKind
from storyrod.model.panel import PanelId, Role
from storyrod.model.sharing import Sharing, StationRoom


def detail(
    joined: Joined,
    choices: Choices,
    sharing: Sharing | None = None,
    known: Mapping[int, DetailedCase] | None = None,
) -> Details:
    """Return every cut on every panel, each half with its mate, and the connectors of each case.

    Clashes are settled by moving the fewest stations the least way within the rules of their methods; what was
    moved is told. Keyholes lock the way that `choices` says, or toward the back, or down. Stations that `sharing` moves
    stand where it says; it was worked out from `station_rooms`, so that no new clash comes of it. Cases that are
    `known` already, by their number, are not detailed again.

    Raises:
        JobError: every two cuts that no moving sets apart: which, in which panel, where, and what would free them.
    """
    cases: list[DetailedCase] = []
    faults: list[Fault] = []
    moved = sharing.by_joint() if sharing else {}
    locks = {slide.joint: slide.lock for slide in choices.slides}
    for n, case in enumerate(joined.cases):
        if known and n in known:
            cases.append(known[n])
            continue
        work = _CaseDetailer(joined, case, locks)
        cases.append(work.detailed(moved))
        faults.extend(work.faults)
    raise_if_any(dict.fromkeys(faults))
    return Details(job=joined.job, methods=joined.methods, cases=tuple(cases))


def station_rooms(joined: Joined, choices: Choices) -> tuple[StationRoom, ...]:
    """Return every joint's stations, clashes settled, and how far each could be moved without making a new clash.

    Nothing is told of clashes that cannot be settled: `detail` raises them.
    """
    locks = {slide.joint: slide.lock for slide in choices.slides}
    return tuple(room for case in joined.cases for room in _CaseDetailer(joined, case, locks).rooms())


LOW_CORNER: Final = 250.0
"""Two fastenings find room beside the bottom's groove in every corner of a drawer that is higher than this (mm): common
practice, no source. A higher corner that keeps one all the same is noticed when the order of assembly is replayed."""


def with_lone_corners(joined: Joined, case: JoinedCase) -> JoinedCase:
    """Return a case with one fastening at the drawers' corners that have no room for two.

    The order of assembly and what is bought count by it, before any cut is made. A drawer's box is a body of its own:
    its corners are settled without the rest of the case.
    """
    body = {p.id: p.body for p in case.panels}
    work = _CaseDetailer(joined, case, {})
    low = {body[j.entering] for j in case.joints if work.has_two(j) and j.length <= LOW_CORNER}
    if not low:
        return case
    joints = tuple(j for j in case.joints if body[j.entering] in low)
    panels = tuple(p for p in case.panels if p.body in low)
    own = {p.id for p in panels}
    drawers = replace(case, panels=panels, joints=joints, fittings=tuple(f for f in case.fittings if f.panel in own))
    settled = _CaseDetailer(joined, drawers, {}).settled_cuts()
    alone = {c.joint.id: c.joint for c in settled if len(c.joint.stations) == 1}
    changed = {j.id: alone[j.id] for j in joints if j.id in alone and len(j.stations) == 2}
    return replace(case, joints=tuple(changed.get(j.id, j) for j in case.joints)) if changed else case


class _CaseDetailer:
    """Details one case; `faults` gathers the clashes that cannot be settled."""

    def __init__(self, joined: Joined, case: JoinedCase, locks: dict[JointId, Direction]) -> None:
        self.joined = joined
        self.case = case
        self.locks = locks
        self.faults: list[Fault] = []

    def detailed(self, moved: Mapping[JointId, tuple[float, ...]]) -> DetailedCase:
        """Return the case with all its features, the stations of the joints in `moved` where that says."""
        built = self.case.built
        slabs, panels, settler = self._settled()
        cuts = list(panels.joints)
        for joint in cuts:
            joint.stations = moved.get(joint.joint.id, joint.stations)
        self.faults.extend(settler.faults)
        return DetailedCase(
            built=built,
            panels=self.case.panels,
            joints=tuple(_with_moves(c) for c in cuts),
            features=_features(self.case.fittings, cuts, slabs),
            connectors=_counted(cuts),
            settled=settler.settled(),
            cautions=tuple(_cautions(cuts, self.joined.job.lengths.told)),
        )

    def rooms(self) -> tuple[StationRoom, ...]:
        """Return how far each station could be moved."""
        return tuple(rooms_of(self._settled()[1]))

    def _settled(self) -> tuple[dict[PanelId, Slab], Panels, Settler]:
        """Return the panels with all cuts where they do not clash, as far as they can be moved apart.

        At a corner of a drawer where two fastenings find no room by the rules of their method, they may stand as near
        as at a low one; where they find none so, the corner keeps one. Only a corner that needs it is so eased, with
        the one at the other end of its panel.
        """
        joints = [self._locked(j) for j in self.case.joints]
        near: frozenset[JointId] = frozenset()
        settled = self._settle(joints, near)
        while settled[2].stuck:
            panels = {j.entering for j in joints if j.id in settled[2].stuck and j.kind is JointKind.DRAWER_BOX}
            corners = [j for j in joints if j.entering in panels and self._is_corner(j)]
            eased = near.union(j.id for j in corners if len(j.stations) == 2 and not self._is_near(j))
            if eased == near:
                alone = {j.id: self._alone(j) for j in corners if len(j.stations) == 2}
                if not alone:
                    return settled
                joints = [alone.get(j.id, j) for j in joints]
            near = eased
            settled = self._settle(joints, near)
        return settled

    def has_two(self, joint: Joint) -> bool:
        """Return whether a joint is a drawer's corner that two fastenings hold."""
        return self._is_corner(joint) and len(joint.stations) == 2

    def settled_cuts(self) -> list[JointCuts]:
        """Return the joints as they come out of the settling, with as many fastenings as have room."""
        return list(self._settled()[1].joints)

    def _is_corner(self, joint: Joint) -> bool:
        return joint.kind is JointKind.DRAWER_BOX and self.joined.method(joint.method).rules is not None

    def _is_near(self, joint: Joint) -> bool:
        """Return whether two fastenings stand nearer than their method has them, as they do at a low corner."""
        rules = self.joined.method(joint.method).rules
        return rules is not None and rules_kept(rules, joint.stations, joint.length, joint.kind) is not rules

    def _alone(self, joint: Joint) -> Joint:
        """Return a corner of a drawer with one fastening in the middle."""
        boards = {p.id: p.thickness for p in self.case.panels}
        size = self.joined.method(joint.method).size_for(min(boards[joint.receiving], boards[joint.entering]))
        assert size is not None  # noqa: S101  # the joint was made with it
        return replace(joint, stations=(joint.length / 2,), connectors=connectors_of(size, 1))

    def _settle(self, joints: list[Joint], near: frozenset[JointId]) -> tuple[dict[PanelId, Slab], Panels, Settler]:
        built, job = self.case.built, self.joined.job
        slabs = {p.id: Slab(p) for p in self.case.panels}
        cuts = [joint_line(self.joined, j, slabs, built.case.back.kind) for j in joints]
        for one in cuts:
            one.near = one.joint.id in near
        fittings = to_the_tips(self.case.fittings, built.fixings)
        panels = Panels(slabs, cuts, fittings, job.limits)
        settler = Settler(panels, job.mark_step, built.case, job.lengths)
        settler.settle()
        return slabs, panels, settler

    def _locked(self, joint: Joint) -> Joint:
        """Return the joint as the order of assembly wants it: which way it slides, or where its housing stops."""
        chosen = self.locks.get(joint.id)
        if chosen is None or chosen is joint.lock:
            return joint
        if chosen.axis is not joint.run.axis:
            raise ValueError(f"joint {joint.id} cannot slide {chosen.word}, across its own line")
        return replace(joint, lock=chosen)


def _features(fittings: tuple[Feature, ...], cuts: list[JointCuts], slabs: dict[PanelId, Slab]) -> tuple[Feature, ...]:
    """Return all features by panel, surface and place."""
    order = {panel: n for n, panel in enumerate(slabs)}
    made = list(fittings)
    for joint in cuts:
        made.extend(joint.whole)
        for bore in joint.bores:
            made.extend(_made(joint, bore))
    made.sort(key=lambda f: (order[f.panel], surface_number(f.surface), f.at.u, f.at.v, f.id))
    return tuple(made)


def _made(cuts: JointCuts, bore: Bore) -> Iterator[Feature]:
    """Yield one cut of a joint at all its stations."""
    joint = cuts.joint
    panel, surface, shape, why, item = bore.slab.panel.id, bore.surface, bore.shape, bore.why, bore.item
    name, number, tail = joint.id, joint.number, bore.tail
    for n, station in enumerate(cuts.stations, start=1):
        mate = None if bore.mate is None else FeatureId(f"{bore.mate}:{number}.{n}{bore.mate_tail}")
        yield Feature(
            id=FeatureId(f"{panel}:{number}.{n}{tail}"),
            panel=panel,
            surface=surface,
            at=PanelPoint(*bore.at(station)),
            shape=shape,
            joint=name,
            station=n,
            mate=mate,
            why=why,
            item=item,
        )


def _with_moves(cuts: JointCuts) -> Joint:
    joint = cuts.joint
    if cuts.stations == joint.stations:
        return joint
    moved = tuple(n for n, (a, b) in enumerate(zip(joint.stations, cuts.stations, strict=True), start=1) if a != b)
    return replace(joint, stations=cuts.stations, moved_stations=moved)


def _counted(cuts: list[JointCuts]) -> tuple[ConnectorCount, ...]:
    """Return how many of each item the case uses up, by method, in the order in which joints ask for them."""
    counts: dict[tuple[str, str], int] = {}
    for joint in cuts:
        for item, count in joint.joint.connectors:
            key = (joint.method.code, item)
            counts[key] = counts.get(key, 0) + count
    return tuple(ConnectorCount(method=m, item=i, count=n) for (m, i), n in sorted(counts.items()))


def _cautions(cuts: list[JointCuts], told: Callable[[float], str]) -> Iterator[Caution]:
    yield from _stopped(cuts)
    yield from _thin_webs(cuts, told)
    yield from _glued_backs(cuts, told)
    yield from _lone_corners(cuts)


def _lone_corners(cuts: list[JointCuts]) -> Iterator[Caution]:
    """A drawer's corner that one fastening alone holds."""
    alone = [c for c in cuts if c.joint.kind is JointKind.DRAWER_BOX and len(c.joint.stations) == 1]
    if alone:
        panels = ", ".join(dict.fromkeys(c.entering.panel.name for c in alone))
        yield Caution(
            code="one-fastening",
            about=f"case {alone[0].joint.case}",
            text=f"Some drawer corners have only one fastening ({panels}), which lets them twist.",
            do="Make the drawer higher, glue its corners, or choose a method for its box that holds all along the "
            "corner.",
            ids=tuple(c.joint.id for c in alone),
        )


def _stopped(cuts: list[JointCuts]) -> Iterator[Caution]:
    ends = [
        c.joint
        for c in cuts
        for f in c.whole
        if isinstance(f.shape, Channel) and any(f.shape.stopped) and f.shape.kind == "housing"
    ]
    if ends:
        numbers = ", ".join(j.number for j in ends)
        yield Caution(
            code="stopped-housing",
            about=f"case {ends[0].case}",
            text=f"Housings stop short ({numbers}), and a router leaves their ends round.",
            do="Square the ends with a chisel, or take a little more off the entering corner.",
            ids=tuple(j.id for j in ends),
        )


def _thin_webs(cuts: list[JointCuts], told: Callable[[float], str]) -> Iterator[Caution]:
    """Housings on both faces of one panel should not take more than half the board together (common practice)."""
    by_id: dict[JointId, JointCuts] = {c.joint.id: c for c in cuts}
    for one in cuts:
        joint = one.joint
        other = by_id.get(joint.back_to_back) if joint.back_to_back else None
        if other is None or joint.id > other.joint.id or not one.whole or not other.whole:
            continue
        board, taken = one.receiving.thickness, one.size.enters + other.size.enters
        if taken > board / 2:
            yield Caution(
                code="thin-web",
                about=one.receiving.panel.name,
                text=f"Two housings back to back leave {told(board - taken)} of a board of {told(board)}.",
                do="A method of your own with a shallower housing on both faces is stronger.",
                ids=(joint.id, other.joint.id),
            )


def _glued_backs(cuts: list[JointCuts], told: Callable[[float], str]) -> Iterator[Caution]:
    """A back between the panels that nothing but glue on its edges holds."""
    glued = [c for c in cuts if c.method.code == GLUED_BUTT and c.entering.panel.role is Role.BACK]
    if glued:
        yield Caution(
            code="glued-back",
            about=f"case {glued[0].joint.case}",
            text=f"Only glue on its edges holds the {told(glued[0].entering.thickness)} back.",
            do="Glue battens behind it, choose an applied, rebated or grooved back, or a thicker board that takes "
            "connectors.",
            ids=tuple(c.joint.id for c in glued),
        )
