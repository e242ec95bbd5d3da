"""Jigs worth keeping for a family of carcasses: lines of cuts gathered, weighed, and their jigs drawn up.

A line is kept with all that is cut alike and with the mates of its joints, so that the two halves of a joint are always
cut by jigs in step.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache

from storyrod.machining._choose import Made, choose_ways
from storyrod.machining._jig_draft import GRID, pattern_of
from storyrod.machining._jigs import JigMaker, ask_of, board_between, is_free, kind_of, runs_of
from storyrod.machining._minutes import jig_minutes, minutes_of
from storyrod.machining._needs import Need, find_needs
from storyrod.machining._nouns import noun_of
from storyrod.machining._reference import reference_of
from storyrod.machining._standing_search import Kept, Saves, Want, Weigher
from storyrod.model.act import Act
from storyrod.model.detail import Details
from storyrod.model.machining import JigKind
from storyrod.model.mark import SetOut
from storyrod.model.standing import Line, MadeInYear, Standing, StandingSet
from storyrod.model.workshop import Along, Workshop


def standing_jigs(
    details: Details, set_out: SetOut, workshop: Workshop, jobs: Sequence[MadeInYear], *, years: float
) -> Standing:
    """Return the jigs that are worth making once and keeping.

    Templates that are set to centre marks are left out: they serve one cut-out and any place. Ways of cutting are
    chosen as for all that is made in the years; what a job would do by itself, as for that job.

    Args:
        details: every case of the family, of one depth or another.
        set_out: its marks.
        workshop: its jigs are used before any is proposed.
        jobs: which cases make a job, and how often a year it is made.
        years: how long a jig is kept.
    """
    family = _Family(details, set_out, workshop, jobs, years)
    found = [family.weighed(same) for same in family.by_opening()]
    maker = JigMaker(workshop, 0)
    sets = [s for one in found for s in one.sets]
    every = [g for s in sets for g in s.groups]
    told = []
    for one in sets:
        at = len(maker.plans)
        maker.make_kept(one.groups, every)
        told.append(StandingSet(jigs=tuple(maker.plans[at:]), lines=one.lines, saves_min=one.saves_min))
    return Standing(
        sets=tuple(told),
        left=tuple(line for one in found for line in one.left),
        owned=family.owned,
        years=years,
        proven=all(one.proven for one in found),
    )


@dataclass(frozen=True, slots=True)
class _Set:
    groups: list[list[Made]]
    lines: tuple[Line, ...]
    saves_min: float


@dataclass(frozen=True, slots=True)
class _Weighed:
    sets: list[_Set]
    left: tuple[Line, ...]
    proven: bool


class _Family:
    def __init__(
        self, details: Details, set_out: SetOut, workshop: Workshop, jobs: Sequence[MadeInYear], years: float
    ) -> None:
        self.workshop, self.jobs, self.years = workshop, jobs, years
        self.job_of = {code: n for n, job in enumerate(jobs) for code in job.cases}
        panels = {id(c): {str(p.id): p for p in c.panels} for c in details.cases}
        placed = [(n, reference_of(n, panels[id(n.case)])) for n in find_needs(details, set_out)]
        alone = [choose_ways([p for p in placed if self._job(p[0]) == n], workshop)[0] for n in range(len(jobs))]
        self.with_jig = {id(m.need) for made in alone for m in made if m.choice.way.along is Along.JIG}
        often = [(self._in_the_years(n), r) for n, r in placed]
        made, _ = choose_ways(often, workshop)
        originals = {id(o): n for (o, _), (n, _) in zip(often, placed, strict=True)}
        asked = [
            replace(m, need=originals[id(m.need)])
            for m in made
            if m.choice.way.along is Along.JIG and kind_of(m) is not JigKind.TEMPLATE
        ]
        maker = JigMaker(workshop, 0)
        maker.use_owned(asked)
        self.owned = tuple(dict.fromkeys(p.owned for p in maker.plans))
        self.left = [m for m in asked if id(m.need) not in maker.uses]

    def _job(self, need: Need) -> int:
        return self.job_of[need.case.built.case.code]

    def _in_the_years(self, need: Need) -> Need:
        return replace(need, copies=max(1, round(need.copies * self.jobs[self._job(need)].a_year * self.years)))

    def by_opening(self) -> Iterator[list[Made]]:
        """Yield placings whose cuts are made through openings of one kind; pin templates are jigs of their own."""
        found: dict[object, list[Made]] = {}
        for m in self.left:
            found.setdefault((runs_of(m), kind_of(m) is JigKind.PINS), []).append(m)
        yield from found.values()

    def weighed(self, made: Sequence[Made]) -> _Weighed:
        """Return the groups of placings worth a jig, in step, with their lines, and the lines that are not."""
        families = _families(made)
        pins = kind_of(made[0]) is JigKind.PINS
        weigher = Weigher(
            [_want(f) for f in families], lambda n: jig_minutes(self.workshop, n, pins=pins), board_between(made[0])
        )
        saves = self._saves(families, weigher)
        kept = weigher.kept(saves, self.years)
        lines = [self._line(f, kept, n, saves) for n, f in enumerate(families)]
        sets = []
        for part in kept.parts:
            own = [m for n in part for m in families[n]]
            halves = [[m for m in own if is_free(m) is half] for half in (False, True)]
            gained = saves(kept.served) - saves(kept.served - frozenset(part))
            sets.append(_Set([h for h in halves if h], tuple(lines[n] for n in part), gained))
        return _Weighed(sets, tuple(line for line in lines if not line.is_kept), kept.proven)

    def _saves(self, families: Sequence[Sequence[Made]], weigher: Weigher) -> Saves:
        """Return what is saved a year where some lines have jigs: what the jobs would spend on them without."""
        anew: list[set[int]] = [set() for _ in self.jobs]
        by_mark: list[dict[int, float]] = [{} for _ in self.jobs]
        for n, family in enumerate(families):
            for m in family:
                job = self._job(m.need)
                if id(m.need) in self.with_jig:
                    anew[job].add(n)
                else:
                    by_mark[job][n] = by_mark[job].get(n, 0.0) + m.need.copies * self._by_mark(m)

        def spent(job: int, without: frozenset[int]) -> float:
            return weigher.making(frozenset(anew[job]) - without) + sum(
                minutes for n, minutes in by_mark[job].items() if n not in without
            )

        @cache
        def saves(chosen: frozenset[int]) -> float:
            return sum(j.a_year * (spent(n, frozenset()) - spent(n, chosen)) for n, j in enumerate(self.jobs))

        return saves

    def _by_mark(self, m: Made) -> float:
        """Return by how much longer a placing takes whose every cut is set to its mark."""
        marked = len(m.need.marks) * sum(
            minutes_of(self.workshop, a) for a in (Act.SET_JIG_TO_MARK, Act.MARK_CONNECTOR)
        )
        return marked - minutes_of(self.workshop, m.choice.way.place_act)

    def _line(self, family: Sequence[Made], kept: Kept, n: int, saves: Saves) -> Line:
        longest = max((pattern_of(m) for m in family), key=lambda p: (len(p), p))
        nouns = dict.fromkeys(noun_of(m.need) for m in family)
        return Line(
            what=" and ".join(nouns),
            stations=tuple(p / GRID for p in longest),
            cases=tuple(dict.fromkeys(m.need.case.built.case.code for m in family)),
            part_min=min(m.need.run_length for m in family),
            part_max=max(m.need.run_length for m in family),
            placings=sum(m.need.copies * self.jobs[self._job(m.need)].a_year for m in family),
            saves_min=abs(saves(kept.served) - saves(kept.served ^ {n})),
            adds_min=kept.without[n],
            is_kept=n in kept.served,
        )


def _families(made: Sequence[Made]) -> list[list[Made]]:
    """Return placings in sets that are kept together: those of one pattern, and the halves of one joint."""
    root: dict[object, object] = {}

    def top(key: object) -> object:
        while root.setdefault(key, key) != key:
            key = root[key]
        return key

    for m in made:
        if m.need.joint is not None:
            joint = ("joint", m.need.case.built.case.code, m.need.joint.id)
            root[top(joint)] = top(("pattern", pattern_of(m)))
    found: dict[object, list[Made]] = {}
    for m in made:
        found.setdefault(top(("pattern", pattern_of(m))), []).append(m)
    return list(found.values())


def _want(family: Sequence[Made]) -> Want:
    halves = {h: frozenset(pattern_of(m) for m in family if is_free(m) is h) for h in (False, True)}
    asks = dict.fromkeys((is_free(m), ask_of(m)) for m in family)
    return Want(tuple((h, own) for h, own in halves.items() if own), tuple(asks))
