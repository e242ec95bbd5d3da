"""Print: the packet, labels and rods, and every other file of a job to take away."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final
from urllib.parse import quote

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.printing import (
    ALL,
    Download,
    Order,
    Shelf,
    make_ready,
    media_type,
    own_files,
    plan_downloads,
)
from storyrod.adapters.web._desk import Desk, desk_of
from storyrod.adapters.web._making import made, makings_of, why_not
from storyrod.adapters.web._prices import prices_of
from storyrod.adapters.web._printed import texts_of, wishes_of
from storyrod.adapters.web._render import fragment, job_page
from storyrod.adapters.web._stage_answer import stage_answer
from storyrod.adapters.web._worked import Worked
from storyrod.faults import Fault, JobError, raise_if_any
from storyrod.model.job import Paper
from storyrod.telling.purposes import Wishes

_ABOUT: Final = {
    "cover": "summary",
    "cases": "the cases, drawn and pulled apart",
    "order of work": "order of work",
    "cutting list": "cutting list",
    "sheets": "sheets and the saw's list",
    "hardware": "hardware and connectors",
    "joints": "joints, drawn through",
    "set-out": "set-out of every panel",
    "set-ups": "cards of the set-ups",
    "assembly": "assembly, step by step",
    "cautions": "cautions",
    "rods": "rods at full size",
    "jigs": "jigs at full size",
    "proof": "what was checked",
    "how flush": "how flush to expect",
    "soundness": "what it carries",
    "layouts": "why the sheets are cut so",
    "count sheet": "every cut counted",
    "costs": "costs and other methods (takes longer)",
}


def show(request: Request) -> Response:
    """Show the stage: at once what prints any plan, and what wants the whole plan once that is checked.

    The page's script asks for it; without scripts, `?all=1` shows all of it.
    """
    desk = desk_of(request)
    worked = desk.job_soon(request.path_params["job"])
    whole = not worked.waits and (worked.is_checked or worked.plan is None or request.query_params.get("all") == "1")
    if worked.plan is not None:
        make_ready()
    return job_page(
        request, "printing.html", worked, "print", **(_values(desk, worked) if whole else {"waiting": True})
    )


def part(request: Request) -> Response:
    """Answer the page's script with all of the stage."""
    desk = desk_of(request)
    worked = desk.job(request.path_params["job"])
    values = {"job_name": worked.name} | _values(desk, worked)
    return stage_answer(request, worked, "print", {"printing": fragment("printing_stage.html", **values)})


def _values(desk: Desk, worked: Worked) -> dict[str, Any]:
    from storyrod.adapters.packet import PARTS
    from storyrod.telling.label_papers import LABEL_PAPERS, usual_paper

    files, faults = _files(worked, Wishes())
    job = worked.plan.job if worked.plan is not None else None
    made = [f for f in files if f.shelf is not Shelf.OWN]
    return {
        "waiting": False,
        "shelves": tuple(_by_group(made, s) for s in Shelf if any(f.shelf is s for f in made) and s is not Shelf.PRINT),
        "printed": {f.name: f.what for f in made if f.shelf is Shelf.PRINT},
        "own": tuple(f for f in files if f.shelf is Shelf.OWN),
        "why_not": faults,
        "prices": prices_of(desk, worked, worked.plan.account) if worked.plan is not None and not faults else None,
        "count": len(files),
        "parts": tuple((name, _ABOUT[name]) for name in PARTS),
        "papers": tuple(p.value for p in Paper),
        "paper": job.paper.value if job is not None else "",
        "label_papers": tuple((p.code, p.name) for p in LABEL_PAPERS),
        "label_paper": usual_paper(job.paper.value).code if job is not None else "",
        "version": worked.plan.version if worked.plan is not None else "",
        "all_name": ALL,
    }


type Grouped = tuple[str, tuple[tuple[str, tuple[Download, ...]], ...]]


def _by_group(files: Sequence[Download], shelf: Shelf) -> Grouped:
    """Return the files under one heading, those of one thing together."""
    groups: dict[str, list[Download]] = {}
    for file in files:
        if file.shelf is shelf:
            groups.setdefault(file.group, []).append(file)
    return shelf.value, tuple((group, tuple(found)) for group, found in groups.items())


def _files(worked: Worked, asked: Wishes) -> tuple[tuple[Download, ...], tuple[Fault, ...]]:
    """Return what can be taken away now, and why the rest cannot: a plan that is not proven is not printed."""
    own = tuple(own_files(texts_of(worked)))
    faults = worked.checked()
    if not faults:
        try:
            return (*own, *worked.ask(lambda plan: tuple(plan_downloads(plan, asked)))), ()
        except JobError as error:
            faults = error.faults
    return own, faults


def take(request: Request) -> Response:
    """Answer with one file, made now or just before. A name is only ever looked for among those there are."""
    worked = desk_of(request).job(request.path_params["job"])
    name = request.path_params["name"]
    asked = wishes_of(request)
    own = next((f for f in own_files(texts_of(worked)) if f.name == name), None)
    if own is not None:
        return _answer(worked, name, own.make())
    raise_if_any(worked.checked())
    making = makings_of(request).of(worked, name, request.url.query)
    if making is not None and making.data is not None:
        return _answer(worked, name, making.data, inline=name != ALL)
    if name == ALL:
        return _answer(worked, name, made(worked, name, texts_of(worked), asked, Order()))
    file = next((f for f in worked.ask(lambda plan: tuple(plan_downloads(plan, asked))) if f.name == name), None)
    if file is None:
        raise_if_any(worked.ask(lambda plan: why_not(plan, name)))
        raise HTTPException(404, "There is no such file of this job.")
    if file.kept is not None:
        return _answer(worked, name, made(worked, name, texts_of(worked), asked, Order()), inline=True)
    return _answer(worked, name, worked.ask(lambda _: file.make()))


def _answer(worked: Worked, name: str, data: bytes, *, inline: bool = False) -> Response:
    from storyrod.telling.file_names import file_name

    last = name.rpartition("/")[2]
    whole = last if last.endswith(".toml") else f"{worked.name}-{last}"
    plain = file_name(whole.encode("ascii", "ignore").decode())
    how = "inline" if inline else "attachment"
    disposition = f"{how}; filename=\"{plain}\"; filename*=UTF-8''{quote(whole, safe='')}"
    return Response(data, media_type=media_type(name), headers={"Content-Disposition": disposition})


routes: tuple[BaseRoute, ...] = (
    Route("/job/{job}/print", show),
    Route("/job/{job}/print/part", part),
    Route("/job/{job}/files/{name:path}", take),
)
