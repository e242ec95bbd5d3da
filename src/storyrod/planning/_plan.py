"""The plan: the one place that knows the order of the stages."""

from __future__ import annotations

import hashlib
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Final, Self

from storyrod.faults import Caution, Fault
from storyrod.planning import _reads as reads
from storyrod.planning._methods import ByMethods
from storyrod.planning._stages import Staged, stage

if TYPE_CHECKING:
    from storyrod.assembly import KnownOrders
    from storyrod.model.account import Account, Terms
    from storyrod.model.assembly import AssemblyPlan, CasePlan, Replay
    from storyrod.model.carcass import BuiltCase, Carcass
    from storyrod.model.comparison import Comparison
    from storyrod.model.detail import Choices, DetailedCase, Details, Joined, JoinedCase
    from storyrod.model.hung import Hanging
    from storyrod.model.job import Job
    from storyrod.model.machining import RunCheck, WorkPlan
    from storyrod.model.mark import SetOut
    from storyrod.model.proof import Proof
    from storyrod.model.saw_list import PartLabel, SawList, SheetProgress, WhatIf
    from storyrod.model.sharing import Sharing
    from storyrod.model.sheet import CutRules, CuttingPlan, Part, StockSheet
    from storyrod.model.soundness import Soundness, Tipping
    from storyrod.model.wall import WallFixing
    from storyrod.model.workshop import Workshop
    from storyrod.sheets import Searched, SecondEngine

SHEET_ROUNDS: Final = (1000, 25, 6000)
"""Rounds of search a board where no time is given, so many more for each part, and the most: the same plan everywhere.
About a second in all for one cabinet, and a few for a room of them, where there is more to be saved."""

SHEET_WORK: Final = 1_000_000
"""Parts handled a board, in search and again for fewer settings, after which it stops sooner: with many small parts a
round takes long."""

WHAT_IF_ROUNDS: Final = 200


def sheet_rounds(parts: int) -> int:
    """Return the rounds of search for a board of so many parts where no time is given."""
    least, each, most = SHEET_ROUNDS
    return min(least + each * parts, most)


