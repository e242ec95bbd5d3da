"""The list of jobs: new, copied, opened, renamed, deleted and brought back."""

from __future__ import annotations

import asyncio
from dataclasses import replace
from pathlib import Path
from typing import Any
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.files.editing import Change, edit_job
from storyrod.adapters.web._brief_drawing import cases_of
from storyrod.adapters.web._cards import Cards
from storyrod.adapters.web._desk import Desk, desk_of
from storyrod.adapters.web._example_pictures import pictures_of
from storyrod.adapters.web._job_list import ORDERS, wanted_of
from storyrod.adapters.web._layout_pictures import layout_pictures
from storyrod.adapters.web._new_job import LAYOUTS, Answers, answers_of, sheets_asked, tell, text_of, workshop_text
from storyrod.adapters.web._render import answer, body_of, drawn, fragment, page
from storyrod.adapters.web._shelf import JobEntry, StaleError, missing
from storyrod.adapters.web._usual_boards import usual_boards
from storyrod.adapters.web._worked import Worked, version_of
from storyrod.adapters.web._workshops import OWN, workshops_of
from storyrod.adapters.web.first_visit import EXAMPLE, is_example
from storyrod.adapters.web.views.changing import written
from storyrod.faults import Fault, JobError
from storyrod.measure.length import parse_length
from storyrod.model.job import BackKind, BoardKind

_SIDES = ("width", "height", "depth")

_BACKS = {
    BackKind.APPLIED: "on the rear edges",
    BackKind.REBATED: "in a rebate",
    BackKind.GROOVED: "in a groove",
    BackKind.NONE: "none",
}

_CARDS = Cards()


def show(request: Request) -> Response:
    """Show the list: all jobs, or those that are looked for; on a first visit, what storyrod is."""
    desk, query = desk_of(request), request.query_params
    wanted = wanted_of(query.get("find", ""), query.get("order", ""))
    entries = desk.shelf.entries()
    cards = wanted.cards(_CARDS.all(desk, wanted.entries(entries)))
    deleted = desk.shelf.deleted()
    return page(
        request,
        "jobs.html",
        cards=cards,
        number=len(entries),
        wanted=wanted,
        orders=ORDERS,
        is_first=query.get("about") == "1" or not [e for e in entries if not _is_example(desk, e)],
        example=next((e.name for e in entries if _is_example(desk, e)), ""),
        deleted=deleted,
        gone=dict(deleted).get(query.get("gone", "")),
        token=query.get("gone", ""),
        folder=_told(desk.settings.jobs),
    )


def _is_example(desk: Desk, entry: JobEntry) -> bool:
    try:
        return entry.name.startswith(EXAMPLE) and is_example(desk.shelf.text(entry.name))
    except JobError:
        return False


def show_pictures(request: Request) -> Response:
    """Answer with three pictures of what one gets, drawn from the example; they want a plan, so they come after."""
    return answer({"about-pictures": fragment("jobs_pictures.html", pictures=pictures_of(desk_of(request)))})


def _told(folder: Path) -> str:
    """Return a folder as its owner knows it, without where on the machine it lies."""
    try:
        return f"~/{folder.resolve().relative_to(Path.home().resolve()).as_posix()}"
    except ValueError:
        return f"{folder.parent.name}/{folder.name}"


def show_card(request: Request) -> Response:
    """Answer with one job's card, for a list that showed it before it was looked at."""
    desk = desk_of(request)
    name = request.path_params["job"]
    entry = next((e for e in desk.shelf.entries() if e.name == name), None)
    if entry is None:
        raise missing(name)
    card = _CARDS.of(desk, entry)
    return answer({f"job-{name}": fragment("jobs_card.html", card=card)})


# A new one ------------------------------------------------------------------------------------------------------------


def show_new(request: Request) -> Response:
    """Ask the few questions of a new job."""
    asked = dict(request.query_params)
    typed = dict(usual_boards(desk_of(request)).typed)
    if asked.get("units", typed.get("units")) != typed.get("units"):
        typed = {}  # its figures are of another unit
    return _new_page(request, answers_of(typed | asked), ())


