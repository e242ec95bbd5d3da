"""What lies on each plank of a case, from what its openings hold."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from storyrod.measure.space import Axis, Box
from storyrod.model.carcass import BuiltCase, OpeningPlace
from storyrod.model.detail import DetailedCase
from storyrod.model.job import Contents, Holds, Loads, Opening
from storyrod.model.panel import Panel, PanelId, Role
from storyrod.model.soundness import Carried
from storyrod.model.thresholds import Thresholds

BOOKS_KG_M: Final = 20 * 0.45359237 / 0.3048
"""20 lb per running foot (Shelving spans for bookcases, tip page of a woodworking magazine): 29.8 kg/m."""


@dataclass(frozen=True, slots=True)
class Usual:
    """What things of a kind weigh: on a metre of shelf and on a square decimetre, and where that comes from."""

    kg_per_m: float
    kg_per_dm2: float
    why: str


USUAL: Final[dict[Contents, Usual]] = {
    Contents.BOOKS: Usual(BOOKS_KG_M, 0.0, "books and paper, 30 kg a metre (20 lb a foot)"),
    Contents.CROCKERY: Usual(0.0, 1.0, "crockery, 1.0 kg/dm2 (kitchen shelf load, from memory)"),
    Contents.TOOLS: Usual(0.0, 2.0, "tools, 2.0 kg/dm2 (heavy shelf load, from memory)"),
    Contents.CLOTHES: Usual(0.0, 0.65, "clothes, 0.65 kg/dm2 (domestic shelf load, from memory)"),
    Contents.LIGHT: Usual(0.0, 0.3, "light things, 0.3 kg/dm2 (common practice, no source)"),
}

NEAR: Final = 1.0
"""A floor this near to the underside of an opening (mm) is the opening's own."""


def is_level(panel: Panel) -> bool:
    """Return whether a panel lies flat."""
    return panel.frame.into.axis is Axis.Z


def openings_by_path(node: Opening) -> Iterator[tuple[str, Opening]]:
    """Return every opening of the brief with the path at which it was written."""
    yield node.field, node
    for inner in node.inside:
        yield from openings_by_path(inner)


def loads_on(case: DetailedCase, thresholds: Thresholds, said: Loads) -> dict[PanelId, tuple[Carried, ...]]:
    """Return what is carried by each level panel of a carcass and by each loose shelf.

    `said` are the maker's own figures for what an opening holds; the usual ones serve where none is said.
    """
    found: dict[PanelId, list[Carried]] = {}
    briefs = dict(openings_by_path(case.built.case.inside))
    for opening in case.built.openings:
        if opening.children or opening.holds is Holds.DRAWER:
            continue
        for panel_id, carried in _of_opening(case, opening, briefs.get(opening.cause), said):
            found.setdefault(panel_id, []).append(carried)
    for panel, kg in _on_top(case, thresholds):
        low, high = panel.box.span(Axis.X)
        why = f"things put on top, {thresholds.top_kg_dm2:g} kg/dm2"
        found.setdefault(panel.id, []).append(Carried(start=low, end=high, kg=kg, why=why))
    return {k: tuple(v) for k, v in found.items()}


def _on_top(case: DetailedCase, thresholds: Thresholds) -> Iterator[tuple[Panel, float]]:
    """Yield what carries things put on a case that is not too high: its top, or each flat rail in place of one.

    Rails carry them by a worktop, each the same share of what would lie on the whole; a worktop of the case's own is as
    large as it is, with its overhangs.
    """
    about, up = case.built.case, case.built.hung.underside if case.built.hung else 0.0
    worktop = next((p.box for p in case.panels if p.role is Role.WORKTOP), None)
    carcass = [p for p in case.panels if p.body == "carcass" and up + p.box.high.z <= thresholds.top_reach]
    for panel in carcass:
        if panel.role is Role.TOP:
            box = worktop or panel.box
            yield panel, thresholds.top_kg_dm2 * box.size(Axis.X) * box.size(Axis.Y) / 1e4
    rails = [p for p in carcass if p.role is Role.RAIL and is_level(p) and p.box.high.z > about.height - NEAR]
    for panel in rails:
        wide, deep = (worktop.size(Axis.X), worktop.size(Axis.Y)) if worktop else (panel.box.size(Axis.X), about.depth)
        yield panel, thresholds.top_kg_dm2 * wide * deep / 1e4 / len(rails)


