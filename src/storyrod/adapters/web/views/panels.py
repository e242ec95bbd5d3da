"""Panels: the case in the round, its cutting list, and what is to be bought for it."""

from __future__ import annotations

from dataclasses import dataclass

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters import svg
from storyrod.adapters.web._desk import desk_of
from storyrod.adapters.web._model import model_data, steps_data
from storyrod.adapters.web._render import job_page
from storyrod.adapters.web._worked import Worked
from storyrod.drawing import Figures, Shown, View, case_exploded, case_view
from storyrod.faults import Fault, JobError
from storyrod.model.detail import DetailedCase, Details
from storyrod.model.panel import Panel
from storyrod.planning import Plan
from storyrod.telling.connectors import connector_items
from storyrod.telling.panels import edging_words

_ROOM = (160.0, 120.0)
_GRAINS = {"along": "length", "across": "width", "free": "free"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A panel on the cutting list, its figures as the job shows them."""

    panel: Panel
    count: int
    finished: str
    cut: str
    thickness: str
    board: str
    grain: str
    edging: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Bought:
    """Something to be bought: what, how many in the whole job, and for what."""

    what: str
    count: str
    where: str


def show(request: Request) -> Response:
    """Show the case in the round and its lists; of a job that cannot be built, why."""
    worked = desk_of(request).job(request.path_params["job"])
    try:
        details, left = drawn_details(worked)
    except JobError as error:
        return job_page(request, "panels.html", worked, "panels", case=None, left=_new(worked, error.faults))
    case = case_of(details, request.query_params.get("case", ""))
    boards = tuple(b.code for b in details.job.boards)
    return job_page(
        request,
        "panels.html",
        worked,
        "panels",
        case=case,
        cases=details.cases,
        left=_new(worked, left),
        rows=_rows(details, case),
        boards=_boards(details, case),
        bought=worked.ask(_bought) if not left else (),
        picture=case_view(case, Shown(boards=boards, figures=Figures.of_job(details.job)), room=_ROOM),
        figures=Figures.of_job(details.job),
    )


def drawn_details(worked: Worked) -> tuple[Details, tuple[Fault, ...]]:
    """Return the panels with all their cuts, and why no more than a sketch of them can be drawn, if so.

    Raises:
        JobError: not even a sketch can be drawn.
    """
    try:
        return worked.ask(lambda plan: plan.details), ()
    except JobError as error:
        return worked.ask(lambda plan: plan.sketch), error.faults


def case_of(details: Details, code: str) -> DetailedCase:
    """Return the case of a code, or the first where none is asked for.

    Raises:
        JobError: there is no such case.
    """
    for case in details.cases:
        if code in {"", case.built.case.code}:
            return case
    known = ", ".join(c.built.case.code for c in details.cases)
    raise JobError(
        Fault(code="no-such-case", field="case", found=f"“{code[:40]}”", allowed=known, do="Pick a case of this job.")
    )


def _new(worked: Worked, faults: tuple[Fault, ...]) -> tuple[Fault, ...]:
    """Return the faults that the head of the page does not tell already."""
    return tuple(f for f in faults if f not in worked.faults)


def _rows(details: Details, case: DetailedCase) -> tuple[Row, ...]:
    figures = Figures.of_job(details.job)

    def row(panel: Panel) -> Row:
        return Row(
            panel=panel,
            count=case.built.case.count,
            finished=f"{figures.of(panel.length)} × {figures.of(panel.width)}",
            cut=f"{figures.of(panel.cut_length)} × {figures.of(panel.cut_width)}",
            thickness=figures.of(panel.thickness),
            board=details.job.board(panel.board).name,
            grain=_GRAINS[panel.grain.value],
            edging=edging_words(panel),
        )

    return tuple(row(p) for p in case.panels)


def _boards(details: Details, case: DetailedCase) -> tuple[tuple[str, str], ...]:
    """Return the boards that the case is made of, each with the tint it has in the picture."""
    from storyrod.drawing import board_fill

    codes = tuple(b.code for b in details.job.boards)
    used = {p.board for p in case.panels}
    return tuple(
        (b.sold_as(details.job.lengths), board_fill(b.code, codes).tint.value)
        for b in details.job.boards
        if b.code in used
    )


def _bought(plan: Plan) -> tuple[Bought, ...]:
    used: dict[str, set[str]] = {}
    for case in plan.details.cases:
        for connector in case.connectors:
            used.setdefault(connector.item, set()).add(plan.details.method(connector.method).name)
    connectors = [
        Bought(what=item, count=str(count), where=", ".join(sorted(used.get(item, ()))))
        for item, count in sorted(connector_items(plan).items())
    ]
    hardware = [
        Bought(
            what=h.name,
            count=_amount(h.count * c.built.case.count, h.unit),
            where=f"{c.built.case.code}: {h.where}",
        )
        for c in plan.details.cases
        for h in c.built.hardware
    ]
    return (*connectors, *hardware)


def _amount(count: int, unit: str) -> str:
    """Return a count with its unit: `1 pair`, `4 pairs`."""
    return f"{count} {unit}{'s' if unit and count != 1 else ''}".strip()


def model(request: Request) -> Response:
    """Answer with a case for the live view; with `steps`, how it is put together as well."""
    worked = desk_of(request).job(request.path_params["job"])
    details, _ = drawn_details(worked)
    case = case_of(details, request.path_params["case"])
    data = model_data(details, case) | {"version": worked.version}
    if "steps" in request.query_params:
        told = worked.ask(lambda plan: plan.assembly.case(case.built.case.code))
        data["steps"] = steps_data(case, told, Figures.of_job(details.job))
    return JSONResponse(data)


def pulled_apart(request: Request) -> Response:
    """Answer with the picture of a case pulled apart, for a page that runs no script."""
    worked = desk_of(request).job(request.path_params["job"])
    details, _ = drawn_details(worked)
    case = case_of(details, request.path_params["case"])
    boards = tuple(b.code for b in details.job.boards)
    shown = Shown(boards=boards, names=True, figures=Figures.of_job(details.job))
    drawing = case_exploded(case, shown, room=(180.0, 180.0), view=View())
    return Response(svg.write(drawing), media_type="image/svg+xml")


routes: tuple[BaseRoute, ...] = (
    Route("/job/{job}/panels", show),
    Route("/job/{job}/panels/{case}/model.json", model),
    Route("/job/{job}/panels/{case}/apart.svg", pulled_apart),
)
