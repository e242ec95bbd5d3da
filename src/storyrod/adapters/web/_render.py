"""Templates, drawings and answers: how a view says what it has found."""

from __future__ import annotations

import datetime as dt
import json
import re
from collections import Counter
from collections.abc import Mapping
from functools import cache
from typing import TYPE_CHECKING, Any, Final
from urllib.parse import quote

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse

from storyrod import __version__
from storyrod.adapters.web._cautions_shown import cautions_at
from storyrod.adapters.web._desk import Desk, desk_of
from storyrod.adapters.web._fault_stages import stage_of_fault
from storyrod.adapters.web._stages import STAGES, Notch
from storyrod.adapters.web._waits import waits_of
from storyrod.adapters.web._worked import Worked
from storyrod.faults import Fault, JobError
from storyrod.model.work import minutes_figure, work_words

if TYPE_CHECKING:
    from storyrod.drawing import Drawing

THEMES: Final = ("paper", "slate")


@cache
def templates() -> Environment:
    """Return the templates; every value that is put in is escaped, and one that is missing is an error."""
    environment = Environment(
        loader=PackageLoader("storyrod.adapters.web", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,  # they come with the package, and do not change while it runs
    )
    environment.globals["drawn"] = drawn
    environment.globals["waits_of"] = waits_of
    environment.globals["cautions_at"] = cautions_at
    environment.filters["mm"] = _mm
    environment.filters["times"] = _times
    environment.filters["plainly"] = plainly
    environment.filters["as_work"] = work_words
    environment.filters["as_minutes"] = minutes_figure
    return environment


def _times(words: str) -> str:
    """Return words with the sign of multiplication between two figures: `dowel 8 × 35`."""
    return re.sub(r"(?<=\d) x (?=\d)", " × ", words)


def _mm(value: float) -> str:
    from storyrod.measure.length import show_mm

    return show_mm(value)


def drawn(drawing: Drawing, prefix: str = "") -> Markup:
    """Return a drawing as SVG for the page; its words are escaped by the writer."""
    from storyrod.adapters import svg

    return Markup(svg.write(drawing, svg.Look.PAGE, prefix=prefix))  # noqa: S704  # escaped by the writer


def fragment(template: str, **values: Any) -> str:  # noqa: ANN401  # whatever the template names
    """Return one piece of a page, for an answer that puts it in the place of the one of the same id."""
    return templates().get_template(template).render(**values)


def page(request: Request, template: str, *, status: int = 200, **values: Any) -> HTMLResponse:  # noqa: ANN401
    """Return a whole page."""
    theme = request.cookies.get("storyrod-theme", "")
    common: dict[str, Any] = {
        "request_path": request.url.path,
        "theme": theme if theme in THEMES else "",
        "storyrod_version": __version__,
        "stage": "",
        "worked": None,
        "notches": (),
    }
    return HTMLResponse(templates().get_template(template).render(common | values), status)


def job_page(
    request: Request,
    template: str,
    worked: Worked,
    stage: str,
    **values: Any,  # noqa: ANN401
) -> HTMLResponse:
    """Return a page of one job, at a stage, with the rod beside it."""
    desk = desk_of(request)
    desk.shown[worked.name] = worked.version
    notches = notches_of(worked, desk)
    history = desk.shelf.history(worked.name)
    remade = desk.absences.asks(worked.name) and desk.ticks.knows(worked.name)
    common: dict[str, Any] = {"worked": worked, "stage": stage, "notches": notches, "history": history}
    common["remade"] = remade
    return page(request, template, **(common | {"job_title": worked.title, "job_name": worked.name} | values))


def notches_of(worked: Worked, desk: Desk) -> tuple[Notch, ...]:
    """Return the rod of a job: a notch for each stage, with the faults known so far that wait there, and its ticks."""
    counts = Counter(stage_of_fault(f) for f in worked.known)
    cautions = {stage.key: len(cautions_at(worked, stage.key)) for stage in STAGES}
    shares = desk.shares(worked)
    return tuple(
        Notch(
            stage=stage,
            href=f"/job/{quote(worked.name)}/{stage.key}",
            faults=counts[stage.key],
            cautions=cautions[stage.key],
            done=min(max(shares.get(stage.key, 0.0), 0.0), 1.0),
        )
        for stage in STAGES
    )


def answer(swap: Mapping[str, str] | None = None, *, status: int = 200, **more: Any) -> JSONResponse:  # noqa: ANN401
    """Return an answer to the page's script: pieces to put in place, by the id of what they replace, and more."""
    return JSONResponse({"swap": dict(swap or {}), **more}, status)


def faults_answer(error: JobError, status: int = 422) -> JSONResponse:
    """Return faults in words, for the page's script."""
    return JSONResponse({"faults": [fault_words(f) for f in error.faults]}, status)


def fault_words(fault: Fault) -> dict[str, Any]:
    """Return a fault as plain values: its parts, and the whole sentence."""
    return {
        "code": fault.code,
        "field": fault.field,
        "found": fault.found,
        "allowed": fault.allowed,
        "do": fault.do,
        "line": fault.line,
        "words": plainly(fault),
    }


def plainly(fault: object) -> str:
    """Return a fault in a maker's words: where it is, without paths and lines of a file; other words as they are."""
    from storyrod.adapters.web._brief_fields import place_words

    if not isinstance(fault, Fault):
        return str(fault)
    words = f"found {fault.found}; allowed: {fault.allowed}. {fault.do}"
    return f"{place_words(fault.field, {})}: {words}" if fault.field else f"{words[:1].upper()}{words[1:]}"


def wants_json(request: Request) -> bool:
    """Return whether the page's script asks, and not a form or a person."""
    return "application/json" in request.headers.get("accept", "")


async def body_of(request: Request) -> dict[str, Any]:
    """Return what a script or a form sent, as plain values.

    Raises:
        JobError: it is not JSON, or not an object.
    """
    if request.headers.get("content-type", "").startswith("application/json"):
        try:
            sent = json.loads(await request.body())
            json.dumps(sent, ensure_ascii=False).encode()  # halves of characters could not be written down
        except (ValueError, RecursionError):  # also nested too deep to follow
            sent = None
        if isinstance(sent, dict):
            return sent
        raise JobError(
            Fault(code="sent", field="", found="words that are no JSON object", allowed="a JSON object", do="Reload.")
        )
    async with request.form() as form:  # closes what was sent as a file
        return {name: value for name, value in form.items() if isinstance(value, str)}


def today() -> str:
    """Return the date for the head of printed pages."""
    day = dt.datetime.now(dt.UTC).astimezone()
    return f"{day.day} {day:%B %Y}"
