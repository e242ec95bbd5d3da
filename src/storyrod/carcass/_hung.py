"""A case that hangs on a wall: the rail behind its back, whether it can hang so, and where its fixings go."""

from __future__ import annotations

import math
from typing import Final

from storyrod.carcass._making import Blank, Making, box_of
from storyrod.carcass._shell import LEAST_INSIDE, Shell, rails_are_upright
from storyrod.carcass._sums import Term, told
from storyrod.faults import WayOut
from storyrod.measure.tolerance import EXACT
from storyrod.model.hung import Hung, HungBy, HungPlace, WallKind
from storyrod.model.job import BackKind, BetweenOrOver
from storyrod.model.panel import Bevel, Panel, Role, Surface

FROM_END: Final = 30.0
"""A fixing is at least so far from the rail's ends (mm): a driver comes past the side. Common practice, no source."""

FROM_EDGE: Final = 25.0
"""A fixing is at least so far from the long edges of the rail (mm): four screws of 6 mm. Common practice, no source."""

BESIDE: Final = 15.0
"""A driver needs so much room beside a divider, above and below a shelf (mm); common practice, no source."""

APART: Final = 400.0
"""Plugs in masonry are no farther apart than this (mm); common practice, no source."""

TWO_ROWS: Final = 50.0
"""Two screws go into a stud where so much is between them (mm), five of 10 mm: common practice, no source."""

SIDEWAYS: Final = 5.0
"""The wall's cleat is so much shorter at either end (mm): the case is moved along it. Common practice, no source."""

LEAST_CLEAT: Final = 80.0
"""No cleat is narrower than this (mm): fastenings in its ends stay clear of its bevel. Common practice, no source."""

_NONE: Final = '"none"'
_UP_BY: Final = 5.0
_LEAST_PLACES: Final = 2
_FLOOR: Final = 50.0


def check_hung(making: Making, shell: Shell) -> None:
    """Note why a case cannot hang as it is written."""
    case, hung = making.case, making.case.hung
    if case.back_rail is not None:
        _check_back_rail(making, shell, case.back_rail)
    if hung is None:
        return
    _check_parts(making, hung)
    _check_back(making, shell)
    if hung.wall is WallKind.PLASTERBOARD:
        making.fault(
            "hung-wall",
            f"{hung.field}.wall",
            found='"plasterboard"',
            allowed='"timber studs" or "masonry"',
            do="Plasterboard alone will not carry a case: find the studs behind it, or screw a batten across them "
            "first.",
            ways=tuple(WayOut(field="", value=w.value) for w in (WallKind.STUDS, WallKind.MASONRY)),
        )
    if hung.top_at < case.height + _FLOOR - EXACT:
        making.fault(
            "hung-height",
            f"{hung.field}.top_at",
            found=f"a top {making.mm(hung.top_at)} above the floor, of a case {making.mm(case.height)} high",
            allowed=f"at least {making.least(case.height + _FLOOR)}",
            do="Hang it higher, or let the case stand on the floor.",
            ways=(making.at_least(case.height + _FLOOR),),
        )
    _check_rail(making, hung, shell)


def _check_rail(making: Making, hung: Hung, shell: Shell) -> None:
    """Note a rail, or a pair of cleats, that is too wide for the case or too narrow for its bevel and fastenings."""
    room = shell.inside.high.z - shell.inside.low.z - LEAST_INSIDE
    least, most = 0.0, room
    if hung.by is HungBy.CLEATS:
        least, most = LEAST_CLEAT, (room + making.board(hung.board).measured) / 2
    if not least - EXACT <= hung.rail_width <= most + EXACT:
        making.fault(
            "hung-rail",
            f"{hung.field}.rail_width",
            found=making.mm(hung.rail_width),
            allowed=f"{making.least(least)} to {making.most(most)}" if least else f"at most {making.most(most)}",
            do="Make the rail or cleats as wide as there is room for, or the case higher.",
            ways=(making.at_least(least) if hung.rail_width < least else making.at_most(most),) if least < most else (),
        )


