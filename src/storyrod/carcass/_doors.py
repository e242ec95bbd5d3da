"""Doors and pairs of doors in their places."""

from __future__ import annotations

from storyrod.carcass._fronts import ALL_EDGES, Front, lay_front
from storyrod.carcass._hand_holds import cut_in_door, hold_of, warn_of_fingers
from storyrod.carcass._hinges import Hanging, bore_hinges, hinges_for
from storyrod.carcass._inside import DOORS, Bay
from storyrod.carcass._making import Blank, Making
from storyrod.carcass._sums import Term, told
from storyrod.faults import WayOut
from storyrod.measure.space import Axis
from storyrod.measure.tolerance import EXACT
from storyrod.model.carcass import DoorPlace
from storyrod.model.fitting import LEAST_DOOR
from storyrod.model.job import Holds
from storyrod.model.panel import Panel, Role
from storyrod.model.weight import panel_mass_kg
from storyrod.model.workshop import Hinge
from storyrod.trade.hinges import reach_for, reaches


def add_doors(making: Making, bay: Bay) -> None:
    """Put the door or pair of doors of a bay in its place, with hinges and hand holds."""
    if bay.node.holds not in DOORS:
        return
    front = lay_front(making, bay)
    hinge = _choose_hinge(making)
    if front is None or hinge is None or not _check(making, bay, front, hinge):
        return
    pair = bay.node.holds is Holds.PAIR_OF_DOORS
    sides = ("left", "right") if pair else (bay.node.hinged,)
    first = len(making.doors) + 1
    for number, hinged in enumerate(sides, start=first):
        panel = _add_door(making, bay, front, number=number, hinged=hinged, pair=pair)
        _hang(making, bay, front, panel, hinge, hinged)
        hold = hold_of(making, bay)
        if hold is not None and cut_in_door(making, panel, hold, hinged=hinged):
            warn_of_fingers(making, panel, hold, covered=_covered(bay, panel, hinged))


def _covered(bay: Bay, panel: Panel, hinged: str) -> float:
    """Return how far the door's closing edge lies over what bounds the opening; below 0 in the middle of a pair."""
    if hinged == "left":
        return panel.box.high.x - bay.box.high.x
    return bay.box.low.x - panel.box.low.x


def _choose_hinge(making: Making) -> Hinge | None:
    shop = making.workshop
    hinge = shop.hinge(shop.default_hinge) or next(iter(shop.hinges), None)
    if hinge is None:
        making.fault(
            "missing-hinge",
            making.path("inside"),
            found="a door, but no hinge in the workshop",
            allowed="a workshop with at least one hinge",
            do="Add the hinge from its own sheet to the workshop file.",
        )
    return hinge


def _check(making: Making, bay: Bay, front: Front, hinge: Hinge) -> bool:
    told_so_far = len(making.faults)
    limits, fronts = making.job.limits, making.case.fronts
    height, thick = front.box.size(Axis.Z), making.board(fronts.board).measured
    tallest = max((s.up_to for s in hinge.per_door), default=0.0)
    if not LEAST_DOOR - EXACT <= height <= tallest + EXACT:
        making.fault(
            "door-height",
            bay.height_field,
            found=f"a door {making.mm(height)} high",
            allowed=f'{making.mm(LEAST_DOOR)} to {making.mm(tallest)} on hinges "{hinge.code}"',
            do="Change its height, make it two doors one above the other, or name a hinge that carries it.",
            ways=making.larger(
                bay.height_field, "height", bay.height, (LEAST_DOOR if height < LEAST_DOOR else tallest) - height
            ),
        )
    if hinge.cup_depth > thick - limits.skin + EXACT:
        making.fault(
            "door-board",
            f"{fronts.field}.board",
            found=f"doors of {making.mm(thick)} for hinge cups {making.mm(hinge.cup_depth)} deep",
            allowed=f"at least {making.least(hinge.cup_depth + limits.skin)}",
            do="Choose a thicker board for the fronts, or a hinge with a shallower cup.",
            ways=tuple(
                WayOut(field="", value=b.code)
                for b in sorted(making.job.boards, key=lambda b: b.measured)
                if b.measured >= hinge.cup_depth + limits.skin
            )[:2],
        )
    doors = 2 if bay.node.holds is Holds.PAIR_OF_DOORS else 1
    width = (front.box.size(Axis.X) - fronts.gap * (doors - 1)) / doors
    least = hinge.cup_in + max(hinge.cup / 2, hinge.cup_screw_in + hinge.cup_screw_diameter) + limits.wall
    if width < least:
        making.fault(
            "door-width",
            bay.width_field,
            found=f"a door {making.mm(max(0.0, width))} wide",
            allowed=f"at least {making.least(least)} for its hinges",
            do="Make the opening wider, or use one door instead of two.",
            ways=(
                *((WayOut(field=f"{bay.node.field}.holds", value=Holds.DOOR.value),) if doors == 2 else ()),
                *making.larger(bay.width_field, "width", bay.width, doors * (least - width)),
            ),
        )
    return len(making.faults) == told_so_far


