"""Levelling feet: how many stand where under a base, their screws, and the plinth board that is clipped on them.

A foot stands at every corner, under every divider on the base, and no farther apart than the job says. Its plate
reaches under the end of a side, which so stands on it and does not hang on its joint.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from storyrod.carcass._fixings import Draft, Driven
from storyrod.carcass._making import Blank, Making, box_of
from storyrod.carcass._shell import GROOVE_SLACK, Shell
from storyrod.carcass._sums import Term, told
from storyrod.faults import WayOut
from storyrod.measure.space import Point
from storyrod.measure.tolerance import EXACT
from storyrod.model.feature import Feature, Hole
from storyrod.model.feet import Feet, FootKind, FootPlace
from storyrod.model.fixing import FixingKind
from storyrod.model.job import BackKind, BetweenOrOver
from storyrod.model.panel import Panel, Role, Surface

UNDER_SIDE: Final = 5.0
"""The plate of a foot reaches so far under the end of a side (mm); common practice, no source."""

BESIDE: Final = 25.0
"""A foot stands so far beside the middle of a divider (mm): its screws stay clear of the divider's joint, its plate
reaches under it. Common practice, no source."""

FROM_REAR: Final = 10.0
"""A plate stays so far before the rear edge of the base (mm); common practice, no source."""

CLIP: Final = "plinth clip"
"""What holds a plinth board to a foot."""

CLIP_DEPTH: Final = 10.0
"""Pilot holes for the screws of a clip are so deep (mm); common practice, no source."""


def check_feet(making: Making, shell: Shell) -> None:
    """Note why a case cannot stand on feet as it is written."""
    case, feet = making.case, making.case.feet
    if feet is None:
        return
    away = WayOut(field=feet.field, value=None)
    if case.plinth is not None or case.hung is not None:
        other = case.plinth or case.hung
        making.fault(
            "feet-and-other",
            feet.field,
            found=f"feet under a case that {'has a plinth' if case.plinth is not None else 'hangs on a wall'}",
            allowed="feet, a plinth, or a case that hangs",
            do="Leave one of them out: feet can carry a clip-on board that looks like a plinth.",
            ways=(WayOut(field=other.field if other is not None else "", value=None), away),
        )
    if case.base is BetweenOrOver.NONE:
        making.fault(
            "feet-base",
            making.path("base"),
            found='feet, and "none" for the base that they are screwed to',
            allowed='"between sides" or "under sides"',
            do="Give the case a base.",
            ways=(WayOut(field="", value=BetweenOrOver.BETWEEN_SIDES.value), away),
        )
    kind = kind_of(making, feet)
    if kind is not None:
        _check_reach(making, feet, kind)
        _check_depth(making, shell, feet, kind)


def kind_of(making: Making, feet: Feet) -> FootKind | None:
    """Return the kind of foot that is asked for, or the workshop's own choice."""
    return making.workshop.foot(feet.kind or making.workshop.default_foot)


def _check_reach(making: Making, feet: Feet, kind: FootKind) -> None:
    if kind.least - EXACT <= feet.height <= kind.most + EXACT:
        return
    within = (
        WayOut(field=f"{feet.field}.kind", value=k.code)
        for k in making.workshop.feet
        if k.least - EXACT <= feet.height <= k.most + EXACT
    )
    nearest = making.at_least(kind.least) if feet.height < kind.least else making.at_most(kind.most)
    making.fault(
        "feet-height",
        f"{feet.field}.height",
        found=making.mm(feet.height),
        allowed=f'{making.least(kind.least)} to {making.most(kind.most)}, by "{kind.code}"',
        do="Choose a foot that adjusts to this height, or another height.",
        ways=(*within, nearest),
    )


def _check_depth(making: Making, shell: Shell, feet: Feet, kind: FootKind) -> None:
    front, rear = _rows(making, shell, feet, kind)
    if rear - front < kind.plate - EXACT:
        making.fault(
            "feet-depth",
            f"{feet.field}.setback",
            found=f"front feet {making.mm(front)} behind the front, in a base {making.mm(shell.base_rear)} deep",
            allowed=f"front feet at most {making.most(rear - kind.plate)} behind it",
            do="Set the plinth board back by less, or make the case deeper.",
            ways=(making.at_most(feet.setback + rear - kind.plate - front),)
            if feet.setback + rear - kind.plate - front >= 0
            else (),
        )


def _rows(making: Making, shell: Shell, feet: Feet, kind: FootKind) -> tuple[float, float]:
    """Return how far behind the front the first and the last row stand (case y)."""
    thick = making.board(feet.board).measured if feet.plinth else 0.0
    behind = thick + kind.clip_to_face if feet.plinth else kind.plate / 2
    rear = min(shell.base_rear - FROM_REAR, making.case.depth - making.case.clear_of_wall) - kind.plate / 2
    back = making.case.back
    if back.kind in {BackKind.GROOVED, BackKind.REBATED} and back.in_base:
        screw = (kind.screws_apart + _pilot(making, kind)) / 2  # the rear one stays before what is cut for the back
        rear = min(rear, shell.inside.high.y - GROOVE_SLACK - making.job.limits.skin - screw)
    return feet.setback + behind, rear


