"""What is done by hand in the steps: fittings fixed, screws driven, cams turned, doors set, each when it can be done.

Runners, hinge plates and sockets of clothes rails go on while a panel lies flat, before the carcass closes over it; a
drawer's halves of its runners once its box is together; hinges into a door before it is hung. Screws of joints are
driven, and cams turned, in the step that closes the joint.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from typing import Final

from storyrod.assembly._aims import aim
from storyrod.assembly._free_edges import free_edges
from storyrod.assembly._lifts import Lift
from storyrod.assembly._words import called, listed, sentence
from storyrod.measure.space import Direction
from storyrod.measure.writing import LengthWriter
from storyrod.model.assembly import ByHand, HandAct, Step, StepKind, Used
from storyrod.model.detail import JoinedCase
from storyrod.model.fixing import Fixing, FixingKind, Screws
from storyrod.model.joint import Joint, JointId
from storyrod.model.method import CutKind, Method, SizeForBoard
from storyrod.model.panel import Panel, PanelId, Role, Surface

ON_PANELS: Final = {
    FixingKind.RUNNER_CASE: HandAct.RUNNER_CASE,
    FixingKind.HINGE_PLATE: HandAct.PLATES,
    FixingKind.RAIL_SOCKET: HandAct.SOCKET,
}
"""What goes on a panel of the carcass while it lies flat."""

ON_DRAWERS: Final = {FixingKind.RUNNER_DRAWER: HandAct.RUNNER_DRAWER, FixingKind.RUNNER_CATCH: HandAct.RUNNER_CATCH}
"""What goes on a drawer once its box is together."""

_NAMES: Final = {
    HandAct.RUNNER_CASE: "runner",
    HandAct.RUNNER_DRAWER: "runner",
    HandAct.RUNNER_CATCH: "catches",
    HandAct.PLATES: "hinge plates",
    HandAct.SOCKET: "socket",
    HandAct.HINGES: "hinges",
    HandAct.FRONT: "screws",
    HandAct.WORKTOP: "screws",
    HandAct.FEET: "feet",
    HandAct.CLIPS: "clips",
    HandAct.FILLER: "screws",
}

_ITS_OWN: Final = frozenset({HandAct.FRONT, HandAct.FEET, HandAct.CLIPS})
"""What is fixed to the panel that it is named by."""

TURN: Final = "a quarter to half a turn"
"""How far a cam turns until it grips; common practice, no source. Your fitting's sheet comes first."""


TOO_FAR: Final = "A cam that turns further has missed its bolt: turn it back and press the joint home."


