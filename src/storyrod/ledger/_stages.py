"""Which part of the work a joint or panel belongs to."""

from __future__ import annotations

import math

from storyrod.model.detail import DetailedCase
from storyrod.model.job import BoardKind, Job
from storyrod.model.joint import Joint, JointKind
from storyrod.model.method import Method, SizeForBoard
from storyrod.model.panel import Panel, Role, Surface
from storyrod.model.work import Stage

_ENDS = (Surface.DATUM_END, Surface.FAR_END)


def stage_of_joint(joint: Joint, usual: Stage) -> Stage:
    """Return `usual` for a joint of the carcass; drawer boxes and backs are told apart."""
    return {JointKind.DRAWER_BOX: Stage.DRAWERS, JointKind.BACK: Stage.BACK}.get(joint.kind, usual)


def stage_of_panel(case: DetailedCase, panel: Panel, usual: Stage) -> Stage:
    """Return `usual` for a panel of the carcass; backs, drawer boxes, fronts and loose shelves are told apart."""
    if panel.role is Role.BACK:
        return Stage.BACK
    if panel.body == "carcass":
        return usual
    return Stage.DRAWERS if is_drawer(case, panel.body) else Stage.FITTINGS


def is_drawer(case: DetailedCase, body: str) -> bool:
    """Return whether a body is a drawer's box."""
    return any(d.id == body for d in case.built.drawers)


def edge_length(panel: Panel, surface: Surface) -> float:
    """Return how long an edge or end of a panel is (mm)."""
    return panel.width if surface in _ENDS else panel.length


def finished_m2(case: DetailedCase, job: Job) -> float:
    """Return the bare board of one case, both faces and all edges of its panels, in square metres."""
    bare = {b.code for b in job.boards if b.kind is not BoardKind.FACED_CHIPBOARD}
    return math.fsum(
        2 * (p.length * p.width + (p.length + p.width) * p.thickness) / 1e6 for p in case.panels if p.board in bare
    )


def size_of(case: DetailedCase, joint: Joint, method: Method) -> SizeForBoard | None:
    """Return the size of a method that a joint takes, by the thinner of its boards."""
    thinner = min(case.panel(joint.receiving).thickness, case.panel(joint.entering).thickness)
    return method.size_for(thinner)


def is_bare(method: Method) -> bool:
    """Return whether a method cuts nothing at all, as a glued butt joint."""
    return all(not (s.receiving or s.entering or s.enters) for s in method.sizes)
