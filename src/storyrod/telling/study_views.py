"""What a study is drawn as: a curve with its steps, and a map of which option is best where, with how sure.

Only what can be made and keeps its conditions is drawn: rows that have a rank, which is what the study asks the least
of. Money is whole cents, as in the rows.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from storyrod.model.study import Cell, Column, Kind, Row

MOST_LINES: Final = 5
"""So many options have a line each; of more, the best of all of them is drawn."""

FEWEST_ON_CURVE: Final = 3
"""A curve has so many places at least."""

CLOSE: Final = 0.02
"""Options nearer to each other than this share are as good as even: no minutes are known so well. No source."""

BEST_OF_ALL: Final = "the best of all"


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """One place of a curve; `is_step` where the number of sheets is another than at the place before."""

    at: float
    figure: float
    is_step: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Curve:
    """The figure over one thing that varies, a line for each option; the places of a line in order."""

    across: str
    lines: tuple[tuple[str, tuple[Point, ...]], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Best:
    """The best option at one place of a map.

    Attributes:
        second: the next best; "" where no other can be made.
        ahead: by what share of its own figure the second is worse; None where there is none.
    """

    across: float
    up: float
    option: str
    figure: float
    second: str
    ahead: float | None

    @property
    def is_close(self) -> bool:
        """Whether the second is as good as even."""
        return self.ahead is not None and self.ahead < CLOSE


@dataclass(frozen=True, slots=True, kw_only=True)
class BestMap:
    """Which option is best over two things that vary; places in order, options as they first come."""

    across: str
    up: str
    options: tuple[str, ...]
    places: tuple[Best, ...]


def curve_of(columns: Sequence[Column], rows: Iterable[Row], names: Sequence[str]) -> Curve | None:
    """Return the curve of a study over the number that takes most values; None where none takes three.

    `names` are those of the fields that vary, which are the first columns.
    """
    ranked = [r for r in rows if r.rank is not None]
    numbers = _numbers(columns, ranked, len(names))
    if not numbers or len({r.cells[numbers[0]] for r in ranked}) < FEWEST_ON_CURVE:
        return None
    x = numbers[0]
    options = [n for n in range(len(names)) if n != x]
    sheets = next((n for n, c in enumerate(columns) if c.name == "sheets"), None)
    grouped: dict[str, dict[float, Row]] = {}
    several = len({_option(r, options, names) for r in ranked}) > MOST_LINES
    for row in ranked:
        line = grouped.setdefault(BEST_OF_ALL if several else _option(row, options, names), {})
        at = _number(row.cells[x])
        if at not in line or _rank(row) < _rank(line[at]):
            line[at] = row
    return Curve(across=names[x], lines=tuple((label, _points(line, sheets)) for label, line in grouped.items()))


def map_of(columns: Sequence[Column], rows: Iterable[Row], names: Sequence[str]) -> BestMap | None:
    """Return which option is best over the two numbers that take most values; None where there is nothing to choose."""
    ranked = [r for r in rows if r.rank is not None]
    numbers = _numbers(columns, ranked, len(names))
    if len(numbers) < 2 or any(len({r.cells[n] for r in ranked}) < 2 for n in numbers[:2]):
        return None
    x, y = sorted(numbers[:2])
    options = [n for n in range(len(names)) if n not in {x, y}]
    found = tuple(dict.fromkeys(_option(r, options, names) for r in ranked))
    if len(found) < 2:
        return None
    at: dict[tuple[float, float], list[Row]] = {}
    for row in ranked:
        at.setdefault((_number(row.cells[x]), _number(row.cells[y])), []).append(row)
    places = (_best(place, at[place], options, names) for place in sorted(at))
    return BestMap(across=names[x], up=names[y], options=found, places=tuple(places))


def _best(place: tuple[float, float], rows: Sequence[Row], options: Sequence[int], names: Sequence[str]) -> Best:
    first, *others = sorted(rows, key=lambda r: (_rank(r), r.number))
    second = others[0] if others else None
    least = _rank(first)
    return Best(
        across=place[0],
        up=place[1],
        option=_option(first, options, names),
        figure=least,
        second="" if second is None else _option(second, options, names),
        ahead=None if second is None else (_rank(second) - least) / least if least > 0 else 0.0,
    )


def _points(line: dict[float, Row], sheets: int | None) -> tuple[Point, ...]:
    points: list[Point] = []
    before: Cell = None
    for at in sorted(line):
        now = None if sheets is None else line[at].cells[sheets]
        points.append(Point(at=at, figure=_rank(line[at]), is_step=bool(points) and now != before))
        before = now
    return tuple(points)


def _numbers(columns: Sequence[Column], rows: Sequence[Row], varied: int) -> list[int]:
    """Return the columns of numbers that vary, that with most values first."""
    numbers = [n for n in range(varied) if columns[n].kind is Kind.NUMBER]
    return sorted(numbers, key=lambda n: (-len({r.cells[n] for r in rows}), n))


def _option(row: Row, options: Sequence[int], names: Sequence[str]) -> str:
    """Return an option in words; one that varies by words alone needs no name before it."""
    told = (f"{c:g}" if isinstance(c, float) else str(c) for c in (row.cells[n] for n in options))
    values = list(told)
    if len(values) == 1 and isinstance(row.cells[options[0]], str):
        return values[0]
    return ", ".join(f"{names[n]} {value}" for n, value in zip(options, values, strict=True))


def _rank(row: Row) -> float:
    return row.rank if row.rank is not None else 0.0


def _number(cell: Cell) -> float:
    return float(cell) if isinstance(cell, int | float) else 0.0
