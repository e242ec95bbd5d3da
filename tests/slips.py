"""Slips by chance on jobs by chance, for tests and for the long run of `benchmarks/rescue/slips.py`."""

from __future__ import annotations

from dataclasses import replace
from random import Random
from typing import Any

from storyrod.adapters.files import packaged_workshop
from storyrod.faults import JobError
from storyrod.model.as_built import AsBuilt, Slip, SlipKind
from storyrod.model.job import Case, Job, MethodChoice, Plinth
from storyrod.model.panel import Surface
from storyrod.planning import Plan
from tests import builders

SHOP = packaged_workshop()
METHODS = ("dowels", "biscuits", "loose tenons", "carcass screws", "pocket screws", "cam and bolt")


def box(**more: Any) -> Case:
    """Return a small case of five panels: two sides, top, base and a shelf."""
    plain = builders.case(width=400.0, height=300.0, depth=250.0, inside=builders.rows(*(builders.opening(),) * 2))
    return replace(plain, **more)


def job_of(case: Case, method: str = "dowels", corner: str = "dowels", **more: Any) -> Job:
    """Return a job of one case, its shelves and its corners each held by one method."""
    return replace(builders.job(case), methods=MethodChoice(corner=corner, mid_panel=method), **more)


def plan_of(case: Case, method: str = "dowels", corner: str = "dowels") -> Plan:
    """Return the plan of a job of one case in the built-in workshop."""
    return Plan(job_of(case, method, corner), SHOP)


def random_plan(rng: Random) -> Plan | None:
    """Return the plan of a case by chance; None where it cannot be built or is not proven."""
    size = [float(rng.randrange(a, b, 10)) for a, b in ((300, 900), (300, 900), (200, 450))]
    inside = rng.choice(
        (
            builders.opening(),
            builders.rows(builders.opening(), builders.opening()),
            builders.columns(builders.opening(), builders.opening()),
            builders.rows(builders.opening(), builders.columns(builders.opening(), builders.opening())),
        )
    )
    plinth = rng.choice((None, Plinth(height=80.0, setback=40.0)))
    case = builders.case(width=size[0], height=size[1] + 100, depth=size[2], inside=inside, plinth=plinth)
    method = rng.choice(METHODS)
    plan = plan_of(case, method, method)
    try:
        return None if plan.faults else plan
    except JobError:
        return None


def random_slip(plan: Plan, rng: Random) -> Slip:
    """Return a slip of any kind on any panel; it need not be one that can be so."""
    case = rng.choice(plan.details.cases)
    out = rng.choice(next(c for c in plan.set_out.cases if c.case == case.built.case.code).panels)
    panel, kind = out.panel, rng.choice([*SlipKind])
    numbers = [str(m.number) for m in out.marks]
    joints = [j.number for j in case.joints if panel.id in {j.entering, j.receiving}]
    cuts = (rng.choice([*numbers[:8], *joints, "all"]),) if numbers else ()
    off = rng.choice((1.5, -2.0, 3.0, 5.0, -7.0, 12.0, 20.0))
    said: dict[SlipKind, dict[str, Any]] = {
        SlipKind.ELSEWHERE: {"cuts": cuts, rng.choice(("along", "across")): off},
        SlipKind.TWICE: {"cuts": cuts, rng.choice(("along", "across")): off},
        SlipKind.DEPTH: {"cuts": cuts, "depth": rng.choice((5.0, 11.0, 16.0))},
        SlipKind.WIDTH: {"cuts": cuts, "cut_width": rng.choice((6.0, 9.0, 10.0))},
        SlipKind.DAMAGE: {
            "surface": rng.choice([*Surface]),
            "from_end": panel.length * rng.random(),
            "from_edge": panel.width * rng.random(),
            "size": rng.choice((4.0, 15.0)),
        },
        SlipKind.GLUED: {"joints": (rng.choice(joints),) if joints else (), "off": rng.choice((None, 1.5))},
        SlipKind.LOST: {},
    }
    if kind is SlipKind.SIZE:
        name = rng.choice(("length", "width", "thickness", "out_of_square"))
        planned = {"length": panel.length, "width": panel.width, "thickness": panel.thickness, "out_of_square": 0.0}
        by = rng.choice((-0.5, 0.4)) if name == "thickness" else abs(off) if name == "out_of_square" else off
        measured: dict[str, Any] = {name: planned[name] + by}
        return Slip(panel=panel.mark, kind=kind, **measured)
    return Slip(panel=panel.mark, kind=kind, **said.get(kind, {"cuts": cuts}))


def random_facts(plan: Plan, rng: Random) -> AsBuilt:
    """Return one slip, or two, and what is cut besides."""
    marks = [p.panel.mark for c in plan.set_out.cases for p in c.panels]
    cut = tuple(m for m in marks if rng.random() < 0.3)
    return AsBuilt(cut=cut, slips=tuple(random_slip(plan, rng) for _ in range(rng.choice((1, 1, 2)))))
