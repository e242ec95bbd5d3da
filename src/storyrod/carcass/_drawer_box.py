"""The drawer box's panels: sides full length, front and back between them, the bottom grooved in or applied.

A grooved bottom runs in all four, 0.5 mm short of each groove: one setting of one fence cuts all four grooves, the
bottom keeps the box square and cannot drop, and it goes in as the box closes. An applied bottom covers all edges.
"""

from __future__ import annotations

from storyrod.carcass._drawers import BoxPlan, groove_width
from storyrod.carcass._fixings import LEAST_HOLD_FRONT, Draft, Driven
from storyrod.carcass._hand_holds import Hold
from storyrod.carcass._making import DRAWER_SIDE_LEFT, DRAWER_SIDE_RIGHT, Blank, Making, box_of
from storyrod.carcass._sums import Term, told
from storyrod.measure.space import Axis, PanelAxis
from storyrod.measure.tolerance import EXACT
from storyrod.model.feature import Channel, CutOut, Feature, Hole
from storyrod.model.fixing import FixingKind
from storyrod.model.job import HandHoldKind
from storyrod.model.panel import Panel, Role, Surface
from storyrod.model.workshop import RunnerMount

BOTTOM_CLEARANCE = 0.5
"""A drawer bottom is this much short of each groove's bottom (mm)."""

HAND_CLEAR = 3.0
"""The box front stays this far below a hand hold (mm); common practice, no source."""

NOTCH_BESIDE = 5.0
"""A notch in the box front is this much longer than the hand hold at either end (mm); common practice, no source."""

LOWERED_LEAST = 0.6
"""A box front is lowered as a whole down to this share of the sides' height, below that it is notched."""

RUNNER_NOTCH = 38.0
"""Width of the notches in the back for under-mounted runners (mm); common practice, no source."""

NOTCH_SHORT = 0.1
"""These notches end this far below the bottom's groove (mm): two cuts that may be made in either order, each whole in
itself. The sliver between them breaks away."""

FIXING_IN = 40.0
"""From the box front's end to its fixing holes (mm); common practice, no source."""

FIXING_HOLE = 5.0
"""Clearance holes through the box front for the front's screws, which let it be shifted a little (mm)."""


def add_box(making: Making, plan: BoxPlan, front: Panel, hold: Hold | None) -> tuple[Panel, ...]:
    """Put the box's panels in their places: left and right side, box front, back, bottom."""
    left = _add_side(making, plan, left=True)
    right = _add_side(making, plan, left=False)
    box_front = _add_cross(making, plan, front, hold)
    back = _add_cross(making, plan, None, None)
    bottom = _add_bottom(making, plan)
    if plan.grooved:
        for panel in (left, right, box_front, back):
            _groove(making, plan, panel)
    if plan.runner.mount is RunnerMount.UNDER:
        _notch_for_runner(making, plan, back)
    _fix_front(making, plan, box_front, front)
    return (left, right, box_front, back, bottom)


def _foot(plan: BoxPlan) -> float:
    """Return where the sides start: over an applied bottom."""
    return plan.box.low.z + (0.0 if plan.grooved else plan.tb)


def _height_told(making: Making, plan: BoxPlan, lowered: float = 0.0) -> str:
    terms = (Term(-1, plan.above), Term(-1, plan.below), Term(-1, 0.0 if plan.grooved else plan.tb), Term(-1, lowered))
    return told(making.job.unit, plan.bay.height, *terms)


def _length_told(making: Making, plan: BoxPlan, *more: Term) -> str:
    return told(making.job.unit, plan.runner_length, Term(-1, plan.runner.box_shorter), *more)


def _width_told(making: Making, plan: BoxPlan, *more: Term) -> str:
    """Return how the box's inside width came about."""
    under = plan.runner.mount is RunnerMount.UNDER
    terms = (Term(-1, plan.runner.inside_less),) if under else (Term(-2, plan.room), Term(-2, plan.ts))
    return told(making.job.unit, plan.bay.width, *terms, *more)


