"""Costs: what the job takes in money and minutes, the same by other methods, and what the bench has taught."""

from __future__ import annotations

import asyncio
import io
import tempfile
import zipfile
from pathlib import Path
from typing import Any
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.web._bench_matter import Matter, matter_of
from storyrod.adapters.web._cost_account import CARCASSES, account_of
from storyrod.adapters.web._cost_comparison import comparison_of
from storyrod.adapters.web._cost_terms import WHAT_IFS, money_words, own_terms, terms_asked, what_ifs
from storyrod.adapters.web._desk import Desk, desk_of
from storyrod.adapters.web._edges_near import edges_near
from storyrod.adapters.web._learning import take_in
from storyrod.adapters.web._prices import prices_of
from storyrod.adapters.web._render import answer, body_of, fragment, job_page, wants_json
from storyrod.adapters.web._stage_answer import stage_answer
from storyrod.adapters.web._worked import Worked
from storyrod.adapters.web._workshops import workshops_of
from storyrod.faults import JobError


def show(request: Request) -> Response:
    """Show the stage."""
    worked = desk_of(request).job(request.path_params["job"])
    return job_page(request, "costs.html", worked, "costs", **_values(request, worked))


def part(request: Request) -> Response:
    """Answer the page's script with the stage's matter, as it stands now."""
    worked = desk_of(request).job(request.path_params["job"])
    values = _values(request, worked)
    pieces = {"costs": fragment("costs_stage.html", **values)}
    return stage_answer(request, worked, "costs", pieces, working=values["working"])


def compared(request: Request) -> Response:
    """Answer with the comparison, as far as it is worked out."""
    worked = desk_of(request).job(request.path_params["job"])
    values: dict[str, Any] = {"job_name": worked.name, "comparison": None, "plot": None, "carcasses": CARCASSES}
    if worked.plan is None:
        raise JobError(*worked.faults)
    terms, _ = terms_asked(worked, what_ifs(request))
    values |= comparison_of(request, worked, terms)
    return answer({"costs-compare": fragment("costs_compare.html", **values)}, working=values["working"])


def edges(request: Request) -> Response:
    """Answer with the sizes near the job's own at which something comes in, as far as they are found."""
    worked = desk_of(request).job(request.path_params["job"])
    if worked.plan is None:
        raise JobError(*worked.faults)
    shown = edges_near(request, worked)
    return answer({"costs-edges": fragment("costs_edges.html", edges=shown)}, working=shown.working)


def export(request: Request) -> Response:
    """Answer with the whole bench log as CSV files, in one archive."""
    from storyrod.adapters.log import export_log

    made = io.BytesIO()
    desk_of(request).shelf.path(request.path_params["job"])  # tells where there is no such job
    with tempfile.TemporaryDirectory(prefix="storyrod-") as name, zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as z:
        for path in export_log(desk_of(request).log(), Path(name)):
            z.write(path, path.name)
    headers = {"Content-Disposition": 'attachment; filename="bench-log.zip"'}
    return Response(made.getvalue(), media_type="application/zip", headers=headers)


async def learn(request: Request) -> Response:
    """Take the learned time of one act into the workshop file."""
    desk, name = desk_of(request), request.path_params["job"]
    act = str((await body_of(request)).get("act", ""))
    said = await asyncio.to_thread(take_in, desk, workshops_of(request), name, act)
    if not wants_json(request):
        return RedirectResponse(f"/job/{quote(name)}/costs#bench", 303)
    return answer(said=said)


def _values(request: Request, worked: Worked) -> dict[str, Any]:
    asked = what_ifs(request)
    values: dict[str, Any] = {
        "job_name": worked.name,
        "account": None,
        "edges": None,  # looked for once the page's script asks: most who open this page do not want them
        "comparison": None,
        "plot": None,
        "working": False,
        "matter": None,
        "why_not": (),
        "asked": asked,
        "wrong": dict.fromkeys(WHAT_IFS, ""),
        "query": request.url.query,
        "carcasses": CARCASSES,
    }
    if worked.plan is None:
        return values
    terms, wrong = terms_asked(worked, asked)
    values |= {"wrong": wrong, "terms": terms, "is_what_if": terms != own_terms(worked), "money": money_words(terms)}
    values |= account_of(worked, terms)
    if values["account"] is not None:
        values["prices"] = prices_of(desk_of(request), worked, values["account"])
        values |= comparison_of(request, worked, terms)
    values["matter"] = _matter(desk_of(request), worked)
    values["has_file"] = worked.read is not None and worked.read.workshop_path is not None
    return values


def _matter(desk: Desk, worked: Worked) -> Matter:
    try:
        return matter_of(desk.log(), worked)
    except JobError as error:
        return Matter(trouble=tuple(str(f) for f in error.faults))


routes: tuple[BaseRoute, ...] = (
    Route("/job/{job}/costs", show),
    Route("/job/{job}/costs/part", part),
    Route("/job/{job}/costs/compared", compared),
    Route("/job/{job}/costs/edges", edges),
    Route("/job/{job}/costs/bench-log.zip", export),
    Route("/job/{job}/costs/learn", learn, methods=["POST"]),
)