def _check_parts(making: Making, hung: Hung) -> None:
    """Note a plinth, a base that hangs on its fastenings, and a top that the rail does not reach."""
    case = making.case
    if case.plinth is not None:
        making.fault(
            "hung-plinth",
            case.plinth.field,
            found="a plinth under a case that hangs on a wall",
            allowed="a plinth, or a case that hangs",
            do="Leave the plinth out, or let the case stand.",
            ways=(WayOut(field="", value=None), WayOut(field=hung.field, value=None)),
        )
    if case.base is BetweenOrOver.UNDER_SIDES:
        making.fault(
            "hung-base",
            making.path("base"),
            found='"under sides" in a case that hangs on a wall',
            allowed='"between sides" or "none"',
            do="Everything on it would pull its fastenings straight out: put the base between the sides.",
            ways=(WayOut(field="", value=BetweenOrOver.BETWEEN_SIDES.value),),
        )
    if case.top is BetweenOrOver.NONE or rails_are_upright(making):
        making.fault(
            "hung-top",
            making.path("top"),
            found=f"{'upright rails' if case.top is BetweenOrOver.RAILS else _NONE} in a case that hangs on a wall",
            allowed='"between sides", "over sides", or "rails" that lie flat',
            do="The rail is fixed under a top: give the case one.",
            ways=(WayOut(field="", value=BetweenOrOver.BETWEEN_SIDES.value),),
        )


def _check_back_rail(making: Making, shell: Shell, width: float) -> None:
    """Note why a case can have no rail behind its back: one reason at a time."""
    case, back = making.case, making.case.back
    room = shell.inside.high.z - shell.inside.low.z - LEAST_INSIDE
    reasons = (
        (case.hung is not None, "in a case that hangs, which has a rail already"),
        (case.top is BetweenOrOver.NONE or rails_are_upright(making), "without a flat top that it is fixed under"),
        (back.kind in {BackKind.APPLIED, BackKind.REBATED}, f'behind a back that is "{back.kind.value}", not set in'),
        (back.kind is BackKind.GROOVED and not back.in_top, "behind a back that runs past the top"),
        (bool(back.inset) and back.inset < shell.behind_back - EXACT, "behind a back that is set in by too little"),
        (width > room + EXACT, f"of {making.mm(width)} in a case with {making.mm(room + LEAST_INSIDE)} inside"),
    )
    reason = next((words for wrong, words in reasons if wrong), None)
    if reason is not None:
        making.fault(
            "back-rail",
            making.path("back_rail"),
            found=f"a rail {reason}",
            allowed=f"at most {making.most(room)}, under a flat top, behind a back that is set in for it, or with no "
            f"back",
            do="Set the back in (its `inset` follows from the rail where it is left out), or leave the rail out.",
            ways=(WayOut(field="", value=None),),
        )


def _check_back(making: Making, shell: Shell) -> None:
    back = making.case.back
    if back.kind in {BackKind.APPLIED, BackKind.REBATED}:
        making.fault(
            "hung-back",
            f"{back.field}.kind",
            found=f'"{back.kind.value}", which leaves no room for the rail behind it',
            allowed='"grooved" or "between", which are set in for it, or "none"',
            do="Set the back in: into a groove, or between the panels.",
            ways=(WayOut(field="", value=BackKind.GROOVED.value), WayOut(field="", value=BackKind.BETWEEN.value)),
        )
        return
    if back.kind is BackKind.GROOVED and not back.in_top:
        making.fault(
            "hung-top",
            f"{back.field}.in_top",
            found="a back that runs past the top, which does not reach the rail",
            allowed="a back that is let into the top",
            do="Let the groove run in the top as well.",
            ways=(WayOut(field="", value=None),),
        )
    least = shell.behind_back
    if back.inset and back.inset < least - EXACT:
        making.fault(
            "hung-inset",
            f"{back.field}.inset",
            found=making.mm(back.inset),
            allowed=f"at least {making.least(least)}, for the rail behind the back",
            do="Set the back in by more, or leave `inset` out: it then follows from the rail.",
            ways=(WayOut(field="", value=None), making.at_least(least)),
        )


