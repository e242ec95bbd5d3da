"""Hanging a case on the wall, in words: done while it is empty, before its drawers and doors go in."""

from __future__ import annotations

import math
from typing import Final

from storyrod.model.detail import DetailedCase
from storyrod.model.hung import Hanging, WallKind
from storyrod.model.panel import Panel, Role
from storyrod.model.thresholds import GRAVITY
from storyrod.telling.blocks import Block, Bullets, Warning_, Words
from storyrod.telling.shown import Shown
from storyrod.telling.step_notes import joined

HEADING: Final = "Hang it on the wall"

_LOOK: Final = (
    "Look for hidden cables and pipes with a detector before you drill, especially in line with sockets, switches and "
    "taps. Do not drill where one runs: ask a licensed tradesperson."
)

_LAST: Final = (
    "Pull hard at the front of the case: nothing may move. Only then put in drawers, doors and shelves, and fill it."
)

_WIDER: Final = 0.5
"""A hole that a screw drops through is so much wider (mm); common practice, no source."""


def hanging_summary(hanging: Hanging, shown: Shown) -> str:
    """Return how high it hangs, by what, and what each fixing must hold."""
    return (
        f"Its underside is {shown.n(hanging.place.underside)} and its top {shown.n(hanging.place.top)} above the "
        f"floor. It hangs by {_fixings(hanging, shown)}; each must hold {_each(hanging)}."
    )


def hanging_words(hanging: Hanging, shown: Shown) -> tuple[str, ...]:
    """Return how it hangs and what its fixings must hold, and how that comes about."""
    return hanging_summary(hanging, shown), _why(hanging, shown)


def hanging_blocks(case: DetailedCase, hanging: Hanging, shown: Shown) -> tuple[Block, ...]:
    """Return what is done to hang a case on the wall."""
    warning = (
        "It falls if its screws fail. Hang it empty, on the fixings named here and never on plasterboard alone. "
        "Leave wiring, gas and water to a licensed tradesperson. Calculated, not tested: this is not a certificate, "
        "and local codes come first."
    )
    return (
        Warning_(text=warning, title="Hanging"),
        Bullets(items=_to_do(case, hanging, shown), ticks=True),
        Words(text=_why(hanging, shown), quiet=True),
    )


def _to_do(case: DetailedCase, hanging: Hanging, shown: Shown) -> tuple[str, ...]:
    place, n = hanging.place, shown.n
    rail = case.panel(place.rail)
    back = next((p for p in case.panels if p.role is Role.BACK), None)
    if place.cleat is not None:
        return _with_cleats(case, hanging, shown)
    through = f"{back.mark}, the back, and {rail.mark}, the rail" if back else f"{rail.mark}, the rail"
    across = joined([n(x) for x in place.places])
    up = joined([n(z) for z in place.heights])
    return (
        _LOOK,
        _found(hanging, across),
        (
            f"Draw a level line on the wall, {n(place.underside)} above the floor, for the underside of the case. "
            f"Screw a straight batten below the line for the case to stand on. The top of the case comes "
            f"{n(place.top)} above the floor."
        ),
        (
            f"Inside the case, mark the fixings: {across} from the outside of the left side, {up} above the "
            f"underside. Drill through {through}, {_bore(hanging, shown)}."
        ),
        (
            f"Take {hanging.persons} people. Lift the empty case onto the batten and push it to the wall: the rail "
            f"lies flat against the wall, or is packed out at every screw. One person holds the case until the last "
            f"screw is in."
        ),
        _drive(hanging, shown),
        (
            "Take the batten away and pull hard at the front of the case: nothing may move. Only then put in drawers, "
            "doors and shelves, and fill it."
        ),
    )


