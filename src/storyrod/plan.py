"""The plan: the one place that knows the order of the stages.

Each stage is imported and worked out when it is first asked for, and kept. Everything that shows a plan (command line,
packet, page, notebook) reads the same `Plan`.
"""

from __future__ import annotations

import hashlib
from functools import cached_property
from typing import TYPE_CHECKING

from storyrod.faults import Caution, Fault

if TYPE_CHECKING:
    from storyrod.model.assembly import AssemblyPlan, Replay
    from storyrod.model.carcass import Carcass
    from storyrod.model.detail import Choices, Details, Joined
    from storyrod.model.job import Job
    from storyrod.model.machining import WorkPlan
    from storyrod.model.mark import SetOut
    from storyrod.model.proof import Proof
    from storyrod.model.soundness import Soundness
    from storyrod.model.workshop import Workshop


class Plan:
    """One job worked out for one workshop.

    Any attribute raises `JobError`, with every fault found, where the job can not be built as written.
    """

    def __init__(self, job: Job, workshop: Workshop) -> None:
        self.job = job
        self.workshop = workshop

    @cached_property
    def version(self) -> str:
        """A short digest of all that the plan was worked out from; equal input gives an equal version."""
        told = repr((self.job, self.workshop)).encode()
        return hashlib.sha256(told).hexdigest()[:8]

    @cached_property
    def carcass(self) -> Carcass:
        """Panels in place, openings, drawers, fronts and fittings."""
        from storyrod.carcass import build

        return build(self.job, self.workshop)

    @cached_property
    def joined(self) -> Joined:
        """Joints found from the panels' geometry, each with its method and stations."""
        from storyrod.joinery import join

        return join(self.carcass, self.workshop)

    @cached_property
    def assembly(self) -> AssemblyPlan:
        """An order in which every panel goes in, step by step; it chooses which way slots lock."""
        from storyrod.assembly import plan_assembly

        return plan_assembly(self.joined, self.workshop)

    @cached_property
    def choices(self) -> Choices:
        """What the order of assembly chose: which way slots lock, which end of a housing is open."""
        return self.assembly.choices

    @cached_property
    def details(self) -> Details:
        """Every feature on every panel, with its mate."""
        from storyrod.joinery import detail

        return detail(self.joined, self.choices)

    @cached_property
    def set_out(self) -> SetOut:
        """Every mark, rounded once and the same for both mates."""
        from storyrod.setout import set_out

        return set_out(self.details)

    @cached_property
    def proof(self) -> Proof:
        """What was proven, by code that shares nothing with the joinery."""
        from storyrod.proof import prove

        return prove(self.details, self.set_out)

    @cached_property
    def replays(self) -> tuple[Replay, ...]:
        """The order of assembly, replayed by code that shares nothing with the planner."""
        from storyrod.assembly import check_plan

        return check_plan(self.joined, self.assembly, details=self.details)

    @cached_property
    def machining(self) -> WorkPlan:
        """Ways, settings, jigs, set-ups and the run; raises `JobError` for a cut that no way here can make."""
        from storyrod.machining import plan_work

        return plan_work(self.details, self.set_out, self.workshop)

    @cached_property
    def soundness(self) -> Soundness:
        """Sag, loads, tipping, weights and expected steps: estimates, never a certificate."""
        from storyrod.soundness import examine

        return examine(self.carcass, self.details, self.workshop)

    @cached_property
    def faults(self) -> tuple[Fault, ...]:
        """What the checkers found wrong; a plan with one of these is not printed."""
        return (*self.proof.faults, *(f for r in self.replays for f in r.faults))

    @cached_property
    def cautions(self) -> tuple[Caution, ...]:
        """Everything the maker must know that does not stop the plan, each once."""
        told: dict[tuple[str, str, str], Caution] = {}
        for caution in self._all_cautions():
            told.setdefault((caution.code, caution.about, caution.text), caution)
        return tuple(told.values())

    def _all_cautions(self) -> list[Caution]:
        found = list(self.carcass.cautions)
        for built in self.carcass.cases:
            found.extend(built.cautions)
        for case in self.details.cases:
            found.extend(case.cautions)
        found.extend(self.assembly.cautions)
        found.extend(self.soundness.cautions)
        return found
