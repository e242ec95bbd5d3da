"""What goes into the openings, in the order in which it is bored: drawers, clothes rails, doors, then loose shelves."""

from __future__ import annotations

from storyrod.carcass._clothes_rails import add_clothes_rails
from storyrod.carcass._doors import add_doors
from storyrod.carcass._drawer_box import add_box
from storyrod.carcass._drawers import BoxPlan, choose_runner, plan_box
from storyrod.carcass._fronts import ALL_EDGES, Front, lay_front
from storyrod.carcass._hand_holds import cut_in_drawer_front, hold_of, warn_of_fingers
from storyrod.carcass._inside import Bay
from storyrod.carcass._making import Blank, Making
from storyrod.carcass._pins import add_loose_shelves
from storyrod.carcass._runners import add_runner, settle_opposed
from storyrod.measure.space import Axis, Direction
from storyrod.model.carcass import Clearance, ClearanceKind, DrawerPlace
from storyrod.model.job import Holds
from storyrod.model.panel import Panel, Role
from storyrod.model.workshop import Runner


def fill_openings(making: Making, bays: tuple[Bay, ...]) -> None:
    """Put drawers, clothes rails, doors and loose shelves into their openings."""
    drawers = [b for b in bays if b.node.holds is Holds.DRAWER and not b.children and _hangs(b)]
    runner = choose_runner(making) if drawers else None
    if runner is not None:
        for number, bay in enumerate(drawers, start=1):
            _add_drawer(making, bay, runner, number)
    add_clothes_rails(making, bays)
    settle_opposed(making)
    for bay in bays:
        if not bay.behind_door:
            add_doors(making, bay)
    for bay in bays:
        if not bay.children and bay.node.holds is not Holds.DRAWER:
            add_loose_shelves(making, bay)


def _hangs(bay: Bay) -> bool:
    return not (bay.left.is_open or bay.right.is_open)


def _add_drawer(making: Making, bay: Bay, runner: Runner, number: int) -> None:
    front = lay_front(making, bay)
    plan = plan_box(making, bay, front, runner, number) if front else None
    if front is None or plan is None:
        return
    panel = _add_front(making, bay, front, number)
    hold = hold_of(making, bay)
    if hold is not None:
        if not cut_in_drawer_front(making, panel, hold):
            hold = None
        else:
            warn_of_fingers(making, panel, hold, covered=_covered(bay, panel))
    box = add_box(making, plan, panel, hold)
    add_runner(making, plan, box[0], box[1], box[2])
    _leave_room(making, plan)
    _place(making, plan, panel, box)


def _covered(bay: Bay, front: Panel) -> float:
    """Return how much of the front, from its top edge down, lies over what is above the opening."""
    return front.box.high.z - bay.box.high.z


def _add_front(making: Making, bay: Bay, front: Front, number: int) -> Panel:
    outer = bay.id.rpartition(".")[0]
    return making.add(
        Blank(
            suffix=f"drawer-{number}.front",
            role=Role.DRAWER_FRONT,
            name=f"drawer {number} front",
            board=making.board(making.case.fronts.board),
            box=front.box,
            sums=front.sums,
            cause=bay.node.field,
            body="",
            opening=bay.id,
            edged=ALL_EDGES,
            strip=f"{outer or bay.id}.fronts" if making.case.fronts.matching_grain else "",
        )
    )


def _leave_room(making: Making, plan: BoxPlan) -> None:
    box, bay = plan.box, plan.bay
    rooms = (
        ("left", Direction.LEFT, plan.room, box.low.x - bay.box.low.x),
        ("right", Direction.RIGHT, plan.room, bay.box.high.x - box.high.x),
        ("above", Direction.UP, plan.above, bay.box.high.z - box.high.z),
        ("below", Direction.DOWN, plan.below, box.low.z - bay.box.low.z),
        ("behind", Direction.BACKWARD, plan.runner.clear_behind, bay.box.high.y - box.high.y),
    )
    for side, toward, wanted, left in rooms:
        making.leave(
            Clearance(
                kind=ClearanceKind.DRAWER,
                about=plan.name,
                side=side,
                wanted=wanted,
                left=left,
                body=making.id_of(f"drawer-{plan.number}"),
                toward=toward,
            )
        )


def _place(making: Making, plan: BoxPlan, front: Panel, box: tuple[Panel, ...]) -> None:
    load = plan.bay.node.load_kg
    making.drawers.append(
        DrawerPlace(
            id=making.id_of(f"drawer-{plan.number}"),
            name=plan.name,
            opening=plan.bay.id,
            box=plan.box,
            inside=plan.inside,
            runner=plan.runner.code,
            runner_length=plan.runner_length,
            extension=plan.runner.extension * plan.runner_length,
            load_kg=plan.inside.volume * 1e-9 * making.job.use.loads.drawers_kg_m3 if load is None else load,
            panels=tuple(p.id for p in box),
            front=front.id,
            cause=plan.bay.node.field,
        )
    )
    width, most = plan.box.size(Axis.X), plan.runner.width_max
    if width > most:
        making.caution(
            "wide-drawer",
            plan.name,
            f"Its box is {making.mm(width)} wide; its runners are made for {making.mm(most)}.",
            "Make it two drawers, or choose heavier runners: a wide drawer binds when you pull it at one side.",
            ids=(front.id,),
        )
