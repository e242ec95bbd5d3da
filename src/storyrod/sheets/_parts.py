"""From panels to parts at their cut sizes."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence

from storyrod.measure.space import PanelAxis
from storyrod.model.panel import Grain, Panel
from storyrod.model.sheet import EdgeMark, Part


def parts_from(panels: Iterable[Panel], *, allowance: float = 0.0) -> tuple[Part, ...]:
    """Return one part a panel: finished size less edging, plus `allowance` mm on length and width for machining.

    Panels with one `strip` are kept together in the order in which they stand in the case, along or across the
    grain as they stand there, so that the figure runs through the fronts as it ran through the sheet.
    """
    panels = tuple(panels)
    strips: dict[str, list[Panel]] = defaultdict(list)
    for panel in panels:
        if panel.strip:
            strips[panel.strip].append(panel)
    order: dict[str, int] = {}
    along: dict[str, bool] = {}
    for members in strips.values():
        axis = _run(members)
        for i, panel in enumerate(sorted(members, key=lambda p, a=axis: (_place(p, a), p.id))):  # type: ignore[misc]
            order[panel.id] = i
            along[panel.id] = (axis is PanelAxis.U) == (panel.grain is not Grain.ACROSS)
    return tuple(_part(p, allowance, order.get(p.id, 0), end_to_end=along.get(p.id, False)) for p in panels)


def _place(panel: Panel, axis: PanelAxis) -> float:
    return panel.box.centre.along(panel.frame.direction(axis).axis)


def _run(members: Sequence[Panel]) -> PanelAxis:
    """Return the panel axis along which the members follow one another."""
    spread = {}
    for axis in (PanelAxis.U, PanelAxis.V):
        places = [_place(p, axis) for p in members]
        spread[axis] = max(places) - min(places)
    return PanelAxis.U if spread[PanelAxis.U] > spread[PanelAxis.V] else PanelAxis.V


def _part(panel: Panel, allowance: float, at: int, *, end_to_end: bool) -> Part:
    return Part(
        id=panel.id,
        board=panel.board,
        length=round(panel.cut_length + allowance, 4),
        width=round(panel.cut_width + allowance, 4),
        mark=panel.mark,
        name=panel.name,
        grain=panel.grain,
        strip=panel.strip,
        strip_order=at,
        end_to_end=end_to_end,
        finished=(round(panel.length, 4), round(panel.width, 4)),
        edges=tuple(EdgeMark(surface=e.surface, edging=e.edging) for e in panel.edged),
        face_mark="face side up",
        field=panel.cause,
    )