def add_feet(making: Making, shell: Shell) -> tuple[FootPlace, ...]:
    """Put the feet under the base, with the pilot holes of their plates, and the plinth board before them."""
    feet = making.case.feet
    kind = kind_of(making, feet) if feet is not None else None
    base = making.panels.get(making.id_of("base"))
    if feet is None or kind is None or base is None:
        return ()
    across, deep = _columns(making, shell, feet, kind), _levels(making, shell, feet, kind)
    places = [
        FootPlace(id=making.id_of(f"foot-{n}"), kind=kind.code, x=x, y=y, plate=kind.plate)
        for n, (y, x) in enumerate(((y, x) for y in deep for x in across), start=1)
    ]
    cuts = [c for n, place in enumerate(places, start=1) for c in _pilots(making, base, kind, place, n)]
    _screwed(making, FixingKind.FOOT, base, kind, cuts, len(places), ("feet", kind.code, kind.name))
    making.stock(kind.code, kind.name, len(places), "piece", "feet", feet.field)
    if feet.plinth:
        _add_board(making, feet, kind, across)
    return tuple(places)


def _columns(making: Making, shell: Shell, feet: Feet, kind: FootKind) -> list[float]:
    """Return where feet stand from side to side (case x)."""
    case = making.case
    between = case.base is BetweenOrOver.BETWEEN_SIDES
    end = shell.t + kind.plate / 2 - UNDER_SIDE if between else kind.plate / 2
    fixed = [end, case.width - end]
    top = shell.floor + shell.t
    for panel in making.panels.values():
        if panel.role is Role.DIVIDER and abs(panel.box.low.z - top) < 1.0:
            x = panel.box.centre.x + BESIDE
            if all(abs(x - f) >= kind.plate for f in fixed):
                fixed.append(x)
    return _filled(sorted(fixed), feet.apart)


def _levels(making: Making, shell: Shell, feet: Feet, kind: FootKind) -> list[float]:
    return _filled(list(_rows(making, shell, feet, kind)), feet.apart)


def _filled(places: Sequence[float], apart: float) -> list[float]:
    """Return places with even ones between those that are too far apart."""
    found = [places[0]]
    for low, high in pairwise(places):
        count = max(1, math.ceil((high - low) / apart - EXACT))
        found += [low + (high - low) * n / count for n in range(1, count + 1)]
    return found


def _pilots(making: Making, base: Panel, kind: FootKind, place: FootPlace, number: int) -> list[Feature]:
    shape = Hole(diameter=_pilot(making, kind), depth=min(kind.pilot_depth, base.thickness - making.job.limits.skin))
    return [
        making.cut(
            base,
            f"foot-{number}-screw-{i}",
            Surface.FAR_FACE,
            Point(place.x, y, base.box.low.z),
            shape,
            why=f"foot {number}",
            item=kind.code,
            pattern=f"foot {number}",
        )
        for i, y in enumerate((place.y - kind.screws_apart / 2, place.y + kind.screws_apart / 2), start=1)
    ]


def _pilot(making: Making, kind: FootKind) -> float:
    screw = making.workshop.screw(kind.fixed_with)
    return kind.pilot or (screw.pilot if screw is not None else 2.5)


def _add_board(making: Making, feet: Feet, kind: FootKind, across: Sequence[float]) -> None:
    """Put the plinth board before the front feet, with a clip on each of them."""
    case, unit = making.case, making.job.unit
    board = making.board(feet.board)
    panel = making.add(
        Blank(
            suffix="plinth-board",
            role=Role.PLINTH_BOARD,
            name="plinth board",
            board=board,
            box=box_of((0.0, case.width), (feet.setback, feet.setback + board.measured), (feet.floor_gap, feet.height)),
            sums=(told(unit, case.width), told(unit, feet.height, Term(-1, feet.floor_gap))),
            cause=feet.field,
            body="",
        )
    )
    shape = Hole(diameter=_pilot(making, kind), depth=min(CLIP_DEPTH, panel.thickness - making.job.limits.skin))
    up = (panel.box.low.z + panel.box.high.z) / 2
    cuts = [
        making.cut(
            panel,
            f"clip-{n}-screw-{i}",
            Surface.FAR_FACE,
            Point(at, panel.box.high.y, up),
            shape,
            why=f"clip of foot {n}",
            item=CLIP,
            pattern=f"clip {n}",
        )
        for n, x in enumerate(across, start=1)
        for i, at in enumerate((x - kind.clip_pitch / 2, x + kind.clip_pitch / 2), start=1)
    ]
    _screwed(making, FixingKind.CLIP, panel, kind, cuts, len(across), ("plinth board", CLIP, CLIP))
    making.stock(CLIP, CLIP, len(across), "piece", "plinth board", feet.field)


def _screwed(
    making: Making,
    what: FixingKind,
    panel: Panel,
    kind: FootKind,
    cuts: Sequence[Feature],
    count: int,
    named: tuple[str, str, str],
) -> None:
    where, item, name = named
    feet = making.case.feet
    making.drafts.append(
        Draft(
            kind=what,
            panel=panel,
            about=str(panel.id),
            item=item,
            name=name,
            where=where,
            cause=feet.field if feet is not None else "",
            count=count,
            features=tuple(cuts),
            driven=Driven(
                code=kind.fixed_with,
                count=len(cuts),
                seat=kind.screw_seat,
                board=panel.thickness,
                room=panel.thickness - making.job.limits.skin,
                place=f"{feet.field}.kind" if feet is not None else "",
            ),
        )
    )
