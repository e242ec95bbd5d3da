"""The faults that wait, each with its place in a maker's words and the address at which it is mended."""

from __future__ import annotations

import re
from dataclasses import dataclass
from urllib.parse import quote, urlencode

from storyrod.adapters.web._brief_fields import Paper, field_id, place_words
from storyrod.adapters.web._cautions_shown import Way
from storyrod.adapters.web._fault_stages import stage_of_fault
from storyrod.adapters.web._ways_out import ways_out
from storyrod.adapters.web._worked import Worked
from storyrod.faults import Fault


@dataclass(frozen=True, slots=True, kw_only=True)
class Wait:
    """A fault that waits."""

    place: str
    field: str
    where: str
    words: str
    href: str
    ways: tuple[Way, ...] = ()


def waits_of(worked: Worked) -> tuple[Wait, ...]:
    """Return every fault known so far."""
    paper = Paper.of(worked) if worked.known else None
    return tuple(_wait(fault, worked, paper) for fault in worked.known) if paper is not None else ()


def _wait(fault: Fault, worked: Worked, paper: Paper) -> Wait:
    """Return a fault as it waits; lines of a file are told where it is mended in the file's text alone."""
    job = worked.name
    is_elsewhere = bool(fault.file) and fault.file != f"{job}.toml"
    line = f"line {fault.line}" if fault.line is not None and (is_elsewhere or not paper.raw) else ""
    where = f"{line} of {fault.file}" if line and fault.file else line or (fault.file if is_elsewhere else "")
    return Wait(
        place=place_words(fault.field, paper.raw) if not fault.file else fault.field or fault.file,
        field=fault.field,
        where=where,
        words=f"Found {fault.found}; allowed: {fault.allowed}. {fault.do}",
        href=_href(fault, job, readable=bool(paper.raw)),
        ways=ways_out(worked, fault, paper.raw),
    )


def _href(fault: Fault, job: str, *, readable: bool) -> str:
    if fault.file and fault.file != f"{job}.toml":
        return "/workshop"
    if not readable:
        return f"/job/{quote(job)}/text"
    stage = stage_of_fault(fault)
    if stage != "brief":
        return f"/job/{quote(job)}/{stage}"
    case = re.match(r"cases\[(\d+)\]", fault.field)
    opening = re.match(r"cases\[\d+\]\.inside(\.(rows|columns)\[\d+\])*", fault.field)
    told = ({"case": case[1]} if case and case[1] != "0" else {}) | ({"at": opening[0]} if opening else {})
    return f"/job/{quote(job)}/brief{'?' if told else ''}{urlencode(told)}#{field_id(fault.field)}"
