"""The values that a field takes in a study: those of a list, or of a range with its step."""

from __future__ import annotations

import math
from dataclasses import dataclass

from storyrod.adapters.files._fields import show
from storyrod.adapters.files._putting import OPENINGS
from storyrod.adapters.files._values import length
from storyrod.faults import Fault, JobError
from storyrod.measure.length import Unit, parse_length
from storyrod.model.study import Vary
from storyrod.model.written import Field, Length, Number, OneOf, Size

type Values = Ladder | tuple[object, ...]

_DUST = 1e-6


@dataclass(frozen=True, slots=True)
class Ladder:
    """The values of a range: `count` of them, each a step on; none is made before it is asked for."""

    start: float
    step: float
    count: int
    unit: Unit | None

    def __len__(self) -> int:
        """Return how many there are."""
        return self.count

    def __getitem__(self, n: int) -> object:
        """Return one, as it is written in the job: a length in its unit, or a plain number."""
        if not 0 <= n < self.count:
            raise IndexError(n)
        value = round(self.start + n * self.step, 6)
        if self.unit is not None:
            return length(value, self.unit)
        return int(value) if value == int(value) else value


def values_of(vary: Vary, of: Field, written: object, unit: Unit, at: str) -> Values:
    """Return the values that a field takes.

    Args:
        vary: as the study says it.
        of: the field of the job that varies.
        written: what the job has there; None where it is left out.
        unit: of the job's bare lengths.
        at: where the study says it, for the faults: `vary[0]`.

    Raises:
        JobError: neither or both of a list and a range, a range that is not whole or runs backwards, or one of words.
    """
    ends = {"from": vary.start, "to": vary.stop, "near": vary.near, "step": vary.step}
    given = [name for name, value in ends.items() if value is not None]
    if vary.values and not given:
        return vary.values
    if vary.values or given not in (["from", "to", "step"], ["near", "step"]):
        raise _refused(
            "study-range",
            at,
            ", ".join([*(["values"] if vary.values else []), *given]) or "no values",
            "`values`; or `from`, `to` and `step`; or `near` and `step`",
            "Write one of the three.",
        )
    is_count = isinstance(of.rule, Number | OneOf) or of.name in OPENINGS
    if not (is_count or isinstance(of.rule, Length | Size)):
        raise _refused("study-range", at, f"a range of {vary.varies}", "a list", "Write its `values` one by one.")
    is_length = not is_count
    figures = {n: _figure(ends[n], unit if is_length else None, f"{at}.{n}") for n in given}
    start, stop = _ends(figures, written, unit if is_length else None, at, vary.varies)
    step = figures["step"]
    if not step > 0 or stop < start:
        name = "step" if not step > 0 else "to" if "to" in given else "near"
        found = ends[name]
        least = f"{show(vary.start)} or more, where the range begins" if name == "to" else "more than nothing"
        raise _refused(
            "study-backwards", f"{at}.{name}", show(found), least, "Swap `from` and `to`, or correct the step."
        )
    return Ladder(start, step, math.floor((stop - start) / step + _DUST) + 1, unit if is_length else None)


def _ends(figures: dict[str, float], written: object, unit: Unit | None, at: str, field: str) -> tuple[float, float]:
    if "near" not in figures:
        return figures["from"], figures["to"]
    if written is None:
        raise _refused(
            "study-range",
            f"{at}.near",
            f"no {field} in the job",
            "a field that is written there",
            "Write `from`, `to`.",
        )
    middle, near, step = _figure(written, unit, f"{at}.field"), figures["near"], figures["step"]
    if near < 0 or step <= 0:
        return middle, middle - abs(near)  # told as a range that runs backwards
    steps = math.floor(near / step + _DUST)
    return middle - steps * step, middle + steps * step


def _figure(value: object, unit: Unit | None, at: str) -> float:
    if unit is None:
        if isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value):
            return value
        raise _refused("study-range", at, show(value), "a plain number", "Write a number, or a list of `values`.")
    try:
        return parse_length(value, unit)
    except JobError as error:
        found = error.faults[0]
        raise _refused("study-range", at, found.found, found.allowed, found.do) from None


def _refused(code: str, at: str, found: str, allowed: str, do: str) -> JobError:
    return JobError(Fault(code=code, field=at, found=found, allowed=allowed, do=do))
