"""Joints: how the case is held, what another method would change, and every joint drawn."""

from __future__ import annotations

from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.choosing import (
    Place,
    joints_at,
    place_of,
)
from storyrod.adapters.web._desk import desk_of
from storyrod.adapters.web._errands import errands_of
from storyrod.adapters.web._joint_list import groups_of, href_of, narrower, rows_of
from storyrod.adapters.web._joint_options import options_at
from storyrod.adapters.web._joint_shown import found_joint, joint_shown
from storyrod.adapters.web._render import answer, fragment, job_page
from storyrod.adapters.web._stage_answer import stage_answer
from storyrod.adapters.web._worked import Worked
from storyrod.faults import Fault, JobError
from storyrod.model.detail import JoinedCase
from storyrod.planning import Plan


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
    values |= {"rows": rows_of(worked, plan, cases, of, joint), "groups": groups_of(worked, plan, cases, of, joint)}
    if place is not None:
        values |= _choosing(request, worked, plan, cases, place, joint)
    found = found_joint(cases, joint)
    if found is not None:
        values["drawn_joint"] = joint_shown(worked, plan, *found, of=of)
    return values


def _choosing(
    request: Request, worked: Worked, plan: Plan, cases: tuple[JoinedCase, ...], place: Place, joint: str
) -> dict[str, Any]:
    """Return what the table of methods for a place shows."""
    return options_at(desk_of(request), errands_of(request), worked, plan, place) | {
        "count": len(joints_at(place, plan.job, cases)),
        "known": bool(cases),
        "cases": narrower(worked, plan, cases, place, joint),
        "close": href_of(worked, joint=joint),
    }


def _cases(worked: Worked) -> tuple[JoinedCase, ...]:
    """Return the cases with their joints; none where the job cannot be joined so far."""
    try:
        return worked.ask(lambda plan: plan.joined.cases)
    except JobError:
        return ()


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
