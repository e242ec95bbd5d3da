"""Reading workshop files."""

from __future__ import annotations

from pathlib import Path

from storyrod.adapters.files._open import data_text, parse_toml
from storyrod.adapters.files._read import Read, read_table
from storyrod.adapters.files._told import lined, not_following, unit_in
from storyrod.adapters.files._workshop import EMPTY, workshop_from
from storyrod.adapters.files._workshop_checks import check_workshop
from storyrod.adapters.files.methods import methods_from, packaged_methods
from storyrod.faults import Fault, JobError
from storyrod.measure.length import Unit
from storyrod.measure.writing import LengthWriter
from storyrod.model.method import Method
from storyrod.model.workshop import Workshop

PLAIN = "the built-in workshop"


def read_over(below: Workshop, text: str, *, name: str) -> Workshop:
    """Return the workshop of a text, laid over another.

    Raises:
        JobError: every fault of the text, each with its line.
    """
    raw = parse_toml(text, name=name, what="workshop")
    read = read_table(Workshop, raw, unit_in(raw))
    methods, faults = _own_methods(read, unit_in(raw))
    faults = [*read.faults, *faults]
    workshop = None
    if read.table is not None:
        workshop = workshop_from(read.table, name=Path(name).stem, methods=methods, start=below)
        faults += not_following(check_workshop(workshop, read.table, below, LengthWriter(unit_in(raw))), read.unknown)
    if faults or workshop is None:
        raise JobError(*lined(faults, text, name))
    return workshop


def read_packaged() -> Workshop:
    """Return the plain workshop as its files in the package say it."""
    start = Workshop(name=PLAIN, methods=packaged_methods(), runners=EMPTY.runners, hinges=EMPTY.hinges)
    return read_over(start, data_text("workshop.toml"), name=PLAIN)


def _own_methods(read: Read, unit: Unit) -> tuple[tuple[Method, ...], list[Fault]]:
    if read.table is None or not read.table["methods"]:
        return (), []
    try:
        return methods_from(read.table["methods"], unit, "methods"), []
    except JobError as error:
        return (), list(error.faults)
