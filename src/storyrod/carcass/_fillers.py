"""Sides and filler strips that are scribed to walls: whether they can be, the strips, the holes for their screws."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from storyrod.carcass._fixings import Draft, Driven
from storyrod.carcass._making import CARCASS, Blank, Making, box_of
from storyrod.carcass._sums import Term, told
from storyrod.carcass._worktop import SCREWS_APART
from storyrod.faults import WayOut
from storyrod.measure.space import Axis, Point
from storyrod.measure.tolerance import EXACT, TOUCH
from storyrod.model.feature import Feature, Hole
from storyrod.model.fixing import FixingKind
from storyrod.model.job import BackKind, Fillers
from storyrod.model.panel import Panel, Role, Scribed, Surface

FROM_END: Final = 75.0
"""The first and last screw of a filler stand so far from its ends (mm); common practice, no source."""

CLEAR: Final = 25.0
"""They keep so far from shelves (mm): room for a driver; common practice, no source."""

LEAST_BITE: Final = 15.0
"""A screw that goes less deep into a filler's edge than this (mm) does not hold it; common practice, no source."""

SCREW_HOLE: Final = 4.5
"""Holes for a filler's screws of 4 (mm); common practice, no source."""

HEAD: Final = 9.0
"""These are countersunk so wide (mm); common practice, no source."""


def check_fillers(making: Making) -> None:
    """Note why sides cannot be scribed, or fillers fixed, as they are written."""
    case, scribe, fillers = making.case, making.case.scribe, making.case.fillers
    if scribe is not None and case.hung is not None:
        making.fault(
            "scribe-hung",
            scribe.field,
            found="sides to scribe to the wall that the case hangs on",
            allowed="sides to be scribed, or a case that hangs",
            do="Leave the scribing out: the rail and sides of a hung case meet the wall together.",
            ways=(WayOut(field="", value=None),),
        )
    if scribe is not None and max(scribe.left, scribe.right) > 0 and case.back.kind is BackKind.APPLIED:
        making.fault(
            "scribe-back",
            f"{case.back.field}.kind",
            found='"applied" over the rear edges of sides that are to be scribed',
            allowed='"rebated", "grooved", "between" or "none"',
            do="Let the back into the sides, so that their rear edges reach the wall.",
            ways=tuple(WayOut(field="", value=k.value) for k in (BackKind.REBATED, BackKind.GROOVED)),
        )
    if fillers is not None and fillers.left is None and fillers.right is None:
        making.fault(
            "fillers-none",
            fillers.field,
            found="fillers, but no gap for one",
            allowed="`left`, `right` or both",
            do="Write how wide the gap between a side and its wall is, or leave the table out.",
            ways=(WayOut(field="", value=None),),
        )


def _wanted(fillers: Fillers) -> Iterator[tuple[str, Role, float]]:
    for word, role, gap in (("left", Role.SIDE_LEFT, fillers.left), ("right", Role.SIDE_RIGHT, fillers.right)):
        if gap is not None:
            yield word, role, gap


def add_fillers(making: Making) -> None:
    """Put the filler strips beside the sides, as high as the case, with what is to be scribed off them."""
    case, fillers, unit = making.case, making.case.fillers, making.job.unit
    if fillers is None:
        return
    board = making.board(fillers.board)
    for word, role, gap in _wanted(fillers):
        wide = gap + fillers.scribe
        left = role is Role.SIDE_LEFT
        edge = Surface.FACE_EDGE if left else Surface.FAR_EDGE
        making.add(
            Blank(
                suffix=f"filler-{word}",
                role=Role.FILLER,
                name=f"{word} filler",
                board=board,
                box=box_of(
                    (-wide, 0.0) if left else (case.width, case.width + wide),
                    (fillers.back, fillers.back + board.measured),
                    (case.raised, case.height),
                ),
                sums=(told(unit, case.height, Term(-1, case.raised)), told(unit, gap, Term(1, fillers.scribe))),
                cause=fillers.field,
                body="",
                scribed=Scribed(edge=edge, allowance=fillers.scribe) if fillers.scribe else None,
            )
        )


