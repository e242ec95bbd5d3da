"""Study files: read strictly, and the variants of the job that one asks for, by their number.

A variant is the job file's own tables with other values at a few places, read as the file itself is.
"""

from __future__ import annotations

import hashlib
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final

from storyrod.adapters.files._file import JobFile, job_from_tables, read_job
from storyrod.adapters.files._ladder import Ladder, Values, values_of
from storyrod.adapters.files._lines import Key, path_of
from storyrod.adapters.files._made import made
from storyrod.adapters.files._open import parse_toml, read_text
from storyrod.adapters.files._putting import field_in, got, put
from storyrod.adapters.files._read import read_table
from storyrod.adapters.files._told import lined, unit_in
from storyrod.faults import Fault, JobError, raise_if_any
from storyrod.model.job import Job
from storyrod.model.study import Asked, Combine, Study
from storyrod.model.workshop import Workshop

_LATER: Final = ("methods", "joints", "sheets", "price", "count")
"""What of a job the first stages do not read: fields with these names vary more quickly, so that most is shared."""

_LAST: Final = ("use",)
"""What only soundness and money read: these vary the quickest of all."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Varied:
    """One field that varies, and the values that it takes."""

    field: str
    path: tuple[Key, ...]
    values: Values

    @property
    def is_number(self) -> bool:
        """Whether every value is written as a plain number."""
        first = (self.values[0],) if isinstance(self.values, Ladder) else self.values
        return all(isinstance(v, int | float) and not isinstance(v, bool) for v in first)


@dataclass(frozen=True, slots=True, kw_only=True)
class Variants:
    """A study of a job: every variant by its number, from 0.

    Attributes:
        study: as its file says it.
        varied: the fields that vary, as the study has them.
        order: the same by how quickly they vary, the slowest first: what changes least is worked out least often.
        own: the job as its file has it, and `tables` the file as it is parsed.
        digest: a fingerprint of study, job and workshop: other rows may come of another.
    """

    study: Study
    varied: tuple[Varied, ...]
    order: tuple[int, ...]
    own: Job
    tables: dict[str, Any]
    workshop: Workshop
    name: str
    digest: str

    def __len__(self) -> int:
        """Return how many there are."""
        counts = [len(v.values) for v in self.varied]
        return counts[0] if self.study.combine is Combine.IN_STEP else math.prod(counts)

    def values(self, number: int) -> tuple[object, ...]:
        """Return the values of a variant, field by field as the study has them."""
        if self.study.combine is Combine.IN_STEP:
            return tuple(v.values[number] for v in self.varied)
        found: dict[int, object] = {}
        for n in reversed(self.order):
            number, at = divmod(number, len(self.varied[n].values))
            found[n] = self.varied[n].values[at]
        return tuple(found[n] for n in range(len(self.varied)))

    def job(self, number: int) -> Job:
        """Return a variant, read as its job file would be.

        Raises:
            JobError: every fault that can be known from the file alone.
        """
        return job_from_tables(self.written(number), self.workshop, name=self.name)

    def written(self, number: int) -> dict[str, Any]:
        """Return the tables of a variant's job file."""
        tables = self.tables
        for varied, value in zip(self.varied, self.values(number), strict=True):
            tables = put(tables, varied.path, value)
        return tables


def read_study(path: Path | str) -> Variants:
    """Return the variants of a study file.

    Raises:
        JobError: every fault of the study file with its line, or those of the job file.
    """
    where = Path(path)
    text = read_text(where, "study")
    study = study_of(text, name=where.name)
    if Path(study.job).suffix.lower() != ".toml":  # no other file of the machine is quoted by its faults
        named = Fault(
            code="study-job",
            field="job",
            found=f'"{study.job[:80]}"',
            allowed="the name of a job file, which ends in .toml",
            do="Name the job file, beside the study file.",
        )
        raise JobError(*lined([named], text, where.name))
    try:
        job = read_job(where.parent / study.job)
    except JobError as error:
        raise JobError(*(f if f.file else replace(f, file=study.job) for f in error.faults)) from None
    try:
        return variants_of(study, job)
    except JobError as error:
        raise JobError(*lined(error.faults, text, where.name)) from None


