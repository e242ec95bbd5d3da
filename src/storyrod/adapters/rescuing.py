"""What went wrong, kept beside the job, and what of it the rescue is asked: for the command line and the page alike."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from storyrod.faults import Fault, JobError, raise_if_any
from storyrod.model.feature import FeatureId

if TYPE_CHECKING:
    from storyrod.adapters.log import BenchLog
    from storyrod.model.as_built import AsBuilt, Slip
    from storyrod.model.rescue import Way
    from storyrod.planning import Plan


def record(job: Path, plan: Plan, *, slips: tuple[Slip, ...] = (), cut: tuple[str, ...] = ()) -> AsBuilt:
    """Write down slips, and what is cut as marked, beside a job file; nothing is written of what cannot be so.

    Raises:
        JobError: a slip that cannot be, or a file that cannot be read or written.
    """

    def change(facts: AsBuilt) -> AsBuilt:
        return replace(facts, cut=tuple(dict.fromkeys((*facts.cut, *cut))), slips=(*facts.slips, *slips))

    return changed(job, plan, change)


def changed(job: Path, plan: Plan, change: Callable[[AsBuilt], AsBuilt]) -> AsBuilt:
    """Change what is recorded, once it is known that it can be so.

    Raises:
        JobError: as `record`.
    """
    from storyrod.adapters.files.as_built import change_as_built
    from storyrod.rescue import faults_of

    def checked(facts: AsBuilt) -> AsBuilt:
        new = change(facts)
        raise_if_any(faults_of(plan.details, plan.set_out, new))
        return new

    return change_as_built(job, plan.job.unit, checked)


def take(job: Path, plan: Plan, case: str, copy: int, way: Way, when: str) -> AsBuilt:
    """Write down that a way is taken, in place of one that was taken before for that copy of the case."""
    from storyrod.adapters.files.as_built import change_as_built
    from storyrod.model.as_built import Taken

    def change(facts: AsBuilt) -> AsBuilt:
        earlier = facts.taken_for(case, copy)
        kept = tuple(replace(t, taken_back=True) if t in earlier else t for t in facts.taken)
        new = (Taken(case=case, copy=copy, moves=way.codes, when=when),) if way.codes else ()
        return replace(facts, taken=(*kept, *new))

    return change_as_built(job, plan.job.unit, change)


def ticked_cuts(log: BenchLog, plan: Plan, names: Iterable[str], copy: int) -> frozenset[FeatureId]:
    """Return the cuts of one copy that a log has ticked under any of a job's names, and that are still wanted so."""
    from storyrod.adapters.log import carry_over
    from storyrod.telling.things import ThingKind, things_made

    begins = ThingKind.CUT.of("")
    ticks = [t for name in dict.fromkeys(names) for t in log.ticks(name) if t.copy == copy]
    held = carry_over(ticks, things_made(plan)).held
    return frozenset(FeatureId(t.thing.id.removeprefix(begins)) for t in held if t.thing.id.startswith(begins))


def case_and_copy(plan: Plan, facts: AsBuilt, case: str = "", copy: int = 0) -> tuple[str, int]:
    """Return which case is meant, and which copy of it: as asked for, else those of the last slip, else the first."""
    own = [s for s in facts.standing if not case or case_of_mark(plan, s.panel) == case]
    last = own[-1] if own else None
    of_last = case_of_mark(plan, last.panel) if last is not None else ""
    return case or of_last or plan.job.cases[0].code, copy or (last.copy if last is not None else 1)


def case_of_mark(plan: Plan, mark: str) -> str:
    """Return the code of the case that has a panel of a mark; "" where none has."""
    wanted = mark.strip().upper()
    return next((c.built.case.code for c in plan.details.cases for p in c.panels if p.mark.upper() == wanted), "")


def slips_of(plan: Plan, facts: AsBuilt, case: str, copy: int) -> tuple[Slip, ...]:
    """Return the slips of one copy of a case that were not taken back."""
    return tuple(s for s in facts.standing if s.copy == copy and case_of_mark(plan, s.panel) == case)


def cases_with_slips(plan: Plan, facts: AsBuilt) -> tuple[tuple[str, int], ...]:
    """Return the cases, each with the number of its copy, of which a slip stands."""
    return tuple(sorted({(case_of_mark(plan, s.panel), s.copy) for s in facts.standing}))


def no_such_way(found: str, allowed: str) -> JobError:
    """Return the fault of a way that is asked for and not among those there are."""
    return JobError(
        Fault(code="rescue-take", field="take", found=found, allowed=allowed, do="Take one of the list as it is now.")
    )


def no_way_taken() -> JobError:
    """Return the fault of a sheet that is asked for before a way is taken."""
    return JobError(
        Fault(
            code="rescue-sheet",
            field="sheet",
            found="no way that is taken",
            allowed="the sheet of a way that is taken",
            do="Take one, and print its sheet then or later.",
        )
    )