def fix_fillers(making: Making) -> None:
    """Bore the sides, from inside, for the screws that hold the fillers."""
    fillers = making.case.fillers
    if fillers is None:
        return
    for word, role, gap in _wanted(fillers):
        side = next(p for p in making.panels.values() if p.role is role)
        filler = making.panels[making.id_of(f"filler-{word}")]
        y = (filler.box.low.y + filler.box.high.y) / 2
        levels = _levels(making, side, y)
        if len(levels) < 2:
            making.fault(
                "filler-screws",
                f"{fillers.field}.{word}",
                found=f"room for {len(levels)} of its screws in {side.name}",
                allowed=f"two, {making.mm(CLEAR)} clear of shelves, and clear of other holes",
                do="Leave the filler out, and fix a strip to the wall instead.",
                ways=(WayOut(field="", value=None),),
            )
            continue
        cuts = [_cut(making, side, y, z, n) for n, z in enumerate(levels, start=1)]
        _screw(making, fillers, filler, side, cuts, gap)


def _levels(making: Making, side: Panel, y: float) -> list[float]:
    """Return how high the screws stand (case z): even steps, each moved to where it is clear."""
    low, high = side.box.low.z + FROM_END, side.box.high.z - FROM_END
    if high < low:
        return []
    taken = list(_taken(making, side, y))
    count = max(2, math.ceil((high - low) / SCREWS_APART - EXACT) + 1)
    found: list[float] = []
    for n in range(count):
        z = low + n * (high - low) / (count - 1)
        steps = sorted(range(-60, 61), key=lambda s: (abs(s), s))
        free = (z + s * 5.0 for s in steps if low - EXACT <= z + s * 5.0 <= high + EXACT)
        at = next((f for f in free if all(not a < f < b for a, b in taken)), None)
        if at is not None and all(abs(at - f) > CLEAR for f in found):
            found.append(at)
    return sorted(found)


def _taken(making: Making, side: Panel, y: float) -> Iterator[tuple[float, float]]:
    """Yield from where to where up the side (case z) panels that meet it, or other cuts, leave a screw no room."""
    inside = side.box.high.x if side.role is Role.SIDE_LEFT else side.box.low.x
    for panel in making.panels.values():
        box = panel.box
        meets = box.low.x - TOUCH <= inside <= box.high.x + TOUCH and box.low.y - CLEAR < y < box.high.y + CLEAR
        if panel.body == CARCASS and panel.id != side.id and meets:
            yield box.low.z - CLEAR, box.high.z + CLEAR
    for feature in making.fittings[side.id]:
        at = side.frame.to_case(feature.at)
        if isinstance(feature.shape, Hole):
            reach = (feature.shape.diameter + HEAD) / 2 + making.job.limits.wall
            if abs(at.y - y) < reach:
                yield at.z - reach, at.z + reach


def _cut(making: Making, side: Panel, y: float, z: float, number: int) -> Feature:
    x = side.box.high.x if side.role is Role.SIDE_LEFT else side.box.low.x
    return making.cut(
        side,
        f"filler-screw-{number}",
        Surface.FACE,
        Point(x, y, z),
        Hole(diameter=SCREW_HOLE, depth=side.box.size(Axis.X), through=True, countersink=HEAD),
        why="screw of the filler",
        item="filler screw",
    )


def _screw(making: Making, fillers: Fillers, filler: Panel, side: Panel, cuts: list[Feature], gap: float) -> None:
    making.drafts.append(
        Draft(
            kind=FixingKind.FILLER,
            panel=filler,
            about=side.id,
            item="",
            name=filler.name,
            where="fillers",
            cause=fillers.field,
            count=len(cuts),
            features=tuple(cuts),
            driven=Driven(
                code=fillers.fixed_with,
                count=len(cuts),
                seat=side.thickness,
                board=gap,
                room=gap - making.job.limits.skin,
                place=f"{fillers.field}.fixed_with",
                least=LEAST_BITE,
            ),
        )
    )
