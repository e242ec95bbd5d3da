"""Rows whose heights follow from the heights of their fronts: given front by front, or graduated from the top down.

With `n` fronts that share `F` in all, `equal` ones are `F / n` high; by a step `s` the first of an arithmetic
progression is `(F - s n (n - 1) / 2) / n`; by a ratio `r` the first of a geometric one `F (r - 1) / (r^n - 1)`: the
sums of the two progressions, solved for their first member (any textbook of school algebra).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from storyrod.carcass._covers import cover_over
from storyrod.carcass._making import Making
from storyrod.carcass._shell import LEAST_INSIDE
from storyrod.carcass._sums import Term, told
from storyrod.faults import WayOut
from storyrod.measure.tolerance import EXACT
from storyrod.model.job import FrontKind, GraduatedBy, Graduation, Holds, Opening, OuterSide

if TYPE_CHECKING:
    from storyrod.carcass._inside import Bay, Bound

_FRONTED: Final = frozenset({Holds.DRAWER, Holds.DOOR, Holds.PAIR_OF_DOORS})


@dataclass(frozen=True, slots=True)
class Covers:
    """How far the front of a row lies over what is above it and below it (mm); below 0 where it stays short."""

    above: float
    below: float

    @property
    def both(self) -> float:
        """How much higher the front is than its opening."""
        return self.above + self.below


def covers_of(making: Making, bay: Bay, row: Opening, bounds: tuple[Bound, Bound]) -> Covers:
    """Return how far a row's front would lie over what bounds it, which need not be in its place yet."""
    behind = bay.behind_door or bay.node.holds in {Holds.DOOR, Holds.PAIR_OF_DOORS}
    inset = behind or (row.front_kind or making.case.fronts.kind) is FrontKind.INSET
    above, below = (
        cover_over(making, bound, side, inset=inset, behind_door=behind)
        for bound, side in zip(bounds, (OuterSide.TOP, OuterSide.BOTTOM), strict=True)
    )
    return Covers(above, below)


def sized_by_fronts(
    making: Making, bay: Bay, bounds: Sequence[tuple[Bound, Bound]], thick: float
) -> tuple[Opening, Mapping[int, str]] | None:
    """Return a bay whose rows have the heights that their fronts ask for, with the sum of each such height.

    `bounds` are what each row ends at above and below, `thick` is how thick the panels between them are. None after
    noting why the fronts cannot be so high.
    """
    rows = list(bay.node.inside)
    covers = [covers_of(making, bay, row, b) for row, b in zip(rows, bounds, strict=True)]
    fronts = {i: row.front_height for i, row in enumerate(rows) if row.front_height is not None}
    if bay.node.graduated is not None:
        grown = _graduated(making, bay, covers, thick)
        if grown is None:
            return None
        fronts |= grown
    for i, front in fronts.items():
        if front - covers[i].both < LEAST_INSIDE - EXACT:
            _tell_low(making, bay, i, front, covers[i])
            return None
    unit = making.job.unit
    inside = (
        replace(row, size=fronts[i] - covers[i].both, parts=1.0) if i in fronts else row for i, row in enumerate(rows)
    )
    sums = {i: told(unit, f, Term(-1, covers[i].above), Term(-1, covers[i].below)) for i, f in fronts.items()}
    return replace(bay.node, inside=tuple(inside)), sums


def _graduated(making: Making, bay: Bay, covers: Sequence[Covers], thick: float) -> dict[int, float] | None:
    """Return the heights of the fronts that grow from the top down, or None after noting why they cannot."""
    rows = bay.node.inside
    grow = [i for i, r in enumerate(rows) if r.holds in _FRONTED and r.size is None and r.front_height is None]
    loose = [r for i, r in enumerate(rows) if r.size is None and r.front_height is None and i not in grow]
    asked = bay.node.graduated
    if asked is None:
        return {}
    if loose or not grow or any(r.shelf_at is not None for r in rows):
        what = next((r.name or r.field for r in loose), "") if loose else ""
        making.fault(
            "graduated",
            asked.field,
            found="graduated fronts, and " + _why_not(loose=bool(loose), grow=bool(grow)),
            allowed="rows with fronts that share the height; every other row with a height of its own",
            do=f"Give {what} a height, or leave `graduated` out." if what else "Leave `graduated` out.",
            ways=(WayOut(field=asked.field, value=None),),
        )
        return None
    partings = sum(r.parted for r in rows[:-1]) * thick
    taken = sum(r.size or 0.0 for r in rows)
    taken += sum(r.front_height - covers[i].both for i, r in enumerate(rows) if r.front_height is not None)
    in_all = bay.height - partings - taken + sum(covers[i].both for i in grow)
    return dict(zip(grow, progression(asked, in_all, len(grow)), strict=True))


def _why_not(*, loose: bool, grow: bool) -> str:
    if not grow:
        return "no front that shares the height"
    return "a row without a front and without a height" if loose else "a shelf at a height of its own"


def progression(asked: Graduation, in_all: float, count: int) -> tuple[float, ...]:
    """Return `count` heights (mm) that come to `in_all`, each higher than the one before it as is asked for."""
    if asked.by is GraduatedBy.RATIO:
        first = in_all * (asked.ratio - 1) / (asked.ratio**count - 1)
        return tuple(first * asked.ratio**i for i in range(count))
    step = asked.step if asked.by is GraduatedBy.STEP else 0.0
    first = (in_all - step * count * (count - 1) / 2) / count
    return tuple(first + step * i for i in range(count))


def _tell_low(making: Making, bay: Bay, i: int, front: float, covers: Covers) -> None:
    """Note a front so low that nothing is left of the row behind it."""
    row = bay.node.inside[i]
    given = row.front_height is not None
    field = f"{row.field}.front_height" if given else (bay.node.graduated or Graduation(by=GraduatedBy.EQUAL)).field
    least = LEAST_INSIDE + covers.both
    making.fault(
        "front-height",
        field,
        found=f"a front {making.mm(max(0.0, front))} high in {bay.name}",
        allowed=f"at least {making.least(least)}",
        do="Make it higher." if given else "Use a smaller step or ratio, fewer rows, or a taller case.",
        ways=(making.at_least(least), WayOut(field="", value=None)) if given else (WayOut(field="", value=None),),
    )