def study_of(text: str, *, name: str) -> Study:
    """Return the study that stands in a text, as in a file of that name.

    Raises:
        JobError: every fault that can be known without the job, with its line.
    """
    raw = parse_toml(text, name=name, what="study")
    read = read_table(Study, raw, unit_in(raw))
    if read.faults or read.table is None:
        raise JobError(*lined(read.faults, text, name))
    return made(Study, read.table, "")


def variants_of(study: Study, job: JobFile) -> Variants:
    """Return the variants of a study of a job.

    Raises:
        JobError: every fault of what varies.
    """
    tables = parse_toml(job.text, name=job.path.name if job.path else "job.toml")
    if study.price_list is not None:  # it is made of these, whatever else is asked
        study = replace(study, ask=tuple(dict.fromkeys((*study.ask, Asked.PRICE))))
    faults: list[Fault] = []
    varied: list[Varied] = []
    for n, vary in enumerate(study.vary):
        path = path_of(vary.varies)
        try:
            of = field_in(tables, path, f"vary[{n}].field")
            values = values_of(vary, of, got(tables, path), unit_in(tables), f"vary[{n}]")
            varied.append(Varied(field=vary.varies, path=path, values=values))
        except JobError as error:
            faults += error.faults
    raise_if_any([*faults, *(() if faults else _together(study, varied))])
    order = sorted(range(len(varied)), key=lambda n: _comes_late(varied[n].path))
    told = hashlib.sha256(f"{study!r}\0{job.digest}".encode()).hexdigest()
    name = job.path.name if job.path else "job.toml"
    return Variants(
        study=study,
        varied=tuple(varied),
        order=tuple(order),
        own=job.job,
        tables=tables,
        workshop=job.workshop,
        name=name,
        digest=told,
    )


def _together(study: Study, varied: Sequence[Varied]) -> list[Fault]:
    """Return what is wrong with the fields that vary, taken together."""
    if not varied:
        return [_fault("study-range", "vary", "nothing that varies", "one field or more", "Write a table [[vary]].")]
    fields = [v.field for v in varied]
    twice = next((n for n, v in enumerate(varied) if v.path in [w.path for w in varied[:n]]), None)
    if twice is not None:
        at = f"vary[{twice}].field"
        return [
            _fault("study-range", at, f'"{fields[twice]}" a second time', "each field once", "Keep one of the two.")
        ]
    counts = [len(v.values) for v in varied]
    if study.combine is Combine.IN_STEP and len(set(counts)) > 1:
        told = " and ".join(f"{c} of {f}" for c, f in zip(counts, fields, strict=True))
        return [_fault("study-range", "combine", told, "as many of each", 'Write as many, or combine = "all".')]
    return []


def _comes_late(path: Sequence[Key]) -> int:
    """Return by how much more quickly a field varies than others: 0, 1 or 2."""
    if path[0] in _LAST:
        return 2
    return int(any(str(key).startswith(_LATER) for key in path))


def _fault(code: str, at: str, found: str, allowed: str, do: str) -> Fault:
    return Fault(code=code, field=at, found=found, allowed=allowed, do=do)


def as_written(value: object) -> str:
    """Return a value as it stands in a file."""
    from storyrod.adapters.files._values import write

    return write(value)


def resized(job: JobFile, case: int | None, size: str, mm: float) -> Job:
    """Return the job of a file with another `width`, `height` or `depth` of a case, or of every case (None), read as
    its file would be.

    Raises:
        JobError: every fault that can be known from the file alone.
    """
    from storyrod.adapters.files._values import length

    name = job.path.name if job.path else "job.toml"
    written = parse_toml(job.text, name=name)
    for n in range(len(job.job.cases)) if case is None else (case,):
        written = put(written, ("cases", n, size), length(mm, unit_in(written)))
    return job_from_tables(written, job.workshop, name=name)


def written_at(variants: Variants, number: int, varied: Varied) -> Any:  # noqa: ANN401 - what TOML may hold
    """Return what the job file of a variant has at a field that varies: of openings, the openings themselves."""
    return got(variants.written(number), varied.path)
