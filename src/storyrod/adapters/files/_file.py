"""Reading a job file with the workshop file that it names."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path, PurePosixPath, PureWindowsPath
from typing import Any

from storyrod.adapters.files._checks import check_job
from storyrod.adapters.files._job import job_from
from storyrod.adapters.files._lines import Path as FieldPath
from storyrod.adapters.files._lines import find_lines, line_of, path_of
from storyrod.adapters.files._open import parse_toml, read_text
from storyrod.adapters.files._read import read_table
from storyrod.adapters.files._tables import table_of
from storyrod.adapters.files._told import lined, not_following, unit_in
from storyrod.adapters.files._workshop_reading import read_over, read_packaged
from storyrod.faults import Fault, JobError
from storyrod.model.job import Job, MethodChoice
from storyrod.model.workshop import Workshop

PACKAGED = "the built-in workshop"
"""What faults call the workshop file that comes with the package."""


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
        if _is_of_workshop(path):
            line = line_of(find_lines(self.workshop_text), path) if self.workshop_text else None
            name = self.workshop_path.name if self.workshop_path and line is not None else PACKAGED
            return replace(fault, line=line, file=fault.file or name)
        return replace(fault, line=line_of(find_lines(self.text), path))


def _is_of_workshop(path: FieldPath) -> bool:
    """Return whether a field is of the workshop file: a job chooses methods, a workshop describes them."""
    if path[0] == "methods":
        return len(path) > 1 and str(path[1]) not in table_of(MethodChoice)
    return str(path[0]) not in table_of(Job)


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
    inside: bool = False,
) -> JobFile:
    """Return the job of a text, as of a file.

    Args:
        text: what stands in the file.
        name: what the file is called; its title unless it has one.
        folder: where the workshop file that it names is looked for.
        path: where the file lies, if it does.
        workshop: taken in place of the one that the job names.
        inside: whether only a workshop file of that folder itself is read: who sends the text is no one who may read
            whatever lies on this machine.

    Raises:
        JobError: as `read_job`.
    """
    raw = parse_toml(text, name=name)
    shop, shop_path, shop_text, shop_faults = _workshop_of(raw, folder, workshop, inside=inside)
    job, faults = _job_in(raw, name, shop)
    if faults or shop_faults:
        own = (f for f in shop_faults if not f.file)
        raise JobError(*lined((*faults, *own), text), *(f for f in shop_faults if f.file))
    if job is None or shop is None:  # pragma: no cover - a file without faults has both
        raise JobError(*faults)
    return JobFile(
        path=path,
        job=job,
        workshop=shop,
        workshop_path=shop_path,
        digest=_digest(text, shop_text),
        text=text,
        workshop_text=shop_text,
    )


def job_from_tables(raw: dict[str, Any], workshop: Workshop, *, name: str) -> Job:
    """Return the job of tables as they are parsed from a job file, for a workshop that is read already.

    Raises:
        JobError: every fault, without lines.
    """
    job, faults = _job_in(raw, name, workshop)
    if faults or job is None:
        raise JobError(*faults)
    return job


def _job_in(raw: dict[str, Any], name: str, workshop: Workshop | None) -> tuple[Job | None, list[Fault]]:
    read = read_table(Job, raw, unit_in(raw))
    if read.table is None:
        return None, [*read.faults]
    job, more = job_from(read.table, name=name)
    checked = check_job(job, workshop) if workshop is not None else ()
    return job, [*read.faults, *not_following((*more, *checked), read.unknown)]


def _digest(*texts: str) -> str:
    import hashlib

    return hashlib.sha256("\0".join(texts).encode()).hexdigest()


def _workshop_of(
    raw: dict[str, Any], folder: Path | None, given: Workshop | None, *, inside: bool
) -> tuple[Workshop | None, Path | None, str, tuple[Fault, ...]]:
    """Return the workshop, its path, its text and its faults; a fault without file is the job file's own."""
    named = raw.get("workshop")
    if given is not None:
        return given, None, "", ()
    if not isinstance(named, str) or not named.strip():
        return packaged_workshop(), None, "", ()
    if inside and not _lies_in(folder or Path(), named.strip()):
        return None, None, "", (_not_inside(named),)
    path = (folder or Path()) / named.strip()
    if (
        path.suffix.lower() != ".toml"
    ):  # what is wrong with a file is told by its lines: of no other file on the machine
        return None, path, "", (_no_workshop(named),)
    try:
        text = read_text(path, "workshop", "workshop")
        return workshop_from_text(text, name=path.name), path, text, ()
    except JobError as error:  # told by the name that the job gives it, as its maker knows it
        return None, path, "", tuple(replace(f, found=f.found.replace(str(path), named)) for f in error.faults)


def _lies_in(folder: Path, named: str) -> bool:
    """Return whether a name is of a file in the folder itself: seen by the name, before the disk is asked anything."""
    if named != PureWindowsPath(named).name or named != PurePosixPath(named).name or named in {"", ".", ".."}:
        return False
    try:
        return (folder / named).resolve().parent == folder.resolve()
    except (OSError, ValueError, RuntimeError):
        return False


def _not_inside(named: str) -> Fault:
    return Fault(
        code="workshop-name",
        field="workshop",
        found=f'"{named[:80]}"',
        allowed="on the page, the name of a workshop file in the folder of the jobs, which ends in .toml",
        do="Put the workshop file beside the job and name it alone, or leave the line out to use the built-in one.",
    )


def _no_workshop(named: str) -> Fault:
    return Fault(
        code="workshop-name",
        field="workshop",
        found=f'"{named[:80]}"',
        allowed="the name of a workshop file, which ends in .toml",
        do="Name the workshop file, or leave the line out to use the built-in workshop.",
    )


def read_workshop(path: Path | str) -> Workshop:
    """Return the workshop of a file, laid over the packaged one.

    Raises:
        JobError: every fault of the file, each with its line.
    """
    where = Path(path)
    return workshop_from_text(read_text(where, "workshop"), name=where.name)


def workshop_from_text(text: str, *, name: str) -> Workshop:
    """Return the workshop of a text, laid over the packaged one.

    Raises:
        JobError: as `read_workshop`.
    """
    return read_over(packaged_workshop(), text, name=name)


@cache
def packaged_workshop() -> Workshop:
    """Return the plain workshop that comes with the package."""
    return read_packaged()
