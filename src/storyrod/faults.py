"""How wrong input is told to a maker: every fault at once, each with a way out.

Three kinds are kept apart: a `Fault` stops the plan, a `Caution` goes on and is printed where the hand will
be, and anything else that goes wrong is a bug of ours. Every code has its paragraph in `docs/fault-codes.md`.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Final

OUR_SLIP: Final = "This is a mistake in storyrod, not yours. Please report it with the job file."
"""What to do about a fault that no job should be able to bring about."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WayOut:
    """One change that clears a fault, from whoever found it: what a field is to be.

    Attributes:
        field: the path of the field that is changed; "" for the one that is at fault.
        value: what it is to be, a length in mm where `is_length`; None where it is to be left out.
    """

    field: str
    value: float | int | str | bool | None
    is_length: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One reason why a job cannot be built as written.

    Attributes:
        code: stable name, a paragraph in the docs.
        field: where the maker typed it, joined on the way up, as in `cases[0].inside.rows[1].height`.
        found: what stands there, with its unit.
        allowed: what may stand there.
        do: what to do next, in workshop words.
        line: line of the file, from 1, where it is known.
        file: name of the file, where there is more than one.
        ways: changes that clear it, the likeliest first.
        ids: ids of the joints that it concerns, of which another method may clear it.
    """

    code: str
    field: str
    found: str
    allowed: str
    do: str
    line: int | None = None
    file: str = ""
    ways: tuple[WayOut, ...] = dataclasses.field(default=(), repr=False, compare=False)
    ids: tuple[str, ...] = dataclasses.field(default=(), repr=False, compare=False)

    def at(self, path: str) -> Fault:
        """Return the same fault at a field, its ways out with it."""
        return replace(self, field=path, ways=tuple(w if w.field else replace(w, field=path) for w in self.ways))

    def __str__(self) -> str:
        place = self.field or "the file"
        if self.line is not None:
            place = f"{place} (line {self.line})"
        if self.file:
            place = f"{self.file}: {place}"
        return f"{place}: found {self.found}; allowed: {self.allowed}. {self.do}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """Something the maker must know that does not stop the plan.

    Attributes:
        code: stable name, a paragraph in the docs.
        about: what it concerns: a case, panel, joint or tool, in the maker's words.
        text: the caution itself, a whole sentence.
        do: what to do about it.
        ids: ids of the case, panels, joints or features it concerns.
    """

    code: str
    about: str
    text: str
    do: str = ""
    ids: tuple[str, ...] = ()

    def __str__(self) -> str:
        return f"{self.about}: {self.text} {self.do}".rstrip()


class JobError(ValueError):
    """The job cannot be built as written; `faults` holds every reason found."""

    def __init__(self, *faults: Fault) -> None:
        super().__init__("\n".join(map(str, faults)))
        self.faults = faults

    def under(self, place: str) -> JobError:
        """Return the same faults, seen from one level further out."""
        return JobError(*(_under(f, place) for f in self.faults))


def _under(fault: Fault, place: str) -> Fault:
    ways = tuple(replace(w, field=joined(place, w.field)) for w in fault.ways)
    return replace(fault, field=joined(place, fault.field), ways=ways)


def joined(outer: str, inner: str) -> str:
    """Return the path of `inner` inside `outer`, as `cases[0].depth`."""
    if not outer or not inner:
        return outer or inner
    return f"{outer}{inner}" if inner.startswith("[") else f"{outer}.{inner}"


def raise_if_any(faults: Iterable[Fault]) -> None:
    """Raise one `JobError` with all `faults`, or do nothing where there are none."""
    told = tuple(faults)
    if told:
        raise JobError(*told)


def within(
    field: str, value: float, low: float, high: float, *, do: str, code: str = "range", unit: str = "mm"
) -> tuple[Fault, ...]:
    """Return no fault, or the one that says `value` is not in `low`..`high`."""
    if low <= value <= high:  # also turns away NaN
        return ()
    found = "not a number" if math.isnan(value) else f"{value:g} {unit}".rstrip()
    allowed = f"{low:g} to {high:g} {unit}".rstrip()
    return (Fault(code=code, field=field, found=found, allowed=allowed, do=do),)
