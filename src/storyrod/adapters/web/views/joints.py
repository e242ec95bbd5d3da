"""Joints: how the case is held, what another method would change, and every joint drawn."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any
from urllib.parse import quote, urlencode

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.choosing import (
    Place,
    chosen_at,
    class_of,
    joints_at,
    place_of,
    places_of,
)
from storyrod.adapters.web._desk import desk_of
from storyrod.adapters.web._errands import errands_of
from storyrod.adapters.web._joint_options import options_at, place_name
from storyrod.adapters.web._render import answer, fragment, job_page
from storyrod.adapters.web._stage_answer import stage_answer
from storyrod.adapters.web._worked import Worked
from storyrod.drawing import Drawing, Figures, joint_detail
from storyrod.faults import Fault, JobError
from storyrod.model.detail import DetailedCase, JoinedCase
from storyrod.model.joint import Joint
from storyrod.plan import Plan

_ROOM = (150.0, 178.0)
"""Paper for one joint's section, in mm: at twice its size it stands whole on a tablet, 600 screen pixels wide."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A place for which a method can be chosen."""

    place: Place
    name: str
    count: int
    held: str
    href: str
    is_open: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One joint in the list."""

    joint: Joint
    between: str
    method: str
    stations: int
    copies: int
    href: str
    is_open: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """One connector: from where it is counted, and where it lies on the receiving panel."""

    number: int
    on_entering: str
    on_receiving: str
    moved: bool


def show(request: Request) -> Response:
    """Show the stage: `of` says for what a method is being chosen, `joint` which one is drawn."""
    worked = desk_of(request).job(request.path_params["job"])
    return job_page(request, "joints.html", worked, "joints", **_values(request, worked))


def part(request: Request) -> Response:
    """Answer the page's script with the stage's matter, as it stands now."""
    worked = desk_of(request).job(request.path_params["job"])
    values = _values(request, worked)
    pieces = {"joints": fragment("joints_stage.html", **values)}
    return stage_answer(request, worked, "joints", pieces, working=values["working"])


def options(request: Request) -> Response:
    """Answer with the table of methods for a place, as far as it is filled."""
    worked = desk_of(request).job(request.path_params["job"])
    of, joint = request.query_params.get("of", ""), request.query_params.get("joint", "")
    if worked.plan is None:
        raise JobError(*worked.faults)
    cases = _cases(worked)
    place = place_of(of, worked.plan.job, cases)
    if place is None:
        raise _unknown(of)
    values = {"job_name": worked.name} | _choosing(request, worked, worked.plan, cases, place, joint)
    return answer({"joints-options": fragment("joints_options.html", **values)}, working=values["working"])


def _values(request: Request, worked: Worked) -> dict[str, Any]:
    of, joint = request.query_params.get("of", ""), request.query_params.get("joint", "")
    values: dict[str, Any] = {"job_name": worked.name, "place": None, "working": False, "drawn_joint": None}
    plan = worked.plan
    if plan is None:
        return values | {"rows": (), "groups": ()}
    cases = _cases(worked)
    place = place_of(of, plan.job, cases) if of else None
    values |= {"rows": _rows(worked, plan, cases, of, joint), "groups": _groups(worked, plan, cases, of, joint)}
    if place is not None:
        values |= _choosing(request, worked, plan, cases, place, joint)
    found = _found(cases, joint)
    if found is not None:
        values["drawn_joint"] = _joint(worked, plan, *found, of=of)
    return values


def _choosing(
    request: Request, worked: Worked, plan: Plan, cases: tuple[JoinedCase, ...], place: Place, joint: str
) -> dict[str, Any]:
    """Return what the table of methods for a place shows."""
    return options_at(desk_of(request), errands_of(request), worked, plan, place) | {
        "count": len(joints_at(place, plan.job, cases)),
        "known": bool(cases),
        "cases": _narrower(worked, plan, cases, place, joint),
        "close": _href(worked, joint=joint),
    }


def _cases(worked: Worked) -> tuple[JoinedCase, ...]:
    """Return the cases with their joints; none where the job can not be joined so far."""
    try:
        return worked.ask(lambda plan: plan.joined.cases)
    except JobError:
        return ()


def _href(worked: Worked, **query: str) -> str:
    told = urlencode({k: v for k, v in query.items() if v})
    return f"/job/{quote(worked.name)}/joints" + (f"?{told}" if told else "")


def _rows(worked: Worked, plan: Plan, cases: tuple[JoinedCase, ...], of: str, joint: str) -> tuple[Row, ...]:
    names = {m.code: m.name for m in plan.workshop.methods}
    rows = []
    for place in places_of(plan.job, cases):
        joints = joints_at(place, plan.job, cases)
        codes = tuple(dict.fromkeys(j.method for j in joints)) or chosen_at(place, plan)
        if cases and not joints:
            continue
        rows.append(
            Row(
                place=place,
                name=place_name(place),
                count=len(joints),
                held=" and ".join(names.get(c, c) for c in codes),
                href=_href(worked, of=place.key, joint=joint) + "#choose",
                is_open=place.key == of,
            )
        )
    return tuple(rows)


def _groups(
    worked: Worked, plan: Plan, cases: tuple[JoinedCase, ...], of: str, joint: str
) -> tuple[tuple[str, tuple[tuple[str, tuple[Line, ...]], ...]], ...]:
    """Return every joint, by case and class."""
    names = {m.code: m.name for m in plan.workshop.methods}
    found = []
    for case in cases:
        panels = {p.id: p for p in case.panels}
        by_class: dict[str, list[Line]] = {}
        for j in case.joints:
            entering, receiving = panels[j.entering], panels[j.receiving]
            line = Line(
                joint=j,
                between=f"{entering.mark} {entering.name} to {receiving.mark} {receiving.name}",
                method=names[j.method],
                stations=len(j.stations),
                copies=case.built.case.count,
                href=_href(worked, of=of, joint=j.id) + "#joint",
                is_open=j.id == joint,
            )
            by_class.setdefault(class_of(j).value, []).append(line)
        told = case.built.case
        times = f", {told.count} times" if told.count > 1 else ""
        heading = f"Case {told.code}, {told.name}{times}"
        found.append((heading, tuple((kind, tuple(lines)) for kind, lines in by_class.items())))
    return tuple(found)


def _narrower(
    worked: Worked, plan: Plan, cases: tuple[JoinedCase, ...], place: Place, joint: str
) -> tuple[tuple[str, str, bool], ...]:
    """Return the ways to choose for one case only, as (name, address, whether it is the open one)."""
    if place.joint or len(plan.job.cases) < 2:
        return ()
    word = place.key.partition("@")[0]
    has = {c.built.case.code for c in cases for j in c.joints if class_of(j) in place.kinds}
    codes = [c.code for c in plan.job.cases if not cases or c.code in has]
    ways = [("", "every case that does not choose for itself"), *((c, f"case {c} only") for c in codes)]
    return tuple(
        (name, _href(worked, of=f"{word}@{code}" if code else word, joint=joint) + "#choose", code == place.case)
        for code, name in ways
    )


def _found(cases: tuple[JoinedCase, ...], joint: str) -> tuple[JoinedCase, Joint] | None:
    return next(((c, j) for c in cases for j in c.joints if j.id == joint), None)


def _joint(worked: Worked, plan: Plan, case: JoinedCase, joint: Joint, *, of: str) -> dict[str, Any]:
    """Return what is shown of one joint: its section, its stations, its panels, and the way to change it."""
    figures = Figures.of_job(plan.job)
    panels = {p.id: p for p in case.panels}
    method = plan.joined.method(joint.method)
    detailed, fault = _detailed(worked, case, joint)
    shift = joint.shift
    return {
        "joint": joint,
        "kind": class_of(joint).value,
        "method": method,
        "entering": panels[joint.entering],
        "receiving": panels[joint.receiving],
        "length": figures.of(joint.length),
        "unit_words": figures.said,
        "stations": tuple(
            Station(
                number=n,
                on_entering=figures.of(s),
                on_receiving=figures.of(s + shift),
                moved=n in joint.moved_stations,
            )
            for n, s in enumerate(joint.stations, start=1)
        ),
        "drawing": detailed,
        "fault": fault,
        "connectors": joint.connectors,
        "change_href": _href(worked, of=joint.id, joint=joint.id) + "#choose",
        "close": _href(worked, of=of),
    }


def _detailed(worked: Worked, case: JoinedCase, joint: Joint) -> tuple[Drawing | None, tuple[Fault, ...]]:
    """Return the joint's section as it is planned, or why it can not be drawn."""

    def drawing(plan: Plan) -> Drawing:
        detailed: DetailedCase = next(c for c in plan.details.cases if c.built.case.code == case.built.case.code)
        same = next(j for j in detailed.joints if j.id == joint.id)
        boards = tuple(b.code for b in plan.job.boards)
        return joint_detail(detailed, same, figures=Figures.of_job(plan.job), boards=boards, room=_ROOM)

    try:
        return worked.ask(drawing), ()
    except JobError as error:
        return None, error.faults


def _unknown(of: str) -> JobError:
    return JobError(
        Fault(
            code="no-such-joint",
            field="",
            found=f'"{of}"' if of else "nothing",
            allowed="a class of joints, or a joint of this job",
            do="Load the page again: the job may have been changed.",
        )
    )


routes: tuple[BaseRoute, ...] = (
    Route("/job/{job}/joints", show),
    Route("/job/{job}/joints/part", part),
    Route("/job/{job}/joints/options", options),
)
