"""Faults as they are told: each with its line, in the order of the file, and none that only follows from another."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from storyrod.adapters.files._lines import Path as FieldPath
from storyrod.adapters.files._lines import find_lines, line_of, path_of, path_text
from storyrod.adapters.files._read import MOST_FAULTS, and_more
from storyrod.faults import Fault
from storyrod.measure.length import Unit


def unit_in(raw: dict[str, Any]) -> Unit:
    """Return the unit of bare numbers that a file names, before anything else of it is read."""
    written = raw.get("units")
    return Unit.INCH if isinstance(written, str) and written.strip().lower() == "in" else Unit.MM


def lined(faults: Iterable[Fault], text: str, file: str = "") -> tuple[Fault, ...]:
    """Return the faults in the order of their lines, each with its line; the first few hundred of very many."""
    every = [*faults]
    more = len(every) - MOST_FAULTS - 1
    if more > 0:
        every[MOST_FAULTS:] = [and_more(more + 1)]
    lines = find_lines(text)
    told = []
    for fault in every:
        line = fault.line if fault.line is not None else line_of(lines, path_of(fault.field))
        told.append(replace(fault, line=line, file=fault.file or file))
    return tuple(sorted(told, key=lambda f: f.line or 0))


def not_following(faults: Iterable[Fault], unknown: Iterable[FieldPath]) -> tuple[Fault, ...]:
    """Return the faults that do not only follow from a field that was stood in for."""
    held_back = [path_text(p) for p in unknown]
    return tuple(f for f in faults if not any(_is_about(f.field, h) for h in held_back))


def _is_about(field: str, unknown: str) -> bool:
    if not unknown:
        return True
    if unknown.endswith(".thickness") and field == unknown.removesuffix("thickness") + "measured":
        return True  # compared with a thickness that was stood in for
    return field == unknown or field.startswith((f"{unknown}.", f"{unknown}["))
