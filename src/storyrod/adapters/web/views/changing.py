"""Changes of a job, from whichever stage of the page: fields set, undone and done again; each replans the job."""

from __future__ import annotations

import asyncio
import re
from collections.abc import Mapping
from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.files.asking import about, typed
from storyrod.adapters.files.editing import Act, Change, edit_job
from storyrod.adapters.web._acts import act_changes, place_after, settled, tables_of
from storyrod.adapters.web._desk import Desk, desk_of
from storyrod.adapters.web._differences import differences
from storyrod.adapters.web._pieces import pieces_of
from storyrod.adapters.web._render import answer, body_of, fault_words, fragment, notches_of
from storyrod.adapters.web._shelf import StaleError
from storyrod.adapters.web._stages import STAGES
from storyrod.adapters.web._worked import Worked
from storyrod.faults import Fault, JobError

_NUMBER = re.compile(r"[+-]?\d+(\.\d+)?")

LONGEST_PATH = 400
"""Letters in the path of a field: more than the deepest opening has."""

STALE = "This job was changed somewhere else in the meantime, and your change was not made."


async def change(request: Request) -> Response:
    """Make changes on the text of the version `base`; with `stage` and `view`, its pieces are drawn as they show it.

    The body: `{"base": version, "stage": key, "changes": [{"path": "cases[0].width", "act": "set", "value": "600"}]}`,
    or, in place of `changes`, `{"act": {"do": "cut-rows", "at": "cases[0].inside", "many": 2}}`. A text is written as
    its field wants it; a field set to "" is left out. The answer tells the new version, every fault, and how far can
    be undone; 409 where the job has another text by now, with what was changed in it meanwhile. A page that did not
    hear the answer sends the change again: by its `id`, or where the text holds it already, it is made once.
    """
    desk, name = desk_of(request), request.path_params["job"]
    body = await body_of(request)
    if not isinstance(body.get("act"), dict):
        body["changes"] = [_change(c) for c in _listed(body.get("changes"))]
    if not isinstance(body.get("base"), str) or not body["base"]:
        raise _bad("base", "nothing", "the version of the text that was changed")
    return await asyncio.to_thread(_make, desk, name, body)


def _make(desk: Desk, name: str, body: dict[str, Any]) -> Response:
    base, stage = str(body.get("base", "")), str(body.get("stage", ""))
    view = dict(body["view"]) if isinstance(body.get("view"), dict) else {}
    worked = desk.job_soon(name)
    act = body.get("act")
    if _is_made(desk, body) or (
        worked.version != base and not isinstance(act, dict) and _holds(worked, body["changes"])
    ):
        return planned(desk, worked, stage, view)
    if worked.version != base:
        return _stale(desk, worked, base)
    if isinstance(act, dict):
        wanted = act_changes(worked, act)
        if view.get("at") == act.get("at"):
            view["at"] = place_after(str(act.get("do", "")), str(act.get("at", "")))
    else:
        wanted = body["changes"]
    try:
        now = make_changes(desk, worked, wanted)
    except StaleError:
        return _stale(desk, desk.job_soon(name), base)
    _made(desk, body)
    return planned(desk, now, stage, view)


def _is_made(desk: Desk, body: Mapping[str, Any]) -> bool:
    return body.get("id") in desk.made


def _made(desk: Desk, body: Mapping[str, Any]) -> None:
    if isinstance(body.get("id"), str):
        desk.made.append(body["id"])


def _holds(worked: Worked, wanted: list[Change]) -> bool:
    """Whether a job's text says already what a change wants of it."""
    try:
        return not settled(tables_of(worked.text), wanted) or edit_job(worked.text, wanted) == worked.text
    except JobError:
        return False


def make_changes(desk: Desk, worked: Worked, wanted: list[Change]) -> Worked:
    """Write changes of a job, made on the text as it was worked out; return the job as it stands then.

    Raises:
        StaleError: the job has another text by now; nothing was written.
        JobError: a path leads nowhere, or the file cannot be written.
    """
    changes = settled(tables_of(worked.text), wanted)
    if not changes:
        return worked
    desk.shelf.save(worked.name, edit_job(worked.text, changes), base=worked.version)
    return desk.job_soon(worked.name)


def _stale(desk: Desk, worked: Worked, base: str) -> Response:
    before = desk.shelf.text_of(worked.name, base)
    did = differences(before, worked.text) if before is not None else ()
    return answer(status=409, said=STALE, version=worked.version, did=list(did))