@dataclass(frozen=True, slots=True, kw_only=True)
class Hands:
    """Tells what is done by hand in one case.

    Attributes:
        lengths: how a length is written.
        methods: by code.
        mass_kg: of each panel.
        one_person_kg: what one person lifts here of a part that is held close.
    """

    case: JoinedCase
    lengths: LengthWriter
    methods: Mapping[str, Method]
    mass_kg: Mapping[PanelId, float]
    one_person_kg: float

    def before_carcass(self) -> Iterator[Step]:
        """Yield a step for each face of a carcass panel that gets runners, plates or sockets while it lies flat."""
        for panel in self.case.panels:
            mine = [f for f in self._fixings(ON_PANELS) if f.panel == panel.id]
            for surface, fixings in groupby(sorted(mine, key=self._is_far), key=self._surface):
                held = tuple(fixings)
                todo = tuple(self._on_panel(f) for f in held)
                text = f"lay {called(panel.name)} flat, {surface.value} up, and fit {_what(held)}"
                down = panel.frame.into if surface is Surface.FACE else panel.frame.into.reverse
                yield self._laid(_fit("carcass", (panel,), sentence(text), todo, down), panel)

    def before_drawer(self, drawer: str) -> Iterator[Step]:
        """Yield the step that puts the runners' halves on a drawer's box."""
        fixings = [f for f in self._fixings(ON_DRAWERS) if f.about == drawer]
        if fixings:
            name = next(d.name for d in self.case.built.drawers if d.id == drawer)
            panels = tuple(self._panel(f.panel) for f in fixings)
            todo = tuple(self._on_drawer(f) for f in fixings)
            what = "catches" if fixings[0].kind is FixingKind.RUNNER_CATCH else "halves of its runners"
            yield _fit(drawer, panels, f"Fit the {what} to the box of {name}, before its front is on.", todo)

    def before_door(self, door: PanelId) -> Iterator[Step]:
        """Yield the step that presses the hinges into a door."""
        for fixing in self._fixings({FixingKind.HINGE_CUP: HandAct.HINGES}):
            if fixing.about == door:
                panel = self._panel(fixing.panel)
                text = f"lay {called(panel.name)} on a blanket, {Surface.FAR_FACE.value} up, and fit its hinges"
                down = panel.frame.into.reverse
                yield self._laid(_fit(str(door), (panel,), sentence(text), (self._hinges(fixing),), down), panel)

    def done(self, step: Step) -> Step:
        """Return a step with what is done by hand in it."""
        todo: tuple[ByHand, ...] = ()
        match step.kind:
            case StepKind.JOIN:
                todo = tuple(self._closed(step.joints))
            case StepKind.FRONT:
                todo = tuple(self._front(f) for f in self._fixings({FixingKind.FRONT: 0}) if f.panel in step.moving)
                words = (self._handle(step.moving[0]), step.text, f"Aim for {self._aim(step.moving[0])}.")
                step = replace(step, text=" ".join(filter(None, words)))
            case StepKind.DOOR:
                todo = (self._set(step.moving[0]),)
                step = replace(step, text=" ".join(filter(None, (self._handle(step.moving[0]), step.text))))
            case StepKind.FEET:
                todo = tuple(self._feet(f) for f in self._fixings({FixingKind.FOOT: 0}))
            case StepKind.PLINTH:
                todo = tuple(self._clips(f) for f in self._fixings({FixingKind.CLIP: 0}))
            case StepKind.WORKTOP:
                todo = tuple(self._worktop(f) for f in self._fixings({FixingKind.WORKTOP: 0}))
            case StepKind.FILLER:
                own = (f for f in self._fixings({FixingKind.FILLER: 0}) if f.panel in step.moving)
                todo = tuple(self._filler(f) for f in own)
            case StepKind.SHELF:
                todo = tuple(self._pins(step.moving[0]))
            case StepKind.RAIL:
                todo = (self._tube(step.body),)
            case _:
                return step
        turns = any(one.act is HandAct.TURN for one in todo)
        return replace(step, by_hand=todo, hold=(*step.hold, TOO_FAR) if turns else step.hold)

    def _laid(self, step: Step, panel: Panel) -> Step:
        """Return a step that begins with laying a panel down, with as many people as that takes."""
        lift = Lift(
            panels=(panel,), mass_kg=self.mass_kg[panel.id], one_person_kg=self.one_person_kg, lengths=self.lengths
        )
        return replace(step, persons=lift.persons, cautions=lift.cautions())

    def _panel(self, own: str) -> Panel:
        return next(p for p in self.case.panels if p.id == own)

    def _fixings(self, kinds: Mapping[FixingKind, object]) -> list[Fixing]:
        return [f for f in self.case.built.fixings if f.kind in kinds]

    def _surface(self, fixing: Fixing) -> Surface:
        return next(f.surface for f in self.case.built.fittings if f.id == fixing.features[0])

    def _is_far(self, fixing: Fixing) -> bool:
        return self._surface(fixing) is Surface.FAR_FACE

    def _served(self, fixing: Fixing) -> str:
        """Return the name of the drawer, clothes rail or door that a fitting serves."""
        built = self.case.built
        names = {d.id: d.name for d in built.drawers} | {r.id: r.name for r in built.rails}
        return names.get(fixing.about) or self._panel(fixing.about).name

    def _driven(self, screws: Screws | None) -> str:
        """Return the screws with their pilot holes: `4 x pan-head screw 4 x 25 (pilots 2.5 mm, 10 mm deep)`.

        What is bored in place is told first: it is read, and done, from the top down.
        """
        if screws is None:
            return ""
        told = self.lengths
        pilot = f"{told.bought(screws.pilot)}, {told.told(screws.pilot_depth)} deep"
        those = f"{screws.count} \u00d7 {screws.item}"
        return f"{those} (pilots {pilot})" if screws.marked else f"drill pilots in place, {pilot}, then drive {those}"

    def _on_panel(self, fixing: Fixing) -> ByHand:
        served = self._served(fixing)
        text = f"{fixing.count} hinge plates of {called(served)}"
        if fixing.kind is FixingKind.RUNNER_CASE:
            text = f"runner of {served}, its case half"
        elif fixing.kind is FixingKind.RAIL_SOCKET:
            text = f"socket of {served}, its open side up"
        driven = f"{text}: {self._driven(fixing.screws)}{self._carried(fixing)}"
        return self._fixed(fixing, ON_PANELS[fixing.kind], driven)

    def _carried(self, fixing: Fixing) -> str:
        """Return how far below its screws a runner carries a box that has no marks for it; "" else.

        A box that hangs by its sides has the other half's marks. On one that stands on its runners nothing else says
        how high it comes.
        """
        case = self.case
        sides = [p for p in case.panels if p.body == fixing.about and p.role is Role.DRAWER_SIDE]
        kinds = {f.kind for f in case.built.fixings if f.about == fixing.about}
        if fixing.kind is not FixingKind.RUNNER_CASE or FixingKind.RUNNER_DRAWER in kinds or not sides:
            return ""
        first = next(f for f in case.fittings if f.id == fixing.features[0])
        below = self._panel(fixing.panel).frame.to_case(first.at).z - min(p.box.low.z for p in sides)
        way = "below" if below >= 0 else "above"
        return f". It carries the box with its lower edge {self.lengths.told(abs(below))} {way} these screws"

    def _on_drawer(self, fixing: Fixing) -> ByHand:
        panel = self._panel(fixing.panel)
        text = f"drawer half on the outside of {called(panel.name)}, front end to the front"
        if fixing.kind is FixingKind.RUNNER_CATCH:
            text = f"hold the {fixing.count} catches under the bottom, one in each front corner, against {panel.name}"
            text += ", and screw them on"
        return self._fixed(fixing, ON_DRAWERS[fixing.kind], f"{text}: {self._driven(fixing.screws)}")

    def _hinges(self, fixing: Fixing) -> ByHand:
        text = (
            f"press the {fixing.count} hinges ({fixing.name}) home into their cups, arms square to the door's edge, "
            f"with a block of wood and a clamp if they are tight: {self._driven(fixing.screws)}"
        )
        hinges = (Used(item=fixing.item, count=fixing.count),)
        return self._fixed(fixing, HandAct.HINGES, text, hinges)

    def _front(self, fixing: Fixing) -> ByHand:
        text = f"through the holes of the box front {self._driven(fixing.screws)}; check the gaps, then let go"
        return self._fixed(fixing, HandAct.FRONT, text)

    def _feet(self, fixing: Fixing) -> ByHand:
        text = f"{fixing.count} \u00d7 {fixing.name}, the clip side of the front ones forward: "
        text += self._driven(fixing.screws)
        uses = (Used(item=fixing.item, count=fixing.count),)
        return replace(self._fixed(fixing, HandAct.FEET, text, uses), count=fixing.count)

    def _clips(self, fixing: Fixing) -> ByHand:
        text = f"first {fixing.count} \u00d7 {fixing.item} on the back of it: {self._driven(fixing.screws)}"
        return self._fixed(fixing, HandAct.CLIPS, text, (Used(item=fixing.item, count=fixing.count),))

    def _worktop(self, fixing: Fixing) -> ByHand:
        """Return the screws through one panel, with a washer under each head where the worktop has to move."""
        through = self._panel(fixing.about)
        washers = (Used(item=fixing.item, count=fixing.count),) if fixing.item else ()
        under = f", a washer under each head ({fixing.count} \u00d7 {fixing.item})" if washers else ""
        middle = ", in the middle of its hole or slot" if washers else ""
        text = f"through the holes of {through.mark} {through.name} {self._driven(fixing.screws)}{under}{middle}"
        return self._fixed(fixing, HandAct.WORKTOP, text, washers)

    def _filler(self, fixing: Fixing) -> ByHand:
        through = self._panel(fixing.about)
        text = f"from inside, through the holes of {through.mark} {through.name} {self._driven(fixing.screws)}"
        return self._fixed(fixing, HandAct.FILLER, text)

    def _fixed(self, fixing: Fixing, act: HandAct, text: str, more: tuple[Used, ...] = ()) -> ByHand:
        screws, panel = fixing.screws, self._panel(fixing.panel)
        uses = () if screws is None else (Used(item=screws.item, count=screws.count),)
        what, served = _NAMES[act], "" if act in _ITS_OWN else f" of {self._served(fixing)}"
        return ByHand(
            act=act,
            about=fixing.about,
            panel=str(fixing.panel),
            name=f"{what}{served} on {panel.mark} {panel.name}",
            text=sentence(text),
            uses=(*more, *uses),
        )

    def _pins(self, shelf: PanelId) -> Iterator[ByHand]:
        fixings = [f for f in self._fixings({FixingKind.SHELF_PIN: 0}) if f.about == shelf]
        if fixings:
            count = sum(f.count for f in fixings)
            where = listed([self._panel(f.panel).name for f in fixings])
            text = (
                f"first put {count} \u00d7 {fixings[0].item} in, {fixings[0].name}: {fixings[0].count} each in {where}"
            )
            uses = (Used(item=fixings[0].item, count=count),)
            name = f"pins of {self._panel(shelf).name} put in"
            yield ByHand(act=HandAct.PINS, about=str(shelf), panel="", name=name, text=sentence(text), uses=uses)

    def _tube(self, own: str) -> ByHand:
        rail = next(r for r in self.case.built.rails if r.id == own)
        text = (
            f"first cut the tube of {rail.name} to {self.lengths.told(rail.length)}; measure between its sockets "
            "before you cut, and take the burr off both ends with a file"
        )
        uses = (Used(item=rail.kind, count=1),)
        name = f"tube of {rail.name} laid in"
        return ByHand(act=HandAct.TUBE, about=own, panel="", name=name, text=sentence(text), uses=uses)

    def _set(self, door: PanelId) -> ByHand:
        name = called(self._panel(door).name)
        text = (
            f"set {name} by its hinges: height at the plates until its edges run level with its neighbours; "
            f"side, hinge by hinge, until the gap at its free edge is even; depth until it closes flat all round. "
            f"Aim for {self._aim(door)}"
        )
        own = self._panel(door)
        text = " ".join(filter(None, (sentence(text), free_edges(self.case.built, own, self.lengths))))
        done = f"{own.mark} {own.name} set"
        return ByHand(act=HandAct.SET_DOOR, about=str(door), panel=str(door), name=done, text=sentence(text))

    def _handle(self, front: PanelId) -> str:
        """Return what a front wants that has nothing cut to open it by: a handle of the maker's choice; or ""."""
        panel = self._panel(front)
        if panel not in self.case.built.fronts_to_handle:
            return ""
        return (
            f"No hand hold is cut in {called(panel.name)}: first fit 1 handle or knob of your own choice where your "
            f"hand finds it, by screws from behind through {self.lengths.told(panel.thickness)}, heads sunk."
        )

    def _lap(self, door: PanelId) -> float | None:
        """Return how much of a door lies over the panel that it hangs on (mm); None where no plate is there."""
        plate = next((f for f in self._fixings({FixingKind.HINGE_PLATE: 0}) if f.about == door), None)
        if plate is None:
            return None
        box, upright = self._panel(door).box, self._panel(plate.panel).box
        return min(box.high.x, upright.high.x) - max(box.low.x, upright.low.x)

    def _aim(self, front: PanelId) -> str:
        return aim(self.case.built, self._panel(front), self._lap(front), self.lengths)

    def _closed(self, joints: Sequence[JointId]) -> Iterator[ByHand]:
        """Yield the screws to drive and the cams to turn in the joints that have just closed."""
        closed = [j for j in self.case.joints if j.id in joints]
        yield from self._drive([j for j in closed if self.methods[j.method].held_by_screws])
        for joint in closed:
            for item, count in joint.connectors:
                if item in self._turned(joint, self.methods[joint.method]):
                    text = f"{joint.number}: turn {count} \u00d7 {item} clockwise, {TURN}, until they grip."
                    name = f"cams of {joint.number} turned"
                    yield ByHand(act=HandAct.TURN, about=str(joint.id), panel="", name=name, text=text, count=count)

    def _drive(self, joints: Sequence[Joint]) -> Iterator[ByHand]:
        """Yield the screws of joints, each joint for itself: it is ticked and counted by itself.

        Those of one size through one panel follow each other, and what is said of their pilots is said with the first.
        """
        alike: dict[tuple[str, str], list[tuple[Joint, int]]] = {}
        for joint in joints:
            for item, count in joint.connectors:
                alike.setdefault((item, self._pilots(joint)), []).append((joint, count))
        for (item, pilots), own in alike.items():
            for joint, count in own:
                first = pilots if joint is own[0][0] else ""
                yield ByHand(
                    act=HandAct.DRIVE,
                    about=str(joint.id),
                    panel="",
                    name=f"screws of {joint.number}",
                    text=f"{first} Drive {count} \u00d7 {item} at {joint.number}.".lstrip(),
                    uses=(Used(item=item, count=count),),
                )

    def _pilots(self, joint: Joint) -> str:
        """Return the pilot holes of a joint's screws, which are bored through its other panel unless they are there."""
        size = self._size(joint, self.methods[joint.method])
        pilot = next((c for c in size.entering if c.kind is CutKind.HOLE), None) if size is not None else None
        if pilot is None or pilot.diameter is None or pilot.depth is None:
            return ""
        told, through = self.lengths, called(self._panel(joint.receiving).name)
        return (
            f"Drill any pilot holes that are missing, through the holes in {through}: "
            f"{told.bought(pilot.diameter)}, {told.told(pilot.depth)} deep."
        )

    def _size(self, joint: Joint, method: Method) -> SizeForBoard | None:
        return method.size_for(min(self._panel(p).thickness for p in (joint.receiving, joint.entering)))

    def _turned(self, joint: Joint, method: Method) -> frozenset[str]:
        size = self._size(joint, method)
        return frozenset() if size is None else frozenset(c.item for c in size.consumes if c.turned)


def _fit(
    body: str, panels: Sequence[Panel], text: str, todo: tuple[ByHand, ...], down: Direction = Direction.DOWN
) -> Step:
    own = tuple(dict.fromkeys(p.id for p in panels))
    return Step(number=0, kind=StepKind.FIT, body=body, moving=(), onto=own, down=down, text=text, by_hand=todo)


def _what(fixings: Sequence[Fixing]) -> str:
    """Return what is screwed on a panel, and which way round."""
    kinds = {f.kind for f in fixings}
    runners = "its runners, front ends toward the front edge" if FixingKind.RUNNER_CASE in kinds else ""
    plates = "its hinge plates, arms toward the front edge" if FixingKind.HINGE_PLATE in kinds else ""
    sockets = "its rail sockets, open side toward the top" if FixingKind.RAIL_SOCKET in kinds else ""
    return "; and ".join(filter(None, (runners, plates, sockets)))
