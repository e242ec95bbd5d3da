"""A case that hangs on a wall: what pulls at its fixings, which screws hold it, and what each must hold.

Plain statics: it turns about its lower rear edge, so the fixings are pulled by all moments about it over their height.
Reckoned with at once: all it holds, every drawer and door open, a hand that presses on the part that reaches farthest,
and one that pulls at its top. An estimate, never a certificate.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from storyrod.faults import Caution
from storyrod.measure.space import Axis
from storyrod.measure.writing import LengthWriter
from storyrod.model.detail import DetailedCase, Details
from storyrod.model.hung import Hanging, HungPlace, WallKind, WallScrew
from storyrod.model.job import Hung
from storyrod.model.panel import PanelId, Role
from storyrod.model.soundness import Carried
from storyrod.model.thresholds import GRAVITY, THRESHOLD_SOURCES, Thresholds
from storyrod.model.weight import panel_weight
from storyrod.soundness._tipping import PART_FORCE_N
from storyrod.soundness._wall import STEP_N
from storyrod.trade.hanging import BITE_IN_D, across_n, allowed_n, used, withdrawal_n
from storyrod.trade.lifting import persons_to_lift

DIAMETERS: Final = (6.0, 8.0, 10.0)
"""Wood screws that a hanging rail is hung by (mm); common practice, no source."""

LENGTH_STEP: Final = 10.0
"""Such screws are sold in lengths of this step (mm)."""

AT_PLACES: Final = 2
"""So many places are taken to carry all: a wall is never quite flat. Common practice, no source."""

LIFTED_BY: Final = 2
"""At least so many people hang a case: it is held level while it is screwed on. Common practice, no source."""


def hanging_of(
    case: DetailedCase, details: Details, loads: dict[PanelId, tuple[Carried, ...]], limits: Thresholds
) -> Hanging | None:
    """Return what pulls at the fixings of a case that hangs; None of one that stands."""
    place, hung = case.built.hung, case.built.case.hung
    if place is None or hung is None:
        return None
    kg, moment = _masses(case, details, loads)
    height, arm = case.built.case.height, sum(place.heights) / len(place.heights)
    press, reach = _pressed(case)
    pull = (moment * GRAVITY + press * reach + limits.pull_n * height) / arm
    down = kg * GRAVITY + press
    carry = AT_PLACES * len(place.heights)
    each_pull = _up(max(pull / carry, limits.fixing_n))
    each_down = _up(down / carry)
    seat = _seat(case, place, hung)
    screw = _screw(seat, hung.lining, each_pull, each_down) if hung.wall is WallKind.STUDS else None
    carcass = [p for p in case.panels if p.body == "carcass"]
    boards = {b.code: b for b in details.job.boards}
    lifted = sum(panel_weight(p, boards[p.board], case.on(p.id)).mass_kg for p in carcass)
    longest = max(case.built.case.width, height, case.built.case.depth)
    one = limits.one_person_kg
    return Hanging(
        place=place,
        wall=hung.wall,
        kg=kg,
        lever=moment / kg,
        arm=arm,
        pull_n=pull,
        down_n=down,
        floor_n=limits.fixing_n,
        floor_from=THRESHOLD_SOURCES["fixing_n"],
        each_pull_n=each_pull,
        each_down_n=each_down,
        seat=seat,
        screw=screw,
        used=used(each_pull, each_down, screw.may_pull_n, screw.may_across_n) if screw is not None else None,
        persons=max(LIFTED_BY, persons_to_lift(lifted, longest, one)) if one is not None else LIFTED_BY,
    )


def _up(force_n: float) -> float:
    return STEP_N * math.ceil(force_n / STEP_N - 1e-9)


def _masses(case: DetailedCase, details: Details, loads: dict[PanelId, tuple[Carried, ...]]) -> tuple[float, float]:
    """Return all that hangs (kg), and its moment from the wall (kg mm), with drawers out and doors wide open."""
    boards = {b.code: b for b in details.job.boards}
    wall = case.built.case.depth
    out = {p: d.extension for d in case.built.drawers for p in (*d.panels, *([d.front] if d.front else ()))}
    doors = {d.panel for d in case.built.doors}
    kg = moment = 0.0
    for panel in case.panels:
        mass = panel_weight(panel, boards[panel.board], case.on(panel.id)).mass_kg
        open_by = panel.box.size(Axis.X) / 2 if panel.id in doors else out.get(panel.id, 0.0)
        kg += mass
        moment += mass * (wall - panel.box.centre.y + open_by)
        for carried in loads.get(panel.id, ()):
            kg += carried.kg
            moment += carried.kg * (wall - panel.box.centre.y)
    for drawer in case.built.drawers:
        kg += drawer.load_kg
        moment += drawer.load_kg * (wall - drawer.inside.centre.y + drawer.extension)
    for rail in case.built.rails:
        kg += rail.load_kg
        moment += rail.load_kg * (wall - rail.box.centre.y)
    return kg, moment


def _pressed(case: DetailedCase) -> tuple[float, float]:
    """Return the force on the open part that reaches farthest from the wall (N), and how far (mm); 0 without one."""
    wall = case.built.case.depth
    reach = [wall - case.panel(d.panel).box.high.y + case.panel(d.panel).box.size(Axis.X) for d in case.built.doors]
    reach += [wall - (case.panel(d.front).box if d.front else d.box).low.y + d.extension for d in case.built.drawers]
    return (PART_FORCE_N, max(reach)) if reach else (0.0, 0.0)


def _seat(case: DetailedCase, place: HungPlace, hung: Hung) -> float:
    if place.cleat is not None:
        return case.panel(place.cleat).thickness + hung.lining
    back = next((p for p in case.panels if p.role is Role.BACK), None)
    return (back.thickness if back else 0.0) + case.panel(place.rail).thickness + hung.lining


def _screw(seat: float, gap: float, pull_n: float, down_n: float) -> WallScrew:
    """Return the thinnest screw that holds; the thickest where none does."""
    screws = [_of(diameter, seat, gap) for diameter in DIAMETERS]
    return next((s for s in screws if used(pull_n, down_n, s.may_pull_n, s.may_across_n) <= 1), screws[-1])


def _of(diameter: float, seat: float, gap: float) -> WallScrew:
    length = LENGTH_STEP * math.ceil((seat + BITE_IN_D * diameter) / LENGTH_STEP - 1e-9)
    bite = length - seat
    return WallScrew(
        diameter=diameter,
        length=length,
        bite=bite,
        may_pull_n=allowed_n(withdrawal_n(diameter, bite)),
        may_across_n=allowed_n(across_n(diameter, gap)),
    )


def hanging_cautions(case_name: str, hanging: Hanging, lengths: LengthWriter) -> Iterator[Caution]:
    """Yield what is on cover and assembly sheets of a case that hangs, and that its screws do not hold it."""
    count, place = hanging.place.count, hanging.place
    by = f"{count} plugs and screws"
    if hanging.screw is not None:
        thick, long = lengths.bought(hanging.screw.diameter), lengths.bought(hanging.screw.length)
        by = f"{count} screws {thick} thick and {long} long"
    yield Caution(
        code="hung-on-wall",
        about=case_name,
        text=(
            f"It hangs by {by}, and weighs {hanging.kg:.0f} kg full. Each must hold {hanging.each_pull_n:,.0f} N "
            f"straight out of the wall and {hanging.each_down_n:,.0f} N down along it, at once."
        ),
        do=(
            f"Hang it with {hanging.persons} people before drawers and doors go in; look for hidden cables and pipes "
            f"first, and leave those to a licensed tradesperson. Calculated, not tested: this is not a certificate, "
            f"and local codes come first."
        ),
        ids=(place.rail,),
    )
    if hanging.used is not None and hanging.used > 1:
        yield Caution(
            code="hung-over-capacity",
            about=case_name,
            text=(
                f"No screw of up to {lengths.bought(DIAMETERS[-1])} in a stud holds this much: it would be loaded to "
                f"{hanging.used:.0%}. An estimate."
            ),
            do=(
                "Load it less, make it shallower or in two cases, or hang it over thinner lining, on a batten or on "
                "masonry; or ask a licensed engineer to work it out."
            ),
            ids=(place.rail,),
        )
