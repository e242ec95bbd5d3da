"""What stages read of job and workshop themselves: an edit of anything else leaves what they came to."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from storyrod.model.carcass import Carcass
from storyrod.model.detail import Details, Joined
from storyrod.model.glue_time import Gluing
from storyrod.model.job import Job, MethodChoice, Paper, Spread
from storyrod.model.use import Loads, Use

if TYPE_CHECKING:
    from storyrod.planning._plan import Plan
    from storyrod.planning._stages import Inputs


def as_built(job: Job) -> Job:
    """Return the job without what only papers, money, glue-ups and soundness tell of.

    So are customer, prices of sheets, who helps, and how it is used; of the last stays what `built_for` says.
    """
    boards = tuple(replace(b, sheets=()) for b in job.boards)
    edgings = tuple(replace(e, price_cents_per_m=None) for e in job.edgings)
    bare = replace(job, title="", maker="", customer="", note="", currency="", paper=Paper.A4, gluing=Gluing())
    return replace(bare, boards=boards, edgings=edgings, use=built_for(job.use))


def built_for(use: Use) -> Use:
    """Return of how a job is used what it is built by; the rest, as usual, bears on sag, tipping and movement alone."""
    loads = Loads(drawers_kg_m3=use.loads.drawers_kg_m3, rail_kg_m=use.loads.rail_kg_m)
    return Use(fix_above=use.fix_above, loads=loads)


def all_cases(plan: Plan) -> Inputs:
    """What every stage that works with boards, units and limits reads of the job: all but its cases, one by one."""
    return (replace(as_built(plan.job), cases=()),)


def before_joints(plan: Plan) -> Inputs:
    """What panels in their places hang on: not on how they are joined, nor on how that is marked."""
    job = replace(as_built(plan.job), cases=(), methods=MethodChoice(), overrides=(), spread=Spread.LADDER)
    shop = plan.workshop
    fittings = (shop.runners, shop.hinges, shop.clothes_rails, shop.feet, shop.screws)
    chosen = (shop.default_runner, shop.default_hinge, shop.default_rail, shop.default_foot, shop.front_screw)
    return (job, *fittings, *chosen)


def unjoined_cases(plan: Plan) -> Inputs:
    """Return what each case is built from: all but its choice of methods."""
    return tuple(replace(c, methods=None) if c.methods is not None else c for c in plan.job.cases)


def built_cases(plan: Plan) -> Inputs:
    """Return what each case is joined from."""
    return plan.carcass.cases


def methods(plan: Plan) -> Inputs:
    """What joints hang on, the same for all cases."""
    return (*all_cases(plan), plan.workshop.methods, plan.workshop.default_methods)


def handling(plan: Plan) -> Inputs:
    """What putting together hangs on: the methods that could help, what one person lifts, and how it is glued up."""
    return (*methods(plan), plan.workshop.handling, plan.job.gluing)


def standing(plan: Plan) -> Inputs:
    """What sag, tipping and movement hang on: how it is used as well."""
    return (*handling(plan), plan.job.use)


def glued(plan: Plan) -> Inputs:
    """What the order of assembly is checked by."""
    return (*all_cases(plan), plan.job.gluing)


def bench(plan: Plan) -> Inputs:
    """What machining hangs on: what is owned, and how long what takes."""
    shop = plan.workshop
    owned = (shop.tools, shop.ways, shop.cutters, shop.bushes, shop.packers, shop.jigs, shop.saw)
    return (*all_cases(plan), *owned, shop.template_thickness, shop.deepest_pass, shop.handling, shop.times)


def stock(plan: Plan) -> Inputs:
    """What there is to cut from: sheets with their prices, and offcuts."""
    return (plan.job.boards, plan.job.unit, plan.job.fraction, plan.workshop.rack)


def cutting(plan: Plan) -> Inputs:
    """How sheets are cut."""
    return (plan.workshop.saw, plan.workshop.handling, plan.job.unit, plan.job.fraction)


def everything(plan: Plan) -> Inputs:
    """What money hangs on."""
    return (plan.job, plan.workshop)


def joined_cases(plan: Plan) -> Inputs:
    """Return what each case is put together from."""
    return plan.joined.cases


def chosen_cases(plan: Plan) -> Inputs:
    """Return what each case is detailed from: its joints, which way its slots lock, and what stations were moved."""
    slides = {slide.joint: slide for slide in plan.choices.slides}
    moved = {one.joint: one for one in plan.sharing.moved}
    joints = [[j.id for j in c.joints] for c in plan.joined.cases]
    return tuple(
        (case, tuple(slides.get(j) for j in own), tuple(moved.get(j) for j in own))
        for case, own in zip(plan.joined.cases, joints, strict=True)
    )


def sight_of(stage: Carcass | Joined | Details) -> Inputs:
    """What later stages see of the first ones; what they see of the job itself is told apart."""
    if isinstance(stage, Carcass):
        return (stage.cases, stage.cautions)
    return (stage.methods, stage.cases)


def carcass_again(plan: Plan, before: Carcass) -> Carcass:
    """Return a carcass of an earlier plan with the job, and how its cases are joined, as they are now."""
    cases = tuple(b if b.case == c else replace(b, case=c) for b, c in zip(before.cases, plan.job.cases, strict=True))
    return replace(before, job=plan.job, cases=cases)


def joined_again(plan: Plan, before: Joined) -> Joined:
    """Return the joints of an earlier plan, with the job as it is now."""
    return replace(before, job=plan.job)


def details_again(plan: Plan, before: Details) -> Details:
    """Return the details of an earlier plan, with the job as it is now."""
    return replace(before, job=plan.job)
