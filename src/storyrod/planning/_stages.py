"""A cache of stages: each is declared with what it needs, worked out once, and taken over while that stays the same."""

from __future__ import annotations

import threading
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final, Self, cast, overload

from storyrod.faults import Fault, JobError
from storyrod.model.job import Job
from storyrod.model.workshop import Workshop

type Inputs = tuple[object, ...]


@dataclass(frozen=True, slots=True)
class _Failed:
    """A stage that cannot be worked out, and why."""

    faults: tuple[Fault, ...]


@dataclass(frozen=True, slots=True)
class _Kept:
    """What a stage came to, and what it was worked out from; None where it is never to be taken over."""

    result: object
    whole: Inputs | None
    cases: Inputs = ()


class Stage[T]:
    """One stage of a plan, asked for like an attribute.

    Attributes:
        name: its name in the plan.
        needs: the stages whose results it is worked out from.
        reads: what else it is worked out from, of job and workshop themselves.
        cases: what each case is worked out from by itself, of its needs too; None where not each goes by itself.
        told_anew: the result of an earlier plan with the same inputs, with what names the job put right.
    """

    def __init__(
        self,
        work: Callable[..., T],
        needs: tuple[str, ...],
        reads: Callable[[Any], Inputs],
        cases: Callable[[Any], Inputs] | None,
        told_anew: Callable[[Any, Any], Any] | None,
    ) -> None:
        self.work, self.needs, self.reads, self.cases, self.told_anew = work, needs, reads, cases, told_anew
        self.name = work.__name__
        self.__doc__ = work.__doc__

    @overload
    def __get__(self, plan: None, owner: type) -> Self: ...
    @overload
    def __get__(self, plan: Staged, owner: type) -> T: ...
    def __get__(self, plan: Staged | None, owner: type) -> Self | T:
        """Return what the stage comes to, worked out when first asked for."""
        return self if plan is None else plan.result_of(self)


def _nothing(_: object) -> Inputs:
    return ()


@dataclass(frozen=True, slots=True)
class Declared:
    """A stage's declaration, put before the method that works it out."""

    needs: tuple[str, ...]
    reads: Callable[[Any], Inputs]
    cases: Callable[[Any], Inputs] | None
    told_anew: Callable[[Any, Any], Any] | None

    def __call__[T](self, work: Callable[..., T]) -> Stage[T]:
        """Return the stage."""
        return Stage(work, self.needs, self.reads, self.cases, self.told_anew)


def stage(
    *needs: str,
    reads: Callable[[Any], Inputs] = _nothing,
    cases: Callable[[Any], Inputs] | None = None,
    told_anew: Callable[[Any, Any], Any] | None = None,
) -> Declared:
    """Declare a method of a plan as a stage; with `cases`, it is given those already known, by their number."""
    return Declared(needs, reads, cases, told_anew)


