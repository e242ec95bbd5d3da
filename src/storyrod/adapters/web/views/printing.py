"""Print: the packet, labels and rods, and every other file of a job to take away."""

from __future__ import annotations

import copy
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
    Shelf,
    Texts,
    made_apart,
    media_type,
    own_files,
    plan_downloads,
)
from storyrod.adapters.web._desk import Desk, desk_of
from storyrod.adapters.web._prices import prices_of
from storyrod.adapters.web._render import job_page, today
from storyrod.adapters.web._worked import Worked
from storyrod.faults import Fault, JobError, raise_if_any
from storyrod.model.job import Paper
from storyrod.planning import Plan
from storyrod.telling.purposes import Purpose, Wishes

_MOST_USED: Final = 200
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
    """Show the stage."""
    desk = desk_of(request)
    worked = desk.job(request.path_params["job"])
    return job_page(request, "printing.html", worked, "print", **_values(desk, worked))


def _values(desk: Desk, worked: Worked) -> dict[str, Any]:
    from storyrod.adapters.packet import PARTS
    from storyrod.telling.label_papers import LABEL_PAPERS, usual_paper

    files, faults = _files(worked, Wishes())
    job = worked.plan.job if worked.plan is not None else None
    made = [f for f in files if f.shelf is not Shelf.OWN]
    return {
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
    own = tuple(own_files(_texts(worked)))
    faults = worked.checked()
    if not faults:
        try:
            return (*own, *worked.ask(lambda plan: tuple(plan_downloads(plan, asked)))), ()
        except JobError as error:
            faults = error.faults
    return own, faults


def _texts(worked: Worked) -> Texts:
    from storyrod.adapters.files import packaged_workshop_text

    read = worked.read
    path = read.workshop_path if read is not None else None
    return Texts(
        job_name=f"{worked.name}.toml",
        job=worked.text,
        workshop_name=path.name if path is not None else "workshop.toml",
        workshop=read.workshop_text if read is not None and path is not None else packaged_workshop_text(),
    )


def take(request: Request) -> Response:
    """Answer with one file, made now. A name is only ever looked for among those there are."""
    worked = desk_of(request).job(request.path_params["job"])
    name = request.path_params["name"]
    asked = _asked(request)
    own = next((f for f in own_files(_texts(worked)) if f.name == name), None)
    if own is not None:
        return _answer(worked, name, own.make())
    raise_if_any(worked.checked())
    if name == ALL:
        return _answer(worked, name, made_apart(_snapshot(worked), name, _texts(worked), asked))
    file = next((f for f in worked.ask(lambda plan: tuple(plan_downloads(plan, asked))) if f.name == name), None)
    if file is None:
        raise_if_any(worked.ask(lambda plan: _why_not(plan, name)))
        raise HTTPException(404, "There is no such file of this job.")
    if file.kept is not None:
        before = worked.ask(lambda _: file.kept() if file.kept else None)
        made = before if before is not None else made_apart(_snapshot(worked), name, _texts(worked), asked)
        return _answer(worked, name, made, inline=True)
    return _answer(worked, name, worked.ask(lambda _: file.make()))


def _why_not(plan: Plan, name: str) -> tuple[Fault, ...]:
    """Return why a paper of this name is not among the files, if it is one."""
    from storyrod.adapters.packet import prints_of

    return tuple(f for one, why in prints_of(plan, tuple(Purpose), Wishes()) if one.file == name for f in why)


def _snapshot(worked: Worked) -> Plan:
    """Return the plan with all that is worked out so far, to be sent to another process."""
    return worked.ask(copy.copy)


def _asked(request: Request) -> Wishes:
    """Return what the address asks of printed things; what it says wrongly is told, all at once."""
    from storyrod.telling.label_papers import CODES

    told, faults = request.query_params, []
    paper, labels, used = told.get("paper", ""), told.get("labels", ""), told.get("used", "") or "0"
    if paper and paper not in set(Paper):
        faults.append(_wrong("paper", paper, ", ".join(Paper)))
    if labels and labels not in CODES:
        faults.append(_wrong("labels", labels, ", ".join(CODES)))
    if not used.isdecimal() or len(used) > 9 or int(used) > _MOST_USED:
        faults.append(_wrong("used", used, f"0 to {_MOST_USED} labels"))
    raise_if_any(faults)
    parts = told.getlist("part")
    return Wishes(
        date=today(),
        parts=tuple(parts) if parts else None,
        paper=Paper(paper) if paper else None,
        labels=labels,
        used=int(used),
        rods=tuple(m.strip() for m in told.get("rods", "").split(",") if m.strip()),
        quote_without=told.get("without") == "yes",
    )


def _wrong(field: str, found: str, allowed: str) -> Fault:
    return Fault(code="sent", field=field, found=f'"{found}"', allowed=allowed, do="Go back and choose again.")


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
    Route("/job/{job}/files/{name:path}", take),
)
