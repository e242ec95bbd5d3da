"""A plan with things as they are: what a slip breaks, and the ways out, each through the whole proof.

The rescue knows nothing of other stages: here it is given what it asks of them.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING, Final

from storyrod.faults import Caution, Fault, JobError, raise_if_any
from storyrod.measure.length import Unit
from storyrod.measure.space import PanelPoint
from storyrod.model.joining import JointClass, JointOverride
from storyrod.model.proof import Claim
from storyrod.model.rescue import Break, BreakKind, Rescue, Way
from storyrod.planning._rescue_strength import Strength

if TYPE_CHECKING:
    from storyrod.model.as_built import AsBuilt
    from storyrod.model.detail import DetailedCase, Details
    from storyrod.model.feature import FeatureId
    from storyrod.model.job import Opening
    from storyrod.model.joint import Joint, JointId
    from storyrod.model.mark import CaseSetOut
    from storyrod.model.method import Method
    from storyrod.model.panel import PanelId
    from storyrod.planning._plan import Plan
    from storyrod.rescue import Bench

FINE: Final = 0.01
"""Marks of a rescue are rounded to this (mm): a mate goes to where the cut is, not to the nearest line of a rule."""

OF_PLANNED_SIZES: Final = frozenset(
    {
        Claim.SUMS,
        Claim.TWINS,
        Claim.PRINTED_LENGTHS,
        Claim.PRINTED_MATES,
        Claim.PRINTED_PATTERNS,
        Claim.PRINTED_ROOM,
    }
)
"""Claims that panels add up to the case as planned; where a piece is of another size they are not asked."""

OF_JOINTS: Final = frozenset({"proof-mates", "proof-marks", "proof-printed"})
"""Faults that say once more, in the proof's words, that the halves of a joint do not meet."""

BESIDE: Final = 0.01
"""An opening begins so near to a panel's face (mm)."""

MOST_METHODS: Final = 3
"""Other methods that are tried at a joint, those with the least minutes first."""


def rescue(
    plan: Plan,
    facts: AsBuilt,
    case: str,
    copy: int = 1,
    ticked: frozenset[FeatureId] = frozenset(),
    *,
    told: Callable[[Way], None] | None = None,
    stop: Callable[[], bool] = lambda: False,
) -> Rescue:
    """Return what the slips of one copy of a case break, and the ways out, the best first.

    Args:
        plan: the job as it was planned; it must be proven.
        facts: what is, beside what was planned.
        case: code of the case, and `copy` which of those made alike.
        ticked: cuts that the bench log has ticked: they count as cut where they should be.
        told: given each way as soon as it is proven.
        stop: asked between proofs: whether to leave off.

    Raises:
        JobError: the facts cannot be so, the job cannot be built, or a way that was taken can no longer be gone.
    """
    from storyrod.rescue import Search, faults_of, find_ways

    raise_if_any(faults_of(plan.details, plan.set_out, facts))
    work = _Work(plan, case)
    bench = work.bench(facts, copy, ticked)
    taken = [code for way in facts.taken_for(case, copy) for code in way.moves]
    search = Search(bench, taken)
    raise_if_any(_no_more(code, facts, case, copy) for code in search.missing)
    found = find_ways(search, work.holds, told=told, stop=stop)
    breaks = (*search.told_breaks(), *work.of_proof(search.found()))
    return Rescue(
        case=case,
        copy=copy,
        breaks=breaks,
        ways=found.ways,
        tried=found.tried,
        proven=found.proven,
        is_best=found.is_best,
        most_moves=found.most_moves,
    )


def set_out_anew(plan: Plan, case: DetailedCase) -> CaseSetOut:
    """Return the marks of a case as a way out wants it, rounded as the job's are."""
    from storyrod.setout import set_out

    return set_out(replace(plan.details, methods=plan.workshop.methods, cases=(case,))).cases[0]


def cautions_anew(plan: Plan, case: DetailedCase) -> tuple[Caution, ...]:
    """Return what is to be minded of strength, sag and standing on a way out that was not so before; estimates."""
    cases = tuple(case if c.built.case.code == case.built.case.code else c for c in plan.details.cases)
    other = plan.with_result("details", replace(plan.details, methods=plan.workshop.methods, cases=cases))
    before = {(c.code, c.about, c.text) for c in plan.soundness.cautions}
    try:
        return tuple(c for c in other.soundness.cautions if (c.code, c.about, c.text) not in before)
    except JobError:  # a cut that no way here makes: told where it is cut
        return ()


