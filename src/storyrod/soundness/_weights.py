"""What is lifted: panels, drawers, the carcass; against the lifting equation and what one person lifts here."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from storyrod.faults import Caution
from storyrod.measure.space import Axis
from storyrod.measure.writing import LengthWriter
from storyrod.model.detail import DetailedCase, Details
from storyrod.model.panel import Panel, PanelId, Role
from storyrod.model.soundness import Carried, Handled, Weights
from storyrod.model.thresholds import GRAVITY
from storyrod.model.weight import panel_weight, together
from storyrod.trade.lifting import LONG, Grip, alone_kg, beyond_every_guide, persons_to_lift, recommended_kg

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
    hung = sum(rail.load_kg for rail in case.built.rails)
    body = [p for p in case.panels if p.body == "carcass"]
    carcass = together(weights[p.id] for p in body)
    whole = together(weights.values())
    height, depth = case.built.case.height, case.built.case.depth
    return Weights(
        panels=panels,
        drawers=tuple(drawers),
        carcass=_handled("carcass without fronts and drawers", body, carcass.mass_kg, one_person_kg),
        empty_kg=whole.mass_kg,
        loaded_kg=whole.mass_kg + drawer_load + hung + sum(c.kg for carried in loads.values() for c in carried),
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
        # A door is held with one hand while the other guides its hinges.
        persons=persons_to_lift(kg, extents[-1], one_person_kg, driving=any(p.role is Role.DOOR for p in panels)),
        longest=extents[-1],
        ids=tuple(p.id for p in panels),
    )


def _extent(panels: Sequence[Panel], axis: Axis) -> float:
    return max(p.box.span(axis)[1] for p in panels) - min(p.box.span(axis)[0] for p in panels)


def weight_cautions(
    case_name: str, case: DetailedCase, weights: Weights, one_person_kg: float, lengths: LengthWriter
) -> Iterator[Caution]:
    """Yield what is no lift for one: panels, those for the same reason together, and the carcass."""

    def why(ones: Sequence[Handled]) -> str:
        return _why(ones, one_person_kg, lengths)

    fronts = {p.id for p in case.panels if p.role in {Role.DOOR, Role.DRAWER_FRONT}}
    alike: dict[tuple[object, ...], list[Handled]] = {}
    for one in (w for w in weights.panels if w.persons > 1):
        key = (one.persons, one.ids[0] in fronts, one.kg > one_person_kg, one.longest > LONG)
        alike.setdefault(key, []).append(one)
    for ones in alike.values():
        work = "fit" if ones[0].ids[0] in fronts else "lift and turn"
        yield _heavy("heavy-panel", case_name, ones, f"{work} {'it' if len(ones) == 1 else 'each'}", why(ones))
    if weights.carcass.persons > 1:
        yield _heavy("heavy-case", case_name, (weights.carcass,), "lift and turn it", why((weights.carcass,)))


def _heavy(code: str, case_name: str, ones: Sequence[Handled], work: str, why: str) -> Caution:
    return Caution(
        code=code,
        about=f"{case_name}, {', '.join(one.name for one in ones)}",
        text=why,
        do=f"Take {ones[0].persons} people to {work}, or a lifting aid.",
        ids=tuple(i for one in ones for i in one.ids),
    )


def _why(ones: Sequence[Handled], one_person_kg: float, lengths: LengthWriter) -> str:
    """Say of things that are handled alike why they are no lift for one, by the heaviest of them."""
    worst = max(ones, key=lambda w: (w.kg, w.longest))
    mass = f"{worst.kg:.0f} kg" + (" (the heaviest)" if len(ones) > 1 else "")
    if worst.kg > one_person_kg:
        beyond = " It is over every figure in the guideline filter." if beyond_every_guide(worst.kg) else ""
        return f"{mass}; the NIOSH equation advises {worst.recommended_kg:.0f} kg for one person.{beyond}"
    if worst.kg > alone_kg(worst.longest, one_person_kg):
        return f"{mass} and {lengths.told(round(worst.longest))} long: one person cannot hold both ends."
    return f"{mass}, held up with one hand while the other works."
