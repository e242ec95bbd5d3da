"""Set-out: every panel with all its marks, where each comes from and where its mate is; rods."""

from __future__ import annotations

import math
from typing import Any, Final

from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters import svg
from storyrod.adapters.web._desk import desk_of
from storyrod.adapters.web._marks import gang_of, lines_of, mark_named, no_mark, panel_named, told_of
from storyrod.adapters.web._model import size_words
from storyrod.adapters.web._notes_shown import notes_values
from storyrod.adapters.web._render import fragment, job_page, page
from storyrod.drawing import (
    Drawing,
    Figures,
    case_thumbnail,
    gang_stack,
    panel_set_out,
    rod_strip,
    rod_tiles,
)
from storyrod.faults import Fault, JobError
from storyrod.model.job import Paper
from storyrod.model.mark import PanelSetOut, Rod
from storyrod.planning import Plan
from storyrod.telling.before import before_panel
from storyrod.telling.panels import bevel_words, edging_words, scribe_words
from storyrod.telling.shown import Shown

_PX = 4.0  # screen pixels for a millimetre on paper
_USUAL_WIDTH: Final = 650.0
_WIDTHS: Final = (280.0, 12_000.0)
_HIGH: Final = 0.86  # of its width a drawing may be high
_MORE_ROOM: Final = (1.0, 1.25, 1.6, 2.0, 2.6)
"""A drawing that needs more room than there is goes beyond it, and is scrolled, so that the panel can be seen in it."""

_SEEN: Final = 0.4
_THUMB: Final = (24.0, 20.0)
_STACK: Final = (86.0, 50.0)


def show(request: Request) -> Response:
    """Show the set-out of a panel, by `panel` (id or mark) or by one of its marks, `mark`; of the first panel else."""
    desk = desk_of(request)
    worked = desk.job(request.path_params["job"])
    try:
        values = worked.ask(lambda plan: _matter(plan, request))
    except JobError as error:
        if not _is_of_the_job(error):
            raise
        left = tuple(f for f in error.faults if f not in worked.faults)
        return job_page(request, "set_out.html", worked, "set-out", out=None, left=left, case=None)
    values |= notes_values(desk, worked, f"panel {values['out'].panel.id}")
    return job_page(request, "set_out.html", worked, "set-out", left=(), **values)


def _is_of_the_job(error: JobError) -> bool:
    return not any(f.code in {"no-such-panel", "no-such-mark"} for f in error.faults)


def _matter(plan: Plan, request: Request) -> dict[str, Any]:
    out, label = _asked(plan, request)
    case = next(c for c in plan.details.cases if c.built.case.code == out.panel.case)
    figures = Figures.of_job(plan.job)
    gang = gang_of(plan.set_out, out.panel.id)
    together = [p for c in plan.set_out.cases for p in c.panels if gang is not None and p.panel.id in gang.panels]
    rods = [r for r in plan.set_out.rods if r.lengths or r.widths]
    rod = next((r for r in rods if gang is not None and r.gang == gang.id), None)
    return {
        "out": out,
        "case": case,
        "cases": plan.details.cases,
        "thumbs": [(p, case_thumbnail(case, p.id, room=_THUMB)) for p in case.panels],
        "counts": {p.panel.id: len(p.marks) for c in plan.set_out.cases for p in c.panels},
        "board": plan.job.board(out.panel.board),
        "size": size_words(out.panel, figures),
        "edging": edging_words(out.panel),
        "bevel": bevel_words(out.panel, Shown.of(plan.job)),
        "scribe": scribe_words(out.panel, Shown.of(plan.job)),
        "drawings": _drawings(plan, out, _width(request), _USUAL_WIDTH),
        "lines": lines_of(out, figures),
        "figures": figures,
        "mark_to": figures.of(plan.set_out.mark_to),
        "chosen": label,
        "told": told_of(plan, label) if label else None,
        "gang": gang if len(together) > 1 else None,
        "together": [p.panel for p in together],
        "stack": gang_stack(gang, [p.panel for p in together], room=_STACK)
        if gang is not None and len(together) > 1
        else None,
        "before": before_panel(out, plan.job.lengths),
        "rods": rods,
        "rod": rod,
        "strip": rod_strip(rod, figures=figures) if rod is not None else None,
        "paper": plan.job.paper.value,
        "papers": [p.value for p in Paper],
    }


def _asked(plan: Plan, request: Request) -> tuple[PanelSetOut, str]:
    """Return the panel that is asked for, and the label of the mark, or "".

    Raises:
        JobError: there is no such panel or mark.
    """
    label, name = request.query_params.get("mark", ""), request.query_params.get("panel", "")
    if label:
        found = mark_named(plan.set_out, label)
        if found is None:
            raise no_mark(label)
        return found[0], label
    if not name:
        panels = [p for c in plan.set_out.cases for p in c.panels]
        return next((p for p in panels if p.marks), panels[0]), ""
    out = panel_named(plan.set_out, name)
    if out is None:
        raise JobError(
            Fault(
                code="no-such-panel",
                field="panel",
                found=f"“{name[:40]}”",
                allowed="a panel of this job, by its mark or id",
                do="Pick one from the row of panels.",
            )
        )
    return out, ""


