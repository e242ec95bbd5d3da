"""The first page of a job: its picture and size, and the three questions a maker has."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.web._brief_drawing import cases_of
from storyrod.adapters.web._cards import look_of, size_of, sizes_of
from storyrod.adapters.web._desk import Desk, desk_of
from storyrod.adapters.web._notes_shown import notes_values
from storyrod.adapters.web._overview import overview_of
from storyrod.adapters.web._pieces import pieces_by
from storyrod.adapters.web._render import answer, drawn, fragment, job_page
from storyrod.adapters.web._worked import Worked
from storyrod.model.job import Case

_ROOM: Final = (88.0, 66.0)
_MOST_PICTURES: Final = 3


def show(request: Request) -> Response:
    """Show the picture and size at once; the answers, which want the whole plan, are asked for by the page's script.

    Without scripts, `?all=1` shows all of it.
    """
    desk = desk_of(request)
    worked = desk.job_soon(request.path_params["job"])
    whole = worked.is_checked or request.query_params.get("all") == "1"
    values = {"overview": overview_of(desk, worked) if whole else None, **notes_values(desk, worked, "job")}
    return job_page(request, "overview.html", worked, "overview", **_seen(worked), **values)


def part(request: Request) -> Response:
    """Answer the page's script with the three answers."""
    desk = desk_of(request)
    worked = desk.job(request.path_params["job"])
    return answer(_pieces(desk, worked, {}), version=worked.version, title=worked.title)


def _seen(worked: Worked) -> dict[str, Any]:
    cases = cases_of(worked)
    if not cases:
        return {"pictures": (), "size": "", "parts": 0}
    from storyrod.drawing import case_view

    shown = look_of(worked)
    return {
        "pictures": tuple(
            (*_caption(c.built.case, worked, alone=len(cases) == 1), drawn(case_view(c, shown, room=_ROOM), f"o{n}"))
            for n, c in enumerate(cases[:_MOST_PICTURES])
        ),
        "size": _size(tuple(c.built.case for c in cases), worked),
        "parts": sum(len(c.panels) * c.built.case.count for c in cases),
    }


def _size(cases: tuple[Case, ...], worked: Worked) -> str:
    return sizes_of(cases, worked) if len(cases) == 1 else f"{sum(c.count for c in cases)} cases"


def _caption(case: Case, worked: Worked, *, alone: bool) -> tuple[str, str]:
    """Return what stands under a case's picture, and its size where the page's head does not have it."""
    name = f"{case.code} {case.name}"
    if alone:
        return name, ""
    number = f", {case.count} off" if case.count > 1 else ""
    return f"{name}{number}", size_of(case, worked)


def _pieces(desk: Desk, worked: Worked, _view: Mapping[str, Any]) -> dict[str, str]:
    from storyrod.adapters.web._render import notches_of

    told = overview_of(desk, worked)
    return {
        "overview": fragment("overview_stage.html", overview=told, job_name=worked.name),
        "rod": fragment("rod.html", notches=notches_of(worked, desk), stage="overview"),
    }


pieces_by("overview", _pieces)

routes: tuple[BaseRoute, ...] = (
    Route("/job/{job}/overview", show),
    Route("/job/{job}/overview/part", part),
)
