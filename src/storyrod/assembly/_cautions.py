"""What must be heeded while lifting, turning, and putting drawers in. Reminders: they certify nothing."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from storyrod.assembly._groups import Groups
from storyrod.assembly._words import the
from storyrod.faults import Caution
from storyrod.measure.space import Axis
from storyrod.measure.writing import LengthWriter
from storyrod.model.carcass import BuiltCase
from storyrod.model.panel import Panel
from storyrod.trade.lifting import GUIDELINE_FILTER, SHARED, Grip, lifting_index, recommended_kg

REMINDER: Final = "This is a reminder, not training: the law and codes where you work come first."

BEST: Final = max(GUIDELINE_FILTER, key=lambda guide: guide.men_close_kg)
"""The line of the guideline filter that allows most: close to the body at the waist."""

LONG: Final = 1200.0
"""Longer than this, one person has no good grip (mm): common practice, no source."""

CEILING: Final = 2400.0
"""A case whose side view is longer than this across the corner is asked to be measured against the ceiling (mm)."""


def panel_lift_kg(size: float) -> float:
    """Return the recommended weight of a part lifted from the floor to a bench at 90 cm, hands 30 cm up to begin with.

    `size` (mm) is how far the part reaches away from the body: hands are 25 cm before the ankles and half of it more.
    """
    return recommended_kg(away_cm=min(63.0, 25 + size / 20), height_cm=30.0, travel_cm=60.0, grip=Grip.FAIR)


def lift_caution(
    what: str, panels: Sequence[Panel], groups: Groups, group: int, lengths: LengthWriter
) -> tuple[Caution, ...]:
    """Return the caution for a lift beyond one person's limit or beyond the guideline figures, or none."""
    mass, limit = groups.mass_kg(group), groups.handling.one_person_kg
    extents = sorted(_extents(panels))
    recommended = panel_lift_kg(extents[0])
    persons = groups.persons(group)
    do = f"Take a second person. {REMINDER}"
    if persons > 1:
        text = f"{mass:.1f} kg, more than the {limit:g} kg set for one person here."
        aid = ", or with a lifting aid" if mass > 2 * BEST.men_close_kg * SHARED else ""
        do = f"Lift with {persons} persons{aid}. {REMINDER}"
    elif lifting_index(mass, recommended) > 1:
        text = (
            f"{mass:.1f} kg from floor to bench is more than the {recommended:.0f} kg that the NIOSH equation"
            f" recommends for such a lift (guideline filter, close to the body at the waist: {BEST.men_close_kg:g} kg"
            f" for men, {BEST.women_close_kg:g} kg for women)."
        )
    elif extents[-1] > LONG and mass > limit / 2:
        text = f"{lengths.told(round(extents[-1]))} long and {mass:.1f} kg: hard to hold alone."
    else:
        return ()
    return (Caution(code="lift", about=what, text=text, do=do, ids=tuple(p.id for p in panels)),)


def turn_caution(body: str, panels: Sequence[Panel], folds: bool, persons: int) -> tuple[Caution, ...]:  # noqa: FBT001
    """Return what to heed when a carcass is turned; drawer boxes are turned without a word."""
    if body != "carcass" or len(panels) < 3:
        return ()
    text = "Clear the floor and pad it, turn about an edge that rests, and hold by outer corners, never by a shelf."
    if folds:
        text += " It has no back yet and can fold: screw a batten across a diagonal first."
    do = f"Turn it with {persons} persons." if persons > 1 else "Turn it with help."
    return (Caution(code="turning", about="turning the work", text=text, do=do, ids=tuple(p.id for p in panels)),)


def tall_caution(panels: Sequence[Panel]) -> tuple[Caution, ...]:
    """Return what to heed while panels stand tall with nothing at their top; orders that ask for it are shunned."""
    if not panels:
        return ()
    name = the(panels)
    text = f"{name[:1].upper()}{name[1:]} stands tall here, and what holds its top is not on yet."
    do = f"A second person holds it until it is, or stay it with a batten. {REMINDER}"
    return (Caution(code="stands-tall", about="standing tall", text=text, do=do, ids=tuple(p.id for p in panels)),)


def tip_cautions(built: BuiltCase, lengths: LengthWriter, fix_above: float) -> tuple[Caution, ...]:
    """Return what to heed once the case stands: tipping over, and whether it can be stood up at all.

    A case higher than `fix_above` (mm), higher than twice its depth, or with drawers may tip.
    """
    case = built.case
    about = f"case {case.code}"
    found = []
    if built.drawers or case.height > fix_above or case.height > 2 * case.depth:
        text = "It can tip over, above all while drawers are open or a child pulls at it."
        do = (
            "Put the lowest drawers in first and keep the others shut while one is open; fix the case to the wall with"
            " what suits that wall before it is used. How it stands was not certified by this plan."
        )
        found.append(Caution(code="tip-over", about=about, text=text, do=do, ids=tuple(d.id for d in built.drawers)))
    across = math.hypot(case.height, case.depth)
    if across > CEILING:
        height = lengths.about(across)
        text = f"Its side view measures {height} from corner to corner: so much height it needs to be stood up."
        found.append(Caution(code="stand-up", about=about, text=text, do="Measure the room, or build it upright."))
    return tuple(found)


def _extents(panels: Sequence[Panel]) -> list[float]:
    return [
        max(p.box.span(axis)[1] for p in panels) - min(p.box.span(axis)[0] for p in panels)
        for axis in (Axis.X, Axis.Y, Axis.Z)
    ]
