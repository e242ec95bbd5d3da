"""Panels that are marked together, drawn as they are laid: stacked flush, or side by side for a mirrored pair."""

from __future__ import annotations

from collections.abc import Sequence

from storyrod.drawing._drawing import Drawing
from storyrod.drawing._lettering import width_of
from storyrod.drawing._pens import HEIGHTS, Fill, Pen, Role, Tint
from storyrod.drawing._scale import fitted
from storyrod.drawing._symbols import edge_mark, line, rectangle
from storyrod.drawing._types import Anchor, Entity, Text
from storyrod.model.mark import Gang, Hand
from storyrod.model.panel import Panel

_STEP = 5.0
_MOST = 6
_NAME_AT = 2.0  # from the datum end to a panel's mark, on paper
_LEAST_HIGH = 4.4  # of the lowest board, on paper
_MARK = 5.0  # height of the mark of the face edge, on paper; it is about as wide


def gang_stack(gang: Gang, panels: Sequence[Panel], *, room: tuple[float, float] = (120.0, 60.0)) -> Drawing:
    """Return the panels of a gang as they lie to be marked: datum ends and face edges flush.

    Panels of one hand lie on each other, drawn a step apart so that each can be named. Mirrored ones lie face edge to
    face edge, their datum ends at one side.
    """
    members = [p for p in panels if p.id in gang.panels]
    first = members[0]
    right = [p for p in members if p.frame.is_mirrored == first.frame.is_mirrored]
    left = [p for p in members if p.frame.is_mirrored != first.frame.is_mirrored]
    mirrored = gang.hand is Hand.MIRRORED
    height = first.width * (2.0 if mirrored else 1.0)

    def draw(unit: float) -> Drawing:
        # A panel with its datum end at the left when its face edge lies toward the maker keeps it there in either row.
        way = 1.0 if first.frame.is_mirrored else -1.0
        items = _pile(right, way, 1.0, unit)
        if mirrored:
            items += _pile(left, way, -1.0, unit)
        marks = " + ".join(p.mark for p in members)
        return Drawing(
            id=f"{gang.id}.gang",
            title=f"Mark together: {marks}",
            alt=f"{len(members)} panels laid to be marked together, {marks}: {gang.why}.",
            items=tuple(items),
            unit=unit,
            notes=(f"{gang.why[:1].upper()}{gang.why[1:]}.",),
        )

    return fitted(draw, room, (first.length, height))


def _pile(panels: Sequence[Panel], way: float, up: float, unit: float) -> list[Entity]:
    """One pile, face edge at y = 0 and the boards reaching `up`; the lowest board first, each a step further out."""
    items: list[Entity] = []
    gap = 3.0 * unit * up
    shown = panels[:_MOST]
    for n in range(len(shown) - 1, -1, -1):
        panel, off = shown[n], n * _STEP * unit
        a = (0.0, gap)
        high = _high(panel, unit) + off
        b = (way * (panel.length + off), up * high + gap)
        items.append(rectangle(a, b, pen=Pen.OUTLINE if n == 0 else Pen.FEATURE, fill=Fill(Tint.PAPER)))
        name = panel.mark if n < _MOST - 1 or len(panels) <= _MOST else f"{panel.mark} and {len(panels) - _MOST} more"
        below = min(2.5 * unit, high / 2)  # a narrow board has its name in its middle
        at = (way * _NAME_AT * unit, b[1] - up * below)
        anchor = Anchor.START if way > 0 else Anchor.END
        items.append(Text(at=at, text=name, height=HEIGHTS[Role.NAME], bold=True, anchor=anchor, role=Role.NAME))
    off = -way * 1.9 * unit
    items.append(line((off, gap), (off, gap + up * _high(panels[0], unit)), pen=Pen.DATUM))
    items.append(edge_mark((way * _mark_at(panels[0], unit), gap), (0.0, up), _MARK * unit, unit))
    return items


def _high(panel: Panel, unit: float) -> float:
    """Return how broad a panel is drawn: as it is, or so that its name stands in it."""
    return max(panel.width, _LEAST_HIGH * unit)


def _mark_at(panel: Panel, unit: float) -> float:
    """Return how far along the face edge its mark stands: in the middle, or just clear of the panel's own."""
    label = (_NAME_AT + _MARK / 2 + 0.8) * unit + width_of(panel.mark, HEIGHTS[Role.NAME] * unit, bold=True)
    return min(max(panel.length * 0.5, label), max(panel.length - _MARK / 2 * unit, panel.length * 0.5))
