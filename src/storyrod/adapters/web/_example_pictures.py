"""Three pictures of what one gets, drawn from the example that comes with storyrod."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from markupsafe import Markup

from storyrod.adapters.web._render import drawn
from storyrod.adapters.web.first_visit import EXAMPLE, example_text

if TYPE_CHECKING:
    from storyrod.adapters.web._desk import Desk
    from storyrod.planning import Plan

_CASE: Final = (86.0, 72.0)
_JOINT: Final = (86.0, 72.0)
_STEP: Final = (86.0, 72.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """One picture, with what it shows."""

    heading: str
    about: str
    drawing: Markup


def pictures_of(desk: Desk) -> tuple[Picture, ...]:
    """Return the brief's drawing, a joint sawn through and a step of the assembly, all of the example."""
    worked = desk.workbook.work_out(EXAMPLE, example_text(), desk.settings.jobs)
    return worked.ask(_pictures)


def _pictures(plan: Plan) -> tuple[Picture, ...]:
    from storyrod.drawing import Figures, assembly_step, case_elevation, joint_detail

    figures = Figures.of_job(plan.job)
    boards = tuple(b.code for b in plan.job.boards)
    case = plan.details.cases[0]
    joint = next(j for j in case.joints if j.stations)
    steps = plan.assembly.cases[0].steps
    step = max(steps, key=lambda s: (s.at_once, s.whole_kg))
    earlier = tuple(s for s in steps if s.number < step.number)
    return (
        Picture(
            heading="You say what it holds",
            about="Sizes, drawers, doors, shelves. Tap an opening to change it.",
            drawing=drawn(case_elevation(case, fronts=True, figures=figures, boards=boards, room=_CASE), "about-case"),
        ),
        Picture(
            heading="You get every mark",
            about="On both panels of each joint, and the set-up that cuts it.",
            drawing=drawn(joint_detail(case, joint, figures=figures, boards=boards, room=_JOINT), "about-joint"),
        ),
        Picture(
            heading="It goes together in order",
            about="Step by step, with jigs, set-ups, sheets and what it costs.",
            drawing=drawn(assembly_step(case, step, earlier, boards=boards, figures=figures, room=_STEP), "about-step"),
        ),
    )
