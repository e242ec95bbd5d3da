"""The front elevation of a case as the brief shows it: what can be tapped, dragged, and where faults stand."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING, Any, Final

from storyrod.adapters.web._worked import Worked
from storyrod.faults import Fault, JobError

if TYPE_CHECKING:
    from storyrod.adapters.web._desk import Desk
    from storyrod.drawing import Drawing
    from storyrod.model.carcass import OpeningPlace
    from storyrod.model.detail import DetailedCase
    from storyrod.model.job import Case
    from storyrod.planning import Plan

MOST_BACK: Final = 40
"""Earlier texts that are looked through for one that could be built."""

MARGIN_MM: Final = 4.0

END_HIGH: Final = 60.0
"""So much of a worktop's end, and of the air over it, can be taken hold of (mm of the case)."""

PX_PER_MM: Final = 4.0

ROOM_PX: Final = (660, 620)
"""Screen pixels for the drawing where the page has not told how much room it has."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawable:
    """The case that is drawn: as the job stands, or as it was in the last text that could be built."""

    worked: Worked
    case: DetailedCase
    stale: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Parting:
    """A border that can be dragged: between two openings, or the outside of the case.

    Lengths in mm of the case. `at` is the opening before the border, or the field of the whole size; `before` and
    `after` are what lies on either side of it, in the order in which they are written; `way` is +1 where `before`
    grows with the drawing's coordinate, else -1. It may become no less than `least`.
    """

    at: str
    name: str
    along_x: bool
    low: float
    high: float
    span: tuple[float, float]
    before: float
    after: float | None
    way: int
    least: float = 10.0

    def told(self, drawing: Drawing) -> dict[str, Any]:
        """Return it in the coordinates of the drawing as SVG has them."""
        box = drawing.bounds
        if self.along_x:
            low, high = self.low - box.left, self.high - box.left
            start, end = box.top - self.span[1], box.top - self.span[0]
        else:
            low, high = box.top - self.high, box.top - self.low
            start, end = self.span[0] - box.left, self.span[1] - box.left
        told = {"at": self.at, "name": self.name, "x": self.along_x, "low": low, "high": high}
        told |= {"from": start, "to": end, "before": self.before, "after": self.after, "least": self.least}
        way = self.way if self.along_x else -self.way
        return {k: round(v, 4) if isinstance(v, float) else v for k, v in (told | {"way": way}).items()}


def drawable(desk: Desk, worked: Worked, number: int) -> Drawable | None:
    """Return what can be drawn of one case; None where it never could be built."""
    cases = cases_of(worked)
    if cases:
        desk.drawn[worked.name] = worked
        return Drawable(worked=worked, case=cases[number]) if number < len(cases) else None
    alone = _alone(worked, number)
    if alone is not None:
        return Drawable(worked=worked, case=alone)
    known = desk.drawn.get(worked.name)
    earlier = () if worked.waits else _earlier(desk, worked)  # each of them would have to be worked out as well
    for other in [known] if known is not None else earlier:
        cases = cases_of(other)
        if cases:
            desk.drawn[worked.name] = other
            before = _as_before(cases, worked, number)
            return Drawable(worked=other, case=before, stale=True) if before is not None else None
    return None


def _alone(worked: Worked, number: int) -> DetailedCase | None:
    """Return one case of a job in which only others cannot be built."""

    def built(plan: Plan) -> DetailedCase:
        from storyrod.planning import Plan as Anew

        part = replace(plan.job, cases=plan.job.cases[number : number + 1])
        return Anew(part, plan.workshop).sketch.cases[0]

    if worked.plan is None or not 1 < len(worked.plan.job.cases) > number:
        return None
    try:
        return worked.ask(built)
    except JobError:
        return None


def _as_before(cases: tuple[DetailedCase, ...], worked: Worked, number: int) -> DetailedCase | None:
    """Return the case that the one of that number was before: of the same code, or else of the same number."""
    now = worked.plan.job.cases if worked.plan is not None else ()
    code = now[number].code if number < len(now) else None
    same = next((c for c in cases if c.built.case.code == code), None)
    return same or (cases[number] if number < len(cases) else None)


def _earlier(desk: Desk, worked: Worked) -> Iterable[Worked]:
    for text in desk.shelf.earlier(worked.name, MOST_BACK):
        yield desk.workbook.work_out(worked.name, text, desk.settings.jobs)


def cases_of(worked: Worked) -> tuple[DetailedCase, ...]:
    """Return the cases with their features; where only their joints cannot be made, as they are without."""
    if worked.plan is None:
        return ()
    if worked.drawn is not None:  # a page is not kept waiting by another that asks for what takes long
        return worked.drawn.cases
    try:
        return worked.ask(lambda plan: plan.sketch.cases)
    except JobError:
        pass
    try:
        return worked.ask(_without_joints)
    except JobError:
        return ()


def _without_joints(plan: Plan) -> tuple[DetailedCase, ...]:
    from storyrod.model.detail import DetailedCase

    return tuple(
        DetailedCase(built=b, panels=b.panels, joints=(), features=b.fittings, connectors=())
        for b in plan.carcass.cases
    )


def drawings(
    shown: Drawable, number: int, *, fronts: bool, chosen: str, faults: Iterable[Fault], room: tuple[float, float]
) -> tuple[Drawing, Drawing]:
    """Return the front of one case, and the case cut open, for `room` in screen pixels for the front."""
    from storyrod.drawing import Editing, Figures, case_elevation, depth_section

    case = shown.case
    plan = shown.worked.plan
    assert plan is not None  # noqa: S101  # it was drawn from one
    editing = Editing(chosen=_chosen_ids(case, chosen), faults=marks(case, number, faults))
    figures, boards = Figures.of_job(plan.job), tuple(b.code for b in plan.job.boards)
    wide, high = (px / PX_PER_MM - MARGIN_MM for px in room)
    front = case_elevation(case, fronts=fronts, figures=figures, boards=boards, room=(wide, high), editing=editing)
    small = (max(wide * 0.36, 50.0), max(high * 0.4, 60.0))
    return front, depth_section(case, figures=figures, boards=boards, room=small, editing=editing)


def _chosen_ids(case: DetailedCase, chosen: str) -> frozenset[str]:
    own = {o.id for o in case.built.openings if o.cause == chosen}
    return frozenset(own | {chosen})


def marks(case: DetailedCase, number: int, faults: Iterable[Fault]) -> dict[str, str]:
    """Return the places of faults on a case's drawing, each with what is wrong there in a word or two."""
    found: dict[str, str] = {}
    for fault in faults:
        match = re.match(rf"cases\[{number}\](?:\.|$)", fault.field)
        if match:
            place = _place(case, fault.field, fault.field[match.end() :])
            word = re.sub(r"\[\d+\]$", "", fault.field.rpartition(".")[2]).replace("_", " ")
            word = "" if word == "inside" or word.startswith("cases") else word
            found.setdefault(place, f"fault: {word}" if word else "fault")
    return found


