"""Reading a job file with the workshop file that it names."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cache
from importlib import resources
from pathlib import Path
from typing import Any

from storyrod.adapters.files._checks import check_job
from storyrod.adapters.files._job import job_from
from storyrod.adapters.files._job_file import JobTable
from storyrod.adapters.files._lines import Path as FieldPath
from storyrod.adapters.files._lines import find_lines, line_of, path_of, path_text
from storyrod.adapters.files._open import parse_toml, read_text
from storyrod.adapters.files._read import Read, read_table
from storyrod.adapters.files._workshop import EMPTY, workshop_from
from storyrod.adapters.files._workshop_checks import check_workshop
from storyrod.adapters.files._workshop_file import WorkshopTable
from storyrod.adapters.files.methods import methods_from, packaged_methods
from storyrod.faults import Fault, JobError, raise_if_any
from storyrod.measure.length import Unit
from storyrod.model.job import Job
from storyrod.model.method import Method
from storyrod.model.workshop import Workshop

PACKAGED = "the packaged workshop"
"""What faults call the workshop file that comes with the package."""

_WORKSHOP_FIELDS = frozenset(WorkshopTable.model_fields) - frozenset(JobTable.model_fields) | {"methods"}


@dataclass(frozen=True, slots=True, kw_only=True)
class JobFile:
    """A job file and its workshop file, read and checked.

    Attributes:
        path: where the job file lies; None for a text that came from elsewhere.
        text: the job file as it is written.
        workshop_path: the workshop file; None where the packaged one serves.
        digest: a fingerprint of both texts: the same as long as neither has changed.
    """

    path: Path | None
    job: Job
    workshop: Workshop
    workshop_path: Path | None
    digest: str
    text: str
    workshop_text: str = ""

    def located(self, error: JobError) -> JobError:
        """Return the same faults with the line, and the workshop file where it is that, of each field."""
        return JobError(*(self._located(f) for f in error.faults))

    def _located(self, fault: Fault) -> Fault:
        if fault.line is not None or not fault.field:
            return fault
        path = path_of(fault.field)
        of_job = path[0] != "methods" or (len(path) > 1 and str(path[1]) in _METHOD_FIELDS)
        if path[0] in _WORKSHOP_FIELDS and not (path[0] == "methods" and of_job):
            line = line_of(find_lines(self.workshop_text), path) if self.workshop_text else None
            name = self.workshop_path.name if self.workshop_path and line is not None else PACKAGED
            return replace(fault, line=line, file=fault.file or name)
        return replace(fault, line=line_of(find_lines(self.text), path))


_METHOD_FIELDS = frozenset({"corner", "mid_panel", "plinth", "back", "drawer_box"})


def read_job(path: Path | str) -> JobFile:
    """Return the job of a file, with the workshop that it names, or the packaged one.

    Raises:
        JobError: every fault of both files that can be known from them alone, each with its line.
    """
    where = Path(path)
    text = read_text(where)
    return job_from_text(text, name=where.name, folder=where.parent, path=where)


def job_from_text(
    text: str,
    *,
    name: str,
    folder: Path | None = None,
    path: Path | None = None,
    workshop: Workshop | None = None,
) -> JobFile:
    """Return the job of a text, as of a file.

    Args:
        text: what stands in the file.
        name: what the file is called; its title unless it has one.
        folder: where the workshop file that it names is looked for.
        path: where the file lies, if it does.
        workshop: taken in place of the one that the job names.

    Raises:
        JobError: as `read_job`.
    """
    raw = parse_toml(text, name=name)
    read = read_table(JobTable, raw, _unit(raw))
    shop, shop_path, shop_text, shop_faults = _workshop_of(raw, folder, workshop)
    faults = [*read.faults]
    job = None
    if read.table is not None:
        job, more = job_from(read.table, name=name)
        checked = check_job(job, shop) if shop is not None else ()
        faults += _not_following((*more, *checked), read.unknown)
    if faults or shop_faults:
        own = (f for f in shop_faults if not f.file)
        raise JobError(*_lined((*faults, *own), text), *(f for f in shop_faults if f.file))
    if job is None or shop is None:  # pragma: no cover - a file without faults has both
        raise JobError(*read.faults)
    return JobFile(
        path=path,
        job=job,
        workshop=shop,
        workshop_path=shop_path,
        digest=_digest(text, shop_text),
        text=text,
        workshop_text=shop_text,
    )


def _digest(*texts: str) -> str:
    import hashlib

    return hashlib.sha256("\0".join(texts).encode()).hexdigest()


def _unit(raw: dict[str, Any]) -> Unit:
    written = raw.get("units")
    return Unit.INCH if isinstance(written, str) and written.strip().lower() == "in" else Unit.MM


def _workshop_of(
    raw: dict[str, Any], folder: Path | None, given: Workshop | None
) -> tuple[Workshop | None, Path | None, str, tuple[Fault, ...]]:
    """Return the workshop, its path, its text and its faults; a fault without file is the job file's own."""
    named = raw.get("workshop")
    if given is not None:
        return given, None, "", ()
    if not isinstance(named, str) or not named.strip():
        return packaged_workshop(), None, "", ()
    path = (folder or Path()) / named.strip()
    try:
        text = read_text(path, "workshop", "workshop")
        return workshop_from_text(text, name=path.name), path, text, ()
    except JobError as error:
        return None, path, "", error.faults


