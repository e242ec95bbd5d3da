"""The workshop: what the maker owns, buys and takes their time for, edited group by group."""

from __future__ import annotations

import asyncio
from typing import Any
from urllib.parse import urlencode

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.files.workshop_editing import Group, group_of
from storyrod.adapters.web import _measure_view
from storyrod.adapters.web._desk import desk_of
from storyrod.adapters.web._methods_page import method_lines
from storyrod.adapters.web._render import answer, body_of, fault_words, fragment, page, wants_json
from storyrod.adapters.web._shelf import StaleError
from storyrod.adapters.web._worked import version_of
from storyrod.adapters.web._workshop_changes import Asking, asking_of, bad, text_after
from storyrod.adapters.web._workshop_page import Row, Typed, all_of, group_values, note_of, row_id, typed_row
from storyrod.adapters.web._workshops import OWN, let_use, new_faults, tell_users, users_in, uses, workshops_of
from storyrod.adapters.web.views.prices import back_to
from storyrod.faults import JobError

STALE = (
    "The workshop file was changed somewhere else in the meantime. Look at it as it is now, then make your change "
    "again."
)


def show(request: Request) -> Response:
    """Show which jobs use the workshop, and the way to every group."""
    name = file_of(request)
    users = [(u, uses(u, name)) for u in users_in(desk_of(request).settings.jobs)]
    return page(request, "workshop_home.html", users=users, **all_of(workshops_of(request), name))


def show_group(request: Request) -> Response:
    """Show the items of one group."""
    key, name = request.path_params["group"], file_of(request)
    if key == "methods":
        common = all_of(workshops_of(request), name)
        lines = method_lines(common["text"], common["workshop"])
        kept = next((m for m in lines if m.code == request.query_params.get("kept")), None)
        return page(request, "workshop_methods.html", group_key=key, lines=lines, kept=kept, **common)
    return _group_page(request, name, _group(key), opened=request.query_params.get("open", ""))


def file_of(request: Request) -> str:
    """Return the name of the workshop file that an address asks for."""
    return request.query_params.get("file") or OWN


def _group(key: str) -> Group:
    group = group_of(key)
    if group is None:
        raise HTTPException(404, "There is no such part of the workshop.")
    return group


def _group_page(request: Request, name: str, group: Group, *, status: int = 200, **more: Any) -> Response:  # noqa: ANN401
    shown = {"said": "", "opened": "", "typed": None, "is_new": False} | more
    common = all_of(workshops_of(request), name)
    shown |= group_values(common["text"], group, common["file_faults"], common["workshop"], shown)
    return page(request, "workshop_group.html", status=status, group_key=group.key, group=group, **common, **shown)


# Changes --------------------------------------------------------------------------------------------------------------


async def change(request: Request) -> Response:
    """Change an item, add one, take one out, or put it or all of a group back as packaged; or only look at words.

    The body: `file`, `base` (the version it was made on), `act`, `code`, and the words of the fields as `f.NAME`.
    What is wrong is told at its field, and nothing is written.
    """
    body = await body_of(request)
    group = _group(request.path_params["group"])
    return await asyncio.to_thread(_change, request, group, asking_of(body))


def _change(request: Request, group: Group, asked: Asking) -> Response:
    shelf = workshops_of(request)
    text = shelf.text(asked.file)
    try:
        after = text_after(text, group, asked)
        faults = new_faults(text, after, asked.file)
    except JobError as error:
        after, faults = text, error.faults
    if asked.act == "check" or faults:
        return _told(request, group, asked, Typed(code=asked.code, words=asked.words, faults=faults))
    try:
        if after != text or asked.base != version_of(text):
            shelf.save(asked.file, after, base=asked.base)
            tell_users(desk_of(request), asked.file)
    except StaleError:
        if wants_json(request):
            return answer(status=409, said=STALE)
        return _group_page(request, asked.file, group, status=409, said=STALE)
    return _kept(request, group, asked)


