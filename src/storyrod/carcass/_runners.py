"""Where runners are screwed: pilot holes in the carcass's uprights and in the drawer's sides."""

from __future__ import annotations

from dataclasses import replace

from storyrod.carcass._drawers import BoxPlan, groove_width
from storyrod.carcass._fixings import LEAST_HOLD, LEAST_HOLD_FRONT, Draft, Driven
from storyrod.carcass._making import Making
from storyrod.measure.space import Point
from storyrod.model.feature import Feature, FeatureId, Hole
from storyrod.model.fixing import FixingKind
from storyrod.model.panel import Panel, PanelId, Surface
from storyrod.model.workshop import RailKind, Runner, RunnerMount

FROM_END = 5.0
"""No runner screw stands nearer to the runner's end than this (mm)."""

CATCHES = 2
"""Catches of an under-mounted runner, one in each front corner of the drawer; common practice, no source."""

CATCH_SCREWS = 2
"""Screws in each catch; common practice, no source."""


def add_runner(making: Making, plan: BoxPlan, left: Panel, right: Panel, box_front: Panel) -> None:
    """Bore the uprights beside the drawer, and its sides, for one pair of runners."""
    bay = plan.bay
    for bound, toward in ((bay.left, "+x"), (bay.right, "-x")):
        if bound.panel is not None:
            _bore_upright(making, plan, making.panels[bound.panel], toward)
    if plan.runner.mount is RunnerMount.SIDE:
        _bore_drawer(making, plan, left)
        _bore_drawer(making, plan, right)
    else:
        _note_catches(making, plan, box_front)
    _stock(making, plan)


def _bore_upright(making: Making, plan: BoxPlan, upright: Panel, toward: str) -> None:
    """Bore one upright for the carcass part of a runner."""
    runner, skin = plan.runner, making.job.limits.skin
    z = plan.bay.box.low.z + runner.screw_up
    surface = upright.surface_toward(toward)
    room = upright.thickness - skin
    shape = Hole(diameter=runner.screw_diameter, depth=min(runner.screw_depth, room))
    cuts = tuple(
        making.cut(
            upright,
            f"drawer-{plan.number}-runner-{i}",
            surface,
            Point(0.0, plan.runner_front + s, z),
            shape,
            why=f"runner of {plan.name}",
            item=runner.code,
            pattern=making.id_of(f"drawer-{plan.number}-runner"),
        )
        for i, s in enumerate(_screws(runner.screws, plan.runner_length), start=1)
    )
    _note(making, plan, FixingKind.RUNNER_CASE, upright, cuts, room)


def _note(
    making: Making, plan: BoxPlan, kind: FixingKind, panel: Panel, cuts: tuple[Feature, ...], room: float
) -> None:
    """Note one part of a runner, to be fixed at these holes by screws that go no deeper than `room`."""
    runner = plan.runner
    making.drafts.append(
        Draft(
            kind=kind,
            panel=panel,
            about=making.id_of(f"drawer-{plan.number}"),
            item=runner.code,
            name=f"{runner.name} {making.mm(plan.runner_length)}",
            where=plan.name,
            cause=plan.bay.node.field,
            features=cuts,
            driven=Driven(
                code=runner.fixed_with,
                count=len(cuts),
                seat=runner.screw_seat,
                sheet=runner.screw_length,
                board=panel.thickness,
                room=room,
                place=f"{making.case.drawers.field}.runner",
            ),
        )
    )


def _note_catches(making: Making, plan: BoxPlan, box_front: Panel) -> None:
    """Note the catches of an under-mounted runner, which hold the drawer at its box front from below."""
    runner, skin = plan.runner, making.job.limits.skin
    making.drafts.append(
        Draft(
            kind=FixingKind.RUNNER_CATCH,
            panel=box_front,
            about=making.id_of(f"drawer-{plan.number}"),
            item=runner.code,
            name=f"catches of the {runner.name}",
            where=plan.name,
            cause=plan.bay.node.field,
            count=CATCHES,
            driven=Driven(
                code=runner.fixed_with,
                count=CATCHES * CATCH_SCREWS,
                seat=runner.screw_seat,
                sheet=runner.screw_length,
                board=box_front.thickness,
                room=box_front.thickness - skin,
                place=f"{making.case.drawers.field}.runner",
            ),
        )
    )


def _screws(wanted: tuple[float, ...], length: float) -> tuple[float, ...]:
    """Return the screws of the runner's own sheet that a runner of this length has, two at the least."""
    fitting = tuple(s for s in wanted if s <= length - FROM_END)
    if len(fitting) >= 2:
        return fitting
    return (min(37.0, length / 4), length - min(37.0, length / 4))