def weaker_anew(plan: Plan, case: DetailedCase) -> tuple[str, ...]:
    """Return, a sentence each, what sags farther on a way out than was planned; estimates."""
    planned = next(c for c in plan.details.cases if c.built.case.code == case.built.case.code)
    return Strength(plan.details, plan.workshop, planned).sags_more(case)


def _no_more(code: str, facts: AsBuilt, case: str, copy: int) -> Fault:
    number = next(n for n, t in enumerate(facts.taken) if t in facts.taken_for(case, copy) and code in t.moves)
    return Fault(
        code="as-built-taken",
        field=f"taken[{number}].moves",
        found=f"“{code}”, which can no longer be done as things are",
        allowed="moves that the slips still allow",
        do="Undo that way, and choose from the ways there are now.",
    )


class _Work:
    """What the rescue of one case asks of the other stages."""

    def __init__(self, plan: Plan, code: str) -> None:
        self.plan = plan
        numbers = {c.built.case.code: n for n, c in enumerate(plan.details.cases)}
        if code not in numbers:
            raise JobError(
                Fault(
                    code="as-built-case",
                    field="case",
                    found=f'"{code}"',
                    allowed=", ".join(numbers),
                    do="Name one of the job's cases.",
                )
            )
        self.number = numbers[code]
        self.planned = plan.details.cases[self.number]
        self.job = replace(plan.job, mark_to=FINE, unit=Unit.MM)
        self.plans: dict[tuple[str, ...], Plan] = {_look(self.planned): plan, _methods(self.planned): plan}
        self.shifted: dict[tuple[PanelId, float], DetailedCase | None] = {}
        self.other_cases: dict[tuple[JointId, str], DetailedCase | None] = {}
        self.strength = Strength(plan.details, plan.workshop, self.planned)
        self.usual = {str(f) for f in self._faults(self.planned, sizes=False)}

    def bench(self, facts: AsBuilt, copy: int, ticked: frozenset[FeatureId]) -> Bench:
        """Return what the search is given."""
        from storyrod.rescue import Bench, found_of, pieces_of

        plan = self.plan
        code = self.planned.built.case.code
        bench = Bench(
            case=self.planned,
            job=plan.job,
            methods=plan.workshop.methods,
            pieces=pieces_of(plan.details, plan.set_out, facts, code, copy, ticked),
            by_method=self.by_method,
            by_shift=self.by_shift,
            others={j.id: self._others(j) for j in self.planned.joints},
            price_of=self._price_of,
            from_rack=self._from_rack,
            rounded=self._rounded(),
            cents_per_minute=plan.workshop.money.rate_cents_per_h / 60,
        )
        return replace(bench, weak=self.strength.weak(self._as_measured(found_of(bench)))) if bench.odd else bench

    def _as_measured(self, stands: DetailedCase, wanted: DetailedCase | None = None) -> DetailedCase:
        """Return a case with the panels of another: as they measure, with no cut that may be nobody's."""
        return replace(wanted or self.planned, panels=stands.panels, _by_panel={})

    def _rounded(self) -> dict[FeatureId, PanelPoint]:
        out = self.plan.set_out.cases[self.number]
        marks = (m for p in out.panels for m in p.marks)
        return {
            m.feature.id: PanelPoint(m.u - m.feature.at.u, m.v - m.feature.at.v, m.w - m.feature.at.w) for m in marks
        }

    def holds(
        self,
        stands: DetailedCase,
        wanted: DetailedCase,
        sizes_differ: bool,  # noqa: FBT001
        left: frozenset[str] = frozenset(),
    ) -> bool:
        """Return whether a case passes the proof as it would stand, bears as planned, can be put together and be cut.

        What bears, sags or stands less well than planned is let through only where it is among what is `left`.
        """
        if any(str(f) not in self.usual for f in self._faults(stands, sizes=sizes_differ)):
            return False
        if not self.strength.holds(self._as_measured(stands, wanted), left):
            return False
        plan = self.plans.get(_look(wanted)) or self.plans.get(_methods(wanted))
        if plan is None or self._replay_faults(plan, wanted):
            return False
        return plan is self.plan or _can_be_made(plan)

    def of_proof(self, found: DetailedCase) -> tuple[Break, ...]:
        """Return what the proof says of the case as the slips left it."""
        planned = {p.id: p.box for p in self.planned.panels}
        sizes = any(p.box != planned[p.id] for p in found.panels)
        found_anew = (f for f in self._faults(found, sizes=sizes) if str(f) not in self.usual)
        faults = [f for f in found_anew if f.code not in OF_JOINTS]
        first = next(iter(self.planned.panels)).id
        return tuple(
            Break(kind=BreakKind.PROOF, key=f"proof {n}", panel=first, found=f.found, allowed=f.allowed)
            for n, f in enumerate(dict.fromkeys(faults))
        )

    def _faults(self, case: DetailedCase, *, sizes: bool) -> list[Fault]:
        from storyrod.proof import prove
        from storyrod.setout import set_out

        details = self._alone(case)
        proof = prove(details, set_out(details))
        return [f for told in proof.findings if not (sizes and told.claim in OF_PLANNED_SIZES) for f in told.faults]

    def _alone(self, case: DetailedCase) -> Details:
        return replace(self.plan.details, job=self.job, methods=self.plan.workshop.methods, cases=(case,))

    def _replay_faults(self, plan: Plan, case: DetailedCase) -> tuple[Fault, ...]:
        """Return what is wrong with putting the case together in its order, with panels and cuts as they now are."""
        from storyrod.assembly import check_plan, plan_assembly

        before = plan.joined.cases[self.number]
        now = replace(before, built=case.built, panels=case.panels, joints=case.joints)
        joined = replace(plan.joined, cases=(now,))
        order = replace(plan.assembly, cases=(plan.assembly.case(case.built.case.code),))
        if [len(j.stations) for j in before.joints] != [len(j.stations) for j in now.joints]:
            order = plan_assembly(joined, plan.workshop)  # its steps count what is fitted
        details = replace(plan.details, cases=(case,))
        return tuple(f for r in check_plan(joined, order, details=details) for f in r.faults)

    def by_method(self, case: DetailedCase, joint: JointId, code: str) -> DetailedCase | None:
        """Return the case with one joint held by another method, or None where that cannot be; worked out once."""
        if (joint, code) not in self.other_cases:
            self.other_cases[joint, code] = self._by_method(case, joint, code)
        return self.other_cases[joint, code]

    def _by_method(self, case: DetailedCase, joint: JointId, code: str) -> DetailedCase | None:
        told = next(j for j in case.joints if j.id == joint)
        names = {p.id: p.name for p in case.panels}
        override = JointOverride(
            case=case.built.case.code, between=(names[told.receiving], names[told.entering]), method=code
        )
        own = (override.case, {*override.between})
        kept = tuple(o for o in self.plan.job.overrides if (o.case, {*o.between}) != own)
        job = replace(self.plan.job, overrides=(*kept, override))
        other = self.plan.by_other_methods(job, self.plan.workshop)
        try:
            found = other.details.cases[self.number]
        except JobError:
            return None
        self._keep(found, other)
        return found

    def by_shift(self, panel: PanelId, by: float) -> DetailedCase | None:
        """Return the case planned anew with a shelf or divider elsewhere, or None where that cannot be; found once."""
        key = (panel, round(by, 3))
        if key not in self.shifted:
            self.shifted[key] = self._by_shift(panel, by)
        return self.shifted[key]

    def _by_shift(self, panel: PanelId, by: float) -> DetailedCase | None:
        inside = inside_with_shift(self.planned, panel, by)
        if inside is None:
            return None
        cases = tuple(replace(c, inside=inside) if n == self.number else c for n, c in enumerate(self.plan.job.cases))
        other = self.plan.by_other_methods(replace(self.plan.job, cases=cases), self.plan.workshop)
        try:
            found = other.details.cases[self.number]
        except JobError:
            return None
        if {p.id for p in found.panels} != {p.id for p in self.planned.panels}:
            return None
        self._keep(found, other)
        return found

    def _keep(self, case: DetailedCase, plan: Plan) -> None:
        """Keep the plan of a case, by which it is put together and cut."""
        for key in (_look(case), _methods(case)):
            self.plans.setdefault(key, plan)

    def _others(self, joint: Joint) -> tuple[str, ...]:
        case = self.planned
        thinner = min(case.panel(joint.receiving).thickness, case.panel(joint.entering).thickness)
        wanted = JointClass(joint.kind.value)
        fitting = [
            m
            for m in self.plan.workshop.methods
            if m.code != joint.method and wanted in m.classes and not m.whole_line and m.size_for(thinner) is not None
        ]
        fitting.sort(key=lambda m: (_minutes(m), m.code))
        return tuple(m.code for m in fitting[:MOST_METHODS])

    def _price_of(self, panel: PanelId) -> float | None:
        """Return what the board of a panel costs (cents), by its share of the cheapest sheet."""
        told = self.planned.panel(panel)
        board = self.plan.job.board(told.board)
        prices = [
            s.price_cents * told.length * told.width / (s.length * s.width)
            for s in board.sheets
            if s.price_cents is not None
        ]
        return min(prices, default=None)

    def _from_rack(self, panel: PanelId) -> str:
        told = self.planned.panel(panel)
        for piece in self.plan.workshop.rack:
            if piece.board == told.board and piece.length >= told.cut_length and piece.width >= told.cut_width:
                return piece.code
        return self._from_offcut(panel)

    def _from_offcut(self, panel: PanelId) -> str:
        """Return an offcut of the job's own sheets, where these are laid out already."""
        if not self.plan.knows("sheets"):
            return ""
        told = self.planned.panel(panel)
        for board in self.plan.sheets.boards:
            for sheet in board.sheets:
                for left in sheet.offcuts:
                    fits = left.length >= told.cut_length and left.width >= told.cut_width
                    if left.board == told.board and fits:
                        return f"{left.name} of this job"
        return ""