def _told(request: Request, group: Group, asked: Asking, typed: Typed) -> Response:
    """Tell what is wrong with what was typed at its fields; of words that were only looked at, what they mean."""
    is_new = asked.act == "add" or request.query_params.get("new") == "1"
    if wants_json(request):
        row = typed_row(workshops_of(request).text(asked.file), group, typed, is_new=is_new)
        told = [fault_words(f) for f in typed.faults]
        return answer(status=200 if asked.act == "check" else 422, notes=_notes(row, typed), faults=told)
    said = "" if asked.act in {"keep", "add"} else " ".join(str(f) for f in typed.faults)
    return _group_page(request, asked.file, group, status=422, typed=typed, is_new=is_new, said=said)


def _notes(row: Row, typed: Typed) -> list[dict[str, str]]:
    notes = [
        {"id": s.id, "wrong": s.wrong, "understood": s.understood} for s in row.fields if s.asked.name in typed.words
    ]
    return [*notes, {"id": f"{row.id}-whole", "wrong": row.wrong, "understood": ""}]


def _kept(request: Request, group: Group, asked: Asking) -> Response:
    more = f"#{row_id(asked.code)}" if asked.act in {"keep", "back"} and asked.code else ""
    if not wants_json(request):
        query = {"file": asked.file} if asked.file != OWN else {}
        query |= {"open": asked.code} if more else {}
        told = f"?{urlencode(query)}" if query else ""
        return RedirectResponse(f"/workshop/{group.key}{told}{more}", 303)
    common = all_of(workshops_of(request), asked.file)
    row = typed_row(common["text"], group, Typed(code=asked.code, words={}, faults=common["file_faults"]))
    pieces = {
        "ws-head": fragment("workshop_head.html", group_key=group.key, **common),
        "ws-ways": fragment("workshop_ways.html", group_key=group.key, **common),
        f"{row.id}-state": fragment("workshop_state.html", row=row, group=group),
    }
    marks = [{"id": s.id, "mine": note_of(s)} for s in row.fields]
    return answer(pieces, version=common["version"], marks=marks, said="Kept.")


async def step(request: Request) -> Response:
    """Undo (`by` -1) or do again (`by` 1) on a workshop file."""
    body = await body_of(request)
    by = {"-1": -1, "1": 1}.get(str(body.get("by")))
    if by is None:
        raise JobError(bad("by", repr(body.get("by"))[:40], "-1 or 1"))
    shelf, name = workshops_of(request), str(body.get("file") or OWN)
    await asyncio.to_thread(shelf.step, name, by)
    await asyncio.to_thread(tell_users, desk_of(request), name)
    where = str(body.get("where", ""))
    key = f"/{where}" if where == "methods" or group_of(where) is not None else ""
    return RedirectResponse(f"/workshop{key}{f'?{urlencode({"file": name})}' if name != OWN else ''}", 303)


async def use(request: Request) -> Response:
    """Let one job (`job`), or every job of the folder, use a workshop file."""
    body = await body_of(request)
    shelf, name, job = workshops_of(request), str(body.get("file") or OWN), str(body.get("job", ""))
    desk = desk_of(request)
    if job and job not in {u.job for u in await asyncio.to_thread(users_in, desk.settings.jobs)}:
        raise JobError(bad("job", f'no job "{job[:40]}" that can be read', "a job of the list"))
    try:
        await asyncio.to_thread(let_use, desk, shelf, name, lambda u: not job or u.job == job)
    except StaleError:
        raise HTTPException(409, "A job was being changed at this moment: try again.") from None
    if job and body.get("back"):
        return RedirectResponse(back_to(job, str(body["back"])), 303)
    return RedirectResponse(f"/workshop{f'?{urlencode({"file": name})}' if name != OWN else ''}#users", 303)


def version(request: Request) -> Response:
    """Tell the version of a workshop file, by which a page sees that it was changed elsewhere or by hand."""
    return answer(version=version_of(workshops_of(request).text(file_of(request))))


routes: tuple[BaseRoute, ...] = (
    Route("/workshop", show),
    Route("/workshop/step", step, methods=["POST"]),
    Route("/workshop/use", use, methods=["POST"]),
    Route("/workshop/version", version),
    *_measure_view.routes,
    Route("/workshop/{group}", show_group),
    Route("/workshop/{group}", change, methods=["POST"]),
)
"""Those of single words stand before the groups, which would take them for one."""
