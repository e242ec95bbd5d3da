"""Replay a plan step by step, by code that the planner does not use: see `_check_ways`."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from storyrod.assembly._check_glue import wrong_glue
from storyrod.assembly._check_hands import hands_left
from storyrod.assembly._check_reach import is_driven, unheld, wrong_reach
from storyrod.assembly._check_ways import FREE_AIR, HAIR, Rooms, Way, meets, reversed_way, vector, wrong_motion
from storyrod.faults import Fault
from storyrod.measure.space import Direction
from storyrod.model.assembly import AssemblyPlan, CasePlan, Replay, Step, StepKind
from storyrod.model.detail import Details, Joined, JoinedCase
from storyrod.model.glue_time import Gluing
from storyrod.model.hand_room import Driver
from storyrod.model.joint import Joint, JointId
from storyrod.model.method import Method, Motion
from storyrod.model.panel import PanelId, Role


def check_plan(
    joined: Joined,
    plan: AssemblyPlan,
    *,
    details: Details | None = None,
    kept: Sequence[tuple[PanelId, ...]] = (),
) -> tuple[Replay, ...]:
    """Return, for each case that has steps, what replaying them showed.

    At each step the boxes that move are swept along their whole way: they meet nothing that stands, except in rooms cut
    for them; each joint closes by the motion of its method, and the driver that is named comes to all its screws;
    glue is clamped in time, or the plan says where it is not; the work lies as it was left, nothing tall without what
    holds its top; in the end no panel and no joint is left out. With `details`, that every slot locks the way in which
    the plan slides it, and that as many connectors are fitted as there are cuts for.
    """
    found = []
    cases = {c.built.case.code: c for c in joined.cases}
    methods = {m.code: m for m in joined.methods}
    for case_plan in plan.cases:
        if not case_plan.shut_out:
            replay = _Replayer(cases[case_plan.case], case_plan, methods, kept)
            replay.run(joined.job.gluing)
            if details is not None:
                replay.compare(details)
            found.append(replay.told())
    return tuple(found)


class _Replayer:
    """One case: the groups as they are at each moment, how they lie, and what was found."""

    def __init__(
        self,
        case: JoinedCase,
        plan: CasePlan,
        methods: Mapping[str, Method],
        kept: Sequence[tuple[PanelId, ...]],
    ) -> None:
        self.case = case
        self.plan = plan
        self.methods = methods
        self.rooms = Rooms(case)
        self.panels = {p.id: p for p in case.panels}
        self.groups: dict[PanelId, frozenset[PanelId]] = {p: frozenset({p}) for p in self.panels}
        self.lies: dict[frozenset[PanelId], Direction] = {}
        self.closed: dict[JointId, int] = {}
        self.standing: frozenset[PanelId] = frozenset()
        self.laid: set[str] = set()
        self.faults: list[Fault] = []
        self.sweeps = 0
        self.is_placed = False
        for group in kept:
            if set(group) <= set(self.panels):
                self._gather(frozenset(group))
                self._close(frozenset(group), 0)

    def run(self, gluing: Gluing) -> None:
        """Replay every step, then look for what was left out."""
        for step in self.plan.steps:
            if step.kind is StepKind.TURN:
                self._turn(step)
            elif step.kind is StepKind.JOIN:
                self._join(step)
            elif step.kind is StepKind.FIT:
                self._fix(step)
            elif step.kind is StepKind.FEET:
                self._as_a_whole(step, "that gets its feet")
            elif step.kind is StepKind.PLACE:
                self._as_a_whole(step, "that goes to its place")
                self.is_placed = True
            elif step.kind is StepKind.RAIL:
                self._lay_tube(step)
            else:
                self._fit(step)
        self._left_out()
        for found in hands_left(self.case, self.plan, self.methods):
            self._tell(0, found)
        for number, wrong in wrong_glue(self.plan, self.case.joints, self.methods, self.closed, gluing):
            self._tell(number, wrong)

    def told(self) -> Replay:
        """Return what was found."""
        return Replay(
            case=self.plan.case,
            steps=len(self.plan.steps),
            sweeps=self.sweeps,
            joints=len(self.closed),
            panels=len(self.panels),
            faults=tuple(self.faults),
        )

    def compare(self, details: Details) -> None:
        """Tell every joint that is cut to lock otherwise than the plan slides it, or for more or fewer connectors."""
        case = next(c for c in details.cases if c.built.case.code == self.plan.case)
        fitted = {(c.joint, c.item): c.count for s in self.plan.steps for c in s.fit_first}
        for joint in case.joints:
            for item, count in joint.connectors:
                if fitted.get((joint.id, item), count) != count:
                    self._tell(0, f"{fitted[joint.id, item]} x {item} are fitted for {joint.number}, cut for {count}")
            chosen = self.plan.choices.lock_of(joint.id)
            slides = joint.motion in {Motion.STRAIGHT_THEN_SLIDE, Motion.SLIDE}
            if slides and chosen is not joint.lock:
                way = joint.lock.word if joint.lock else "no way"
                self._tell(0, f"{joint.number} is cut to lock {way}, and slid {chosen.word if chosen else 'no way'}")

    def _tell(self, number: int, found: str) -> None:
        where = f"step {number}: " if number else ""
        self.faults.append(
            Fault(
                code="replay",
                field=self.case.built.case.field,
                found=f"{where}{found}",
                allowed="steps that can be made one after another",
                do="This is a mistake in storyrod, not in your job. Please report it with the job file.",
            )
        )

    def _gather(self, group: frozenset[PanelId]) -> None:
        for panel in group:
            self.groups[panel] = group

    def _turn(self, step: Step) -> None:
        group = frozenset(step.moving)
        if any(self.groups[p] != group for p in group):
            self._tell(step.number, "what is turned is not together, or not all of it")
        if self.lies.get(group) is not step.was_down:
            self._tell(step.number, "the work does not lie as the turn supposes")
        self.lies[group] = step.down
        self._stand(group, step.down)
        self._held_at_top(step, group)

    def _join(self, step: Step) -> None:
        moving, onto = frozenset(step.moving), frozenset(step.onto)
        for group in (moving, onto):
            if not group or any(self.groups[p] != group for p in group):
                self._tell(step.number, "a part that is joined is not together, or not all of it")
            if self.lies.get(group, step.down) is not step.down:
                self._tell(step.number, "a part does not lie as the step supposes")
        way = _way(step)
        self._sweep(step, moving, onto, way)
        both = moving | onto
        self._close(both, step.number)
        told = set(step.joints)
        due = {j.id for j in self._between(moving, onto)}
        if told != due:
            self._tell(step.number, f"the joints told do not match those that close ({len(told)} and {len(due)})")
        for joint in self._between(moving, onto):
            self._follow(step, joint, way if joint.entering in moving else reversed_way(way))
        self._drive(step, both, self._between(moving, onto))
        self._gather(both)
        self.lies[both] = step.down
        self._stand(both, step.down)
        self._held_at_top(step, both)

    def _drive(self, step: Step, group: frozenset[PanelId], joints: Sequence[Joint]) -> None:
        """Every screw of the step is driven, every cam turned, with the driver that the step names."""
        driven = []
        for joint in joints:
            method = self.methods[joint.method]
            thickness = min(self.panels[p].thickness for p in (joint.entering, joint.receiving))
            if not is_driven(method, thickness):
                continue
            driven.append(joint.id)
            driver = Driver.SHORT if joint.id in step.short_driver else Driver.DRILL
            wrong = wrong_reach(joint, method, self.panels, group, step.down, driver)
            if wrong:
                self._tell(step.number, wrong)
        if not set(step.short_driver) <= set(driven):
            self._tell(step.number, "a driver is named for a joint that takes no screws")

    def _held_at_top(self, step: Step, group: frozenset[PanelId]) -> None:
        told = {i for c in step.cautions if c.code == "stands-tall" for i in c.ids}
        for panel in unheld(self.panels, self.case.joints, group, self.closed, step.down):
            if panel.id not in told:
                self._tell(step.number, f"{panel.name} stands tall, and what holds its top is not on yet")

    def _between(self, one: frozenset[PanelId], other: frozenset[PanelId]) -> list[Joint]:
        return [
            j
            for j in self.case.joints
            if (j.entering in one and j.receiving in other) or (j.entering in other and j.receiving in one)
        ]

    def _follow(self, step: Step, joint: Joint, way: Way) -> None:
        method = self.methods[joint.method]
        thickness = min(self.panels[p].thickness for p in (joint.entering, joint.receiving))
        wrong = wrong_motion(joint, method, thickness, way, self.plan.choices.lock_of(joint.id))
        if wrong:
            self._tell(step.number, wrong)

    def _close(self, group: frozenset[PanelId], number: int) -> None:
        for joint in self.case.joints:
            if joint.entering in group and joint.receiving in group:
                self.closed.setdefault(joint.id, number)

    def _sweep(self, step: Step, moving: frozenset[PanelId], still: frozenset[PanelId], way: Way) -> None:
        for one in sorted(moving):
            for other in sorted(still):
                self.sweeps += 1
                mover, stands = self.panels[one].box, self.panels[other].box
                # A panel may run in a room cut into the other; seen from the other, the room may also come over it.
                past = meets(mover, stands, self.rooms.in_panel(other), way)
                if past and meets(stands, mover, self.rooms.in_panel(one), reversed_way(way)):
                    names = f"{self.panels[one].name} meets {self.panels[other].name}"
                    self._tell(step.number, f"{names} on its way")

    def _stand(self, group: frozenset[PanelId], down: Direction) -> None:
        carcass = {p for p in self.panels if self.panels[p].body == "carcass"}
        if carcass <= group and down is Direction.DOWN:
            self.standing |= group

    def _fit(self, step: Step) -> None:
        """A part goes into the case, which must stand upright with its carcass complete."""
        moving = frozenset(step.moving)
        carcass = frozenset(p for p in self.panels if self.panels[p].body == "carcass")
        if len(carcass) > 1 and self.lies.get(carcass) is not Direction.DOWN:
            self._tell(step.number, "the case does not stand upright yet")
        if any(self.groups[p] != moving for p in moving) or self.lies.get(moving, Direction.DOWN) is not Direction.DOWN:
            self._tell(step.number, "what goes in is not together, or lies another way")
        if moving & self.standing:
            self._tell(step.number, "what goes in is in already")
        doors = {d.panel for d in self.case.built.doors}
        if not set(step.open_first) <= doors:
            self._tell(step.number, "what is to stand open is no door")
        self._sweep(step, moving, self.standing - set(step.open_first), _way(step))
        self.standing |= moving

    def _lay_tube(self, step: Step) -> None:
        """A tube goes into its sockets: into a case that stands, past nothing, down by all that the sockets ask."""
        rail = next((r for r in self.case.built.rails if r.id == step.body), None)
        if rail is None:
            self._tell(step.number, "what is laid in is no clothes rail of the case")
            return
        if not set(rail.uprights) <= self.standing or set(step.onto) != set(rail.uprights):
            self._tell(step.number, f"the uprights of {rail.name} do not stand yet, or others are named")
        if rail.id in self.laid:
            self._tell(step.number, f"{rail.name} is in already")
        self.laid.add(rail.id)
        way = _way(step)
        if abs(way[-1].z + rail.lift) > HAIR:
            self._tell(step.number, f"the tube of {rail.name} is not let down by as much as its sockets ask")
        for other in sorted(self.standing - set(step.open_first)):
            self.sweeps += 1
            if meets(rail.box, self.panels[other].box, self.rooms.in_panel(other), way):
                self._tell(step.number, f"the tube of {rail.name} meets {self.panels[other].name} on its way")

    def _as_a_whole(self, step: Step, which: str) -> None:
        """Feet go under a carcass, and it goes to its place, when it is whole, with nothing in it or on it yet."""
        carcass = frozenset(p for p in self.panels if self.panels[p].body == "carcass")
        if len(carcass) > 1 and self.lies.get(carcass) is not Direction.DOWN:
            self._tell(step.number, f"the case {which} is not whole yet")
        if self.standing - carcass:
            self._tell(step.number, f"the case {which} is not empty")

    def _fix(self, step: Step) -> None:
        """Fittings go on what can still be laid flat: a carcass panel not yet joined, a drawer or door not yet in."""
        own = frozenset(step.onto)
        if not own:
            self._tell(step.number, "nothing is named to fix the fittings to")
        for panel in own:
            name, body = self.panels[panel].name, self.panels[panel].body
            whole = frozenset(p for p in self.panels if self.panels[p].body == body)
            if panel in self.standing:
                self._tell(step.number, f"{name} is in the case already, its fittings cannot be reached")
            elif body == "carcass" and self.groups[panel] != frozenset({panel}):
                self._tell(step.number, f"{name} no longer lies flat by itself")
            elif body != "carcass" and self.groups[panel] != whole:
                self._tell(step.number, f"{name} is not together with the rest of its drawer")

    def _left_out(self) -> None:
        carcass = frozenset(p for p in self.panels if self.panels[p].body == "carcass")
        together = len({self.groups[p] for p in carcass}) <= 1
        if not together:
            self._tell(0, "the carcass is not together in the end")
        elif len(carcass) > 1 and self.lies.get(carcass) is not Direction.DOWN:
            self._tell(0, "the carcass does not stand upright in the end")
        without = [r.name for r in self.case.built.rails if r.id not in self.laid]
        if without:
            self._tell(0, f"left out: the tube of {', '.join(without)}")
        about = self.case.built.case
        if about.hung is None and (about.skirting or about.scribe or about.fillers) and not self.is_placed:
            self._tell(0, "the case never goes to its place, over its skirting board or to the wall")
        on_wall = {p for p in self.panels if self.panels[p].role is Role.WALL_CLEAT}
        missing = set(self.panels) - self.standing - carcass - on_wall
        if missing:
            self._tell(0, f"left out: {', '.join(sorted(self.panels[p].name for p in missing))}")
        unclosed = [j.number for j in self.case.joints if j.id not in self.closed]
        if unclosed:
            self._tell(0, f"joints that never close: {', '.join(unclosed)}")


def _way(step: Step) -> Way:
    """Return the movement of a step, its first leg lengthened to begin in free air."""
    first, *rest = step.legs
    return (vector(first.way, FREE_AIR), *(vector(leg.way, leg.distance) for leg in rest))
