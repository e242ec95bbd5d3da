"""The day's work: today's tasks over one or several jobs, when each is ready, what to buy by when; what comes next."""

from __future__ import annotations

from typing import Any

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.web._day_work import DayAsked, DayWork, day_asked, work_of
from storyrod.adapters.web._desk import Desk, desk_of
from storyrod.adapters.web._errands import errands_of
from storyrod.adapters.web._render import answer, fragment, page, today
from storyrod.faults import JobError


def show(request: Request) -> Response:
    """Show the jobs to choose from, and the day's work of those chosen."""
    desk = desk_of(request)
    asked = day_asked(request, desk)
    if asked.jobs:
        desk.day_jobs = asked.jobs
    values = _result(request, desk, asked)
    return page(request, "day.html", entries=desk.shelf.entries(), **values)


def part(request: Request) -> Response:
    """Answer the page's script with what is known by now."""
    desk = desk_of(request)
    values = _result(request, desk, day_asked(request, desk))
    return answer({"day-result": fragment("day_result.html", **values)}, working=values["working"])


def sheet(request: Request) -> Response:
    """Answer with the page for the wall; where the day is not planned yet, with the page that plans it."""
    desk = desk_of(request)
    asked = day_asked(request, desk)
    work = _work(request, desk, asked)[0]
    if work is None or work.days is None:
        return RedirectResponse(f"/day?{asked.query}", 303)
    from storyrod.adapters.packet import make_day_sheet

    headers = {"Content-Disposition": 'inline; filename="days-work.pdf"'}
    return Response(make_day_sheet(work.days, date=today()), media_type="application/pdf", headers=headers)


def following(request: Request) -> Response:
    """Go to the bench card that comes next; where the day is not planned yet, to the page that plans it."""
    desk = desk_of(request)
    asked = day_asked(request, desk)
    work = _work(request, desk, asked)[0]
    if work is not None and work.days is not None:
        for slot in work.days.plan.slots:
            if ways := work.ways.get(slot.task):
                return RedirectResponse(ways[0].href, 303)
    return RedirectResponse(f"/day?{asked.query}", 303)


def _work(request: Request, desk: Desk, asked: DayAsked) -> tuple[DayWork | None, tuple[object, ...], bool]:
    """Return the work, faults that keep it from being planned, and whether it is still going on."""
    try:
        work, batch = work_of(errands_of(request), desk, asked)
    except JobError as error:
        return None, error.faults, False
    if work is None:
        told = () if batch is None else (f.fault for f in batch.faults)
        return None, tuple(told), batch is not None and not batch.is_done
    return work, work.faults, not work.is_done


def _result(request: Request, desk: Desk, asked: DayAsked) -> dict[str, Any]:
    work, faults, working = _work(request, desk, asked)
    trouble = work.trouble if work is not None else ""
    days = work.days if work is not None else None
    values = {"asked": asked, "faults": faults, "working": working, "trouble": trouble, "told": None}
    if days is None or work is None:
        return values
    from storyrod.telling import day as telling

    told = telling.days_told(days)
    return values | {
        "told": tuple((telling.day_words(days.first, n * 1440), rows, _waits(days, rows)) for n, rows in told),
        "ready": tuple(telling.ready_rows(days)),
        "bought": telling.buy_by(days),
        "helped": tuple(telling.helper_words(days)),
        "sureness": telling.sureness_words(days),
        "ways": work.ways,
        "several": len(days.work.jobs) > 1,
    }


def _waits(days: Any, rows: Any) -> tuple[str, ...]:  # noqa: ANN401  # the telling's own, loaded when first asked for
    from storyrod.telling.day import waiting_words

    return tuple(waiting_words(days, [r.slot for r in rows]))


routes: tuple[BaseRoute, ...] = (
    Route("/day", show),
    Route("/day/part", part),
    Route("/day/next", following),
    Route("/day/days-work.pdf", sheet),
)
