"""Plan how every case of a job is put together."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from storyrod.assembly._body import Locks, Parts
from storyrod.assembly._by_hand import Hands
from storyrod.assembly._cautions import tip_cautions
from storyrod.assembly._fitting_out import fit_out
from storyrod.assembly._glue import glue_up, late_cautions
from storyrod.assembly._known import Known
from storyrod.assembly._order import Order, chosen_locks, order_body
from storyrod.assembly._parting import part_again
from storyrod.assembly._parts import bodies_of
from storyrod.assembly._shapes import NUMBER, WAYS
from storyrod.assembly._shut_out import find_shut_out
from storyrod.assembly._squares import ALLOWED_FOR_DRAWERS, ALLOWED_FOR_SHELVES
from storyrod.assembly._steps import Bench, bench_steps
from storyrod.faults import Caution, raise_if_any
from storyrod.model.assembly import AssemblyPlan, CasePlan, ShutOut, Step, StepKind, Verdict
from storyrod.model.detail import Choices, Joined, JoinedCase, SlideChoice
from storyrod.model.panel import PanelId
from storyrod.model.weight import panel_mass_kg
from storyrod.model.workshop import Workshop


def plan_assembly(
    joined: Joined,
    workshop: Workshop,
    *,
    seed: int = 0,
    work: int | None = None,
    fixed: Choices | None = None,
    kept: Sequence[tuple[PanelId, ...]] = (),
    known: Known | None = None,
) -> AssemblyPlan:
    """Return, for each distinct case, the least troublesome order of assembly, and the choices it rests on.

    Args:
        joined: the cases with their joints; features need not exist yet.
        workshop: for the weight that one person lifts, glue's open time, and the methods that could help.
        seed: of the chance drawn for bodies of more than 16 panels; up to there every seed gives the same plan.
        work: ways that may be looked at and listed for each body, in place of the usual; a body whose search is cut
            short gets the best order found, not called best, with how much better another could be.
        fixed: slide directions that are settled already and must be kept.
        kept: groups of panels that are already together and come as one.
        known: what is planned already.

    Raises:
        JobError: every panel that is shut out, of all cases, with the changes that were tried and free it.
    """
    plans = try_assembly(joined, workshop, seed=seed, work=work, fixed=fixed, kept=kept, known=known)
    raise_if_any(out.fault for plan in plans.cases for out in plan.shut_out)
    return plans


def try_assembly(
    joined: Joined,
    workshop: Workshop,
    *,
    seed: int = 0,
    work: int | None = None,
    fixed: Choices | None = None,
    kept: Sequence[tuple[PanelId, ...]] = (),
    known: Known | None = None,
) -> AssemblyPlan:
    """Return the same as `plan_assembly`, but tell what cannot be done in `shut_out` instead of raising."""
    locks = {s.joint: (NUMBER[s.lock],) for s in fixed.slides} if fixed else {}
    known = known or Known()
    find = known.orders.order if known.orders is not None else order_body
    how = _How(workshop=workshop, locks=locks, kept=tuple(kept), work=work, seed=seed, find=find)
    done = known.cases
    cases = tuple(done[n] if n in done else _plan_case(joined, case, how) for n, case in enumerate(joined.cases))
    slides = tuple(slide for case in cases for slide in case.choices.slides)
    return AssemblyPlan(
        cases=cases,
        choices=Choices(slides=slides),
        cautions=tuple(caution for case in cases for caution in case.cautions),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _How:
    """What is the same for every case of a job."""

    workshop: Workshop
    locks: Locks
    kept: tuple[tuple[PanelId, ...], ...]
    work: int | None
    seed: int
    find: Callable[..., Order]


def _plan_case(joined: Joined, case: JoinedCase, how: _How) -> CasePlan:
    handling = how.workshop.handling
    bodies = bodies_of(joined, case, how.workshop, how.kept)
    orders = [how.find(p, handling, fixed=how.locks, seed=how.seed, work=how.work) for p in bodies]
    shut_out = tuple(
        out
        for parts, order in zip(bodies, orders, strict=True)
        if order.made is None
        for out in find_shut_out(parts, how.locks)
    )
    mass = {p.id: panel_mass_kg(p, joined.job.board(p.board)) for p in case.panels}
    carcass = [p.id for p in case.panels if p.body == "carcass"]
    fitted = fit_out(case, carcass, mass, handling.one_person_kg, joined.job.lengths)
    shut_out += fitted.shut_out
    steps: tuple[Step, ...] = ()
    methods = {m.code: m for m in joined.methods}
    if not shut_out:
        told = {o.body.code: bench_steps(_bench(joined, case, o)) for o in orders}
        hands = Hands(
            case=case,
            lengths=joined.job.lengths,
            methods=methods,
            mass_kg=mass,
            one_person_kg=handling.one_person_kg,
        )
        steps = _numbered(_in_turn(told, fitted.steps, hands))
    joints = {j.id: j for j in case.joints}
    steps, glue = glue_up(steps, joints, handling.open_time_min, joined.job.gluing)
    return CasePlan(
        case=case.built.case.code,
        count=case.built.case.count,
        verdict=_verdict(orders, shut_out),
        steps=steps,
        bodies=tuple(o.result for o in orders),
        choices=Choices(slides=tuple(_slides(orders))),
        parting=part_again(case, steps, methods),
        cautions=(
            *tip_cautions(case.built, joined.job.lengths, joined.job.use.fix_above),
            *_mixed_cautions(case, bodies, orders),
            *late_cautions(case.built.case.code, glue),
        ),
        shut_out=shut_out,
        glue=glue,
    )


def _bench(joined: Joined, case: JoinedCase, order: Order) -> Bench:
    drawers = order.body.code != "carcass" or bool(case.built.drawers)
    return Bench(
        order=order,
        allowed=ALLOWED_FOR_DRAWERS if drawers else ALLOWED_FOR_SHELVES,
        lengths=joined.job.lengths,
    )


def _in_turn(told: Mapping[str, tuple[Step, ...]], fitted: Sequence[Step], hands: Hands) -> Iterator[Step]:
    """Yield what lies flat first, the carcass's steps, then each drawer's box and the drawer, then the rest.

    What is fixed by hand comes at the moment when it can be: see `_by_hand`.
    """
    yield from hands.before_carcass()
    yield from map(hands.done, told.get("carcass", ()))
    for step in fitted:
        if step.kind is StepKind.DRAWER:
            yield from map(hands.done, told.get(step.body, ()))
            yield from hands.before_drawer(step.body)
        elif step.kind is StepKind.DOOR:
            yield from hands.before_door(step.moving[0])
        yield hands.done(step)


def _numbered(steps: Iterator[Step]) -> tuple[Step, ...]:
    return tuple(replace(step, number=number) for number, step in enumerate(steps, start=1))


def _slides(orders: Sequence[Order]) -> Iterator[SlideChoice]:
    for order in orders:
        if order.made is not None:
            for joint, lock in sorted(chosen_locks(order.body, order.made).items()):
                yield SlideChoice(joint=joint, lock=WAYS[lock])


def _verdict(orders: Sequence[Order], shut_out: Sequence[ShutOut]) -> Verdict:
    if shut_out:
        return Verdict.IMPOSSIBLE
    proven = all(o.result.verdict is Verdict.PROVEN_BEST for o in orders)
    return Verdict.PROVEN_BEST if proven else Verdict.FOUND


def _mixed_cautions(case: JoinedCase, bodies: Sequence[Parts], orders: Sequence[Order]) -> Iterator[Caution]:
    """Yield a caution for a body whose slots had to lock in different ways."""
    for parts, order in zip(bodies, orders, strict=True):
        if order.mixed_locks:
            yield Caution(
                code="mixed-locks",
                about=f"case {case.built.case.code}",
                text="The slots of one panel lock in different directions: no order lets them all lock the same way.",
                do="Mark the lock of every slot on the panel, and cut them in two set-ups.",
                ids=tuple(p.id for p in parts.panels),
            )
