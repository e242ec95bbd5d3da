"""Contacts, methods, sizes and stations: `join(carcass, workshop)`."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from storyrod.faults import Fault, raise_if_any
from storyrod.joinery._choose import Chooser, Chosen
from storyrod.joinery._contacts import Contact, find_contacts, place
from storyrod.joinery._detail import with_lone_corners
from storyrod.joinery._fit import Misfit, faults_of, reach_of, reason_against
from storyrod.joinery._fittings import fitted
from storyrod.joinery._lengthen import lengthen
from storyrod.joinery._opposite import Line, settle_opposites
from storyrod.joinery._slab import DIRECTIONS, Slab, box_of
from storyrod.joinery._stations import connectors_of, rules_kept, stations_of, two_at_a_corner
from storyrod.measure.space import Direction
from storyrod.model.carcass import BuiltCase, Carcass
from storyrod.model.detail import Joined, JoinedCase
from storyrod.model.job import Job, Spread
from storyrod.model.joint import Joint, JointId, JointKind
from storyrod.model.method import Method, Motion, SizeForBoard
from storyrod.model.panel import Panel
from storyrod.model.series import number_before
from storyrod.model.workshop import Workshop


def join(carcass: Carcass, workshop: Workshop, known: Mapping[int, JoinedCase] | None = None) -> Joined:
    """Return every joint of every case, with its method and stations, and the panels' final sizes.

    A panel that enters a housing or rebate is made longer by what that swallows. Stations are those of the method's
    rules; joints back to back are staggered by half a pitch where their cuts do not fit one behind the other.
    Other clashes are settled by `detail`, but a drawer's corner without room for two fastenings has one here already.
    Cases that are `known` already, by their number, are not joined again.

    Raises:
        JobError: every joint, of all cases, that its method cannot hold, with the methods that would.
    """
    methods = {m.code: m for m in workshop.methods}
    before = number_before("J", (p for built in carcass.cases for p in built.panels))
    cases: list[JoinedCase] = []
    faults: list[Fault] = []
    for n, built in enumerate(carcass.cases):
        if known and n in known and _is_numbered(known[n], before):
            cases.append(known[n])
            continue
        joiner = _CaseJoiner(carcass.job, built, workshop, methods, before)
        cases.append(joiner.joined())
        faults += joiner.faults
    raise_if_any(_each_once(faults))
    used = {joint.method for case in cases for joint in case.joints}
    made = Joined(job=carcass.job, methods=tuple(m for m in workshop.methods if m.code in used), cases=tuple(cases))
    settled = (c if known and known.get(n) is c else with_lone_corners(made, c) for n, c in enumerate(cases))
    return replace(made, cases=tuple(settled))


def _is_numbered(case: JoinedCase, before: int) -> bool:
    """Return whether a case's joints are numbered from the one after `before`."""
    return not case.joints or case.joints[0].number == f"J{before + 1}"


def _each_once(faults: Iterable[Fault]) -> tuple[Fault, ...]:
    return tuple(dict.fromkeys(faults))


@dataclass(slots=True)
class _Draft:
    """A joint being made."""

    contact: Contact
    chosen: Chosen
    size: SizeForBoard

    @property
    def method(self) -> Method:
        return self.chosen.method