def _new_page(request: Request, answers: Answers, rest: tuple[str, ...], status: int = 200) -> Response:
    worked, _ = _tried(desk_of(request), answers)
    return page(
        request,
        "jobs_new.html",
        status=status,
        answers=answers,
        rest=rest,
        layouts=LAYOUTS,
        pictures=layout_pictures(),
        kinds=[k.value for k in BoardKind],
        sheets=sheets_asked(),
        backs=_BACKS,
        picture=_picture(worked),
        is_first=not desk_of(request).settings.workshop.exists(),
    )


async def preview(request: Request) -> Response:
    """Answer with a small drawing of what was answered so far, and what is wrong with it."""
    desk, sent = desk_of(request), await body_of(request)
    return await asyncio.to_thread(_preview, desk, sent)


def _preview(desk: Desk, sent: dict[str, Any]) -> Response:
    answers = answers_of(sent)
    worked, rest = _tried(desk, answers)
    swap = {"new-picture": fragment("jobs_picture.html", picture=_picture(worked), rest=rest)}
    return answer(swap, wrong=answers.wrong, many=answers.layout.many, usual=answers.layout.usual)


def _tried(desk: Desk, answers: Answers) -> tuple[Worked | None, tuple[str, ...]]:
    """Return the job that the answers make, where it can be built, and the faults that belong to no question."""
    if answers.job is None:
        return None, ()
    try:
        own = desk.settings.workshop
        text = text_of(answers, workshop=own.name if own.exists() else "", usual=usual_boards(desk))
        worked = desk.workbook.work_out("new", text, desk.settings.jobs)
    except JobError as error:
        return None, tell(answers, error)
    rest = tell(answers, JobError(*worked.faults))
    return (worked if not worked.faults else None), rest


def _picture(worked: Worked | None) -> Any:  # noqa: ANN401  # markup, or nothing
    cases = cases_of(worked) if worked is not None else ()
    if not cases or worked is None or worked.plan is None:
        return None
    from storyrod.drawing import Figures, case_elevation

    job = worked.plan.job
    boards = tuple(b.code for b in job.boards)
    return drawn(case_elevation(cases[0], figures=Figures.of_job(job), boards=boards, room=(100.0, 105.0)), "new")


async def create(request: Request) -> Response:
    """Write the new job, and open it."""
    desk, sent = desk_of(request), await body_of(request)
    return await asyncio.to_thread(_create, request, desk, sent)


def _create(request: Request, desk: Desk, sent: dict[str, Any]) -> Response:
    answers = answers_of(sent)
    worked, rest = _tried(desk, answers)
    if worked is None or answers.job is None:
        return _new_page(request, answers, rest, 422)
    text = worked.text
    if not desk.settings.workshop.exists() and workshop_text(answers):
        shelf = workshops_of(request)
        shelf.save(OWN, workshop_text(answers), base=version_of(shelf.text(OWN)))
        text = text_of(answers, workshop=desk.settings.workshop.name, usual=usual_boards(desk))
    name = desk.shelf.add(answers.job.title, text, _logged(desk))
    desk.drawn.pop(name, None)
    return RedirectResponse(f"/job/{quote(name)}/brief", 303)


# Copied, renamed, deleted, brought back -------------------------------------------------------------------------------


async def copy(request: Request) -> Response:
    """Copy a job, as it is or with another title and another outside, and open the copy."""
    desk, name = desk_of(request), request.path_params["job"]
    sent = await body_of(request)
    return await asyncio.to_thread(_copy, desk, name, {k: str(v).strip() for k, v in sent.items()})


