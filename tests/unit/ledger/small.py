"""A small workshop and job whose minutes and money can be worked out by hand."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from storyrod import carcass, joinery
from storyrod.adapters.files import packaged_workshop
from storyrod.model.detail import Choices, Details
from storyrod.model.job import Case, Job, JointClass, MethodChoice
from storyrod.model.method import (
    Consumed,
    Cut,
    CutKind,
    Method,
    Motion,
    SizeForBoard,
    StationRules,
    Work,
)
from storyrod.model.workshop import ActTime, Money, Price, Tool, ToolKind, Workshop
from tests import builders


def method(code: str = "pegs", **more: Any) -> Method:
    """Return a method with a hole in each panel: 0.2 min and 0.3 min, 0.1 to fit; 4 min to set up."""
    plain = Method(
        code=code,
        name=code,
        motion=Motion.STRAIGHT,
        classes=(JointClass.CORNER, JointClass.MID_PANEL, JointClass.PLINTH),
        rules=StationRules(end=50, end_min=25, pitch=160, gap_min=32),
        sizes=(
            SizeForBoard(
                low=10,
                high=30,
                receiving=(Cut(kind=CutKind.HOLE, diameter=8, depth=12),),
                entering=(Cut(kind=CutKind.HOLE, diameter=8, depth=24),),
                consumes=(Consumed(item=f"{code} 8 x 35"),),
            ),
        ),
        work=Work(setup_min=4.0, per_station_receiving_min=0.2, per_station_entering_min=0.3, fit_min=0.1),
        needs=("drill jig",),
    )
    return replace(plain, **more)


OWN_TIMES = (
    ActTime(act="cut a panel, track saw", low_min=2, usual_min=4, high_min=7),
    ActTime(act="close a joint line", low_min=0.5, usual_min=1, high_min=2),
)


def shop(**more: Any) -> Workshop:
    """Return a workshop at 30 an hour, with one method, a dowelling jig and a saw."""
    plain = builders.workshop(
        methods=(method(),),
        tools=(
            Tool(code="jig", kind=ToolKind.DRILL_JIG, name="dowelling jig", price_cents=10_000),
            Tool(code="saw", kind=ToolKind.TRACK_SAW, name="track saw", price_cents=50_000),
        ),
        prices=(Price(item="pegs 8 x 35", pack=100, price_cents=500, on_hand=10),),
        times=tuple({t.act: t for t in (*packaged_workshop().times, *OWN_TIMES)}.values()),
        money=Money(rate_cents_per_h=3000, currency="EUR"),
        default_methods=(("corner", "pegs"), ("mid-panel", "pegs"), ("plinth", "pegs")),
    )
    return replace(plain, **more)


def box(**more: Any) -> Case:
    """Return an open box of two sides, top and base: four corner joints of three stations each, 400 deep."""
    return builders.case(**more)


def details(job: Job, workshop: Workshop) -> Details:
    """Return a job worked out as far as the ledger needs it."""
    return joinery.detail(joinery.join(carcass.build(job, workshop), workshop), Choices())


def boxes(workshop: Workshop, *cases: Case, **more: Any) -> Details:
    """Return some boxes held by the workshop's first method."""
    code = workshop.methods[0].code
    choice = MethodChoice(corner=code, mid_panel=code, plinth=code)
    return details(builders.job(*(cases or (box(),)), methods=choice, **more), workshop)
