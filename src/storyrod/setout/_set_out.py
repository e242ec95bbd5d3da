"""The stage as a whole."""

from __future__ import annotations

from storyrod.model.detail import DetailedCase, Details
from storyrod.model.job import Job
from storyrod.model.mark import CaseSetOut, PanelSetOut, SetOut
from storyrod.setout._gangs import find_gangs, rod_of
from storyrod.setout._lines import lines_by_panel
from storyrod.setout._marks import marks_by_panel
from storyrod.setout._openings import marked_openings
from storyrod.setout._places import Places
from storyrod.setout._rounding import moves_of
from storyrod.setout._standing import line_moves


def set_out(details: Details) -> SetOut:
    """Return every panel's marks and joint lines, the gangs to mark together, and a rod for each gang.

    Every figure is in mm from the panel's own datum end or face edge, rounded once to the job's `mark_step`; the
    marks of two mates share one rounding, so they meet exactly, and what keeps its shape is rounded as one.
    """
    step = details.job.mark_step
    cases = tuple(_set_out_case(details.job, case, step) for case in details.cases)
    every = {p.panel.id: p for c in cases for p in c.panels}
    gangs = find_gangs(every.values())
    rods = tuple(rod_of(g, every[g.panels[0]]) for g in gangs)
    return SetOut(mark_to=step, cases=cases, gangs=gangs, rods=rods)


def _set_out_case(job: Job, case: DetailedCase, step: float) -> CaseSetOut:
    panels = {p.id: p for p in case.panels}
    lines_moved = line_moves(case, panels, step)
    moves = moves_of(case, panels, lines_moved, step, job.lengths)
    numbers: dict[str, str] = {j.id: j.number for j in case.joints}
    lines = lines_by_panel(case.joints, panels, lines_moved, job.lengths)
    places = Places(panels, job.lengths)
    places.keep(case.joints, lines_moved, {n.joint: n for on in lines.values() for n in on})
    marks = marks_by_panel(job, panels, case.features, moves, places, numbers)
    return CaseSetOut(
        case=case.built.case.code,
        panels=tuple(PanelSetOut(panel=p, marks=marks[p.id], lines=lines[p.id]) for p in case.panels),
        openings=marked_openings(case, {j.entering: lines_moved[j.id] for j in case.joints}),
    )
