"""The whole plan of the machining of a batch."""

from __future__ import annotations

from dataclasses import dataclass

from storyrod.faults import Caution
from storyrod.model.machining._count import Reconciliation
from storyrod.model.machining._error import ExpectedStep
from storyrod.model.machining._jig import JigPlan, JigTally
from storyrod.model.machining._run import Run
from storyrod.model.machining._set_up import Operation, SetUp


@dataclass(frozen=True, slots=True, kw_only=True)
class StationAdvice:
    """How many stations serve all joints of a method and size, and the fewest that do or would do.

    Attributes:
        now: different stations without any moved for sharing.
        fewest, stations: those that serve all when they are shared.
        bound: no fewer would do.
        moved: joints whose stations were moved for that, or would have to be.
        small: whether these are narrow parts, which have a jig of their own.
        asked: whether the job asks for sharing, so that `stations` is what is made.
    """

    method: str
    lengths: tuple[float, ...]
    now: int
    fewest: int
    stations: tuple[float, ...]
    bound: int
    moved: int
    small: bool
    asked: bool
    text: str

    @property
    def proven(self) -> bool:
        """Whether it is proven that no fewer would do."""
        return self.fewest <= self.bound


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkPlan:
    """Everything the maker needs to cut a batch of panels and miss nothing."""

    set_ups: tuple[SetUp, ...]
    jigs: tuple[JigPlan, ...]
    run: Run
    reconciliation: Reconciliation
    tally: JigTally
    steps_expected: tuple[ExpectedStep, ...]
    stations: tuple[StationAdvice, ...] = ()
    cautions: tuple[Caution, ...] = ()

    def set_up(self, set_up_id: str) -> SetUp:
        """Return one set-up by its id."""
        return next(s for s in self.set_ups if s.id == set_up_id)

    def jig(self, jig_id: str) -> JigPlan:
        """Return one jig by its id."""
        return next(j for j in self.jigs if j.id == jig_id)

    @property
    def operations(self) -> tuple[Operation, ...]:
        """All operations, in the order of the run."""
        return tuple(o for s in self.set_ups for o in s.operations)

    @property
    def minutes(self) -> float:
        """Minutes of the whole batch."""
        return self.run.minutes
