"""The tasks of a plan: jigs and set-ups in the order of the run, then each case glued up, fitted out and coated."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Final

from storyrod.model.act import Act
from storyrod.model.assembly import AssemblyPlan, CasePlan, Step, StepKind
from storyrod.model.day import ActMinutes, Task, TaskKind
from storyrod.model.detail import DetailedCase, Details
from storyrod.model.machining import SetUp, WorkPlan, WorkStage
from storyrod.model.quoting import Finish
from storyrod.model.work import Minutes, Stage, WorkItem
from storyrod.model.workshop import Workshop

_JOINED: Final = frozenset({StepKind.JOIN, StepKind.TURN})
_CARCASS: Final = "carcass"
_NTH: Final = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """What the tasks of one plan are read off.

    Attributes:
        items: everything to be done, act by act, as the ledger lists it.
        jobs: the mark of each case's job.
        finishes: what each case is finished with, by its code.
        prefix: stands before the ids of set-ups, so that those of two plans do not mix.
    """

    details: Details
    assembly: AssemblyPlan
    run: WorkPlan
    items: tuple[WorkItem, ...]
    workshop: Workshop
    jobs: Mapping[str, str]
    finishes: Mapping[str, Finish]
    prefix: str = ""


def list_tasks(source: Source) -> tuple[Task, ...]:
    """Return all tasks of a plan, each after those that it waits for."""
    return tuple(_Tasks(source).tasks())


@dataclass(slots=True)
class _Group:
    """Steps of one body that are done at once."""

    body: str
    go: int
    steps: list[Step] = field(default_factory=list)
    items: list[tuple[WorkItem, float]] = field(default_factory=list)

    @property
    def is_glued(self) -> bool:
        return any(s.glue for s in self.steps)


class _Tasks:
    def __init__(self, source: Source) -> None:
        self.source = source
        self.set_minutes = round(source.workshop.minutes(Act.LEAVE_IN_CLAMPS))
        self.last_of: dict[str, str] = {}  # the last set-up that works a panel, by the panel's id
        self.in_place = {s.id for s in source.run.set_ups if s.stage is WorkStage.IN_PLACE}
        self.loose: dict[str, list[tuple[WorkItem, float]]] = {}  # what no set-up has, by case, for one copy
        self.by_set_up: dict[str, list[tuple[WorkItem, float]]] = {}
        self._part()

    def tasks(self) -> Iterator[Task]:
        yield from self._machine()
        for case, plan in zip(self.source.details.cases, self.source.assembly.cases, strict=True):
            for copy in range(1, case.built.case.count + 1):
                yield from self._case(case, plan, copy)

    def _part(self) -> None:
        """Part the items: by set-up, or by case; what is set for boring in place is shared by the cases it is in."""
        source = self.source
        cases = {s.id: dict.fromkeys(o.case for o in s.operations) for s in source.run.set_ups}
        copies = {c.built.case.code: c.built.case.count for c in source.details.cases}
        for item in source.items:
            if not item.hands_on:
                continue
            if item.set_up and item.set_up not in self.in_place:
                self.by_set_up.setdefault(item.set_up, []).append((item, item.times))
            elif item.case:
                self.loose.setdefault(item.case, []).append((item, item.count * item.copies / copies[item.case]))
            else:
                own = cases.get(item.set_up) or dict.fromkeys(copies)
                whole = sum(copies[c] for c in own)
                for code in own:
                    self.loose.setdefault(code, []).append((item, item.times / whole))

    # --- At the machines ---------------------------------------------------------------------------------------------

    def _machine(self) -> Iterator[Task]:
        source = self.source
        jigs = self._jigs()
        if jigs is not None:
            yield jigs
        made = {j.id for j in source.run.jigs if not j.owned}
        before: str | None = None
        waits_for_jigs = jigs is not None
        for step in source.run.run.steps:
            set_up = source.run.set_up(step.set_up)
            items = self.by_set_up.get(set_up.id, [])
            if not items or set_up.id in self.in_place:
                continue
            after = [before] if before is not None else []
            if waits_for_jigs and jigs is not None and set_up.setting is not None and set_up.setting.jig in made:
                after.append(jigs.id)
                waits_for_jigs = False
            task = self._set_up(set_up, items, after)
            yield task
            before = task.id
            self.last_of |= {str(o.panel): task.id for o in set_up.operations}

    def _set_up(self, set_up: SetUp, items: Sequence[tuple[WorkItem, float]], after: Sequence[str]) -> Task:
        cases = dict.fromkeys(o.case for o in set_up.operations)
        lipped = any(item.act == Act.LIP_SOLID_WOOD for item, _ in items)
        return _task(
            Task(
                id=f"{self.source.prefix}{set_up.id}",
                jobs=self._marks(cases),
                name=f"{set_up.id}: {set_up.title}",
                kind=TaskKind.SET_UP,
                minutes=1,
                after=tuple(after),
                wait_min=self.set_minutes if lipped else 0,
                set_up=set_up.id,
            ),
            items,
        )

    def _marks(self, cases: Iterable[str]) -> tuple[str, ...]:
        found = tuple(dict.fromkeys(self.source.jobs[c] for c in cases))
        return found or tuple(dict.fromkeys(self.source.jobs.values()))

    def _jigs(self) -> Task | None:
        made = [j for j in self.source.run.jigs if not j.owned]
        if not made:
            return None
        ids = {j.id for j in made}
        users = (s for s in self.source.run.set_ups if s.setting is not None and s.setting.jig in ids)
        usual = sum(j.making_min for j in made)
        spread = next(t for t in self.source.workshop.times if t.act == Act.MAKE_JIG)
        each = Minutes(low=spread.low_min, usual=spread.usual_min, high=spread.high_min)
        return Task(
            id=f"{self.source.prefix}jigs",
            jobs=self._marks(o.case for s in users for o in s.operations),
            name=f"Make {'the jig' if len(made) == 1 else f'{len(made)} jigs'}",
            kind=TaskKind.JIGS,
            minutes=max(1, round(usual)),
            acts=(ActMinutes(act=Act.MAKE_JIG, minutes=each.times(usual / each.usual) if each.usual else each),),
        )

    # --- At the bench ------------------------------------------------------------------------------------------------

    def _case(self, case: DetailedCase, plan: CasePlan, copy: int) -> Iterator[Task]:
        code, count = case.built.case.code, case.built.case.count
        of = f"{code} ({copy} of {count})" if count > 1 else code
        job = (self.source.jobs[code],)
        groups, rest = _groups(plan.steps)
        fitted, coats = _shared_out(groups, self.loose.get(code, []))
        drawers = {d.id: d.name for d in case.built.drawers}
        own: list[Task] = []
        for group in groups:
            body = [g for g in groups if g.body == group.body]
            earlier = tuple(t.id for t, g in zip(own, groups, strict=False) if g.body == group.body)
            named = of if group.body == _CARCASS else f"{drawers.get(group.body, group.body)} of {of}"
            goes = f", go {group.go}" if len(body) > 1 else ""
            task = Task(
                id=f"{code}/{copy} {group.body} {group.go}",
                jobs=job,
                name=f"{'Glue up' if group.is_glued else 'Put together'} {named}{goes}",
                kind=TaskKind.GLUE if group.is_glued else TaskKind.TOGETHER,
                minutes=1,
                after=(*self._worked(group.steps), *earlier[-1:]),
                wait_min=self.set_minutes if group.is_glued else 0,
                clamps=sum(s.clamp_count for g in body for s in g.steps),
                people=max((s.persons for s in group.steps), default=1),
                case=code,
                copy=copy,
                steps=tuple(s.number for s in group.steps),
            )
            own.append(_task(task, group.items))
        yield from own
        last = tuple(t.id for t in own)
        if rest or fitted:
            fit = Task(
                id=f"{code}/{copy} fit",
                jobs=job,
                name=f"Fit out {of}",
                kind=TaskKind.FIT,
                minutes=1,
                after=(*self._worked(rest), *last),
                people=max((s.persons for s in rest), default=1),
                case=code,
                copy=copy,
                steps=tuple(s.number for s in rest),
            )
            yield _task(fit, fitted)
            last = (fit.id,)
        yield from self._coats(code, copy, of, coats, last)

    def _worked(self, steps: Iterable[Step]) -> tuple[str, ...]:
        panels = (str(p) for s in steps for p in (*s.moving, *s.onto))
        return tuple(dict.fromkeys(self.last_of[p] for p in panels if p in self.last_of))

    def _coats(
        self, code: str, copy: int, of: str, items: Sequence[tuple[WorkItem, float]], after: tuple[str, ...]
    ) -> Iterator[Task]:
        finish = self.source.finishes.get(code)
        if finish is None or not items:
            return
        for n in range(finish.coats):
            task = Task(
                id=f"{code}/{copy} coat {n + 1}",
                jobs=(self.source.jobs[code],),
                name=f"Put the {_NTH[n]} coat on {of}" if finish.coats > 1 else f"Put a coat on {of}",
                kind=TaskKind.COAT,
                minutes=1,
                after=after,
                wait_min=round(60 * finish.dries_h),
                case=code,
                copy=copy,
                coat=n + 1,
            )
            yield _task(task, [(item, count / finish.coats) for item, count in items])
            after = (task.id,)


def _groups(steps: Sequence[Step]) -> tuple[list[_Group], list[Step]]:
    """Return the steps by body and go, and those that come when all of it is together."""
    groups: dict[tuple[str, int], _Group] = {}
    rest: list[Step] = []
    go_of: dict[str, int] = {}
    joined = {s.body for s in steps if s.kind in _JOINED}
    begun: set[str] = set()
    for step in steps:
        early = step.kind is StepKind.FIT and step.body in joined and step.body not in begun
        if step.kind not in _JOINED and not early:
            rest.append(step)
            continue
        if step.kind in _JOINED:
            begun.add(step.body)
        go = go_of[step.body] = max(step.go, go_of.get(step.body, 1))
        groups.setdefault((step.body, go), _Group(step.body, go)).steps.append(step)
    return list(groups.values()), rest


def _shared_out(
    groups: Sequence[_Group], items: Iterable[tuple[WorkItem, float]]
) -> tuple[list[tuple[WorkItem, float]], list[tuple[WorkItem, float]]]:
    """Give each group its items; return those of fitting out, and those of finishing."""
    by_joint = {str(j): g for g in groups for s in g.steps for j in s.joints}
    carcass = [g for g in groups if g.body == _CARCASS]
    boxes = [g for g in groups if g.body != _CARCASS]
    fitted, coats = [], []
    for item, count in items:
        if item.stage is Stage.FINISH:
            coats.append((item, count))
        elif item.joint in by_joint:
            by_joint[item.joint].items.append((item, count))
        elif item.stage is Stage.DRAWERS and boxes:
            for box in boxes:
                box.items.append((item, count / len(boxes)))
        elif item.stage is not Stage.FITTINGS and carcass:
            carcass[-1].items.append((item, count))
        else:
            fitted.append((item, count))
    return fitted, coats


def _task(task: Task, items: Iterable[tuple[WorkItem, float]]) -> Task:
    """Return a task with the minutes of its items, and what acts they are made of."""
    sums: dict[str, Minutes] = {}
    for item, count in items:
        had, more = sums.get(item.act), item.each.times(count)
        sums[item.act] = more if had is None else _sum(had, more)
    usual = sum(m.usual for m in sums.values())
    acts = tuple(ActMinutes(act=a, minutes=m) for a, m in sums.items())
    return replace(task, minutes=max(1, round(usual)), acts=acts)


def _sum(a: Minutes, b: Minutes) -> Minutes:
    return Minutes(low=a.low + b.low, usual=a.usual + b.usual, high=a.high + b.high)
