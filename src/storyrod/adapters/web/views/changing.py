"""Changes of a job, from whichever stage of the page: fields set, undone and done again; each replans the job."""

from __future__ import annotations

import asyncio
import re
from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.files.editing import Act, Change, edit_job
from storyrod.adapters.web._desk import Desk, desk_of
from storyrod.adapters.web._render import answer, body_of, fault_words, fragment, notches_of
from storyrod.adapters.web._shelf import StaleError
from storyrod.adapters.web._worked import Worked
from storyrod.faults import Fault, JobError

_NUMBER = re.compile(r"[+-]?\d+(\.\d+)?")

STALE = "This job was changed elsewhere meanwhile: look at it as it is now, then make your change again."


async def change(request: Request) -> Response:
    """Make changes on the text of the version `base`; with `stage`, the rod is drawn for that stage.

    The body: `{"base": version, "stage": key, "changes": [{"path": "cases[0].width", "act": "set", "value": "600"}]}`.
    A text that looks like a number is written as one. The answer tells the new version, every fault, and how far can
    be undone; 409 where the job has another text by now.
    """
    desk, name = desk_of(request), request.path_params["job"]
    body = await body_of(request)
    changes = [_change(c) for c in _listed(body.get("changes"))]
    return await asyncio.to_thread(_make, desk, name, str(body.get("base", "")), changes, str(body.get("stage", "")))


def _make(desk: Desk, name: str, base: str, changes: list[Change], stage: str) -> Response:
    text = desk.shelf.text(name)
    try:
        desk.shelf.save(name, edit_job(text, changes), base=base)
    except StaleError:
        return answer(status=409, said=STALE, version=desk.job(name).version)
    return planned(desk, desk.job(name), stage)


async def step(request: Request) -> Response:
    """Undo (`{"by": -1}`) or do again (`{"by": 1}`)."""
    desk, name = desk_of(request), request.path_params["job"]
    body = await body_of(request)
    by = body.get("by")
    if by not in {-1, 1}:
        raise _bad("by", repr(by), "-1 or 1")
    await asyncio.to_thread(desk.shelf.step, name, by)
    return await asyncio.to_thread(lambda: planned(desk, desk.job(name), str(body.get("stage", ""))))


def planned(desk: Desk, worked: Worked, stage: str) -> JSONResponse:
    """Return how a job stands after a change, and tell the other pages that show it."""
    desk.live.tell_from_thread(worked.name, {"kind": "job", "version": worked.version})
    history = desk.shelf.history(worked.name)
    pieces = {
        "rod": fragment("rod.html", notches=notches_of(worked, desk), stage=stage),
        "faults": fragment("faults.html", worked=worked),
        "undoing": fragment("undoing.html", history=history),
    }
    title = worked.read.job.title if worked.read is not None else worked.name
    told = [fault_words(f) for f in worked.faults]
    return answer(pieces, version=worked.version, faults=told, title=title, back=history.back, forward=history.forward)


def _listed(sent: object) -> list[dict[str, Any]]:
    if isinstance(sent, list) and sent and all(isinstance(c, dict) for c in sent):
        return sent
    raise _bad("changes", "no list of changes", "at least one change")


def _change(sent: dict[str, Any]) -> Change:
    act, path = sent.get("act", "set"), sent.get("path")
    if act not in set(Act):
        raise _bad("act", repr(act), ", ".join(Act))
    if not isinstance(path, str) or not path:
        raise _bad("path", repr(path), "the field, as cases[0].width")
    return Change(path=path, act=Act(act), value=written(sent.get("value")))


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
)
