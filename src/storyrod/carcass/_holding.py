"""What each opening asks of its bounds: something to hang on, and holdings that make sense together."""

from __future__ import annotations

from storyrod.carcass._inside import DOORS, Bay, Bound
from storyrod.carcass._making import Making
from storyrod.model.job import Holds, Split

NEEDS_BOTH = {
    Holds.DRAWER: "a drawer's runners hang",
    Holds.LOOSE_SHELVES: "the pins of loose shelves sit",
    Holds.PAIR_OF_DOORS: "the hinges of a pair of doors hang",
}


def check_holding(making: Making, bay: Bay) -> None:
    """Note what this opening holds that it cannot."""
    _check_sense(making, bay)
    _check_hanging(making, bay)
    _check_parting(making, bay)


def _check_sense(making: Making, bay: Bay) -> None:
    node = bay.node
    if node.holds in DOORS and bay.behind_door:
        making.fault(
            "door-behind-door",
            f"{node.field}.holds",
            found=f'"{node.holds}" behind another door',
            allowed="one door over the whole opening, or doors over its parts",
            do="Leave one of the two out.",
        )
    if bay.children and node.holds in {Holds.DRAWER, Holds.LOOSE_SHELVES}:
        making.fault(
            "held-and-cut",
            f"{node.field}.holds",
            found=f'"{node.holds}" in an opening that is cut into {node.split}',
            allowed="only a door or a pair of doors in front of further openings",
            do=f"Put it into one of the {node.split}.",
        )
    shelves = node.loose_shelves
    if shelves < 0 or (node.holds is Holds.LOOSE_SHELVES and not shelves):
        making.fault(
            "loose-shelves",
            f"{node.field}.loose_shelves",
            found=str(shelves),
            allowed="1 or more",
            do="Say how many loose shelves there are.",
        )
    if node.clothes_rail is not None and (bay.children or node.holds is Holds.DRAWER or shelves > 0):
        making.fault(
            "clothes-rail-held",
            node.clothes_rail.field,
            found="a clothes rail in an opening that "
            + (
                f"is cut into {node.split}"
                if bay.children
                else "holds a drawer"
                if not shelves
                else "has loose shelves"
            ),
            allowed="a clothes rail in an opening of its own, with or without a door",
            do="Cut the opening into rows, and give the rail one of them.",
        )
    if shelves > 0 and (bay.children or node.holds is Holds.DRAWER):
        making.fault(
            "loose-shelves",
            f"{node.field}.loose_shelves",
            found=f"{shelves} in an opening that "
            + (f"is cut into {node.split}" if bay.children else "holds a drawer"),
            allowed="loose shelves in an opening of their own, with or without a door",
            do="Put them into an opening that is left whole.",
        )


def _check_hanging(making: Making, bay: Bay) -> None:
    node = bay.node
    what = NEEDS_BOTH.get(node.holds) or ("the pins of loose shelves sit" if node.loose_shelves > 0 else "")
    what = what or ("the sockets of a clothes rail sit" if node.clothes_rail is not None else "")
    sides: tuple[tuple[str, Bound], ...]
    if what:
        sides = (("left", bay.left), ("right", bay.right))
    elif node.holds is Holds.DOOR:
        what = "a door's hinges hang"
        sides = ((node.hinged, bay.left if node.hinged == "left" else bay.right),)
    else:
        return
    for side, bound in sides:
        _note_if_open(making, bay, bound, what, side)


def _check_parting(making: Making, bay: Bay) -> None:
    node = bay.node
    if not any(n.parted for n in node.inside[:-1]) or not bay.children:
        return
    if node.split is Split.ROWS:
        for side, bound in (("left", bay.left), ("right", bay.right)):
            _note_if_open(making, bay, bound, "a shelf ends", side)
        return
    free = [side for side, bound in (("above", bay.above), ("below", bay.below)) if bound.is_open]
    if len(free) == 2:
        making.fault(
            "nothing-to-hang-on",
            node.field,
            found=f"dividers in {bay.name}, with no panel above or below them",
            allowed="a panel at one end of a divider at least",
            do="Leave parted at true above or below.",
        )
    elif free:
        making.caution(
            "divider-held-at-one-end",
            bay.name,
            f"Its dividers have no panel {free[0]} them and are held at one end only.",
            "Leave parted at true there, or hang nothing heavy on them.",
        )


def _note_if_open(making: Making, bay: Bay, bound: Bound, what: str, side: str) -> None:
    if not bound.is_open:
        return
    making.fault(
        "nothing-to-hang-on",
        bay.node.field,
        found=f"no panel on the {side} of {bay.name}",
        allowed=f"a panel on the {side}: {what} on it",
        do="Leave parted at true there, or put something else into this opening.",
    )
