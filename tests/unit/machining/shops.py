"""Workshops and jobs for tests of machining: the plain packaged one, cut down or added to."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from storyrod.adapters.files import packaged_workshop
from storyrod.machining import plan_work
from storyrod.model.job import Back, BackKind, Case, Job, MethodChoice, Plinth
from storyrod.model.machining import JigPlan, SetUp, WorkPlan
from storyrod.model.workshop import Jig, Workshop
from storyrod.planning import Plan
from tests import builders

SHOP = packaged_workshop()

DOWELS = MethodChoice(corner="dowels", mid_panel="dowels", plinth="dowels", drawer_box="dowels")


def shop(**more: Any) -> Workshop:
    """Return the plain workshop with fields changed."""
    return replace(SHOP, **more)


def ladder_shop(**more: Any) -> Workshop:
    """Return a workshop without a dowelling jig and a drill press: dowels are drilled through a ladder jig."""
    kinds = ("drill jig", "drill press")
    return shop(tools=tuple(t for t in SHOP.tools if t.kind.value not in kinds), **more)


def box(code: str = "A", *, width: float = 600, height: float = 700, depth: float = 400, **more: Any) -> Case:
    """Return a plain open case: sides, top, base, a divider."""
    plain = builders.case(
        code, width=width, height=height, depth=depth, inside=builders.columns(builders.opening(), builders.opening())
    )
    return replace(plain, back=Back(kind=BackKind.NONE), **more)


def with_plinth(code: str = "A", **more: Any) -> Case:
    """Return the plain case on a plinth, which is a narrow part."""
    return box(code, plinth=Plinth(height=80, setback=40), **more)


def job(*cases: Case, methods: MethodChoice = DOWELS, **more: Any) -> Job:
    """Return a job of cases joined by dowels."""
    return replace(builders.job(*cases, **more), methods=methods)


def worked(a_job: Job, workshop: Workshop = SHOP, **more: Any) -> tuple[Plan, WorkPlan]:
    """Return the plan of a job up to its marks, and the work planned from it."""
    plan = Plan(a_job, workshop)
    return plan, plan_work(plan.details, plan.set_out, workshop, **more)


def made(work: WorkPlan, words: str) -> list[SetUp]:
    """Return the set-ups whose title holds the words."""
    return [s for s in work.set_ups if words in s.title]


def jig(work: WorkPlan, words: str) -> JigPlan:
    """Return the one jig whose name holds the words."""
    (found,) = [j for j in work.jigs if words in j.name]
    return found


def owned_jig(**more: Any) -> Jig:
    """Return a ladder of bushes for 8 mm dowels that fits the plain case 400 deep."""
    plain = Jig(
        code="ladder",
        name="old ladder",
        stations=(50.0, 210.0, 370.0),
        opening_width=8.0,
        opening_length=8.0,
        length=450.0,
        thickness=25.0,
        field="jigs.ladder",
    )
    return replace(plain, **more)