def add_hanging_rail(making: Making, shell: Shell) -> None:
    """Put the rail, or the case's cleat, behind the back, under the top, flush with the rear edges of the sides.

    The wall's cleat stands below it, as it will hang, its point in the notch between the case's cleat and the back.
    """
    case, hung, t, unit = making.case, making.case.hung, shell.t, making.job.unit
    width = hung.rail_width if hung is not None else case.back_rail
    if width is None:
        return
    board, high = making.board(hung.board if hung is not None else None), shell.inside.high.z
    hooked = hung is not None and hung.by is HungBy.CLEATS
    low = high - width
    making.add(
        Blank(
            suffix="hanging-rail" if hung is not None else "back-rail",
            role=Role.HANGING_RAIL,
            name="case cleat" if hooked else "hanging rail" if hung is not None else "back rail",
            board=board,
            box=box_of((t, case.width - t), (case.depth - board.measured, case.depth), (low, high)),
            sums=(told(unit, case.width, Term(-2, t)), told(unit, width)),
            cause=hung.field if hung is not None else making.path("back_rail"),
            bevel=Bevel(edge=Surface.FACE_EDGE, short=Surface.FACE) if hooked else None,
        )
    )
    if hung is not None and hooked:
        _add_wall_cleat(making, shell, hung, low + board.measured)


def _add_wall_cleat(making: Making, shell: Shell, hung: Hung, point: float) -> None:
    """Put the wall's cleat where it hooks into the case's; the point of its bevel stands so high (case z)."""
    case, t, unit, board = making.case, shell.t, making.job.unit, making.board(hung.board)
    thick = board.measured
    making.add(
        Blank(
            suffix="wall-cleat",
            role=Role.WALL_CLEAT,
            name="wall cleat",
            board=board,
            box=box_of(
                (t + SIDEWAYS, case.width - t - SIDEWAYS),
                (case.depth - thick, case.depth),
                (point - hung.rail_width, point),
            ),
            sums=(told(unit, case.width, Term(-2, t), Term(-2, SIDEWAYS)), told(unit, hung.rail_width)),
            cause=hung.field,
            body="",
            bevel=Bevel(edge=Surface.FAR_EDGE, short=Surface.FAR_FACE),
        )
    )
    wide, narrow = making.mm(hung.rail_width), making.mm(hung.rail_width - thick)
    making.caution(
        "cleat-bevel",
        f"case {case.code}",
        f"Both cleats are sawn at 45° along one edge: {wide} stays on one face, {narrow} on the other. The case's "
        "cleat has its wide face to the wall, the wall's cleat to the room.",
        "Saw both at one setting, before you drill anything. Tilt the blade away from the fence, so that nothing is "
        "trapped under it; guard on, a push stick, and what the tool's manual says.",
        ids=(making.id_of("hanging-rail"), making.id_of("wall-cleat")),
    )


def place_fixings(making: Making) -> HungPlace | None:
    """Return where a case hangs and where the fixings pass its rail, clear of dividers and shelves."""
    case, hung = making.case, making.case.hung
    if hung is None:
        return None
    hooked = hung.by is HungBy.CLEATS
    on_case, cleat = making.id_of("hanging-rail"), making.id_of("wall-cleat") if hooked else None
    rail = making.panels[cleat or on_case]
    heights = tuple(_on_rule(making, z) for z in _heights(making, hung, rail))
    uprights = [] if hooked else _uprights(making, rail)
    found = _at_studs(hung, rail) if hung.wall is WallKind.STUDS else _at_plugs(rail, uprights)
    if hung.first_stud is None:
        found = tuple(_on_rule(making, x) for x in found)
    places = tuple(x for x in found if not any(low < x < high for low, high in uprights))
    if not heights:
        making.fault(
            "hung-rail",
            f"{hung.field}.rail_width",
            found=f"a rail {making.mm(rail.width)} wide behind shelves, with no room for a driver between them",
            allowed=f"{making.mm(2 * BESIDE)} of it clear of shelves",
            do="Make the rail wider, or move the shelf in front of it.",
        )
    if len(places) < _LEAST_PLACES:
        _tell_few(making, hung, rail, len(places))
    elif hung.wall is WallKind.STUDS and hung.first_stud is None:
        making.caution(
            "hung-studs-taken",
            f"case {case.code}",
            f"The job does not say where the studs are: {len(places)} are taken as evenly spaced about the middle of "
            f"the case.",
            "Find them with a detector or a fine nail, and write in the job where the first one is.",
            ids=(rail.id,),
        )
    return HungPlace(
        rail=on_case, cleat=cleat, underside=hung.top_at - case.height, top=hung.top_at, places=places, heights=heights
    )


