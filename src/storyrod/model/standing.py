"""Jigs worth making once and keeping: what they serve, what they save a year, what one more depth would cost."""

from __future__ import annotations

from dataclasses import dataclass

from storyrod.model.machining import JigPlan


@dataclass(frozen=True, slots=True, kw_only=True)
class MadeInYear:
    """One job by the codes of its cases, and how often a year it is made."""

    cases: tuple[str, ...]
    a_year: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """Lines of cuts that are alike, with their mates: kept a jig for together, or not at all.

    Attributes:
        what: what is cut.
        stations: where, from the edge that the stop meets (mm).
        cases: codes of the cases that have them, and `part_min`, `part_max` how long the parts are along them (mm).
        placings: how often a year a jig is placed for them.
        saves_min: minutes a year that keeping a jig for them saves beside the others that are kept: jobs that need
            one do not make it anew, others do not set each cut to its mark.
        adds_min: of a line that is kept, by how much its jigs would take less to make without it; of another, by how
            much more to make with it.
    """

    what: str
    stations: tuple[float, ...]
    cases: tuple[str, ...]
    part_min: float
    part_max: float
    placings: float
    saves_min: float
    adds_min: float
    is_kept: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class StandingSet:
    """Jigs in step, which make the two halves of the same joints from one zero, with the lines that they serve.

    `saves_min` is what they save a year, all their lines together.
    """

    jigs: tuple[JigPlan, ...]
    lines: tuple[Line, ...]
    saves_min: float

    @property
    def making_min(self) -> float:
        """Minutes of making them, once."""
        return sum(j.making_min for j in self.jigs)

    @property
    def pays_after_years(self) -> float:
        """After how many years they have saved what they took."""
        return self.making_min / self.saves_min if self.saves_min > 0 else float("inf")


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """All jigs worth keeping for a family of carcasses.

    Attributes:
        years: how long a jig is kept, by which it is judged.
        left: lines for which no jig pays.
        owned: codes of jigs that are owned and serve lines already; those lines are not among the others.
        proven: whether every choice was weighed.
    """

    sets: tuple[StandingSet, ...]
    left: tuple[Line, ...]
    owned: tuple[str, ...]
    years: float
    proven: bool

    @property
    def jigs(self) -> tuple[JigPlan, ...]:
        """Every jig worth keeping."""
        return tuple(j for s in self.sets for j in s.jigs)
