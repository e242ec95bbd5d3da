"""A study of a job: what may change, what is best, and what comes of every variant, worked out while one looks on."""

from __future__ import annotations

import asyncio
from dataclasses import replace
from typing import Any
from urllib.parse import quote

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.printing import media_type
from storyrod.adapters.web._acts import tables_of
from storyrod.adapters.web._desk import desk_of
from storyrod.adapters.web._render import answer, fragment, job_page
from storyrod.adapters.web._shelf import StaleError
from storyrod.adapters.web._study_asked import RANGE_NAMES, Questions, questions_of
from storyrod.adapters.web._study_work import changes_to, shown_of, variants_asked, work_of
from storyrod.adapters.web._worked import Worked
from storyrod.adapters.web.views.changing import make_changes, planned
from storyrod.faults import Fault, JobError
from storyrod.planning import Plan

STUDY_FILE = "study.toml"


def show(request: Request) -> Response:
    """Show the questions, and what comes of the answers in the address."""
    worked = desk_of(request).job(request.path_params["job"])
    return _page(request, worked)


def _page(request: Request, worked: Worked, told: tuple[Fault, ...] = ()) -> Response:
    values = _values(request, worked)
    status = 422 if told else 200
    faults = (*told, *values.pop("told"))
    return job_page(request, "study.html", worked, "costs", status=status, told=faults, **values)


def part(request: Request) -> Response:
    """Answer the page's script with what is known by now."""
    worked = desk_of(request).job(request.path_params["job"])
    values = _values(request, worked)
    shown = values["shown"]
    piece = fragment("study_result.html", job_name=worked.name, worked=worked, **values)
    return answer({"study-result": piece}, working=shown is not None and shown.working)


def take(request: Request) -> Response:
    """Answer with a file of the study: its table, its price list, a picture, or the study file itself."""
    worked = desk_of(request).job(request.path_params["job"])
    plan, questions = _asked(request, worked)
    name = request.path_params["name"]
    if questions is None or plan is None or not questions.is_asked:
        raise HTTPException(404, "Nothing is asked in this address.")
    if name == STUDY_FILE:
        return _file(name, questions.study_text(f"{worked.name}.toml", plan.job.unit).encode())
    work = work_of(request, worked, plan, questions)
    if not work.is_done:
        return RedirectResponse(f"/job/{quote(worked.name)}/study?{questions.query}", 303)
    picture = work.pictures.get(name)
    if picture is not None:
        return Response(picture, media_type=media_type(name))
    make = work.study.files().get(name)
    if make is None:
        raise HTTPException(404, "There is no such file of this study.")
    return _file(f"{worked.name}-{name}", make())


def _file(name: str, data: bytes) -> Response:
    headers = {"Content-Disposition": f"attachment; filename*=UTF-8''{quote(name)}"}
    return Response(data, media_type=media_type(name), headers=headers)


async def make_so(request: Request) -> Response:
    """Make the job one of the variants."""
    async with request.form(max_files=0, max_fields=10) as form:
        sent = {name: value for name, value in form.items() if isinstance(value, str)}
    return await asyncio.to_thread(_made_so, request, sent)


def _made_so(request: Request, sent: dict[str, str]) -> Response:
    desk, name = desk_of(request), request.path_params["job"]
    worked = desk.job(name)
    plan, questions = _asked(request, worked)
    number = sent.get("number", "")
    try:
        if plan is None or questions is None or not questions.is_asked:
            raise JobError(*worked.faults) if worked.faults else _no_such(number)
        variants = variants_asked(worked, plan, questions)
        if not (number.isascii() and number.isdigit() and len(number) < 8 and int(number) < len(variants)):
            raise _no_such(number)
        changes = changes_to(variants, int(number))
        if worked.version != sent.get("base"):
            return _page(request, worked, (_stale(),))
        now = make_changes(desk, worked, changes)
    except StaleError:
        return _page(request, worked, (_stale(),))
    except JobError as error:
        return _page(request, worked, error.faults)
    planned(desk, now, "", {})
    return RedirectResponse(f"/job/{quote(name)}/overview", 303)


def _no_such(number: str) -> JobError:
    found = f'variant "{number[:20]}"'
    return JobError(
        Fault(code="sent", field="", found=found, allowed="a variant of the list", do="Load the page again.")
    )


def _stale() -> Fault:
    found, allowed = "a job that was changed somewhere else in the meantime", "the job as the page shows it"
    return Fault(code="sent", field="", found=found, allowed=allowed, do="Look again, then press.")


def _asked(request: Request, worked: Worked) -> tuple[Plan | None, Questions | None]:
    if worked.plan is None or worked.read is None:
        return None, None
    return worked.plan, questions_of(worked.plan, request.query_params, tables_of(worked.text))


def _values(request: Request, worked: Worked) -> dict[str, Any]:
    plan, questions = _asked(request, worked)
    values: dict[str, Any] = {
        "questions": questions,
        "shown": None,
        "told": (),
        "held": False,
        "range_names": RANGE_NAMES,
    }
    if plan is None or questions is None or not request.query_params or not questions.is_asked:
        return values
    try:
        work = work_of(request, worked, plan, questions)
    except JobError as error:
        return values | {"told": tuple(replace(f, field=questions.place_of(f.field), line=None) for f in error.faults)}
    currency = plan.job.currency or plan.workshop.money.currency
    return values | {"shown": shown_of(work, questions, currency), "held": bool(request.query_params.get("hold"))}


routes: tuple[BaseRoute, ...] = (
    Route("/job/{job}/study", show),
    Route("/job/{job}/study/part", part),
    Route("/job/{job}/study/file/{name}", take),
    Route("/job/{job}/study/make", make_so, methods=["POST"]),
)