def _on_rule(making: Making, mm: float) -> float:
    """Return a place on the nearest step that a maker reads off a rule; a stud is where it was found."""
    return making.step * round(mm / making.step)


def _tell_few(making: Making, hung: Hung, rail: Panel, found: int) -> None:
    studs = hung.wall is WallKind.STUDS
    wide = _LEAST_PLACES * hung.stud_spacing + 2 * FROM_END + making.case.width - rail.length
    making.fault(
        "hung-studs",
        f"{hung.field}.{'stud_spacing' if studs else 'wall'}",
        found=f"{found} place{'' if found == 1 else 's'} behind the rail where a screw holds and a driver reaches it",
        allowed=f"at least {_LEAST_PLACES}",
        do=(
            "Screw a batten across the studs first, and write how far apart your screws into it are as "
            "`stud_spacing`; or move a divider, or make the case wider."
        ),
        ways=(making.at_least(wide, making.path("width")),) if studs and hung.first_stud is None else (),
    )


def _reach(rail: Panel) -> tuple[float, float]:
    return rail.box.low.x + FROM_END, rail.box.high.x - FROM_END


def _at_studs(hung: Hung, rail: Panel) -> tuple[float, ...]:
    """Return the studs behind the rail: from the first that was found, or as many as are there wherever they stand."""
    low, high = _reach(rail)
    pitch = hung.stud_spacing
    if hung.first_stud is None:
        count = max(0, math.floor((high - low) / pitch + EXACT))
        start = (low + high - (count - 1) * pitch) / 2
        return tuple(start + n * pitch for n in range(count))
    first = math.ceil((low - hung.first_stud) / pitch - EXACT)
    last = math.floor((high - hung.first_stud) / pitch + EXACT)
    return tuple(hung.first_stud + n * pitch for n in range(first, last + 1))


def _at_plugs(rail: Panel, uprights: list[tuple[float, float]]) -> tuple[float, ...]:
    """Return places in even steps over the rail; one behind a divider is moved to its left."""
    low, high = _reach(rail)
    count = max(_LEAST_PLACES, math.ceil((high - low) / APART - EXACT) + 1)
    even = (low + n * (high - low) / (count - 1) for n in range(count))
    moved = (next((left for left, right in uprights if left < x < right), x) for x in even)
    return tuple(dict.fromkeys(x for x in moved if x > low - EXACT))


def _uprights(making: Making, rail: Panel) -> list[tuple[float, float]]:
    """Return from where to where (x) dividers before the rail leave a driver no room."""
    dividers = (p.box for p in making.panels.values() if p.role is Role.DIVIDER)
    return [(b.low.x - BESIDE, b.high.x + BESIDE) for b in dividers if b.high.z > rail.box.low.z + EXACT]


def _heights(making: Making, hung: Hung, rail: Panel) -> tuple[float, ...]:
    """Return how high the fixings pass the rail: two one above the other in a stud, one in masonry."""
    low, high = rail.box.low.z, rail.box.high.z
    hooked = rail.role is Role.WALL_CLEAT
    if hooked:
        high -= rail.thickness  # there its bevel ends at the wall
    edge = min(FROM_EDGE, (high - low) / 2)
    shelves = [p.box for p in making.panels.values() if p.role is Role.SHELF and not hooked]
    steps = math.floor((high - low - 2 * edge) / _UP_BY + EXACT)
    free = [
        z
        for z in (*(low + edge + n * _UP_BY for n in range(steps)), high - edge)
        if not any(b.low.z - BESIDE < z < b.high.z + BESIDE for b in shelves)
    ]
    if free and hung.wall is WallKind.STUDS and free[-1] - free[0] > TWO_ROWS - EXACT:
        return free[0], free[-1]
    middle = (low + high) / 2
    return (min(free, key=lambda z: (abs(z - middle), z)),) if free else ()