def _width(request: Request) -> float:
    """Return the room for a drawing on the screen in px, within reason."""
    try:
        wanted = float(request.query_params.get("width", _USUAL_WIDTH))
    except ValueError:
        return _USUAL_WIDTH
    return min(max(wanted, _WIDTHS[0]), _WIDTHS[1]) if math.isfinite(wanted) else _USUAL_WIDTH


def _drawings(plan: Plan, out: PanelSetOut, width: float, frame: float) -> tuple[Drawing, ...]:
    """Return a drawing of each worked face, for so much room; wider than the frame, it is one brought nearer."""
    high = max(width, frame) * _HIGH
    figures = Figures.of_job(plan.job)
    made: tuple[Drawing, ...] = ()
    for times in _MORE_ROOM:
        made = panel_set_out(out, figures=figures, room=(width * times / _PX, high * times / _PX))
        if all(_is_seen(out, drawing, width / _PX, high / _PX) for drawing in made):
            break
    return made


def _is_seen(out: PanelSetOut, drawing: Drawing, width: float, high: float) -> bool:
    """Whether the panel itself fills enough of the room, or its words took nearly all of it."""
    length, across = out.panel.length / drawing.unit, out.panel.width / drawing.unit
    return length >= _SEEN * width or across >= _SEEN * high


def drawn(request: Request) -> Response:
    """Answer with the drawings of a panel for a `width` of so many px, to be put in place of those shown."""
    worked = desk_of(request).job(request.path_params["job"])

    def made(plan: Plan) -> str:
        out, _ = _asked(plan, request)
        width = _width(request)
        return fragment("set_out_drawn.html", drawings=_drawings(plan, out, width, width))

    return HTMLResponse(worked.ask(made))


def mark(request: Request) -> Response:
    """Answer with all that is told of a mark, to be put beside the drawing; without one, how to pick it."""
    worked = desk_of(request).job(request.path_params["job"])
    label = request.query_params.get("mark", "")
    told = worked.ask(lambda plan: told_of(plan, label)) if label else None
    return HTMLResponse(fragment("set_out_mark.html", told=told, job_name=worked.name))


def rod(request: Request) -> Response:
    """Answer with the strip of a rod, to be looked along on the screen: that of `gang`, or the first."""
    worked = desk_of(request).job(request.path_params["job"])

    def made(plan: Plan) -> str:
        gang = request.query_params.get("gang", "")
        one = _rods(plan, [gang] if gang else [])[0]
        strip = rod_strip(one, figures=Figures.of_job(plan.job))
        return fragment("set_out_strip.html", rod=one, strip=strip)

    return HTMLResponse(worked.ask(made))


def rods(request: Request) -> Response:
    """Show rods at full size on tiles for a `paper`, to be printed: those of the gangs named, or all."""
    worked = desk_of(request).job(request.path_params["job"])
    tiles, chosen, paper = worked.ask(lambda plan: _tiles(plan, request))
    title = worked.read.job.title if worked.read is not None else worked.name
    return page(
        request,
        "set_out_rods.html",
        job_name=worked.name,
        job_title=title,
        tiles=tiles,
        rods=chosen,
        paper=paper,
        full_size=_full_size,
    )


def _full_size(drawing: Drawing, prefix: str) -> Markup:
    """Return a drawing in mm, black on white, as it is on paper; its words are escaped by the writer."""
    return Markup(svg.write(drawing, svg.Look.PAPER, prefix=prefix))  # noqa: S704  # escaped by the writer


def _tiles(plan: Plan, request: Request) -> tuple[list[Drawing], list[Rod], str]:
    named = request.query_params.get("paper", plan.job.paper.value)
    paper = next((p for p in Paper if p.value == named), plan.job.paper)
    chosen = _rods(plan, request.query_params.getlist("gang"))
    figures = Figures.of_job(plan.job)
    return [t for r in chosen for t in rod_tiles(r, paper, figures=figures)], chosen, paper.value


def _rods(plan: Plan, gangs: list[str]) -> list[Rod]:
    """Return the rods of gangs, in their order; all that have something on them where none is named.

    Raises:
        JobError: none of those named is there.
    """
    all_rods = [r for r in plan.set_out.rods if r.lengths or r.widths]
    chosen = [r for r in all_rods if r.gang in gangs] if gangs else all_rods
    if not chosen:
        known = ", ".join(r.gang for r in all_rods) or "none"
        raise JobError(
            Fault(
                code="no-such-rod",
                field="gang",
                found=f"“{', '.join(gangs)[:40]}”",
                allowed=known,
                do="Choose a rod from the list on the set-out page.",
            )
        )
    return chosen


routes: tuple[BaseRoute, ...] = (
    Route("/job/{job}/set-out", show),
    Route("/job/{job}/set-out/drawn", drawn),
    Route("/job/{job}/set-out/mark", mark),
    Route("/job/{job}/set-out/rod", rod),
    Route("/job/{job}/set-out/rods", rods),
)
