"""What must be heeded while turning, standing up and putting drawers in. Reminders: they certify nothing."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from storyrod.assembly._words import the
from storyrod.faults import Caution
from storyrod.measure.writing import LengthWriter
from storyrod.model.carcass import BuiltCase
from storyrod.model.panel import Panel

REMINDER: Final = "This is a reminder, not training: the law and codes where you work come first."

CEILING: Final = 2400.0
"""A case whose side view is longer than this across the corner is asked to be measured against the ceiling (mm)."""


def turn_caution(body: str, panels: Sequence[Panel], folds: bool, persons: int) -> tuple[Caution, ...]:  # noqa: FBT001
    """Return what to heed when a carcass is turned; drawer boxes are turned without a word."""
    if body != "carcass" or len(panels) < 3:
        return ()
    text = (
        "Clear the floor and pad it, turn the work over an edge that stays down, and hold it by its outer corners, "
        "never by a shelf."
    )
    if folds:
        text += " It has no back yet and can fold: screw a batten across a diagonal first."
    do = f"Turn it with {max(2, persons)} people."
    return (Caution(code="turning", about="turning the work", text=text, do=do, ids=tuple(p.id for p in panels)),)


def tall_caution(panels: Sequence[Panel]) -> tuple[Caution, ...]:
    """Return what to heed while panels stand tall with nothing at their top; orders that ask for it are shunned."""
    if not panels:
        return ()
    name = the(panels)
    text = f"{name[:1].upper()}{name[1:]} stands tall here, and what holds its top is not on yet."
    do = f"Have a second person hold it until then, or brace it with a batten. {REMINDER}"
    return (Caution(code="stands-tall", about="standing tall", text=text, do=do, ids=tuple(p.id for p in panels)),)


def tip_cautions(built: BuiltCase, lengths: LengthWriter, fix_above: float) -> tuple[Caution, ...]:
    """Return what to heed once the case stands: tipping over, and whether it can be stood up at all.

    One that hangs on a wall does neither. A case higher than `fix_above` (mm), higher than twice its depth, or with
    drawers may tip.
    """
    case = built.case
    if built.hung is not None:
        return ()
    about = f"case {case.code}"
    found = []
    if built.drawers or case.height > fix_above or case.height > 2 * case.depth:
        text = "It can tip over, especially with drawers open or a child pulling at it."
        do = (
            "Put the lowest drawers in first and never open more than one at a time. Before you use it, fix the case "
            "to the wall with fixings that suit the wall. This plan is not a certificate that it is stable."
        )
        found.append(Caution(code="tip-over", about=about, text=text, do=do, ids=tuple(d.id for d in built.drawers)))
    across = math.hypot(case.height, case.depth)
    if across > CEILING:
        height = lengths.about(across)
        text = f"It measures {height} corner to corner from the side: it needs that much height to be stood up."
        found.append(Caution(code="stand-up", about=about, text=text, do="Measure the room, or build it upright."))
    return tuple(found)
