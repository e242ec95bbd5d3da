"""What is lifted: panels, drawers, the carcass; against the lifting equation and what one person lifts here."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

from storyrod.faults import Caution
from storyrod.measure.space import Axis
from storyrod.model.detail import DetailedCase, Details
from storyrod.model.panel import Panel, PanelId, Role
from storyrod.model.soundness import Carried, Handled, Weights
from storyrod.model.thresholds import GRAVITY
from storyrod.model.weight import panel_weight, together
from storyrod.trade.lifting import Grip, beyond_every_guide, recommended_kg

FROM_CM: Final = 30.0
RISE_CM: Final = 60.0
"""A panel is taken up from 30 cm to a bench of 90 cm: common practice, no source."""


def weights_of(
    case: DetailedCase, details: Details, loads: dict[PanelId, tuple[Carried, ...]], one_person_kg: float
) -> Weights:
    """Return the masses of a case and of its parts, and what lifting each asks for."""
    boards = {b.code: b for b in details.job.boards}
    weights = {p.id: panel_weight(p, boards[p.board], case.on(p.id)) for p in case.panels}
    panels = tuple(_handled(p.name, [p], weights[p.id].mass_kg, one_person_kg) for p in case.panels)
    drawers = []
    drawer_load = 0.0
    for drawer in case.built.drawers:
        parts = [case.panel(i) for i in (*drawer.panels, *([drawer.front] if drawer.front else ()))]
        drawer_load += drawer.load_kg
        kg = sum(weights[p.id].mass_kg for p in parts) + drawer.load_kg
        drawers.append(_handled(f"{drawer.name}, full", parts, kg, one_person_kg))
    body = [p for p in case.panels if p.body == "carcass"]
    carcass = together(weights[p.id] for p in body)
    whole = together(weights.values())
    height, depth = case.built.case.height, case.built.case.depth
    return Weights(
        panels=panels,
        drawers=tuple(drawers),
        carcass=_handled("carcass without fronts and drawers", body, carcass.mass_kg, one_person_kg),
        empty_kg=whole.mass_kg,
        loaded_kg=whole.mass_kg + drawer_load + sum(c.kg for carried in loads.values() for c in carried),
        # Pushed at the top, it starts to turn about its lower rear edge.
        turn_n=carcass.mass_kg * GRAVITY * (depth - carcass.centre.y) / height,
        centre=whole.centre,
    )


def _handled(name: str, panels: Sequence[Panel], kg: float, one_person_kg: float) -> Handled:
    """One lift: carried upright before the body, its least extent away from it."""
    extents = sorted(_extent(panels, axis) for axis in (Axis.X, Axis.Y, Axis.Z))
    away_cm = min(63.0, 25 + extents[0] / 20)
    recommended = recommended_kg(away_cm=away_cm, height_cm=FROM_CM, travel_cm=RISE_CM, grip=Grip.FAIR)
    return Handled(
        name=name,
        kg=kg,
        recommended_kg=recommended,
        persons=persons_for(kg, one_person_kg),
        ids=tuple(p.id for p in panels),
    )


def persons_for(kg: float, one_person_kg: float) -> int:
    """Return how many persons lift a mass: as many as each lift their own share of it; common practice, no source."""
    return max(1, math.ceil(kg / one_person_kg - 1e-9))


def _extent(panels: Sequence[Panel], axis: Axis) -> float:
    return max(p.box.span(axis)[1] for p in panels) - min(p.box.span(axis)[0] for p in panels)


def weight_cautions(case_name: str, case: DetailedCase, weights: Weights) -> Iterator[Caution]:
    """Return what is too heavy for one: panels, and the carcass."""
    doors = {p.id for p in case.panels if p.role in {Role.DOOR, Role.DRAWER_FRONT}}
    for one in (*weights.panels, weights.carcass):
        if one.persons < 2:
            continue
        aid = " It is more than every figure of the guideline filter." if beyond_every_guide(one.kg) else ""
        work = "fit it" if one.ids and one.ids[0] in doors else "lift and turn it"
        yield Caution(
            code="heavy-case" if one is weights.carcass else "heavy-panel",
            about=f"{case_name}, {one.name}",
            text=f"It weighs {one.kg:.0f} kg; one person is advised to lift {one.recommended_kg:.0f} kg so.{aid}",
            do=f"Take {one.persons} persons to {work}, or a lifting aid.",
            ids=one.ids,
        )
