"""The stage: every case examined, each by itself."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Final

from storyrod.faults import Caution
from storyrod.model.carcass import Carcass
from storyrod.model.detail import DetailedCase, Details
from storyrod.model.hung import Hanging
from storyrod.model.job import Job
from storyrod.model.joint import JointId
from storyrod.model.panel import PanelId
from storyrod.model.soundness import Carried, CaseSoundness, JointErrors, Sag, Soundness, Tipping
from storyrod.model.thresholds import Thresholds
from storyrod.model.workshop import Workshop
from storyrod.soundness._carry import carry
from storyrod.soundness._clothes_rails import rail_cautions, rail_loads
from storyrod.soundness._feet import feet_cautions, feet_of
from storyrod.soundness._hanging import hanging_cautions, hanging_of
from storyrod.soundness._joints import joint_cautions, joint_loads
from storyrod.soundness._lead_holes import pilot_cautions, pilots_of
from storyrod.soundness._loads import loads_on
from storyrod.soundness._movement import movement_cautions, movements_of
from storyrod.soundness._overhang import overhang_cautions, overhangs_of
from storyrod.soundness._racking import racking_cautions, racking_of
from storyrod.soundness._sag import sag_cautions, sags_of
from storyrod.soundness._steps import Steps, step_cautions
from storyrod.soundness._tipping import tip_cautions, tipping_of
from storyrod.soundness._weights import weight_cautions, weights_of

TRIALS: Final = 4000
"""Trial joints thrown for each set of errors; a share is then true to about 1.6 % (two standard errors)."""


def examine(
    carcass: Carcass,
    details: Details,
    workshop: Workshop,
    *,
    seed: int = 0,
    errors: Mapping[JointId, JointErrors] | None = None,
    thresholds: Thresholds | None = None,
    trials: int = TRIALS,
) -> Soundness:
    """Return what can be said of every case: sag, clothes rails, joint loads, tipping, weights, and so on.

    Estimates from stated assumptions, never a certificate. The same input and `seed` give the same figures.

    Args:
        carcass: the cases as built; their job says how they will be used.
        details: the same cases with their joints and features.
        workshop: what one person lifts here.
        seed: of the simulation of steps.
        errors: the errors of each joint, as the ways of working give them; a joint not named takes its method's usual.
        thresholds: from where on something is told; those of the job unless given.
        trials: how many joints are thrown for each set of errors.
    """
    limits = thresholds or _thresholds_of(carcass.job)
    one_person_kg = limits.one_person_kg or workshop.handling.one_person_kg
    limits = replace(limits, one_person_kg=one_person_kg)
    steps = Steps(details, errors or {}, limits, trials=trials, seed=seed)
    cases = tuple(_case(case, details, limits, workshop, steps) for case in details.cases)
    return Soundness(
        cases=cases,
        thresholds=limits,
        climate=carcass.job.use.climate,
        trials=trials,
        seed=seed,
        cautions=tuple(c for case in cases for c in case.cautions),
    )


def examine_tipping(details: Details, workshop: Workshop) -> Mapping[str, Tipping | Hanging]:
    """Return how each case stands or hangs, by its code: the same as `examine` finds, without the rest of it."""
    limits, use = _thresholds_of(details.job), details.job.use
    limits = replace(limits, one_person_kg=workshop.handling.one_person_kg)
    return {
        case.built.case.code: _standing(case, details, loads_on(case, limits, use.loads), limits)
        for case in details.cases
    }


def examine_strength(
    case: DetailedCase, details: Details, workshop: Workshop
) -> tuple[tuple[Sag, ...], tuple[Caution, ...]]:
    """Return how far the planks of a case sag, and what is to be minded of sag, load and standing.

    The same as `examine` finds, without the rest of it: soon known. Estimates, never a certificate.
    """
    limits, name = _thresholds_of(details.job), f"case {case.built.case.code}"
    limits = replace(limits, one_person_kg=limits.one_person_kg or workshop.handling.one_person_kg)
    carrying = carry(case, details, limits)
    sags = sags_of(case, details, carrying, limits)
    standing = _standing(case, details, loads_on(case, limits, details.job.use.loads), limits)
    hanging = standing if isinstance(standing, Hanging) else None
    told = [
        *(tip_cautions(name, standing) if isinstance(standing, Tipping) else ()),
        *(hanging_cautions(name, hanging, limits.lengths) if hanging is not None else ()),
        *sag_cautions(name, sags, limits),
        *rail_cautions(name, rail_loads(case, details, limits), limits.lengths),
        *joint_cautions(name, joint_loads(case, details, carrying, sags, hanging)),
    ]
    return sags, tuple(told)


def _standing(
    case: DetailedCase, details: Details, loads: dict[PanelId, tuple[Carried, ...]], limits: Thresholds
) -> Tipping | Hanging:
    return hanging_of(case, details, loads, limits) or tipping_of(case, details, loads, limits)


def _thresholds_of(job: Job) -> Thresholds:
    use = job.use
    return Thresholds(
        sag_limit=use.sag_limit,
        top_kg_dm2=use.loads.top_kg_dm2,
        tip_margin=use.tip_margin,
        child_kg=use.child_kg,
        fill_kg_m3=use.loads.drawers_kg_m3,
        pull_n=use.pull_n,
        anchor_above=use.fix_above,
        step_shows=use.step_shows,
        front_gap=use.front_gap,
        lengths=job.lengths,
    )


def _case(
    case: DetailedCase, details: Details, thresholds: Thresholds, workshop: Workshop, steps: Steps
) -> CaseSoundness:
    one_person_kg = thresholds.one_person_kg or workshop.handling.one_person_kg
    weights = weights_of(case, details, loads_on(case, thresholds, details.job.use.loads), one_person_kg)
    loads = loads_on(case, thresholds, details.job.use.loads)
    carrying = carry(case, details, thresholds)
    sags = sags_of(case, details, carrying, thresholds)
    about = case.built.case
    standing = _standing(case, details, loads, thresholds)
    hanging = standing if isinstance(standing, Hanging) else None
    found = CaseSoundness(
        case=about.code,
        name=about.name,
        sags=sags,
        joints=joint_loads(case, details, carrying, sags, hanging),
        tipping=standing if isinstance(standing, Tipping) else None,
        weights=weights,
        racking=racking_of(case, details, thresholds),
        movements=movements_of(case, details),
        steps=steps.of(case),
        hanging=hanging,
        rails=rail_loads(case, details, thresholds),
        overhangs=overhangs_of(case, details, thresholds),
        feet=feet_of(case, weights, workshop),
    )
    pilots = pilot_cautions(f"case {found.case}", pilots_of(case, details), thresholds.lengths)
    return replace(found, cautions=(*_cautions(case, found, thresholds, one_person_kg), *pilots))


def _cautions(
    case: DetailedCase, found: CaseSoundness, thresholds: Thresholds, one_person_kg: float
) -> Iterator[Caution]:
    name = f"case {found.case}"
    if found.tipping is not None:
        yield from tip_cautions(name, found.tipping)
    if found.hanging is not None:
        yield from hanging_cautions(name, found.hanging, thresholds.lengths)
    yield from sag_cautions(name, found.sags, thresholds)
    yield from rail_cautions(name, found.rails, thresholds.lengths)
    yield from feet_cautions(name, found.feet)
    yield from overhang_cautions(name, found.overhangs, thresholds.lengths)
    yield from joint_cautions(name, found.joints)
    if found.hanging is None:  # one that hangs is kept upright by its wall
        yield from racking_cautions(name, found.racking, case.built.case.height, thresholds)
    yield from movement_cautions(name, case, found.movements, thresholds)
    yield from step_cautions(name, case, found.steps, thresholds)
    yield from weight_cautions(name, case, found.weights, one_person_kg, thresholds.lengths)
