"""Jobs made together: which ones, what it saves, who pays what, one buying list, and the papers."""

from __future__ import annotations

from typing import Any
from urllib.parse import quote, urlencode

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.batching import batch_files
from storyrod.adapters.printing import media_type
from storyrod.adapters.web._batch_work import Asked, BatchWork, asked_of, errand_key
from storyrod.adapters.web._desk import Desk, desk_of
from storyrod.adapters.web._errands import errands_of
from storyrod.adapters.web._render import answer, fragment, page, today
from storyrod.faults import JobError
from storyrod.model.batch import MOST_JOBS, PaidBy
from storyrod.planning import Batch

_LEAST = 2


def show(request: Request) -> Response:
    """Show the jobs to choose from, and what comes of those chosen."""
    desk = desk_of(request)
    asked = asked_of(request, desk)
    return page(
        request,
        "batch.html",
        entries=desk.shelf.entries(),
        rules={PaidBy.AREA.value: "the area of their parts", PaidBy.ALONE.value: "what each would pay alone"},
        **_result(request, desk, asked),
    )


def part(request: Request) -> Response:
    """Answer the page's script with what is known by now."""
    desk = desk_of(request)
    values = _result(request, desk, asked_of(request, desk))
    return answer({"batch-result": fragment("batch_result.html", **values)}, working=values["working"])


def take(request: Request) -> Response:
    """Answer with one file of a batch; where it is not planned yet, with the page that plans it."""
    desk = desk_of(request)
    asked = asked_of(request, desk)
    work = _work(request, desk, asked)
    name = request.path_params["name"]
    if work is None or work.batch is None:
        return RedirectResponse(f"/batch?{asked.query}", 303)
    file = next((f for f in batch_files(work.batch, date=today()) if f.name == name), None)
    if file is None:
        raise HTTPException(404, "There is no such file of this batch.")
    last = quote(name.rpartition("/")[2])
    headers = {"Content-Disposition": f'attachment; filename="batch-{last}"'}
    return Response(file.make(), media_type=media_type(name), headers=headers)


def _work(request: Request, desk: Desk, asked: Asked) -> BatchWork | None:
    if not _LEAST <= len(asked.jobs) <= MOST_JOBS:
        return None
    try:
        key = tuple(errand_key(desk, asked))
    except JobError:  # a job was deleted a moment ago
        return None
    return errands_of(request).ask(key, BatchWork, lambda: BatchWork(desk, asked))


def _result(request: Request, desk: Desk, asked: Asked) -> dict[str, Any]:
    work = _work(request, desk, asked)
    values: dict[str, Any] = {
        "asked": asked,
        "most": MOST_JOBS,
        "working": work is not None and not work.is_done,
        "trouble": work.trouble if work is not None else "",
        "done": (work.count, work.in_all) if work is not None else (0, 0),
        "faults": work.faults if work is not None else (),
        "batch": None,
    }
    return values if work is None or work.batch is None else values | _told(work.batch)


def _told(batch: Batch) -> dict[str, Any]:
    from storyrod.telling import batch as telling
    from storyrod.telling.sheets import sheet_drawing

    patterns, plan = telling.patterns_of(batch), batch.together
    return {
        "batch": batch,
        "savings": telling.savings(batch),
        "jobs": telling.jobs_table(batch),
        "key": telling.key_of(batch),
        "boards": telling.boards_table(batch),
        "paid": telling.paid_table(batch),
        "rules_words": telling.rules_words(batch),
        "groups": tuple(
            (g, tuple((row, one, telling.for_jobs(batch, one)) for row, one in g.rows))
            for g in telling.supplier_groups(batch)
        ),
        "places": telling.place_words,
        "pay": telling.to_pay(batch),
        "currency": plan.account.terms.currency,
        "sheets": tuple((s, sheet_drawing(plan, s, patterns=patterns)) for s in plan.sheets.sheets if not s.same_as),
        "day_query": urlencode([("job", m.name) for m in batch.members]),
        "files": tuple(f.name for f in batch_files(batch) if "/" not in f.name),
    }


routes: tuple[BaseRoute, ...] = (
    Route("/batch", show),
    Route("/batch/part", part),
    Route("/batch/files/{name:path}", take),
)