def inside_with_shift(case: DetailedCase, panel: PanelId, by: float) -> Opening | None:
    """Return the inside of a case as the job would say it with a shelf or divider so far from its place (mm).

    Every opening of that row or column gets the size it has, the one before the panel a larger or smaller one, and the
    one after it what is left.
    """
    told = case.panel(panel)
    places = {o.id: o for o in case.built.openings}
    parent = places.get(told.opening)
    if parent is None:
        return None
    axis = told.frame.into.axis
    low, high = told.box.span(axis)
    spans = [places[c].box.span(axis) for c in parent.children]
    below = next((n for n, s in enumerate(spans) if abs(s[1] - low) < BESIDE), None)
    above = next((n for n, s in enumerate(spans) if abs(s[0] - high) < BESIDE), None)
    if below is None or above is None:
        return None
    sizes: list[float | None] = [end - start for start, end in spans]
    sizes[below], sizes[above] = spans[below][1] - spans[below][0] + by, None
    return _with_sizes(case.built.case.inside, parent.cause, sizes)


def _with_sizes(opening: Opening, cause: str, sizes: list[float | None]) -> Opening:
    if opening.field == cause:
        inside = tuple(
            replace(o, size=size, parts=1.0, shelf_at=None) for o, size in zip(opening.inside, sizes, strict=True)
        )
        return replace(opening, inside=inside)
    return replace(opening, inside=tuple(_with_sizes(o, cause, sizes) for o in opening.inside))


def _methods(case: DetailedCase) -> tuple[str, ...]:
    return tuple(f"{j.id}={j.method}" for j in case.joints)


def _look(case: DetailedCase) -> tuple[str, ...]:
    """Return by what a case is known among plans of one job: its joints' methods, and the sizes of its panels."""
    sizes = (f"{p.id}={p.length:.3f}x{p.width:.3f}x{p.thickness:.3f}" for p in case.panels)
    return (*_methods(case), *sizes)


def _minutes(method: Method) -> float:
    work = method.work
    return work.setup_min + work.per_station_receiving_min + work.per_station_entering_min + work.per_joint_min


def _can_be_made(plan: Plan) -> bool:
    try:
        plan.machining  # noqa: B018  # worked out when first asked for
    except JobError:
        return False
    return True
