"""What a maker should know about a case that can be built: heavy doors, thin bottoms, fronts that scrape the floor."""

from __future__ import annotations

from storyrod.carcass._clothes_rails import warn_of_rails
from storyrod.carcass._inside import Bay
from storyrod.carcass._making import Making
from storyrod.measure.space import Axis
from storyrod.model.job import Holds
from storyrod.model.panel import Role
from storyrod.model.weight import case_weight, panel_mass_kg

DOOR_KG_PER_HINGE = 5.0
"""A door heavier than this for each of its hinges is told; common practice, no source."""

WIDE_DOOR = 600.0
"""A door wider than this (mm) is told: it pulls hard on its upper hinge; common practice, no source."""

THIN_BOTTOM = 9.0
"""A drawer bottom thinner than this (mm) sags over more than `THIN_BOTTOM_WIDTH`; common practice, no source."""

THIN_BOTTOM_WIDTH = 450.0
"""Greatest inside width (mm) of a drawer with a thin bottom; common practice, no source."""

FLOOR_CLEAR = 3.0
"""A front that comes nearer to the floor than this (mm) is told; common practice, no source."""


def warn(making: Making, bays: tuple[Bay, ...]) -> None:
    """Note what the maker should know about the case."""
    _warn_of_doors(making)
    _warn_of_drawers(making)
    _warn_of_floor(making)
    _warn_of_raw_ends(making)
    _warn_behind_doors(making, bays)
    warn_of_rails(making)


def _warn_of_doors(making: Making) -> None:
    for door in making.doors:
        panel = making.panels[door.panel]
        mass = panel_mass_kg(panel, making.board(making.case.fronts.board), making.fittings[panel.id])
        heavy, wide = mass > DOOR_KG_PER_HINGE * door.hinges, panel.length > WIDE_DOOR
        if heavy or wide:
            making.caution(
                "heavy-door",
                panel.name,
                f"It weighs {mass:.1f} kg and is {making.mm(panel.length)} wide, on {door.hinges} hinges.",
                "Check the hinge's own sheet, add a hinge, or make it a pair of doors.",
                ids=(panel.id,),
            )


def _warn_of_drawers(making: Making) -> None:
    for drawer in making.drawers:
        panels = [making.panels[i] for i in drawer.panels]
        bottom = next(p for p in panels if p.role is Role.DRAWER_BOTTOM)
        width = drawer.inside.size(Axis.X)
        if bottom.thickness < THIN_BOTTOM and width > THIN_BOTTOM_WIDTH:
            making.caution(
                "thin-drawer-bottom",
                drawer.name,
                f"A bottom of {making.mm(bottom.thickness)} will sag in a drawer {making.mm(width)} wide inside.",
                f"Use {making.mm(THIN_BOTTOM)} or more, or put a rail under the middle.",
                ids=(bottom.id,),
            )
        runner = making.workshop.runner(drawer.runner)
        if drawer.front is not None:
            panels.append(making.panels[drawer.front])
        features = [f for p in panels for f in making.fittings[p.id]]
        whole = case_weight(panels, making.job, features).mass_kg + drawer.load_kg
        if runner is not None and whole > runner.load_kg:
            making.caution(
                "runner-load",
                drawer.name,
                f"Drawer and load weigh {whole:.0f} kg; the runners carry {runner.load_kg:g} kg.",
                "Choose stronger runners, or load it less.",
                ids=tuple(p.id for p in panels),
            )


def _warn_of_floor(making: Making) -> None:
    if making.case.hung is not None:
        return
    for panel in making.panels.values():
        if panel.role in {Role.DOOR, Role.DRAWER_FRONT} and panel.box.low.z < FLOOR_CLEAR:
            making.caution(
                "front-near-floor",
                panel.name,
                f"Its lower edge is {making.mm(panel.box.low.z)} above the floor.",
                "Put the case on a plinth or feet, or make the reveal larger, or it will scrape on a carpet.",
                ids=(panel.id,),
            )


def _warn_of_raw_ends(making: Making) -> None:
    """A case that hangs is seen from below, where the ends of its sides are raw board unless they are covered."""
    case = making.case
    edging = making.board().edging
    if case.hung is None or case.edged_ends or edging is None or not case.edged:
        return
    sides = [p for p in making.panels.values() if p.role in {Role.SIDE_LEFT, Role.SIDE_RIGHT}]
    making.caution(
        "raw-ends",
        f"case {case.code}",
        "From in front you can see the bottom ends of its sides: they are raw board.",
        "Edge them as well: `edged_ends = true`.",
        ids=tuple(p.id for p in sides),
    )


def _warn_behind_doors(making: Making, bays: tuple[Bay, ...]) -> None:
    for bay in bays:
        if bay.behind_door and bay.node.holds is Holds.DRAWER:
            making.caution(
                "drawer-behind-door",
                bay.name,
                "This drawer comes out past the hinges and the edge of an open door.",
                "Choose hinges that open clear of the opening, or pack the runners out.",
            )