def _add_door(making: Making, bay: Bay, front: Front, *, number: int, hinged: str, pair: bool) -> Panel:
    box, length = front.box, front.sums[0]
    if pair:
        gap, (low, high) = making.case.fronts.gap, box.span(Axis.X)
        middle = (low + high) / 2
        box = box.with_span(Axis.X, *((low, middle - gap / 2) if hinged == "left" else (middle + gap / 2, high)))
        length = f"({told(making.job.unit, high - low, Term(-1, gap))}) / 2"
    return making.add(
        Blank(
            suffix=f"door-{number}",
            role=Role.DOOR,
            name=f"door {number}",
            board=making.board(making.case.fronts.board),
            box=box,
            sums=(length, front.sums[1]),
            cause=bay.node.field,
            body="",
            opening=bay.id,
            edged=ALL_EDGES,
        )
    )


def _hang(making: Making, bay: Bay, front: Front, panel: Panel, hinge: Hinge, hinged: str) -> None:
    bound = bay.left if hinged == "left" else bay.right
    cause, lap = bay.node.field, _covered(bay, panel, "right" if hinged == "left" else "left")
    board = making.job.board(panel.board)
    count, reach = hinges_for(hinge, panel.width, panel_mass_kg(panel, board)), reach_for(hinge, lap)
    if reach is None:
        _tell_reach(making, panel, hinge, lap)
    if bound.panel is not None:
        y = (front.box.high.y if front.inset else 0.0) + hinge.plate_in
        upright = making.panels[bound.panel]
        skin = making.job.limits.skin
        hanging = Hanging(
            bay=bay, panel=panel, hinged=hinged, upright=upright, hinge=hinge, y=y, skin=skin, reach=reach
        )
        bore_hinges(making, hanging, count)
    making.doors.append(
        DoorPlace(
            id=panel.id,
            opening=bay.id,
            panel=panel.id,
            hinged=hinged,
            hinge=hinge.code,
            hinges=count,
            arm=reach.arm.value if reach is not None else "",
            plate=reach.plate if reach is not None else None,
            cause=cause,
        )
    )
    making.stock(hinge.code, hinge.name, count, "piece", panel.name, cause)


def _tell_reach(making: Making, panel: Panel, hinge: Hinge, lap: float) -> None:
    """Note a door that no arm and plate of its hinge bring where it is to lie."""
    laps = [r.lap for r in reaches(hinge)]
    least, most = min(laps) - hinge.adjusts, max(laps) + hinge.adjusts
    where = f"{making.mm(lap)} over the side" if lap > 0 else f"{making.mm(-lap)} short of the side"
    making.caution(
        "hinge-reach",
        panel.name,
        f"It is to lie {where}; no arm and plate of the {hinge.name} bring it there.",
        f"They reach from {making.mm(-least)} short of the side to {making.mm(most)} over it: choose another reveal, "
        "or a hinge that does, and write its figures in the workshop file.",
        ids=(panel.id,),
    )
