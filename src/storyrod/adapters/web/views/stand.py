"""Will it stand?: sag, tipping, lifting, leaning, movement and steps, each with its picture and its ways out."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.web._desk import Desk, desk_of
from storyrod.adapters.web._pieces import pieces_by
from storyrod.adapters.web._render import fragment, job_page
from storyrod.adapters.web._stand_page import stand_cases
from storyrod.adapters.web._worked import Worked
from storyrod.drawing import Figures
from storyrod.faults import JobError


def show(request: Request) -> Response:
    """Show the stage; of a job that cannot be planned, why."""
    worked = desk_of(request).job(request.path_params["job"])
    return job_page(request, "stand.html", worked, "stand", **_values(worked))


def _values(worked: Worked) -> dict[str, Any]:
    try:
        worked.checked()
        cases = worked.ask(lambda plan: stand_cases(worked, plan))
        whole = worked.ask(lambda plan: plan.soundness)
        figures = worked.ask(lambda plan: Figures.of_job(plan.job))
    except JobError as error:
        return {"left": tuple(f for f in error.faults if f not in worked.faults), "stand_cases": (), "whole": None}
    return {"left": (), "stand_cases": cases, "whole": whole, "figures": figures}


def _pieces(_desk: Desk, worked: Worked, _view: Mapping[str, Any]) -> dict[str, str]:
    return {"stand": fragment("stand_stage.html", worked=worked, job_name=worked.name, **_values(worked))}


pieces_by("stand", _pieces)

routes: tuple[BaseRoute, ...] = (Route("/job/{job}/stand", show),)
