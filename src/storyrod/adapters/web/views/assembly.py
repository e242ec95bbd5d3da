"""Assembly: step by step, with the model moving; every step drawn, to be printed."""

from __future__ import annotations

from typing import Any, Final

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.web._desk import desk_of
from storyrod.adapters.web._glue_ways import late_glue
from storyrod.adapters.web._render import job_page, page
from storyrod.adapters.web._step_page import earlier_than, introduction, steps_told, wall_told
from storyrod.adapters.web._worked import Worked
from storyrod.adapters.web.views.panels import case_of
from storyrod.drawing import Drawing, Figures, assembly_key, assembly_step
from storyrod.faults import Fault, JobError
from storyrod.model.assembly import AssemblyPlan, CasePlan, Step
from storyrod.model.detail import DetailedCase, Details
from storyrod.planning import Plan
from storyrod.telling.wall import wall_heading

_ROOM: Final = (150.0, 110.0)
_PRINTED: Final = (84.0, 78.0)


def show(request: Request) -> Response:
    """Show a case's steps, one of them in full; of a job that cannot be put together, why."""
    worked = desk_of(request).job(request.path_params["job"])
    try:
        details, assembly = worked.ask(_planned)
    except JobError as error:
        left = tuple(f for f in error.faults if f not in worked.faults)
        return job_page(request, "assembly.html", worked, "assembly", case=None, left=left)
    case = case_of(details, request.query_params.get("case", ""))
    told = assembly.case(case.built.case.code)
    step = _step(told, request.query_params.get("step", "1"))
    boards = tuple(b.code for b in details.job.boards)
    return job_page(
        request,
        "assembly.html",
        worked,
        "assembly",
        left=(),
        case=case,
        cases=details.cases,
        step=step,
        drawing=_drawn(details, case, told, step, _ROOM) if step is not None else None,
        key=assembly_key(boards),
        **_words(worked, details, case, told),
    )


def _planned(plan: Plan) -> tuple[Details, AssemblyPlan]:
    return plan.details, plan.assembly


def _words(worked: Worked, details: Details, case: DetailedCase, told: CasePlan) -> dict[str, Any]:
    tipping = worked.ask(lambda plan: plan.tipping[case.built.case.code])
    return {
        "late": {one.step: one.key for one in worked.ask(late_glue) if one.case == case.built.case.code},
        "wall": {"blocks": wall_told(details.job, case, tipping), "heading": wall_heading(tipping)},
        "told": told,
        "steps": steps_told(details.job, case, told),
        "introduction": introduction(told),
        "figures": Figures.of_job(details.job),
    }


def _step(told: CasePlan, asked: str) -> Step | None:
    """Return the step that is asked for; none where there are no steps.

    Raises:
        JobError: there is no such step.
    """
    if not told.steps:
        return None
    found = next((s for s in told.steps if str(s.number) == asked), None)
    if found is None:
        allowed = f"1 to {len(told.steps)}"
        raise JobError(
            Fault(
                code="no-such-step",
                field="step",
                found=f"“{asked[:20]}”",
                allowed=allowed,
                do="Pick one of them.",
            )
        )
    return found


def _drawn(details: Details, case: DetailedCase, told: CasePlan, step: Step, room: tuple[float, float]) -> Drawing:
    boards = tuple(b.code for b in details.job.boards)
    earlier = earlier_than(told.steps, step)
    return assembly_step(case, step, earlier, boards=boards, figures=Figures.of_job(details.job), room=room)


def printed(request: Request) -> Response:
    """Show every step of a case with its drawing and words, to be printed."""
    worked = desk_of(request).job(request.path_params["job"])
    details, assembly = worked.ask(_planned)
    case = case_of(details, request.query_params.get("case", ""))
    told = assembly.case(case.built.case.code)
    drawings = {s.number: _drawn(details, case, told, s, _PRINTED) for s in told.steps}
    return page(
        request,
        "assembly_print.html",
        job_name=worked.name,
        job_title=details.job.title,
        case=case,
        drawings=drawings,
        key=assembly_key(tuple(b.code for b in details.job.boards)),
        **_words(worked, details, case, told),
    )


routes: tuple[BaseRoute, ...] = (
    Route("/job/{job}/assembly", show),
    Route("/job/{job}/assembly/print", printed),
)