class Plan(Staged):
    """One job worked out for one workshop.

    Any attribute raises `JobError`, with every fault found, where the job cannot be built as written. A plan made with
    an earlier one `before` it takes over, stage by stage and case by case, what comes of the same inputs.
    """

    orders: KnownOrders | None = None
    """Orders of assembly of drawer boxes, shared by plans of one job by other methods."""

    searched: Searched | None = None
    """Searches for layouts that are done, where plans share them."""

    @stage(reads=reads.everything)
    def version(self) -> str:
        """A short digest of all that the plan was worked out from; equal input gives an equal version."""
        told = repr((self.job, self.workshop)).encode()
        return hashlib.sha256(told).hexdigest()[:8]

    @stage(reads=reads.before_joints, cases=reads.unjoined_cases, told_anew=reads.carcass_again)
    def carcass(self, known: Mapping[int, BuiltCase]) -> Carcass:
        """Panels in place, openings, drawers, fronts and fittings."""
        from storyrod.carcass import build

        renamed = {n: replace(built, case=self.job.cases[n]) for n, built in known.items()}
        return build(self.job, self.workshop, renamed)

    @stage("carcass", reads=reads.methods, cases=reads.built_cases, told_anew=reads.joined_again)
    def joined(self, known: Mapping[int, JoinedCase]) -> Joined:
        """Joints found from the panels' geometry, each with its method and stations."""
        from storyrod.joinery import join

        return join(self.carcass, self.workshop, known)

    @stage("joined", reads=reads.handling, cases=reads.joined_cases)
    def assembly(self, known: Mapping[int, CasePlan]) -> AssemblyPlan:
        """An order in which every panel goes in, step by step; it chooses which way slots lock."""
        from storyrod.assembly import Known, plan_assembly

        return plan_assembly(self.joined, self.workshop, known=Known(cases=known, orders=self.orders))

    @stage("assembly")
    def choices(self) -> Choices:
        """What the order of assembly chose: which way slots lock, which end of a housing is open."""
        return self.assembly.choices

    @stage("joined", "choices", reads=reads.all_cases)
    def sharing(self) -> Sharing:
        """Where stations are moved so that joints share them, where the job asks for it."""
        from storyrod.model.sharing import Sharing

        if not any(j.shares for c in self.joined.cases for j in c.joints):
            return Sharing()
        from storyrod.joinery import station_rooms
        from storyrod.machining import share_stations

        return share_stations(self.joined, station_rooms(self.joined, self.choices))

    @stage("joined", "choices", "sharing", reads=reads.methods, cases=reads.chosen_cases, told_anew=reads.details_again)
    def details(self, known: Mapping[int, DetailedCase]) -> Details:
        """Every feature on every panel, with its mate."""
        from storyrod.joinery import detail

        return detail(self.joined, self.choices, self.sharing, known)

    @stage("joined", reads=reads.methods, cases=reads.joined_cases, told_anew=reads.details_again)
    def sketch(self, known: Mapping[int, DetailedCase]) -> Details:
        """Every feature, with slots locking as they do before an order of assembly is known: soon drawn."""
        from storyrod.joinery import detail
        from storyrod.model.detail import Choices

        return detail(self.joined, Choices(), known=known)

    @stage("details", reads=reads.all_cases)
    def set_out(self) -> SetOut:
        """Every mark, rounded once and the same for both mates."""
        from storyrod.setout import set_out

        return set_out(self.details)

    @stage("details", "set_out", reads=reads.all_cases)
    def proof(self) -> Proof:
        """What was proven, by code that shares nothing with the joinery."""
        from storyrod.proof import prove

        return prove(self.details, self.set_out)

    @stage("joined", "assembly", "details", reads=reads.glued)
    def replays(self) -> tuple[Replay, ...]:
        """The order of assembly, replayed by code that shares nothing with the planner."""
        from storyrod.assembly import check_plan

        return check_plan(self.joined, self.assembly, details=self.details)

    @stage("details", "set_out", "sharing", reads=reads.bench)
    def machining(self) -> WorkPlan:
        """Ways, settings, jigs, set-ups and the run; raises `JobError` for a cut that no way here can make."""
        from storyrod.machining import plan_work

        return plan_work(self.details, self.set_out, self.workshop, sharing=self.sharing)

    @stage("machining", "details", "set_out", reads=reads.bench)
    def run_check(self) -> RunCheck:
        """The run of set-ups, checked by code that shares nothing with the search for it."""
        from storyrod.machining import check_run

        return check_run(self.machining, self.details, self.set_out, self.workshop.jigs)

    @stage("details", reads=reads.all_cases)
    def parts(self) -> tuple[Part, ...]:
        """Every panel at its cut size, as many as the job makes."""
        from storyrod.sheets import parts_from

        return tuple(
            replace(part, copies=case.built.case.count)
            for case in self.details.cases
            for part in parts_from(case.panels)
        )

    @stage("parts", reads=reads.stock)
    def stock(self) -> tuple[StockSheet, ...]:
        """Sheets and the rack's offcuts; none of a board for which the job gives no sheet size."""
        from storyrod.model.stock import stock_of

        return stock_of(self.job, self.workshop, {p.board for p in self.parts})

    @stage(reads=reads.cutting)
    def cut_rules(self) -> CutRules:
        """How the workshop cuts sheets."""
        from storyrod.model.stock import rules_of

        return rules_of(self.workshop, self.job.lengths)

    @stage("parts", "stock", "cut_rules")
    def sheets(self) -> CuttingPlan:
        """Every board that has a sheet size laid out, by counted rounds, so that the plan can be repeated.

        Raises:
            JobError: a part is larger than every sheet, or there is not enough stock.
        """
        return self._laid_out(rounds=sheet_rounds)

    @stage("parts", "stock", "cut_rules")
    def sheets_costed(self) -> CuttingPlan:
        """The sheets as far as money goes: as many at the same cost, but their cuts not tidied to few settings."""
        return self.sheets if self.knows("sheets") else self._laid_out(rounds=sheet_rounds, tidy=False)

    @stage("parts", "stock", "cut_rules")
    def sheets_counted(self) -> CuttingPlan:
        """The sheets as far as counts go: of each size exactly as many as `sheets`, but their cuts in any order."""
        return self.sheets if self.knows("sheets") else self._laid_out(rounds=sheet_rounds, only_counts=True)

    def with_sheets_laid_out(
        self,
        limit_s: float,
        second: SecondEngine | None = None,
        progress: Callable[[SheetProgress], None] | None = None,
        clock: Callable[[], float] = time.monotonic,
    ) -> Self:
        """Return the plan with its sheets laid out for `limit_s` seconds of `clock`, a second engine helping.

        Raises:
            JobError: as `sheets` does.
        """
        return self.with_sheets(self._laid_out(limit_s=limit_s, second=second, progress=progress, clock=clock))

    def with_sheets(self, found: CuttingPlan) -> Self:
        """Return the plan with another layout of its parts; a later plan lays them out anew, as every machine does."""
        return self.with_result("sheets", found)

    def _laid_out(
        self,
        *,
        rounds: Callable[[int], int] | None = None,
        limit_s: float | None = None,
        second: SecondEngine | None = None,
        progress: Callable[[SheetProgress], None] | None = None,
        tidy: bool = True,
        only_counts: bool = False,
        clock: Callable[[], float] = time.monotonic,
    ) -> CuttingPlan:
        from storyrod.sheets import lay_out

        boards = {s.board for s in self.stock}
        parts = [p for p in self.parts if p.board in boards]
        return lay_out(
            parts,
            self.stock,
            self.cut_rules,
            rounds=rounds,
            work=SHEET_WORK if limit_s is None else None,
            limit_s=limit_s,
            second=second,
            progress=progress,
            tidy=tidy,
            only_counts=only_counts,
            searched=self.searched,
            clock=clock,
        )

    @stage("sheets", "cut_rules", "stock", reads=reads.cutting)
    def saw_lists(self) -> tuple[SawList, ...]:
        """What a person does at the saw, board by board."""
        from storyrod.sheets import saw_list

        return tuple(saw_list(board, self.cut_rules, self.stock, self.job.lengths) for board in self.sheets.boards)

    @stage("sheets", "parts")
    def part_labels(self) -> tuple[PartLabel, ...]:
        """A label for every part, in the order in which the sheets give them."""
        from storyrod.sheets import part_labels

        return part_labels(self.sheets, self.parts)

    @stage("sheets", "parts", "stock", "cut_rules")
    def sheet_changes(self) -> tuple[tuple[str, tuple[WhatIf, ...]], ...]:
        """What another kerf or stock would change, as (board, answers)."""
        from storyrod.sheets import what_if

        return tuple(
            (b.board, what_if(b, self.parts, self.stock, self.cut_rules, rounds=WHAT_IF_ROUNDS))
            for b in self.sheets.boards
        )

    @stage("machining", "carcass", "details", reads=reads.standing)
    def soundness(self) -> Soundness:
        """Sag, loads, tipping, weights and expected steps: estimates, never a certificate."""
        from storyrod.soundness import errors_of_ways, examine

        errors = errors_of_ways(self.machining.steps_expected)
        return examine(self.carcass, self.details, self.workshop, errors=errors)

    @stage("details", reads=reads.standing)
    def tipping(self) -> Mapping[str, Tipping | Hanging]:
        """How each case stands and is fixed to the wall, or hangs on it, by its code; as in `soundness`, soon known."""
        from storyrod.soundness import examine_tipping

        return examine_tipping(self.details, self.workshop)

    @stage("tipping")
    def walls(self) -> Mapping[str, WallFixing | Hanging]:
        """How each case that does not stand by itself is fixed to the wall or hangs on it, by its code."""
        from storyrod.model.hung import Hanging

        found = {code: told if isinstance(told, Hanging) else told.fixing for code, told in self.tipping.items()}
        return {code: fixing for code, fixing in found.items() if fixing is not None}

    @stage("details", "machining", "sheets", "walls", reads=reads.everything)
    def account(self) -> Account:
        """Minutes, money and price, on the workshop's own terms."""
        return self.accounted()

    def accounted(self, terms: Terms | None = None) -> Account:
        """Return minutes, money and price on other terms (what if an hour costs more), or on the workshop's own."""
        from storyrod.ledger import account

        return account(
            self.details, self.workshop, run=self.machining, sheets=self.sheets, walls=self.walls, terms=terms
        )

    @stage("account", "details", "machining", "assembly", "sheets", "walls", reads=reads.everything)
    def buying_faults(self) -> tuple[Fault, ...]:
        """What cards, joints or steps use and the buying list does not have: found by code that shares none with it."""
        from storyrod.ledger import check_buying

        return check_buying(
            self.account.to_buy,
            self.details,
            self.workshop,
            run=self.machining,
            assembly=self.assembly,
            sheets=self.sheets,
            walls=self.walls,
        )

    @stage("details", "machining", "parts", "sheets", "walls", reads=reads.everything)
    def comparison(self) -> Comparison:
        """The job by every method of the workshop, on the workshop's own terms."""
        return self.compared()

    def compared(self, terms: Terms | None = None, methods: Sequence[str] | None = None) -> Comparison:
        """Return the job by every method of the workshop, or by those named, on other terms or the workshop's own.

        What each method makes of the job is worked out once and kept: other terms are then told at once.

        Raises:
            JobError: the job cannot be built as it stands.
        """
        from storyrod.ledger import compare

        return compare(self.job, self.workshop, self.by_methods, terms=terms, methods=methods)

    @stage()
    def by_methods(self) -> ByMethods:
        """The job by other methods, each worked out once."""
        return ByMethods(self)

    def by_other_methods(self, job: Job, workshop: Workshop) -> Plan:
        """Return the plan of the same job with other methods and tools, sharing what does not hang on them."""
        if job == self.job and workshop == self.workshop:
            return self
        other = Plan(job, workshop, self)
        other.orders = self.orders
        return other

    @stage("proof", "replays", "run_check")
    def faults(self) -> tuple[Fault, ...]:
        """What the checkers found wrong; a plan with one of these is not printed."""
        return (*self.proof.faults, *(f for r in self.replays for f in r.faults), *self.run_check.faults)

    @stage("proof", "replays", "run_check", reads=reads.all_cases)
    def proven(self) -> tuple[str, ...]:
        """What was proven of the parts, the order of assembly and the run of set-ups: a sentence each, with figures."""
        replayed = (line for replay in self.replays for line in replay.lines())
        run = (line for line in self.run_check.held if line not in self.run_check.idle)
        return (*self.proof.lines(self.job.lengths), *replayed, *run)

    @stage("carcass", "details", "assembly", "machining", "soundness")
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
        found.extend(self.machining.cautions)
        found.extend(self.soundness.cautions)
        return sorted(found, key=lambda c: c.code == "open-time")  # what can hurt comes before what spoils the work

    def seen(self, name: str) -> object:
        """Return what later stages see of a stage: of the first three not the job, which they read themselves."""
        if name in {"carcass", "joined", "details", "sketch"}:
            return reads.sight_of(getattr(self, name))
        return super().seen(name)
