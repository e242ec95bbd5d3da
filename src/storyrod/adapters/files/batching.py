"""Reading the jobs of a batch: from their own files, or from a batch file that lists them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from storyrod.adapters.files._file import JobFile, job_from_text, read_workshop
from storyrod.adapters.files._made import made
from storyrod.adapters.files._open import parse_toml, read_text
from storyrod.adapters.files._read import read_table
from storyrod.adapters.files._told import lined, unit_in
from storyrod.faults import Fault, JobError, raise_if_any
from storyrod.measure.length import Unit
from storyrod.model.batch import MOST_JOBS, BatchEntry, BatchFile, Member, PaidBy
from storyrod.model.workshop import Workshop

_MARK: Final = re.compile(r"[A-Za-z0-9]{1,4}")
_UNITS: Final = {Unit.MM: "millimetres", Unit.INCH: "inches"}


@dataclass(frozen=True, slots=True, kw_only=True)
class BatchRead:
    """The jobs of a batch, read and seen to go together.

    Attributes:
        members: in their order, each with its mark.
        files: the job file of each.
        workshop: in which all of them are made.
    """

    title: str
    members: tuple[Member, ...]
    files: tuple[JobFile, ...]
    workshop: Workshop
    paid_by: PaidBy = PaidBy.AREA

    def located(self, error: JobError, mark: str) -> JobError:
        """Return faults of one job with its file and lines."""
        at = next(n for n, m in enumerate(self.members) if m.mark == mark)
        told = self.files[at].located(error)
        return JobError(*(f if f.file else replace(f, file=_name_of(self.files[at])) for f in told.faults))


def read_batch(paths: Sequence[Path]) -> BatchRead:
    """Return the jobs of these files; one file alone is a batch file, which lists them.

    Raises:
        JobError: every fault of every file, and why jobs do not go together.
    """
    if len(paths) != 1:
        plain = BatchFile(title="", jobs=tuple(BatchEntry(job=str(p)) for p in paths))
        return _read(plain, Path(), "")
    where = paths[0]
    text = read_text(where, "batch")
    raw = parse_toml(text, name=where.name, what="batch")
    if "cases" in raw:
        raise JobError(_few(where.name, 1))
    read = read_table(BatchFile, raw, unit_in(raw))
    if read.faults or read.table is None:
        raise JobError(*lined(read.faults, text, where.name))
    batch = made(BatchFile, read.table, "")
    try:
        return _read(replace(batch, title=batch.title or where.stem), where.parent, where.name)
    except JobError as error:
        raise JobError(
            *(f if f.file != where.name else lined([f], text, where.name)[0] for f in error.faults)
        ) from None


def is_batch(path: Path) -> bool:
    """Return whether a file lists jobs; one that cannot be read is taken for a job, which tells its faults."""
    try:
        return "jobs" in parse_toml(read_text(path), name=path.name, what="job")
    except JobError:
        return False


def _read(batch: BatchFile, folder: Path, file: str) -> BatchRead:
    """Read the jobs of a batch whose file is called `file`; "" where they were named one by one."""
    raise_if_any(_of_the_list(batch, folder, file))
    workshop, faults = _workshop(batch, folder, file)
    files: list[JobFile] = []
    for n, entry in enumerate(batch.jobs):
        try:
            files.append(_job(folder / entry.job, entry.job, f"jobs[{n}].job" if file else "", file, workshop))
        except JobError as error:
            faults += error.faults
    raise_if_any(faults)
    marks = [e.mark or str(n) for n, e in enumerate(batch.jobs, start=1)]
    return batch_of(batch, marks, files)


def batch_of(batch: BatchFile, marks: Sequence[str], files: Sequence[JobFile]) -> BatchRead:
    """Return jobs that are read as a batch.

    Raises:
        JobError: their units, currencies or workshops do not go together.
    """
    raise_if_any((*_of_units(files), *_of_currencies(files), *_of_workshops(files)))
    members = tuple(
        Member(mark=mark, name=Path(entry.job).stem, job=read.job, own_sheets=entry.own_sheets)
        for mark, entry, read in zip(marks, batch.jobs, files, strict=True)
    )
    return BatchRead(
        title=batch.title,
        members=members,
        files=tuple(files),
        workshop=files[0].workshop,
        paid_by=batch.paid_by,
    )


def _job(path: Path, named: str, field: str, file: str, workshop: Workshop | None) -> JobFile:
    if path.suffix.lower() != ".toml":  # no other file of the machine is quoted by its faults
        raise JobError(
            Fault(
                code="batch-job",
                field=field,
                found=f'"{named[:80]}"',
                allowed="the name of a job file, which ends in .toml",
                do="Name the job file, as seen from here.",
                file=file,
            )
        )
    try:
        text = read_text(path)
        return job_from_text(text, name=path.name, folder=path.parent, path=path, workshop=workshop)
    except JobError as error:
        raise JobError(*(f if f.file else replace(f, file=path.name) for f in error.faults)) from None


def _workshop(batch: BatchFile, folder: Path, file: str) -> tuple[Workshop | None, list[Fault]]:
    named = batch.workshop.strip()
    if not named:
        return None, []
    path = folder / named
    if path.suffix.lower() != ".toml":
        fault = Fault(
            code="workshop-name",
            field="workshop",
            found=f'"{named[:80]}"',
            allowed="the name of a workshop file, which ends in .toml",
            do="Name the workshop file, beside the batch file.",
            file=file,
        )
        return None, [fault]
    try:
        return read_workshop(path), []
    except JobError as error:
        return None, [f if f.file else replace(f, file=path.name) for f in error.faults]


# --- What does not go together ----------------------------------------------------------------------------------------


def _few(file: str, count: int) -> Fault:
    return Fault(
        code="batch-few",
        field="jobs",
        found=f"{count} {'job' if count == 1 else 'jobs'}",
        allowed=f"2 to {MOST_JOBS} jobs that are made together",
        do="Name the job files one after another, or a batch file that lists them.",
        file=file,
    )


def _of_the_list(batch: BatchFile, folder: Path, file: str) -> Iterator[Fault]:
    jobs = batch.jobs
    if not 1 < len(jobs) <= MOST_JOBS:
        yield _few(file, len(jobs))
    first: dict[str, int] = {}
    for n, entry in enumerate(jobs):
        at = first.setdefault(str((folder / entry.job).resolve()), n)
        if at != n:
            yield Fault(
                code="batch-twice",
                field=f"jobs[{n}].job" if file else "jobs",
                found=f'"{Path(entry.job).name}" a second time',
                allowed="each job once",
                do="Name it once; write `count` in its case to make more of it, or copy the file and change it.",
                file=file,
            )
    yield from _of_marks(jobs, file)


def _of_marks(jobs: Sequence[BatchEntry], file: str) -> Iterator[Fault]:
    seen: set[str] = set()
    for n, entry in enumerate(jobs):
        mark = entry.mark or str(n + 1)
        wrong = not _MARK.fullmatch(mark)
        if wrong or mark.casefold() in seen:
            yield Fault(
                code="batch-mark",
                field=f"jobs[{n}].mark",
                found=f'"{mark}"' if wrong else f'"{mark}" a second time',
                allowed="1 to 4 letters or figures (A to Z, 0 to 9), a different one for each job",
                do="Give each job a mark of its own.",
                file=file,
            )
        seen.add(mark.casefold())


def _of_units(files: Sequence[JobFile]) -> Iterator[Fault]:
    first = files[0].job
    for read in files[1:]:
        if read.job.unit is not first.unit:
            yield Fault(
                code="batch-units",
                field="units",
                found=f"a job in {_UNITS[read.job.unit]}, beside {_name_of(files[0])} in {_UNITS[first.unit]}",
                allowed="one unit on one bench",
                do="Make it on its own, or write its lengths with their unit and give it the same `units`.",
                file=_name_of(read),
            )


def _of_currencies(files: Sequence[JobFile]) -> Iterator[Fault]:
    named = [(f, f.job.currency) for f in files if f.job.currency]
    for read, currency in named[1:]:
        if currency != named[0][1]:
            yield Fault(
                code="batch-currency",
                field="currency",
                found=f'prices in "{currency}", beside {_name_of(named[0][0])} in "{named[0][1]}"',
                allowed="one currency in one buying list",
                do="Write its prices in the other currency, or buy for it separately.",
                file=_name_of(read),
            )


def _of_workshops(files: Sequence[JobFile]) -> Iterator[Fault]:
    first = files[0]
    for read in files[1:]:
        if read.workshop != first.workshop:
            yield Fault(
                code="batch-workshops",
                field="workshop",
                found=f"{_shop(read)}, where {_name_of(first)} has {_shop(first)}",
                allowed="one workshop for all the jobs",
                do="Name one workshop for all in a batch file, or in each of the jobs.",
                file=_name_of(read),
            )


def _shop(read: JobFile) -> str:
    return read.workshop_path.name if read.workshop_path is not None else "the built-in workshop"


def _name_of(read: JobFile) -> str:
    return read.path.name if read.path is not None else "job.toml"