async def step(request: Request) -> Response:
    """Undo (`{"by": -1}`) or do again (`{"by": 1}`); sent again with the same `id`, it is done once."""
    desk, name = desk_of(request), request.path_params["job"]
    body = await body_of(request)
    by = body.get("by")
    if not isinstance(by, int) or by not in {-1, 1}:
        raise _bad("by", repr(by)[:80], "-1 or 1")
    if not _is_made(desk, body):
        await asyncio.to_thread(desk.shelf.step, name, by)
        _made(desk, body)
    view = body["view"] if isinstance(body.get("view"), dict) else {}
    return await asyncio.to_thread(lambda: planned(desk, desk.job_soon(name), str(body.get("stage", "")), view))


def planned(desk: Desk, worked: Worked, stage: str, view: Mapping[str, Any] | None = None) -> JSONResponse:
    """Return how a job stands after a change, and tell the other pages that show it."""
    desk.live.tell_from_thread(worked.name, {"kind": "job", "version": worked.version})
    return standing(desk, worked, stage, view or {})


def standing(desk: Desk, worked: Worked, stage: str, view: Mapping[str, Any]) -> JSONResponse:
    """Return how a job stands, with the pieces of the page at a stage."""
    history = desk.shelf.history(worked.name)
    pieces = {
        "rod": fragment("rod.html", notches=notches_of(worked, desk), stage=stage),
        "faults": fragment("faults.html", worked=worked),
        "cautions": fragment("cautions.html", worked=worked, stage=stage),
        "undoing": fragment("undoing.html", history=history),
        **pieces_of(stage, desk, worked, view),
    }
    told = [fault_words(f) for f in worked.faults]
    return answer(
        pieces,
        version=worked.version,
        faults=told,
        title=worked.title,
        back=history.back,
        forward=history.forward,
        at=str(view.get("at", "")),
    )


def checked(request: Request) -> Response:
    """Answer with the rod once everything was checked: the faults of later stages take longer to find."""
    desk = desk_of(request)
    worked = desk.job(request.path_params["job"])
    stage = request.query_params.get("stage", "")
    worked.checked()
    shown = stage if stage in {s.key for s in STAGES} else ""
    pieces = {
        "rod": fragment("rod.html", notches=notches_of(worked, desk), stage=shown),
        "faults": fragment("faults.html", worked=worked),
        "cautions": fragment("cautions.html", worked=worked, stage=stage),
    }
    return answer(pieces, version=worked.version, faults=[fault_words(f) for f in worked.known])


def _listed(sent: object) -> list[dict[str, Any]]:
    if isinstance(sent, list) and sent and all(isinstance(c, dict) for c in sent):
        return sent
    raise _bad("changes", "no list of changes", "at least one change")


def _change(sent: dict[str, Any]) -> Change:
    act, path = sent.get("act", "set"), sent.get("path")
    if not isinstance(act, str) or act not in set(Act):
        raise _bad("act", repr(act)[:80], ", ".join(Act))
    if not isinstance(path, str) or not path or len(path) > LONGEST_PATH:
        raise _bad("path", repr(path)[:80], "the field, as cases[0].width")
    value = sent.get("value")
    return Change(path=path, act=Act(act), value=_as_field(path, value))


def _as_field(path: str, value: object) -> Any:  # noqa: ANN401  # what a file may hold
    known = isinstance(value, str) and about(path) is not None
    return typed(path, value) if known and isinstance(value, str) else written(value)


def written(value: Any) -> Any:  # noqa: ANN401  # what JSON may hold
    """Return a value as the file holds it: a text that is a plain number as a number, the rest as it is."""
    if isinstance(value, str):
        words = value.strip()
        if _NUMBER.fullmatch(words):
            return float(words) if "." in words else int(words)
        return words
    if isinstance(value, dict):
        return {str(k): written(v) for k, v in value.items()}
    if isinstance(value, list):
        return [written(v) for v in value]
    return value


def _bad(field: str, found: str, allowed: str) -> JobError:
    return JobError(Fault(code="sent", field=field, found=found, allowed=allowed, do="Load the page again."))


routes: tuple[BaseRoute, ...] = (
    Route("/job/{job}/change", change, methods=["POST"]),
    Route("/job/{job}/step", step, methods=["POST"]),
    Route("/job/{job}/checked", checked),
)