def _lined(faults: Iterable[Fault], text: str, file: str = "") -> tuple[Fault, ...]:
    """Return the faults in the order of their lines, each with its line."""
    lines = find_lines(text)
    told = []
    for fault in faults:
        line = fault.line if fault.line is not None else line_of(lines, path_of(fault.field))
        told.append(replace(fault, line=line, file=fault.file or file))
    return tuple(sorted(told, key=lambda f: f.line or 0))


def _not_following(faults: Iterable[Fault], unknown: Iterable[FieldPath]) -> tuple[Fault, ...]:
    """Return the faults that do not only follow from a field that was stood in for."""
    held_back = [path_text(p) for p in unknown]
    return tuple(f for f in faults if not any(_is_about(f.field, h) for h in held_back))


def _is_about(field: str, unknown: str) -> bool:
    if not unknown:
        return True
    return field == unknown or field.startswith((f"{unknown}.", f"{unknown}["))


def read_workshop(path: Path | str) -> Workshop:
    """Return the workshop of a file, laid over the packaged one.

    Raises:
        JobError: every fault of the file, each with its line.
    """
    where = Path(path)
    return workshop_from_text(read_text(where, "workshop"), name=where.name)


def workshop_from_text(text: str, *, name: str, start: Workshop | None = None) -> Workshop:
    """Return the workshop of a text, laid over `start` (the packaged one unless given).

    Raises:
        JobError: as `read_workshop`.
    """
    below = packaged_workshop() if start is None else start
    raw = parse_toml(text, name=name, what="workshop")
    read = read_table(WorkshopTable, raw, _unit(raw))
    methods, faults = _own_methods(read, _unit(raw))
    faults = [*read.faults, *faults]
    workshop = None
    if read.table is not None:
        workshop = workshop_from(read.table, name=Path(name).stem, methods=methods, start=below)
        faults += _not_following(check_workshop(workshop, read.table), read.unknown)
    if faults or workshop is None:
        raise JobError(*_lined(faults, text, name))
    return workshop


def _own_methods(read: Read[WorkshopTable], unit: Unit) -> tuple[tuple[Method, ...], list[Fault]]:
    if read.table is None or not read.table.methods:
        return (), []
    try:
        return methods_from(read.table.methods, unit, "methods"), []
    except JobError as error:
        return (), list(error.faults)


@cache
def packaged_workshop() -> Workshop:
    """Return the plain workshop that comes with the package."""
    text = resources.files("storyrod").joinpath("data/workshop.toml").read_text(encoding="utf-8")
    raw = parse_toml(text, name=PACKAGED, what="workshop")
    read = read_table(WorkshopTable, raw, Unit.MM)
    raise_if_any(read.faults)
    if read.table is None:  # pragma: no cover - the packaged file is tested
        raise JobError(*read.faults)
    workshop = workshop_from(read.table, name=PACKAGED, methods=packaged_methods(), start=EMPTY)
    raise_if_any(check_workshop(workshop, read.table))
    return workshop