class Staged:
    """A job and a workshop, and the stages worked out from them; several threads may ask at once.

    Each stage has a lock of its own, so that it is worked out once, and one that is known is given at once, whatever
    else is being worked out. Locks are taken from a stage to what it needs, never back.
    """

    STAGES: Mapping[str, Stage[Any]] = {}
    """Every stage by its name."""

    ALONE: Final = frozenset({"by_methods"})
    """What a copy does not share."""

    def __init__(self, job: Job, workshop: Workshop, before: Staged | None = None) -> None:
        self.job = job
        self.workshop = workshop
        self._kept: dict[str, _Kept] = {}
        self._earlier = before.takable() if before is not None else {}
        self._locks = {name: threading.RLock() for name in self.STAGES}
        self.ran: dict[str, int] = {}
        """The stages that were worked out here and not taken over, each with how many of its cases."""

    def __init_subclass__(cls) -> None:
        """Gather the stages that the class declares."""
        super().__init_subclass__()
        cls.STAGES = {n: s for n, s in [*cls.STAGES.items(), *vars(cls).items()] if isinstance(s, Stage)}

    def __getstate__(self) -> dict[str, Any]:
        """Return what a copy, or another process, is given: all that is known, but no locks."""
        kept = {n: k for n, k in dict(self._kept).items() if n not in self.ALONE}
        return {"job": self.job, "workshop": self.workshop, "_kept": kept, "_earlier": {}, "ran": {}}

    def __setstate__(self, state: dict[str, Any]) -> None:
        """Take all that is known."""
        self.__dict__.update(state)
        self._locks = {name: threading.RLock() for name in self.STAGES}

    def knows(self, name: str) -> bool:
        """Return whether a stage is worked out already."""
        kept = self._kept.get(name)
        return kept is not None and not isinstance(kept.result, _Failed)

    def result_of[T](self, stage: Stage[T]) -> T:
        """Return what a stage comes to, worked out or taken over when first asked for.

        Raises:
            JobError: it cannot be worked out.
        """
        kept = self._kept.get(stage.name)
        if kept is None:
            with self._locks[stage.name]:
                kept = self._kept.get(stage.name)
                if kept is None:
                    kept = self._kept[stage.name] = self._worked_out(stage)
                    if not isinstance(kept.result, _Failed):  # else the plan after this one may still take it over
                        self._earlier.pop(stage.name, None)
        if isinstance(kept.result, _Failed):
            raise JobError(*kept.result.faults)
        return cast("T", kept.result)

    def seen(self, name: str) -> object:
        """Return what later stages see of a stage, apart from what they read of the job."""
        result: object = getattr(self, name)
        return result

    def takable(self) -> dict[str, _Kept]:
        """Return what a later plan may take over: the last that is known of each stage."""
        known = {n: k for n, k in dict(self._kept).items() if not isinstance(k.result, _Failed) and k.whole is not None}
        return {**dict(self._earlier), **known}

    def with_result(self, name: str, result: object) -> Self:
        """Return the plan with another result of a stage, found elsewhere; what hangs on it is worked out anew."""
        other = type(self).__new__(type(self))
        gone = {name, *self.hanging_on(name)}
        kept = {n: k for n, k in dict(self._kept).items() if n not in gone}
        kept[name] = _Kept(result, None)
        other.__setstate__({**self.__getstate__(), "_kept": kept})
        return other

    @classmethod
    def of_results(cls, job: Job, workshop: Workshop, results: Mapping[str, object]) -> Self:
        """Return a plan of which these stages are known already, found elsewhere; the others come of them."""
        plan = cls(job, workshop)
        plan._kept |= {name: _Kept(result, None) for name, result in results.items()}
        return plan

    @classmethod
    def hanging_on(cls, name: str) -> tuple[str, ...]:
        """Return the stages that need another, directly or not."""
        found: dict[str, None] = {}
        waiting = [name]
        while waiting:
            one = waiting.pop()
            more = [n for n, s in cls.STAGES.items() if one in s.needs and n not in found]
            found |= dict.fromkeys(more)
            waiting += more
        return tuple(found)

    def _worked_out[T](self, stage: Stage[T]) -> _Kept:
        for need in stage.needs:
            getattr(self, need)  # what they cannot be worked out for is raised, and kept by them
        seen = () if stage.cases is not None else tuple(self.seen(need) for need in stage.needs)
        whole = (*stage.reads(self), *seen)
        cases = stage.cases(self) if stage.cases is not None else ()
        earlier = self._earlier.get(stage.name)
        if earlier is None or earlier.whole != whole:
            return self._run(stage, whole, cases, {})
        before = cast("T", earlier.result)
        if earlier.cases == cases:
            return _Kept(stage.told_anew(self, before) if stage.told_anew else before, whole, cases)
        return self._run(stage, whole, cases, _same(earlier.cases, cases, cast("Any", before).cases))

    def _run(self, stage: Stage[Any], whole: Inputs, cases: Inputs, known: Mapping[int, object]) -> _Kept:
        by_case = stage.cases is not None
        self.ran[stage.name] = len(cases) - len(known) if by_case else 1
        try:
            return _Kept(stage.work(self, known) if by_case else stage.work(self), whole, cases)
        except JobError as error:
            return _Kept(_Failed(error.faults), whole, cases)


def _same(before: Inputs, now: Inputs, results: Sequence[object]) -> dict[int, object]:
    """Return, by their number now, the results of the cases that are worked out from what they were before."""
    found: dict[int, object] = {}
    for n, case in enumerate(now):
        likely = [n] if n < len(before) else []  # most stay where they are
        at = next((m for m in (*likely, *range(len(before))) if before[m] == case), None)
        if at is not None:
            found[n] = results[at]
    return found
