"""`storyrod new`: a first job file from a few sizes."""

from __future__ import annotations

import argparse
from dataclasses import replace
from pathlib import Path

from storyrod.adapters.files import new_job_text
from storyrod.adapters.files.editing import NewJob
from storyrod.faults import Fault, JobError, raise_if_any
from storyrod.measure.length import Unit, parse_length
from storyrod.model.job import BackKind, Holds


def write_new_job(arguments: argparse.Namespace) -> Path:
    """Write the job file and return its path.

    Raises:
        JobError: a size is no length, or the file is there already: nothing a maker wrote is overwritten.
    """
    path: Path = arguments.job if arguments.job.suffix else arguments.job.with_suffix(".toml")
    unit = Unit.INCH if arguments.inches else Unit.MM
    sizes, faults = {}, []
    for name in ("width", "height", "depth", "plinth"):
        try:
            sizes[name] = parse_length(_number(getattr(arguments, name)), unit)
        except JobError as error:
            faults += [replace(f, field=f"--{name}") for f in error.faults]
    if arguments.drawers < 0:
        faults.append(
            Fault(
                code="range",
                field="--drawers",
                found=str(arguments.drawers),
                allowed="0 or more",
                do="Say how many drawers there are, one above another.",
            )
        )
    if path.exists():
        faults.append(
            Fault(
                code="file-exists",
                field=str(path),
                found="a file of that name",
                allowed="a free name",
                do="Choose another name; an existing file is never overwritten.",
            )
        )
    raise_if_any(faults)
    answers = NewJob(
        title=arguments.title or path.stem.replace("-", " ").capitalize(),
        unit=unit,
        width=sizes["width"],
        height=sizes["height"],
        depth=sizes["depth"],
        holds=Holds.DRAWER if arguments.drawers > 0 else Holds.OPEN,
        how_many=max(1, arguments.drawers),
        plinth=sizes["plinth"] or None,
        back=BackKind.REBATED,
    )
    text = new_job_text(answers)
    _check(text)
    _write_new(path, text)
    return path


_OPTIONS = (
    ("cases[0].width", "--width"),
    ("cases[0].height", "--height"),
    ("cases[0].depth", "--depth"),
    ("cases[0].plinth", "--plinth"),
    ("cases[0].inside", "--drawers"),
    ("cases[0].drawers", "--drawers"),
)


def _check(text: str) -> None:
    """Work the job out before it is written: a maker's first file must be one that can be made.

    Raises:
        JobError: a case of these sizes cannot be made; each fault by the word of the command line that leads to it.
    """
    from storyrod.adapters.files import job_from_text
    from storyrod.planning import Plan

    try:
        read = job_from_text(text, name="the new job")
        raise_if_any(Plan(read.job, read.workshop).faults)
    except JobError as error:
        told: dict[tuple[str, str], Fault] = {}
        for fault in error.faults:
            option = next((o for path, o in _OPTIONS if fault.field.startswith(path)), "the case")
            told.setdefault((option, fault.code), replace(fault, field=option, line=None, file=""))
        raise JobError(*told.values()) from None


def _number(written: str) -> str | float:
    try:
        return float(written)
    except ValueError:
        return written


def _write_new(path: Path, text: str) -> None:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("x", encoding="utf-8") as out:
            out.write(text)
    except OSError as error:
        raise JobError(
            Fault(
                code="file-write",
                field=str(path),
                found=error.strerror or str(error),
                allowed="a folder that can be written",
                do="Choose another place.",
            )
        ) from None