def _with_cleats(case: DetailedCase, hanging: Hanging, shown: Shown) -> tuple[str, ...]:
    """Return what is done where the case hooks over a cleat on the wall."""
    place, n = hanging.place, shown.n
    cleat = case.panel(place.cleat or place.rail)
    on_case, across = case.panel(place.rail).mark, joined([n(x) for x in place.places])
    ends = n(cleat.box.low.x)
    point = place.underside + cleat.box.high.z
    up = joined([n(z - cleat.box.low.z) for z in place.heights])
    return (
        _LOOK,
        _found(hanging, across),
        (
            f"Draw a level line on the wall, {n(point)} above the floor, for the point of {cleat.mark}, the wall "
            f"cleat. {cleat.mark} starts {ends} in from where the outside of the left side will be."
        ),
        (
            f"Drill {cleat.mark} {up} above its lower edge, where each fixing comes, {_bore(hanging, shown)}. Hold it "
            f"bevel up, wide face to the room, so that its point and the wall make a notch."
        ),
        _drive(hanging, shown),
        f"Pull down hard on {cleat.mark} with both hands: nothing may move.",
        (
            f"Take {hanging.persons} people. Lift the empty case over it and lower it until {on_case} sits in the "
            f"notch all along and the sides touch the wall. Pack out behind the lower edge where the wall is not flat."
        ),
        *_kept_on(case, cleat, shown),
        _LAST,
    )


def _kept_on(case: DetailedCase, cleat: Panel, shown: Shown) -> tuple[str, ...]:
    """Return how the case is kept from being lifted off its cleat: nothing where no back is there to go through."""
    back = next((p for p in case.panels if p.role is Role.BACK), None)
    if back is None:
        return ()
    longest = shown.lengths.bought(float(int(back.thickness + cleat.thickness)))
    one = f"one 4 mm screw through {back.mark}, the back, into {cleat.mark}, no longer than {longest}"
    return (f"From inside, put {one}: it stops the case being lifted off.",)


def _found(hanging: Hanging, across: str) -> str:
    if hanging.wall is WallKind.STUDS:
        return (
            f"Find the studs and mark the middle of each: {across} from where the outside of the left side will be. "
            "Drill a fine hole at each to be sure. Where there is no stud, write in the job where the first one is "
            "and how far apart they are, and plan again."
        )
    return (
        f"Tap the wall and try it with a drill: it must be sound brick, block or concrete at {across} from where the "
        f"outside of the left side will be."
    )


def _bore(hanging: Hanging, shown: Shown) -> str:
    if hanging.screw is None:
        return "as wide as your plug's screw needs"
    return f"{shown.lengths.bought(hanging.screw.diameter + _WIDER)} wide, and countersink it"


def _drive(hanging: Hanging, shown: Shown) -> str:
    if hanging.screw is None:
        return (
            f"At each, set a plug for that wall whose data sheet allows {_each(hanging)}. The screw goes through "
            f"{shown.n(hanging.seat)} before it reaches the wall. Drive the upper ones first, all of them before "
            "you let go."
        )
    screw = hanging.screw
    return (
        f"Drive one {shown.lengths.bought(screw.diameter)} \u00d7 {shown.lengths.bought(screw.length)} screw into the "
        f"middle of the stud at each, with the lead hole its packet calls for: it goes through "
        f"{shown.n(hanging.seat)} and then {shown.n(screw.bite)} into the stud. Drive all of them before you let go."
    )


def _each(hanging: Hanging) -> str:
    kg = math.ceil(hanging.each_down_n / GRAVITY)
    return (
        f"{hanging.each_pull_n:,.0f} N straight out of the wall and {hanging.each_down_n:,.0f} N down it (about {kg} "
        f"kg) at once"
    )


def _fixings(hanging: Hanging, shown: Shown) -> str:
    count, screw = hanging.place.count, hanging.screw
    if screw is None:
        return f"{count} plugs and screws"
    return f"{count} screws {shown.lengths.bought(screw.diameter)} \u00d7 {shown.lengths.bought(screw.length)}"


def _why(hanging: Hanging, shown: Shown) -> str:
    told = (
        f"{hanging.kg:.0f} kg full, their middle {shown.n(round(hanging.lever))} from the wall with all open, a hand "
        f"that presses on the part that reaches farthest and one that pulls at the top: {math.ceil(hanging.pull_n):,} "
        f"N at {shown.n(round(hanging.arm))} above the lower edge, about which it turns, and "
        f"{math.ceil(hanging.down_n):,} N down. Two places are taken to carry it all, and no fixing is asked for less "
        f"than {hanging.floor_n:,.0f} N ({hanging.floor_from})."
    )
    if hanging.screw is None or hanging.used is None:
        return told
    screw = hanging.screw
    return (
        f"{told} Such a screw may carry {screw.may_pull_n:,.0f} N out of softwood of class C16 and "
        f"{screw.may_across_n:,.0f} N across the lining (EN 1995-1-1, from memory): {hanging.used:.0%} of it is used."
    )
