"""Fixing a case to the wall, in words: the last thing done with a case that can tip, before it is used."""

from __future__ import annotations

import math
from typing import Final

from storyrod.model.buying import BRACKET_SCREW_MM
from storyrod.model.detail import DetailedCase
from storyrod.model.hung import Hanging
from storyrod.model.soundness import Tipping
from storyrod.model.thresholds import GRAVITY
from storyrod.model.wall import WallFixing
from storyrod.telling.blocks import Block, Bullets, Warning_, Words
from storyrod.telling.hanging import HEADING, hanging_blocks
from storyrod.telling.shown import Shown
from storyrod.telling.step_notes import joined

_LOOK: Final = (
    "Look for hidden cables and pipes with a detector before you drill, especially in line with sockets, switches and "
    "taps. Do not drill where one runs: ask a licensed tradesperson."
)
_PULL: Final = "Pull hard at the top of the case: nothing may move. Only then fill it and use it."
_SEATED: Final = {False: "Brackets near the top", True: "Screws through a rail near the top"}
_PACKED = 1.0  # mm of room before the wall from which on a packer goes in


def wall_summary(fixing: WallFixing, shown: Shown) -> str:
    """Return how many fixings, where, and what each must hold."""
    return (
        f"{len(fixing.places)} fixings, {shown.n(fixing.height)} above the floor; "
        f"each must be allowed to hold {fixing.each_n:,.0f} N (a pull of about {_kg(fixing)} kg)."
    )


def wall_heading(tipping: Tipping | Hanging) -> str:
    """Return what is done with a case and the wall."""
    return HEADING if isinstance(tipping, Hanging) else "Fix it to the wall"


def wall_blocks(case: DetailedCase, tipping: Tipping | Hanging, shown: Shown) -> tuple[Block, ...]:
    """Return what is done to fix a case to the wall, or to hang it there; nothing where it stands by itself."""
    if isinstance(tipping, Hanging):
        return hanging_blocks(case, tipping, shown)
    fixing = tipping.fixing
    if fixing is None:
        return ()
    warning = (
        "It can tip over, especially with drawers or doors open or a child pulling at it. Until it is fixed, keep "
        "drawers and doors shut and put nothing in it. Leave wiring, gas and water to a licensed tradesperson. "
        "Calculated, not tested: this is not a certificate, and local codes come first."
    )
    return (
        Warning_(text=warning, title="Tipping"),
        Bullets(items=_to_do(case, fixing, shown), ticks=True),
        Words(text=_why(fixing), quiet=True),
    )


def _to_do(case: DetailedCase, fixing: WallFixing, shown: Shown) -> tuple[str, ...]:
    panel = case.panel(fixing.into)
    if fixing.straight:
        return _straight(case, fixing, shown)
    where, drive = ("under", "up into") if fixing.under else ("on", "down into")
    behind = f", the other through the back, {case.panel(fixing.through).mark}," if fixing.through else ", the other"
    screw = shown.lengths.bought(BRACKET_SCREW_MM)
    longest = shown.lengths.bought(float(int(fixing.screw_most)))
    items = [
        _LOOK,
        (
            f"Mark {len(fixing.places)} fixings on the wall, {shown.n(fixing.height)} above the floor: "
            f"{joined([shown.n(x) for x in fixing.places])} from the outside of the left side."
        ),
        (
            f"At each, set a steel angle bracket {where} {panel.mark}, the {panel.name}, close to the back. One leg "
            f"takes two {screw} screws {drive} {panel.mark}, no longer than {longest}{behind} takes the screw into "
            f"the wall."
        ),
    ]
    if fixing.gap > _PACKED:
        items.append(f"Fill the {shown.n(fixing.gap)} gap to the wall with a packer at each, so that nothing bends.")
    items += [
        _chosen(fixing, panel.mark),
        _PULL,
    ]
    return tuple(items)


def _chosen(fixing: WallFixing, mark: str) -> str:
    return (
        f"Choose plug and screw for that wall: its data sheet must allow {fixing.each_n:,.0f} N (a pull of about "
        f"{_kg(fixing)} kg) straight out. In a stud wall screw into studs, never into plasterboard alone: move a "
        f"fixing along {mark} to the nearest stud."
    )


def _straight(case: DetailedCase, fixing: WallFixing, shown: Shown) -> tuple[str, ...]:
    """Return what is done where the screws pass an upright rail."""
    rail = case.panel(fixing.into)
    back = f" and {case.panel(fixing.through).mark}, the back" if fixing.through else ""
    packed: tuple[str, ...] = ()
    if fixing.gap > _PACKED:
        packed = (f"Fill the {shown.n(fixing.gap)} gap to the wall with a packer at each, so that nothing bends.",)
    return (
        _LOOK,
        (
            f"From inside, mark {len(fixing.places)} fixings on {rail.mark}, the {rail.name}, "
            f"{shown.n(fixing.height)} above the floor: {joined([shown.n(x) for x in fixing.places])} from the "
            "outside of the left side."
        ),
        f"At each, drill a hole through {rail.mark}{back} that the shank of the screw just drops through.",
        *packed,
        _chosen(fixing, rail.mark),
        _PULL,
    )


def _why(fixing: WallFixing) -> str:
    least = f"Every fixing must hold at least {fixing.floor_n:,.0f} N ({fixing.floor_from})"
    if fixing.force_n <= 0:
        return f"{least}, though it would not pull at the wall in any of the tests."
    return (
        f"{least}. The hardest pull in the tests is {math.ceil(fixing.force_n)} N ({fixing.worst}), and "
        f"each fixing must take it alone. {_SEATED[fixing.straight]}: common practice, no source."
    )


def _kg(fixing: WallFixing) -> int:
    return math.ceil(fixing.each_n / GRAVITY)