def _copy(desk: Desk, name: str, sent: dict[str, str]) -> Response:
    title = sent.get("title", "")[:100] or f"{desk.title(name)[:90]} (copy)"
    sizes = [Change(path=f"cases[0].{side}", value=_size(side, sent[side])) for side in _SIDES if sent.get(side)]
    try:
        text = edit_job(desk.shelf.text(name), [Change(path="title", value=title), *sizes])
        new = desk.shelf.add(title, text, _logged(desk))
    except JobError:
        if sizes:
            raise
        new = desk.shelf.copy(name, title, _logged(desk))
    desk.drawn.pop(new, None)
    return RedirectResponse(f"/job/{quote(new)}/brief", 303)


def _size(side: str, words: str) -> Any:  # noqa: ANN401  # a number, or a length with its unit
    """Return a size as the file holds it; one that is no length is told before anything is copied."""
    try:
        parse_length(words)
    except JobError as error:
        raise JobError(*(replace(fault, field=side) for fault in error.faults)) from None
    return written(words)


def _logged(desk: Desk) -> frozenset[str]:
    """Return the jobs of which the bench log tells: another must not be taken for one of them."""
    if not desk.settings.log.exists():
        return frozenset()
    try:
        log = desk.log()
        return frozenset((*log.jobs(), *(span.job for span in log.spans())))
    except JobError:
        return frozenset()


async def rename(request: Request) -> Response:
    """Give a job another title, and its file the name that goes with it."""
    desk, name = desk_of(request), request.path_params["job"]
    sent = await body_of(request)
    title = str(sent.get("title", "")).strip()
    if not title or len(title) > 100:
        raise JobError(
            Fault(
                code="sent",
                field="title",
                found="no title" if not title else f"{len(title)} characters",
                allowed="1 to 100 characters",
                do="Write a title.",
            )
        )
    return await asyncio.to_thread(_rename, desk, name, title)


def _rename(desk: Desk, name: str, title: str) -> Response:
    try:
        text = desk.shelf.text(name)
        desk.shelf.save(name, edit_job(text, [Change(path="title", value=title)]), base=version_of(text))
    except StaleError:
        raise JobError(
            Fault(
                code="sent",
                field="title",
                found="a job that someone changed just now",
                allowed="one that is not being changed",
                do="Rename it again.",
            )
        ) from None
    except JobError:
        desk.shelf.path(name)  # a file that cannot be read gets its new name all the same
    new = desk.shelf.rename(name, title, _logged(desk))
    if new != name:
        desk.absences.forget(name)
        desk.ticks.renamed(name, new)
        desk.drawn.pop(name, None)
        desk.drawn.pop(new, None)
    return RedirectResponse("/", 303)


def delete(request: Request) -> Response:
    """Set a job aside; the list offers to bring it back."""
    desk, name = desk_of(request), request.path_params["job"]
    title, token = desk.title(name), desk.shelf.delete(name)
    desk.absences.forget(name)
    desk.set_log_aside(name, title, _deleted(token))
    desk.drawn.pop(name, None)
    return RedirectResponse(f"/?gone={token}", 303)


def bring_back(request: Request) -> Response:
    """Bring a deleted job back."""
    desk, token = desk_of(request), request.path_params["token"]
    was = dict(desk.shelf.deleted()).get(token, "")
    name = desk.shelf.bring_back(token)
    desk.bring_log_back(name, was, desk.title(name), _deleted(token))
    desk.drawn.pop(name, None)
    return RedirectResponse("/", 303)


def _deleted(token: str) -> str:
    """Return why the bench log keeps a job under another name: another one of its name has none of its ticks."""
    return f"deleted {token}"


routes: tuple[BaseRoute, ...] = (
    Route("/", show),
    Route("/about/pictures", show_pictures),
    Route("/new", show_new, methods=["GET"]),
    Route("/new", create, methods=["POST"]),
    Route("/new/preview", preview, methods=["POST"]),
    Route("/jobs/{job}/card", show_card),
    Route("/jobs/{job}/copy", copy, methods=["POST"]),
    Route("/jobs/{job}/rename", rename, methods=["POST"]),
    Route("/jobs/{job}/delete", delete, methods=["POST"]),
    Route("/deleted/{token}/back", bring_back, methods=["POST"]),
)