def _place(case: DetailedCase, field: str, rest: str) -> str:
    """Return the id of the smallest thing drawn to which a field belongs."""
    code = case.built.case.code
    around = [o for o in case.built.openings if o.cause and (field == o.cause or field.startswith(f"{o.cause}."))]
    if around and field != around[0].cause:
        return max(around, key=lambda o: len(o.cause)).id
    head = re.split(r"[.\[]", rest)[0]
    ids = {p.id for p in case.panels}
    thing = f"{code}.{head}"
    return thing if head in {"width", "height", "depth"} or thing in ids else code


# What can be dragged --------------------------------------------------------------------------------------------------


def partings(case: DetailedCase, number: int) -> list[Parting]:
    """Return every border that can be dragged."""
    about = case.built.case
    places = {o.id: o for o in case.built.openings}
    found = [
        p for o in case.built.openings if o.children for p in _between([places[c] for c in o.children if c in places])
    ]
    return [*found, *_outside(about, number), *_overhangs(about, number)]


def _between(parts: list[OpeningPlace]) -> Iterable[Parting]:
    for one, other in pairwise(parts):
        a, b = one.box, other.box
        if _is_column(one.cause):
            span = (a.low.z, a.high.z)
            size = (a.high.x - a.low.x, b.high.x - b.low.x)
            yield _parting(one, other, (a.high.x, b.low.x), span, size, along_x=True)
        else:
            span = (a.low.x, a.high.x)
            size = (a.high.z - a.low.z, b.high.z - b.low.z)
            yield _parting(one, other, (b.high.z, a.low.z), span, size, along_x=False)


def _is_column(cause: str) -> bool:
    return cause.rpartition(".")[2].startswith("columns[")


def _parting(
    one: OpeningPlace,
    other: OpeningPlace,
    place: tuple[float, float],
    span: tuple[float, float],
    size: tuple[float, float],
    *,
    along_x: bool,
) -> Parting:
    return Parting(
        at=one.cause,
        name=f"between {one.name} and {other.name}",
        along_x=along_x,
        low=place[0],
        high=place[1],
        span=span,
        before=size[0],
        after=size[1],
        way=1 if along_x else -1,
    )


def _outside(about: Case, number: int) -> list[Parting]:
    w, h = about.width, about.height
    told = (("width", True, w, h), ("height", False, h, w))
    return [
        Parting(
            at=f"cases[{number}].{what}",
            name=f"the outside: {what}",
            along_x=along_x,
            low=size,
            high=size,
            span=(0.0, other),
            before=size,
            after=None,
            way=1,
        )
        for what, along_x, size, other in told
    ]


def _overhangs(about: Case, number: int) -> list[Parting]:
    """The two ends of a worktop; what lies over them is the worktop alone, so their whole reach is what is dragged."""
    top = about.worktop
    if top is None:
        return []
    span = (about.height, about.height + END_HIGH)
    told = (("left", -top.left, top.left, -1), ("right", about.width + top.right, top.right, 1))
    return [
        Parting(
            at=f"cases[{number}].worktop.{side}",
            name=f"the worktop's {side} end",
            along_x=True,
            low=x,
            high=x,
            span=span,
            before=reach,
            after=None,
            way=way,
            least=0.0,
        )
        for side, x, reach, way in told
    ]


def sizes_beside(case: DetailedCase, path: str) -> tuple[float, ...]:
    """Return the clear sizes (mm) of an opening and its neighbours in their order; none where it is not drawn."""
    places = {o.id: o for o in case.built.openings}
    for outer in case.built.openings:
        parts = [places[c] for c in outer.children if c in places]
        if any(p.cause == path for p in parts):
            column = _is_column(path)
            return tuple((p.box.high.x - p.box.low.x) if column else (p.box.high.z - p.box.low.z) for p in parts)
    return ()