def _add_side(making: Making, plan: BoxPlan, *, left: bool) -> Panel:
    word, other = ("left", "right") if left else ("right", "left")
    x = (plan.box.low.x, plan.box.low.x + plan.ts) if left else (plan.box.high.x - plan.ts, plan.box.high.x)
    return making.add(
        Blank(
            suffix=f"drawer-{plan.number}.side-{word}",
            role=Role.DRAWER_SIDE,
            name=f"{plan.name} {word} side",
            board=plan.board,
            box=box_of(x, plan.box.span(Axis.Y), (_foot(plan), plan.box.high.z)),
            sums=(_length_told(making, plan), _height_told(making, plan)),
            cause=plan.bay.node.field,
            body=making.id_of(f"drawer-{plan.number}"),
            opening=plan.bay.id,
            twin=f"drawer-{plan.number}.side-{other}",
            edged=(Surface.FAR_EDGE,),
            frame=DRAWER_SIDE_LEFT if left else DRAWER_SIDE_RIGHT,
        )
    )


def _add_cross(making: Making, plan: BoxPlan, front: Panel | None, hold: Hold | None) -> Panel:
    """Put in the box front (where `front` is the drawer's showing front) or the back."""
    top, notch = plan.box.high.z, 0.0
    if front is not None and hold is not None:
        top, notch = _clear_of_hand(making, plan, front, hold)
    y = (plan.box.low.y, plan.box.low.y + plan.ts)
    if front is None:
        y = (plan.box.high.y - plan.ts, plan.box.high.y)
    suffix, name, role = (
        ("box-back", "back", Role.DRAWER_BACK) if front is None else ("box-front", "box front", Role.DRAWER_BOX_FRONT)
    )
    panel = making.add(
        Blank(
            suffix=f"drawer-{plan.number}.{suffix}",
            role=role,
            name=f"{plan.name} {name}",
            board=plan.board,
            box=box_of((plan.inside.low.x, plan.inside.high.x), y, (_foot(plan), top)),
            sums=(_width_told(making, plan), _height_told(making, plan, plan.box.high.z - top)),
            cause=plan.bay.node.field,
            body=making.id_of(f"drawer-{plan.number}"),
            opening=plan.bay.id,
            edged=(Surface.FAR_EDGE,),
        )
    )
    if notch and hold is not None:
        length = hold.length + 2 * NOTCH_BESIDE
        shape = CutOut(outline="notch", length=length, height=notch, corner=0.0, depth=panel.thickness, run=PanelAxis.U)
        at = panel.box.centre.with_(Axis.Z, panel.box.high.z)
        making.cut(panel, "hand-notch", Surface.FACE, at, shape, why="clears the hand hold in the front")
    return panel


def _clear_of_hand(making: Making, plan: BoxPlan, front: Panel, hold: Hold) -> tuple[float, float]:
    """Return the box front's top edge, lowered under the hand hold, and the depth of a notch where it is not."""
    clear, top = front.box.high.z - hold.bottom - HAND_CLEAR, plan.box.high.z
    if clear >= top - EXACT:
        return top, 0.0
    whole = top - plan.box.low.z
    if clear - plan.box.low.z >= LOWERED_LEAST * whole:
        return clear, 0.0
    floor = plan.inside.low.z + 15.0
    room = plan.inside.size(Axis.X) - 2 * FIXING_IN
    if clear >= floor - EXACT and hold.length + 2 * NOTCH_BESIDE <= room + EXACT:
        return top, top - clear
    making.fault(
        "hand-hold",
        f"{hold.asked.field}.{'height' if hold.asked.kind is HandHoldKind.SCOOP else 'down'}",
        found=f"a hand hold down to {making.mm(hold.bottom)} in {front.name}, with the drawer's box behind it",
        allowed=f"a hand hold that ends above {making.mm(front.box.high.z - floor - HAND_CLEAR)} below the front's top "
        f"edge and is at most {making.most(max(0.0, room - 2 * NOTCH_BESIDE))} long",
        do="Move the hand hold up, make it smaller, or make the drawer higher.",
    )
    return top, 0.0


