"""What goes into the carcass once it stands: drawers on their runners, fronts, doors, loose shelves, and tubes last."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from storyrod.assembly._aims import is_even
from storyrod.assembly._in_place import is_placed, words_of_filler, words_of_place
from storyrod.assembly._lifts import Lift
from storyrod.assembly._shapes import NUMBER, Block, block_of, hits, moved
from storyrod.assembly._words import called, listed, sentence
from storyrod.faults import Caution, Fault
from storyrod.measure.space import Axis, Direction
from storyrod.measure.tolerance import EXACT
from storyrod.measure.writing import LengthWriter
from storyrod.model.assembly import Leg, ShutOut, Step, StepKind
from storyrod.model.carcass import DoorPlace, DrawerPlace, RailPlace
from storyrod.model.detail import JoinedCase
from storyrod.model.fixing import FixingKind
from storyrod.model.panel import Panel, PanelId, Role

LIFTS: Final = (0.0, 6.0, 12.0, 20.0)
"""A loose shelf goes in level, or so much higher, and is then let down on its pins (mm)."""

HANG_FIRST: Final = "Hang the case on the wall before this step, while it is empty."

LEAST_DOWN: Final = 150.0
"""How far from its place a worktop is drawn before it comes down, or a case before it goes back (mm)."""

_ON_ITS_BACK: Final = (
    "Lay the case on its back on a blanket. Stand it up again without dragging it on its feet: they break off sideways."
)

BACK: Final = NUMBER[Direction.BACKWARD]
UP: Final = NUMBER[Direction.UP]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted:
    """The steps of fitting out, and what could not get in."""

    steps: tuple[Step, ...]
    shut_out: tuple[ShutOut, ...]


class _Place:
    """The case as it fills: what stands, what it weighs, and the steps so far."""

    def __init__(
        self, case: JoinedCase, mass_kg: Mapping[PanelId, float], one_person_kg: float, lengths: LengthWriter
    ) -> None:
        self.case = case
        self.mass_kg = mass_kg
        self.one_person_kg = one_person_kg
        self.lengths = lengths
        self.by_id = {p.id: p for p in case.panels}
        self.standing: dict[PanelId, Block] = {}
        self.steps: list[Step] = []
        self.shut_out: list[ShutOut] = []

    def stand(self, panels: Sequence[PanelId]) -> None:
        """Take panels as being in their places."""
        for panel in panels:
            self.standing[panel] = block_of(self.by_id[panel].box)

    def in_the_way(self, moving: Sequence[PanelId], lift: float, open_first: Sequence[PanelId]) -> list[PanelId]:
        """Return what stands in the way of panels that go back from the front, `lift` higher, and then down."""
        return self.in_the_way_of([block_of(self.by_id[p].box) for p in moving], lift, open_first)

    def in_the_way_of(self, blocks: Sequence[Block], lift: float, open_first: Sequence[PanelId]) -> list[PanelId]:
        """Return what stands in the way of blocks that go in so."""
        still = {p: b for p, b in self.standing.items() if p not in open_first}
        raised = [moved(b, UP, lift) for b in blocks]
        met = [p for p, b in still.items() if any(hits(r, b, BACK ^ 1, None) for r in raised)]
        if lift > 0:
            met += [p for p, b in still.items() if any(hits(r, b, UP ^ 1, lift) for r in raised)]
        return met

    def put(self, step: Step) -> None:
        """Make the step, with as many people as it takes; one hand holds a door while the other guides its hinges."""
        lift = Lift(
            panels=[self.by_id[p] for p in step.moving],
            mass_kg=step.moved_kg,
            one_person_kg=self.one_person_kg,
            lengths=self.lengths,
            driving=step.kind is StepKind.DOOR,
        )
        cautions = (*lift.cautions(), *step.cautions)
        self.steps.append(replace(step, persons=max(step.persons, lift.persons), cautions=cautions))
        self.stand(step.moving)


def fit_out(
    case: JoinedCase,
    carcass: Sequence[PanelId],
    mass_kg: Mapping[PanelId, float],
    one_person_kg: float,
    lengths: LengthWriter,
) -> Fitted:
    """Return the steps after the carcass stands upright, each swept by the boxes that move."""
    place = _Place(case, mass_kg, one_person_kg, lengths)
    place.stand(carcass)
    hangs = case.built.hung is not None
    fronts = {d.front: d for d in case.built.drawers if d.front is not None}
    _before_all_else(place)
    for drawer in sorted(case.built.drawers, key=lambda d: (d.box.low.z, d.box.low.x)):
        _put_drawer(place, drawer)
    for front, drawer in fronts.items():
        _put_front(place, front, drawer)
    for door in case.built.doors:
        _put_door(place, door)
    doors = tuple(d.panel for d in case.built.doors)
    shelves = [p for p in case.panels if p.role is Role.LOOSE_SHELF]
    for shelf in sorted(shelves, key=lambda p: (p.box.low.z, p.box.low.x)):
        _lay_shelf(place, shelf, doors)
    for rail in case.built.rails:
        _lay_tube(place, rail, doors)
    for board in (p for p in case.panels if p.role is Role.PLINTH_BOARD):
        _clip_board(place, board)
    steps = _once_it_hangs(place.steps) if hangs else place.steps
    return Fitted(steps=tuple(steps), shut_out=tuple(place.shut_out))


def _before_all_else(place: _Place) -> None:
    """What is done to a case that is empty still: its feet, its place, a worktop on it, fillers beside it."""
    case = place.case
    if case.built.feet:
        _put_feet(place)
    if is_placed(case.built.case):
        _put_in_place(place)
    for worktop in (p for p in case.panels if p.role is Role.WORKTOP):
        _put_worktop(place, worktop)
    for filler in (p for p in case.panels if p.role is Role.FILLER):
        _put_filler(place, filler)


def _once_it_hangs(steps: Sequence[Step]) -> list[Step]:
    """Return the steps of a case that hangs: it is on the wall before the first, and no drawer tips it forward."""
    kept = [replace(s, cautions=tuple(c for c in s.cautions if c.code != "tip-in")) for s in steps]
    first = [replace(kept[0], hold=(HANG_FIRST, *kept[0].hold))] if kept else []
    return [*first, *kept[1:]]


def _from_the_front(place: _Place, moving: Sequence[PanelId]) -> Leg:
    return Leg(way=Direction.BACKWARD, distance=round(max(place.by_id[p].box.size(Axis.Y) for p in moving), 1))


def _put_feet(place: _Place) -> None:
    """Feet go under the carcass once it is whole, while it lies on its back."""
    feet = place.case.built.case.feet
    base = next(p for p in place.case.panels if p.role is Role.BASE)
    if feet is None:
        raise ValueError(f"{base.id}: feet that the case does not have")
    lift = Lift(
        panels=[place.by_id[p] for p in place.standing],
        mass_kg=_whole(place),
        one_person_kg=place.one_person_kg,
        lengths=place.lengths,
    )
    high = place.lengths.told(feet.height)
    step = Step(
        number=0,
        kind=StepKind.FEET,
        body="carcass",
        moving=(),
        onto=(base.id,),
        hold=(_ON_ITS_BACK,),
        whole_kg=_whole(place),
        persons=lift.persons,
        cautions=lift.cautions(),
        text=(
            f"Fit the feet under {called(base.name)}, and turn each to {high}. Stand the case where it belongs; find "
            f"the highest point of the floor, and turn the feet until the underside is {high} above it and level both "
            f"ways."
        ),
    )
    place.steps.append(step)


def _put_in_place(place: _Place) -> None:
    """A case goes to its place, and is scribed there, while it is empty."""
    lift = Lift(
        panels=[place.by_id[p] for p in place.standing],
        mass_kg=_whole(place),
        one_person_kg=place.one_person_kg,
        lengths=place.lengths,
    )
    step = Step(
        number=0,
        kind=StepKind.PLACE,
        body="carcass",
        moving=tuple(place.standing),
        legs=(Leg(way=Direction.BACKWARD, distance=LEAST_DOWN),),
        moved_kg=_whole(place),
        whole_kg=_whole(place),
        persons=lift.persons,
        cautions=lift.cautions(),
        text=" ".join(words_of_place(place.case, place.lengths)),
    )
    place.steps.append(step)


def _put_filler(place: _Place, filler: Panel) -> None:
    """A filler goes in from the front, beside a side that stands: its screws are driven from inside."""
    fixing = next(f for f in place.case.built.fixings if f.kind is FixingKind.FILLER and f.panel == filler.id)
    side = PanelId(fixing.about)
    step = Step(
        number=0,
        kind=StepKind.FILLER,
        body=filler.body,
        moving=(filler.id,),
        onto=(side,),
        legs=(_from_the_front(place, (filler.id,)),),
        rests_on=(side,),
        hold=(f"Clamp it to {called(place.by_id[side].name)} before the first pilot is drilled.",),
        moved_kg=place.mass_kg[filler.id],
        whole_kg=_whole(place) + place.mass_kg[filler.id],
        text=words_of_filler(filler, place.lengths),
    )
    _try(place, step, filler.name)


def _clip_board(place: _Place, board: Panel) -> None:
    step = Step(
        number=0,
        kind=StepKind.PLINTH,
        body=board.body,
        moving=(board.id,),
        legs=(_from_the_front(place, (board.id,)),),
        moved_kg=place.mass_kg[board.id],
        whole_kg=_whole(place) + place.mass_kg[board.id],
        text=f"Push {called(board.name)} on the front feet until every clip catches. Its lower edge "
        f"is {place.lengths.told(board.box.low.z)} above the floor; where the floor is uneven, scribe the board first.",
    )
    _try(place, step, board.name)


def _put_worktop(place: _Place, top: Panel) -> None:
    """A worktop is laid on from above while the case is empty: its screws are driven from inside."""
    carriers = tuple(f.about for f in place.case.built.fixings if f.kind is FixingKind.WORKTOP)
    step = Step(
        number=0,
        kind=StepKind.WORKTOP,
        body=top.body,
        moving=(top.id,),
        onto=tuple(PanelId(c) for c in carriers),
        legs=(Leg(way=Direction.DOWN, distance=LEAST_DOWN),),
        rests_on=tuple(PanelId(c) for c in carriers),
        hold=("Measure all overhangs, then clamp it to the case before the first pilot is drilled.",),
        moved_kg=place.mass_kg[top.id],
        whole_kg=_whole(place) + place.mass_kg[top.id],
        cautions=(_never_by_worktop(top),),
        text=_laid_on(place, top),
    )
    place.put(step)


def _laid_on(place: _Place, top: Panel) -> str:
    """Return how a worktop lies, by its overhangs: those of none are flush."""
    about = place.case.built.case
    worktop, told = about.worktop, place.lengths.told
    if worktop is None:
        raise ValueError(f"{top.id}: a worktop that the case does not have")
    words = {
        "front edge": (worktop.front, "before the front edges of the sides"),
        "rear edge": (worktop.back, "behind the rear of the case"),
        "left end": (worktop.left, "past the left side"),
        "right end": (worktop.right, "past the right side"),
    }
    out = [f"its {end} {told(by)} {where}" for end, (by, where) in words.items() if by > EXACT]
    flush = [end for end, (by, _) in words.items() if by <= EXACT]
    if flush:
        out.append(f"its {listed(flush)} flush with the case")
    return sentence(f"lay {called(top.name)} on the case from above: {', '.join(out)}")


def _never_by_worktop(top: Panel) -> Caution:
    return Caution(
        code="worktop-lift",
        about=top.name,
        text="The worktop's screws are not made to carry the case.",
        do="Never lift or pull the case by its worktop: lift it under its base.",
        ids=(top.id,),
    )


def _put_drawer(place: _Place, drawer: DrawerPlace) -> None:
    mass = sum(place.mass_kg[p] for p in drawer.panels)
    text = (
        f"Slide {drawer.name} onto its runners from the front, level, both sides together, until it catches. Pull it "
        f"out and push it home once."
    )
    caution = Caution(
        code="tip-in",
        about=drawer.name,
        text="While the drawers go in, the case can tip forward over an open drawer.",
        do="Start with the lowest, push each one home before the next, and have someone steady the case.",
        ids=(drawer.id, *drawer.panels),
    )
    step = Step(
        number=0,
        kind=StepKind.DRAWER,
        body=drawer.id,
        moving=drawer.panels,
        onto=_beside(place, drawer),
        legs=(_from_the_front(place, drawer.panels),),
        rests_on=_beside(place, drawer),
        moved_kg=mass,
        whole_kg=_whole(place) + mass,
        cautions=(caution,),
        text=text,
    )
    _try(place, step, drawer.name)


def _beside(place: _Place, drawer: DrawerPlace) -> tuple[PanelId, ...]:
    """Return the panels left and right of a drawer, which carry its runners."""
    found = []
    for way, axis_low in ((Direction.LEFT, True), (Direction.RIGHT, False)):
        ahead = [
            (abs((b[3] - drawer.box.low.x) if axis_low else (b[0] - drawer.box.high.x)), p)
            for p, b in place.standing.items()
            if hits(block_of(drawer.box), b, NUMBER[way], None) and place.by_id[p].body == "carcass"
        ]
        found += [min(ahead)[1]] if ahead else []
    return tuple(found)


def _put_front(place: _Place, front: PanelId, drawer: DrawerPlace) -> None:
    box_front = next((p for p in drawer.panels if place.by_id[p].role is Role.DRAWER_BOX_FRONT), None)
    even = ", with even gaps all round" if is_even(place.case.built, place.by_id[front]) else ""
    step = Step(
        number=0,
        kind=StepKind.FRONT,
        body=place.by_id[front].body,
        moving=(front,),
        onto=() if box_front is None else (box_front,),
        legs=(_from_the_front(place, (front,)),),
        rests_on=() if box_front is None else (box_front,),
        hold=("Set the gaps with packers and clamp the front to the box before the first screw.",),
        moved_kg=place.mass_kg[front],
        whole_kg=_whole(place) + place.mass_kg[front],
        text=f"Fix the front of {drawer.name} from inside the drawer{even}.",
    )
    _try(place, step, place.by_id[front].name)


def _put_door(place: _Place, door: DoorPlace) -> None:
    side = _hanging_side(place, door)
    step = Step(
        number=0,
        kind=StepKind.DOOR,
        body=place.by_id[door.panel].body,
        moving=(door.panel,),
        onto=side,
        legs=(_from_the_front(place, (door.panel,)),),
        rests_on=side,
        hold=(f"Hold {called(place.by_id[door.panel].name)} until its {door.hinges} hinges are on their plates.",),
        moved_kg=place.mass_kg[door.panel],
        whole_kg=_whole(place) + place.mass_kg[door.panel],
        text=(
            f"Hang {called(place.by_id[door.panel].name)} on the {door.hinged}: click or slide the top hinge on its "
            "plate first, then the others."
        ),
    )
    _try(place, step, place.by_id[door.panel].name)


def _hanging_side(place: _Place, door: DoorPlace) -> tuple[PanelId, ...]:
    box = place.by_id[door.panel].box
    edge = box.low.x if door.hinged == "left" else box.high.x
    near = [
        (abs((b[0] + b[3]) / 2 - edge), p)
        for p, b in place.standing.items()
        if place.by_id[p].role in {Role.SIDE_LEFT, Role.SIDE_RIGHT, Role.DIVIDER}
        and min(b[5], box.high.z) - max(b[2], box.low.z) > 0
    ]
    return (min(near)[1],) if near else ()


def _lay_shelf(place: _Place, shelf: Panel, doors: tuple[PanelId, ...]) -> None:
    open_first = tuple(d for d in doors if d in place.in_the_way((shelf.id,), 0.0, ()))
    lifts = [lift for lift in LIFTS if not place.in_the_way((shelf.id,), lift, open_first)]
    lift = lifts[0] if lifts else 0.0
    let_down = (Leg(way=Direction.DOWN, distance=lift),) if lift > 0 else ()
    opened = listed([place.by_id[d].name for d in open_first])
    text = f"lay {shelf.name} in from the front on its pins" + (f", with {opened} open" if opened else "")
    step = Step(
        number=0,
        kind=StepKind.SHELF,
        body=shelf.body,
        moving=(shelf.id,),
        legs=(_from_the_front(place, (shelf.id,)), *let_down),
        moved_kg=place.mass_kg[shelf.id],
        whole_kg=_whole(place) + place.mass_kg[shelf.id],
        open_first=open_first,
        text=sentence(text),
    )
    _try(place, step, shelf.name)


def _lay_tube(place: _Place, rail: RailPlace, doors: tuple[PanelId, ...]) -> None:
    """A tube goes in level from the front, over its sockets, which are open at the top, and is let down into them."""
    tube = [block_of(rail.box)]
    open_first = tuple(d for d in doors if d in place.in_the_way_of(tube, rail.lift, ()))
    met = place.in_the_way_of(tube, rail.lift, open_first)
    opened = listed([place.by_id[d].name for d in open_first])
    told = f"with {opened} open, " if opened else ""
    text = (
        f"{told}bring the tube of {rail.name} in from the front, level and {place.lengths.told(rail.lift)} over its "
        "sockets, and let it down into both"
    )
    step = Step(
        number=0,
        kind=StepKind.RAIL,
        body=rail.id,
        moving=(),
        onto=rail.uprights,
        legs=(
            Leg(way=Direction.BACKWARD, distance=round(rail.box.high.y, 1)),
            Leg(way=Direction.DOWN, distance=rail.lift),
        ),
        rests_on=rail.uprights,
        whole_kg=_whole(place),
        open_first=open_first,
        text=sentence(text),
    )
    if met:
        place.shut_out.append(_shut_out(place, met, f"the tube of {rail.name}", rail.cause, None))
    else:
        place.steps.append(step)


def _whole(place: _Place) -> float:
    return sum(place.mass_kg[p] for p in place.standing)


def _try(place: _Place, step: Step, name: str) -> None:
    lift = step.legs[1].distance if len(step.legs) > 1 else 0.0
    met = place.in_the_way(step.moving, lift, step.open_first)
    if not met:
        place.put(step)
        return
    cause = next((place.by_id[p].cause for p in step.moving if place.by_id[p].cause), place.case.built.case.field)
    place.shut_out.append(_shut_out(place, met, name, cause, step.moving[0]))


def _shut_out(place: _Place, met: Sequence[PanelId], name: str, cause: str, panel: PanelId | None) -> ShutOut:
    """Return why something cannot go in from the front."""
    code = place.case.built.case.code
    names = listed([place.by_id[p].name for p in met])
    fault = Fault(
        code="shut-out",
        field=cause,
        found=f"case {code}: {name} cannot go in from the front, {names} is in the way",
        allowed="a clear way from the front to its place",
        do=f"Make it smaller, or move what is in front of it: {names}.",
    )
    return ShutOut(case=code, panel=panel, joints=(), between=tuple(met), remedies=(), fault=fault)