class _CaseJoiner:
    """Joins one case, its joints numbered from the one after `before`; `faults` gathers what is wrong with it."""

    def __init__(self, job: Job, built: BuiltCase, workshop: Workshop, methods: dict[str, Method], before: int) -> None:
        self.before = before
        self.job = job
        self.built = built
        self.methods = methods
        self.chooser = Chooser(job, built, workshop, methods)
        self.faults: list[Fault] = []
        self.misfits: list[Misfit] = []

    def joined(self) -> JoinedCase:
        """Return the case with its joints, as far as they can be made."""
        slabs = [Slab(p) for p in self.built.panels]
        contacts = self._contacts(slabs)
        drafts = [d for c in contacts if (d := self._draft(c)) is not None]
        self.chooser.note_unused(contacts)
        self.faults.extend(self.chooser.faults)
        panels = self._sized(drafts)
        drafts = [d for d in drafts if self._fits(d)]
        self.faults.extend(faults_of(self.misfits, self.job.limits, self.methods.values()))
        joints = tuple(self._joints(drafts))
        grown = {p.id: Slab(p) for p in panels}
        fittings = tuple(fitted(self.built.fittings, self.built.panels, grown))
        return JoinedCase(built=self.built, panels=panels, joints=joints, fittings=fittings)

    def _contacts(self, slabs: list[Slab]) -> list[Contact]:
        bodies: dict[str, list[Slab]] = {}
        for slab in slabs:
            bodies.setdefault(slab.panel.body, []).append(slab)
        back = self.built.case.back.kind
        found = [c for body in bodies.values() if len(body) > 1 for c in find_contacts(body, back)]
        found.sort(key=lambda c: c.key)
        return found

    def _draft(self, contact: Contact) -> _Draft | None:
        chosen = self.chooser.choose(contact)
        if chosen is None:
            return None
        size = chosen.method.size_for(contact.thinner)
        if size is None:
            self._note(contact, chosen)
            return None
        return _Draft(contact, chosen, size)

    def _sized(self, drafts: list[_Draft]) -> tuple[Panel, ...]:
        """Make entering panels longer, and measure every joint again where a panel has grown."""
        grown = lengthen([(d.contact, d.size.enters) for d in drafts if d.size.enters > 0], self.job.unit)
        if not grown:
            return self.built.panels
        for draft in drafts:
            place(draft.contact)
        return tuple(grown.get(p.id, p) for p in self.built.panels)

    def _fits(self, draft: _Draft) -> bool:
        if reason_against(draft.contact, draft.method, draft.chosen.spread, self.job.limits) is None:
            return True
        self._note(draft.contact, draft.chosen)
        return False

    def _note(self, contact: Contact, chosen: Chosen) -> None:
        reason = reason_against(contact, chosen.method, chosen.spread, self.job.limits, self.job.lengths)
        if reason is not None:
            self.misfits.append(Misfit(reason, contact, chosen.field, chosen.spread))

    def _joints(self, drafts: list[_Draft]) -> list[Joint]:
        lines = [Line(d.contact, d.method, d.size, self._spread(d)) for d in drafts]
        self.faults.extend(settle_opposites(lines, [d.chosen for d in drafts], self.job, self.methods.values()))
        code = self.built.case.code
        first = self.before + 1
        ids = {id(line): JointId(f"{code}.J{n}") for n, line in enumerate(lines, start=first)}
        return [
            _joint(code, f"J{n}", line, None if line.opposite is None else ids[id(line.opposite)], shares=_shares(d))
            for n, (line, d) in enumerate(zip(lines, drafts, strict=True), start=first)
        ]

    def _spread(self, draft: _Draft) -> tuple[float, ...]:
        rules = draft.method.rules
        if rules is None:
            return ()
        reach = reach_of(draft.size)
        room = max(reach.back, reach.ahead) + self.job.limits.wall
        length = draft.contact.length
        stations = stations_of(length, rules, draft.chosen.spread, reach=room) or ()
        if draft.contact.kind is JointKind.DRAWER_BOX and len(stations) == 1:
            return two_at_a_corner(length, rules, room) or stations
        return stations


def _shares(draft: _Draft) -> bool:
    """Return whether a joint's stations may be moved for a jig's sake; screws are drilled through, without a jig."""
    return draft.chosen.spread is Spread.SHARED and not draft.method.held_by_screws


def _joint(case: str, number: str, line: Line, opposite: JointId | None, *, shares: bool) -> Joint:
    contact, method = line.contact, line.method
    receiving, entering = contact.receiving, contact.entering
    along = receiving.axes.index(contact.run)
    start = contact.start
    shift = receiving.signs[along] * (start - receiving.origin[contact.run])
    kept = method.rules and rules_kept(method.rules, line.stations, contact.length, contact.kind)
    slides = method.motion in {Motion.STRAIGHT_THEN_SLIDE, Motion.SLIDE}
    return Joint(
        id=JointId(f"{case}.{number}"),
        number=number,
        case=case,
        kind=contact.kind,
        at_corner=contact.at_corner,
        receiving=receiving.panel.id,
        entering=entering.panel.id,
        receiving_surface=receiving.surface_toward(contact.home, -contact.sign),
        entering_surface=entering.surface_toward(contact.home, contact.sign),
        contact=box_of(contact.low, contact.high),
        home=DIRECTIONS[contact.home][1 if contact.sign > 0 else 0],
        run=DIRECTIONS[contact.run][1 if contact.run_sign > 0 else 0],
        length=contact.length,
        start=start,
        shift=shift,
        method=method.code,
        motion=method.motion,
        travel=method.slide_travel,
        enters=line.size.enters or contact.let_in,
        stations=line.stations,
        back_to_back=opposite,
        lock=default_lock(contact.run) if slides else None,
        connectors=connectors_of(line.size, len(line.stations)),
        glue=method.glue,
        shares=shares and bool(line.stations) and kept is method.rules,
    )


def default_lock(run: int) -> Direction:
    """Return the way in which a sliding panel goes home unless chosen otherwise: to the back, down, or to the right."""
    return (Direction.RIGHT, Direction.BACKWARD, Direction.DOWN)[run]
