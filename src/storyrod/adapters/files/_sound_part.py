"""What can still be built of a job file that has faults, so that faults of building are told with those of reading.

A field that is wrong can change how its own case is built, and a field of boards, methods or limits every case. So
only whole cases are taken that no fault touches, and none where a fault touches what all cases share: what is found in
them holds however the rest is mended.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Final

from storyrod.adapters.files._checks import check_job
from storyrod.adapters.files._file import JobFile, packaged_workshop, read_workshop
from storyrod.adapters.files._job import job_from
from storyrod.adapters.files._lines import Path as FieldPath
from storyrod.adapters.files._lines import path_of
from storyrod.adapters.files._open import parse_toml, read_text
from storyrod.adapters.files._read import read_table
from storyrod.adapters.files._told import not_following, unit_in
from storyrod.faults import JobError
from storyrod.model.job import Job

PLAIN: Final = ("title", "maker", "customer", "note", "currency", "paper")
"""Fields of a job that change nothing of how it is built."""

PLAIN_IN_CASE: Final = ("name", "count")


def sound_part(path: Path | str) -> JobFile | None:
    """Return the job of a file with its sound cases only; None where there is none, or what all share is wrong."""
    where = Path(path)
    try:
        return _sound_part(where)
    except JobError:  # no file, no TOML, or a workshop that cannot be read
        return None


def _sound_part(where: Path) -> JobFile | None:
    text = read_text(where)
    raw = parse_toml(text, name=where.name)
    read = read_table(Job, raw, unit_in(raw))
    if read.table is None:
        return None
    named = raw.get("workshop")
    shop_path = where.parent / named.strip() if isinstance(named, str) and named.strip() else None
    shop = packaged_workshop() if shop_path is None else read_workshop(shop_path)
    job, together = job_from(read.table, name=where.name)
    following = not_following((*together, *check_job(job, shop)), read.unknown)
    touched = {path_of(f.field) for f in (*read.faults, *following)} | set(read.unknown)
    if any(_touches_all(p) for p in touched):
        return None
    wrong = {p[1] for p in touched if p[0] == "cases" and not _is_plain(p)}
    cases = tuple(case for number, case in enumerate(job.cases) if number not in wrong)
    if not cases:
        return None
    codes = {case.code for case in cases}
    sound = replace(job, cases=cases, overrides=tuple(o for o in job.overrides if o.case in codes))
    shop_text = read_text(shop_path, "workshop") if shop_path else ""
    return JobFile(
        path=where, job=sound, workshop=shop, workshop_path=shop_path, digest="", text=text, workshop_text=shop_text
    )


def _is_plain(path: FieldPath) -> bool:
    """Return whether a field changes nothing of how anything is built."""
    if not path:
        return False
    if path[0] == "cases":
        return len(path) == 3 and path[2] in PLAIN_IN_CASE
    if path[0] == "boards":
        return len(path) > 2 and path[2] == "sheets"
    return path[0] in PLAIN


def _touches_all(path: FieldPath) -> bool:
    return not _is_plain(path) and (len(path) < 2 or path[0] != "cases")