def _add_bottom(making: Making, plan: BoxPlan) -> Panel:
    box, more = plan.box, plan.bite - BOTTOM_CLEARANCE if plan.grooved else plan.ts
    inside = plan.inside
    let_in = (Term(2, plan.bite), Term(-2, BOTTOM_CLEARANCE)) if plan.grooved else (Term(2, plan.ts),)
    if plan.grooved:
        width = _length_told(making, plan, Term(-2, plan.ts), *let_in)
        length = _width_told(making, plan, *let_in)
    else:
        width, length = _length_told(making, plan), told(making.job.unit, plan.bay.width, Term(-2, plan.room))
    return making.add(
        Blank(
            suffix=f"drawer-{plan.number}.bottom",
            role=Role.DRAWER_BOTTOM,
            name=f"{plan.name} bottom",
            board=plan.bottom_board,
            box=box_of(
                (inside.low.x - more, inside.high.x + more),
                (inside.low.y - more, inside.high.y + more),
                (box.low.z + plan.bottom_up, box.low.z + plan.bottom_up + plan.tb),
            ),
            sums=(length, width),
            cause=plan.bay.node.field,
            body=making.id_of(f"drawer-{plan.number}"),
            opening=plan.bay.id,
        )
    )


def _groove(making: Making, plan: BoxPlan, panel: Panel) -> None:
    """Cut the bottom's groove along the whole panel; its ends are covered by the other panels or by the front."""
    surface = Surface.FAR_FACE if panel.role is Role.DRAWER_BOX_FRONT else Surface.FACE
    width = groove_width(plan)
    shape = Channel(kind="groove", length=panel.length, width=width, depth=plan.bite, run=PanelAxis.U)
    at = panel.box.centre.with_(Axis.Z, plan.box.low.z + plan.bottom_up + width / 2)
    making.cut(panel, "bottom-groove", surface, at, shape, why=f"takes the bottom of {plan.name}", item="drawer bottom")


def _notch_for_runner(making: Making, plan: BoxPlan, back: Panel) -> None:
    width = min(RUNNER_NOTCH, back.length / 2)
    height = plan.bottom_up - NOTCH_SHORT
    shape = CutOut(outline="notch", length=width, height=height, corner=0.0, depth=back.thickness, run=PanelAxis.U)
    low, high = back.box.span(Axis.X)
    for i, x in enumerate((low + width / 2, high - width / 2), start=1):
        at = back.box.low.with_(Axis.X, x)
        making.cut(
            back, f"runner-notch-{i}", Surface.FACE, at, shape, why="lets the runner pass", item=plan.runner.code
        )


def _fix_front(making: Making, plan: BoxPlan, box_front: Panel, front: Panel) -> None:
    """Bore the box front for the screws that hold the drawer's front, from the inside."""
    box = box_front.box
    low = plan.inside.low.z + 15.0
    high = box.high.z - 20.0
    levels = (low, high) if high - low >= 40.0 else (max(low, (plan.inside.low.z + box.high.z) / 2),)
    into = min(FIXING_IN, box.size(Axis.X) / 4)
    shape = Hole(diameter=FIXING_HOLE, depth=box_front.thickness, through=True)
    cuts: list[Feature] = []
    for z in levels:
        for x in (box.low.x + into, box.high.x - into):
            at = box.low.with_(Axis.X, x).with_(Axis.Z, z)
            cuts.append(
                making.cut(
                    box_front,
                    f"front-screw-{len(cuts) + 1}",
                    Surface.FAR_FACE,
                    at,
                    shape,
                    why=f"holds the front of {plan.name}",
                    item="front screw",
                )
            )
    making.drafts.append(
        Draft(
            kind=FixingKind.FRONT,
            panel=front,
            about=making.id_of(f"drawer-{plan.number}"),
            item="",
            name=front.name,
            where=plan.name,
            cause=plan.bay.node.field,
            features=tuple(cuts),
            driven=Driven(
                code=making.workshop.front_screw,
                count=len(cuts),
                seat=box_front.thickness,
                board=front.thickness,
                room=front.thickness - making.job.limits.skin,
                place=f"{making.case.fronts.field}.board",
                least=LEAST_HOLD_FRONT,
            ),
        )
    )
