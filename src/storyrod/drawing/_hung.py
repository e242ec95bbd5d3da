"""How a case hangs, on its elevation: the rail behind it, the screws that pass it, its height above the floor."""

from __future__ import annotations

from storyrod.drawing._figures import Figures
from storyrod.drawing._pens import HEIGHTS, Pen, Role
from storyrod.drawing._symbols import line, rectangle
from storyrod.drawing._types import Entity, Group, Text
from storyrod.model.detail import DetailedCase

_ABOVE = 14.0
_ARM = 2.2


def hung_items(case: DetailedCase, figures: Figures, unit: float, *, kind: str) -> list[Entity]:
    """Return the rail as a hidden line, a cross at each fixing, and the heights above the floor; nothing of one that
    stands.
    """
    place = case.built.hung
    if place is None:
        return []
    boxes = [case.panel(i).box for i in (place.rail, place.cleat) if i is not None]
    shapes: list[Entity] = [rectangle((b.low.x, b.low.z), (b.high.x, b.high.z), pen=Pen.HIDDEN) for b in boxes]
    arm = _ARM * unit
    for x in place.places:
        for z in place.heights:
            shapes.append(line((x - arm, z), (x + arm, z), pen=Pen.MARK))
            shapes.append(line((x, z - arm), (x, z + arm), pen=Pen.MARK))
    words = f"hangs: underside {figures.of(place.underside)}, top {figures.of(place.top)} above the floor"
    at = (case.built.case.width / 2, case.built.case.height + _ABOVE * unit)
    shapes.append(Text(at=at, text=words, height=HEIGHTS[Role.NOTE], role=Role.NOTE))
    return [Group(items=tuple(shapes), id=f"{case.built.case.code}.hung", name="how it hangs", kind=kind)]
