"""Jobs of the folder planned together, behind the page: what is asked for, and what came of it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final
from urllib.parse import urlencode

from starlette.requests import Request

from storyrod.adapters.files import JobFile
from storyrod.adapters.files.batching import BatchRead, batch_of
from storyrod.adapters.web._desk import Desk
from storyrod.adapters.web._errands import Errand
from storyrod.faults import Fault, JobError, raise_if_any
from storyrod.model.batch import MOST_JOBS, BatchEntry, BatchFile, PaidBy
from storyrod.planning import Batch, Plan, faults_alone, plan_batch

_MOST_ASKED: Final = 4 * MOST_JOBS


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """Which jobs are to be made together, by their names, and how they share sheets and pay."""

    jobs: tuple[str, ...]
    own: frozenset[str] = frozenset()
    paid_by: PaidBy = PaidBy.AREA

    @property
    def query(self) -> str:
        """The same as it stands in an address."""
        told = [*(("job", j) for j in self.jobs), *(("own", j) for j in self.jobs if j in self.own)]
        return urlencode([*told, ("paid_by", self.paid_by.value)])

    def without(self, job: str) -> str:
        """Return the address's words for the same with one job left out."""
        return replace(self, jobs=tuple(j for j in self.jobs if j != job)).query


def asked_of(request: Request, desk: Desk) -> Asked:
    """Return what an address asks for: jobs of this folder, each once."""
    query, known = request.query_params, set(desk.shelf.names())
    jobs = tuple(j for j in dict.fromkeys(query.getlist("job")[:_MOST_ASKED]) if j in known)
    rule = query.get("paid_by", "")
    paid_by = PaidBy(rule) if rule in set(PaidBy) else PaidBy.AREA
    return Asked(jobs=jobs, own=frozenset(query.getlist("own")) & set(jobs), paid_by=paid_by)


@dataclass(frozen=True, slots=True, kw_only=True)
class JobFault:
    """A fault, and the job that has it; "" where it is of all together."""

    job: str
    fault: Fault


class BatchWork(Errand):
    """Plans each job with its mark, then all of them together."""

    def __init__(self, desk: Desk, asked: Asked) -> None:
        super().__init__()
        self._desk, self._asked = desk, asked
        self.batch: Batch | None = None
        self.faults: tuple[JobFault, ...] = ()
        self.count = 0
        self.in_all = len(asked.jobs) + 1

    def work(self) -> Iterator[None]:
        """Plan job by job, telling how far it is."""
        read = self._read()
        if read is None:
            return
        plans: dict[str, Plan] = {}
        faults: list[JobFault] = []
        for member, job in zip(read.members, self._asked.jobs, strict=True):
            plan = plans[member.mark] = Plan(member.marked, read.workshop)
            try:
                raise_if_any(faults_alone(plan))
            except JobError as error:
                faults += [JobFault(job=job, fault=f) for f in read.located(error, member.mark).faults]
            self.count += 1
            yield
        self.faults = tuple(faults)
        if not faults:
            self._together(read, plans)
            self.count += 1

    def _read(self) -> BatchRead | None:
        files: list[JobFile] = []
        faults: list[JobFault] = []
        for name in self._asked.jobs:
            try:
                worked = self._desk.job(name)
            except JobError as error:  # deleted a moment ago
                faults += [JobFault(job=name, fault=f) for f in error.faults]
                continue
            if worked.read is None or worked.plan is None:
                faults += [JobFault(job=name, fault=f) for f in worked.faults]
            else:
                files.append(replace(worked.read, workshop=worked.plan.workshop))  # with what lies on the rack
        if faults:
            self.faults = tuple(faults)
            return None
        spec = BatchFile(
            jobs=tuple(BatchEntry(job=f"{n}.toml", own_sheets=n in self._asked.own) for n in self._asked.jobs),
            paid_by=self._asked.paid_by,
        )
        try:
            return batch_of(spec, [str(n) for n in range(1, len(files) + 1)], files)
        except JobError as error:
            self.faults = tuple(JobFault(job=f.file.removesuffix(".toml"), fault=f) for f in error.faults)
            return None

    def _together(self, read: BatchRead, plans: dict[str, Plan]) -> None:
        try:
            batch = plan_batch(read.members, read.workshop, paid_by=read.paid_by, known=plans)
            found = batch.faults
        except JobError as error:
            self.faults = tuple(JobFault(job="", fault=f) for f in error.faults)
            return
        self.faults = tuple(JobFault(job="", fault=f) for f in found)
        self.batch = batch if not found else None


def errand_key(desk: Desk, asked: Asked) -> Sequence[str]:
    """Return by what the work is known: what is asked, and the texts that the jobs have now."""
    from storyrod.adapters.web._worked import version_of

    return ("batch", asked.query, *(version_of(desk.shelf.text_as_can_be(j)[0]) for j in asked.jobs))