def _bore_drawer(making: Making, plan: BoxPlan, side: Panel) -> None:
    """Bore one side of the drawer, from its outside; a hole over the bottom's groove is kept from breaking into it."""
    runner, skin = plan.runner, making.job.limits.skin
    up = runner.screw_up - plan.below if runner.drawer_screw_up is None else runner.drawer_screw_up
    z, half = plan.box.low.z + up, runner.screw_diameter / 2
    groove = (plan.box.low.z + plan.bottom_up, plan.box.low.z + plan.bottom_up + groove_width(plan))
    over_groove = plan.grooved and groove[0] - skin < z + half and z - half < groove[1] + skin
    room = side.thickness - (plan.bite if over_groove else 0.0) - skin
    inside = side.box.low.z + half + skin <= z <= side.box.high.z - half - skin
    if room < LEAST_HOLD or not inside:
        making.fault(
            "runner-screws",
            f"{making.case.drawers.field}.{'bottom_up' if over_groove and inside else 'runner'}",
            found=f"runner screws {making.mm(up)} up the sides of {plan.name}, "
            + ("over the groove of its bottom" if inside else f"which are {making.mm(side.width)} high"),
            allowed=f"board of {making.mm(LEAST_HOLD + skin)} or more under each screw, clear of the edges",
            do="Set the bottom at another height, choose a thicker board for the drawers, or change the room below "
            "the box.",
        )
        return
    shape = Hole(diameter=runner.screw_diameter, depth=min(runner.screw_depth, room))
    places = _screws(runner.drawer_screws, plan.box.high.y - plan.box.low.y)
    cuts = tuple(
        making.cut(
            side,
            f"runner-{i}",
            Surface.FAR_FACE,
            Point(0.0, plan.box.low.y + s, z),
            shape,
            why=f"runner of {plan.name}",
            item=runner.code,
            pattern=making.id_of(f"drawer-{plan.number}-box-runner"),
        )
        for i, s in enumerate(places, start=1)
    )
    _note(making, plan, FixingKind.RUNNER_DRAWER, side, cuts, room)


def _stock(making: Making, plan: BoxPlan) -> None:
    runner = plan.runner
    name = f"{runner.name} {making.mm(plan.runner_length)}"
    making.stock(runner.code, name, 1, "pair", plan.name, plan.bay.node.field)


def settle_opposed(making: Making) -> None:
    """Make screws of runners and rail sockets shorter where two meet from both faces of one panel.

    So much shorter that `skin` stays between them.
    """
    skin = making.job.limits.skin
    for own, features in making.fittings.items():
        panel = making.panels[own]
        screwed = [f for f in features if _screwed(making, f) is not None]
        near = [f for f in screwed if f.surface is Surface.FACE]
        far = [f for f in screwed if f.surface is Surface.FAR_FACE]
        met = {
            f.id
            for a in near
            for b in far
            if _reach(making, a) + _reach(making, b) > panel.thickness - skin and _meet(a, b, skin)
            for f in (a, b)
        }
        if met:
            _shorten(making, own, met, (panel.thickness - skin) / 2)


def _reach(making: Making, feature: Feature) -> float:
    """Return how deep a fitting's screw goes, or its pilot hole where that is deeper."""
    fitting = _screwed(making, feature)
    if fitting is None:
        return feature.depth
    deepest = making.panels[feature.panel].thickness - making.job.limits.skin
    length = fitting.screw_length
    return max(feature.depth, deepest if length is None else length - fitting.screw_seat)


def _screwed(making: Making, feature: Feature) -> Runner | RailKind | None:
    return making.workshop.runner(feature.item) or making.workshop.rail(feature.item)


def _meet(a: Feature, b: Feature, skin: float) -> bool:
    reach = skin + (_diameter(a) + _diameter(b)) / 2
    return (a.at.u - b.at.u) ** 2 + (a.at.v - b.at.v) ** 2 < reach * reach


def _diameter(feature: Feature) -> float:
    return feature.shape.diameter if isinstance(feature.shape, Hole) else 0.0


def _shorten(making: Making, own: PanelId, met: set[FeatureId], depth: float) -> None:
    panel = making.panels[own]
    making.fittings[own] = [
        replace(f, shape=replace(f.shape, depth=min(f.depth, depth)))
        if f.id in met and isinstance(f.shape, Hole)
        else f
        for f in making.fittings[own]
    ]
    rails = any(making.workshop.rail(f.item) is not None for f in making.fittings[own] if f.id in met)
    least = LEAST_HOLD_FRONT if rails else LEAST_HOLD
    if depth < least:
        making.fault(
            "clothes-rail-screws" if rails else "runner-screws",
            making.case.inside.field if rails else making.case.drawers.field,
            found=f"{'sockets of clothes rails' if rails else 'runners'} at the same height on both faces of "
            f"{panel.name}, "
            f"{making.mm(panel.thickness)} thick",
            allowed=f"at least {making.least(2 * least + making.job.limits.skin)} of board between them",
            do="Choose a thicker divider, or set the two sides at different heights.",
        )
        return
    making.shallow.update(dict.fromkeys(met, depth))
