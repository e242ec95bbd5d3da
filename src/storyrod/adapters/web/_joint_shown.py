"""One joint as it is shown: its section, its stations, its panels."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from storyrod.adapters.choosing import class_of
from storyrod.adapters.web._joint_list import href_of
from storyrod.adapters.web._worked import Worked
from storyrod.drawing import Drawing, Figures, joint_detail
from storyrod.faults import Fault, JobError
from storyrod.model.detail import DetailedCase, JoinedCase
from storyrod.model.joint import Joint
from storyrod.planning import Plan

_ROOM = (150.0, 178.0)
"""Paper for one joint's section, in mm: at twice its size it stands whole on a tablet, 600 screen pixels wide."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """One connector: from where it is counted, and where it lies on the receiving panel."""

    number: int
    on_entering: str
    on_receiving: str
    moved: bool


def found_joint(cases: tuple[JoinedCase, ...], joint: str) -> tuple[JoinedCase, Joint] | None:
    """Return a joint with its case by its id; None where there is none."""
    return next(((c, j) for c in cases for j in c.joints if j.id == joint), None)


def joint_shown(worked: Worked, plan: Plan, case: JoinedCase, joint: Joint, *, of: str) -> dict[str, Any]:
    """Return what is shown of one joint: its section, its stations, its panels, and the way to change it."""
    figures = Figures.of_job(plan.job)
    panels = {p.id: p for p in case.panels}
    method = plan.joined.method(joint.method)
    detailed, fault = _detailed(worked, case, joint)
    shift = joint.shift
    return {
        "joint": joint,
        "kind": class_of(joint).value,
        "method": method,
        "entering": panels[joint.entering],
        "receiving": panels[joint.receiving],
        "length": figures.of(joint.length),
        "unit_words": figures.said,
        "stations": tuple(
            Station(
                number=n,
                on_entering=figures.of(s),
                on_receiving=figures.of(s + shift),
                moved=n in joint.moved_stations,
            )
            for n, s in enumerate(joint.stations, start=1)
        ),
        "drawing": detailed,
        "fault": fault,
        "connectors": joint.connectors,
        "change_href": href_of(worked, of=joint.id, joint=joint.id) + "#choose",
        "close": href_of(worked, of=of),
    }


def _detailed(worked: Worked, case: JoinedCase, joint: Joint) -> tuple[Drawing | None, tuple[Fault, ...]]:
    """Return the joint's section as it is planned, or why it cannot be drawn."""

    def drawing(plan: Plan) -> Drawing:
        detailed: DetailedCase = next(c for c in plan.details.cases if c.built.case.code == case.built.case.code)
        same = next(j for j in detailed.joints if j.id == joint.id)
        boards = tuple(b.code for b in plan.job.boards)
        return joint_detail(detailed, same, figures=Figures.of_job(plan.job), boards=boards, room=_ROOM)

    try:
        return worked.ask(drawing), ()
    except JobError as error:
        return None, error.faults