def usual_load(contents: Contents, said: Loads) -> Usual:
    """Return what things of a kind weigh on a shelf: as the maker says, or as is usual."""
    if contents is Contents.BOOKS:
        kg = said.books_kg_m
        return USUAL[contents] if kg is None else Usual(kg, 0.0, f"books and paper, {kg:g} kg a metre, as you set")
    each = {
        Contents.CROCKERY: said.crockery_kg_dm2,
        Contents.TOOLS: said.tools_kg_dm2,
        Contents.CLOTHES: said.clothes_kg_dm2,
        Contents.LIGHT: said.light_kg_dm2,
    }[contents]
    return USUAL[contents] if each is None else Usual(0.0, each, f"{contents.value}, {each:g} kg/dm2, as you set")


def _of_opening(
    case: DetailedCase, opening: OpeningPlace, brief: Opening | None, said: Loads
) -> Iterator[tuple[PanelId, Carried]]:
    loose = [p for p in case.panels if p.role is Role.LOOSE_SHELF and p.opening == opening.id]
    floor = floor_of(case, opening.box)
    name = f"{opening.name}: " if opening.name else ""
    bearers = [*loose, *([floor] if floor is not None else [])]
    for panel in bearers:
        start, end = _common(panel.box, opening.box)
        if opening.load_kg is not None:
            kg = opening.load_kg / (len(loose) + 1)
            shared = f", shared by {len(loose)} loose shelves and the floor" if loose else ""
            by = f"{opening.load_kg:g} kg, as you set{shared}"
        else:
            under = Contents.LIGHT if brief is not None and brief.clothes_rail is not None else Contents.BOOKS
            usual = usual_load((brief.contents if brief else None) or under, said)
            depth = min(panel.box.size(Axis.Y), opening.box.size(Axis.Y))
            kg = usual.kg_per_m * (end - start) / 1000 + usual.kg_per_dm2 * (end - start) * depth / 1e4
            by = usual.why
        if kg > 0:
            yield panel.id, Carried(start=start, end=end, kg=kg, why=f"{name}{by}", by=by)


def _common(a: Box, b: Box) -> tuple[float, float]:
    return max(a.low.x, b.low.x), min(a.high.x, b.high.x)


def floor_of(case: DetailedCase, room: Box) -> Panel | None:
    """Return the level panel of the carcass on which things in an opening stand, or None: the room's own floor."""
    for panel in case.panels:
        if panel.body != "carcass" or not is_level(panel) or panel.role is Role.RAIL:
            continue
        start, end = _common(panel.box, room)
        if abs(panel.box.high.z - room.low.z) <= NEAR and end - start > NEAR:
            return panel
    return None


def beside(built_panels: tuple[Panel, ...], room: Box, *, left: bool) -> Panel | None:
    """Return the upright that bounds an opening at its left or right, or None."""
    middle = (room.low.z + room.high.z) / 2
    at = room.low.x if left else room.high.x
    for panel in built_panels:
        if panel.body != "carcass" or panel.frame.into.axis is not Axis.X:
            continue
        face = panel.box.high.x if left else panel.box.low.x
        if abs(face - at) <= NEAR and panel.box.low.z <= middle <= panel.box.high.z:
            return panel
    return None


def opening_named(built: BuiltCase, opening_id: str) -> OpeningPlace:
    """Return one opening by its id."""
    return next(o for o in built.openings if o.id == opening_id)
