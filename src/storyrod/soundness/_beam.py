"""Planks on supports, bending and shearing: an exact solution for straight stretches between nodes.

Each line (one plank) is cut at its supports and point loads into elements after Timoshenko (bending and shear);
between nodes the load is even, so the deflection found is exact, not sampled. Lines may share a level: the
upright between two of them that goes up and down as one. Small deflections, linear elastic, supports that
neither yield nor turn. For shear rigidity without bound the elements are those of Euler and Bernoulli.

Source: any text on matrix structural analysis; checked against tables and an independent frame program in the tests.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

Level = str
"""Names a height that goes up and down as one; the level `FIRM` never moves."""

FIRM: Level = ""

_TINY = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Support:
    """Where a plank rests: at `x` (mm), on a level that may move; `clamped` where it cannot turn either."""

    x: float
    level: Level = FIRM
    clamped: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """An even load from `start` to `end` (mm), newtons for each mm, downward."""

    start: float
    end: float
    n_per_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PointLoad:
    """A load at one place (N, downward)."""

    x: float
    n: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One plank: from `start` to `end` (mm), stiff by `rigidity_n_mm2` (EI) and `shear_n` (G times shear area)."""

    start: float
    end: float
    rigidity_n_mm2: float
    supports: tuple[Support, ...]
    shear_n: float = math.inf
    spreads: tuple[Spread, ...] = ()
    points: tuple[PointLoad, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Element:
    start: float
    end: float
    n_per_mm: float
    ends: tuple[float, float, float, float]  # down and slope at the start, down and slope at the end
    rigidity: float
    shear: float

    @property
    def length(self) -> float:
        return self.end - self.start

    def down(self, x: float) -> float:
        """How far down it is at x: the ends' own share, and the even load between fixed ends."""
        L, s = self.length, x - self.start
        r = s / L
        v1, t1, v2, t2 = self.ends
        phi = _phi(self.rigidity, self.shear, L)
        k = 1 / (1 + phi)
        n1 = k * (1 + phi - phi * r - 3 * r * r + 2 * r**3)
        n3 = k * (phi * r + 3 * r * r - 2 * r**3)
        n2 = k * L * r * (1 - r) * (1 - r + phi / 2)
        n4 = k * L * r * (1 - r) * (-r - phi / 2)
        held = self.n_per_mm * s * s * (L - s) ** 2 / (24 * self.rigidity)
        sheared = self.n_per_mm * s * (L - s) / 2 / self.shear
        return n1 * v1 + n2 * t1 + n3 * v2 + n4 * t2 + held + sheared

    def forces(self) -> tuple[float, float, float, float]:
        """Forces on its ends by the nodes: up and turning at the start, up and turning at the end (as `ends`)."""
        k = _stiffness(self.rigidity, self.shear, self.length)
        fixed = _fixed_end(self.n_per_mm, self.length)
        made = [sum(a * d for a, d in zip(row, self.ends, strict=True)) - f for row, f in zip(k, fixed, strict=True)]
        return made[0], made[1], made[2], made[3]

    def moment(self, x: float) -> float:
        """Bending moment at x (N mm), positive where the underside is stretched."""
        down, turn, _, _ = self.forces()
        s = x - self.start
        return turn - down * s - self.n_per_mm * s * s / 2


def _phi(rigidity: float, shear: float, length: float) -> float:
    return 0.0 if math.isinf(shear) else 12 * rigidity / (shear * length * length)


def _stiffness(rigidity: float, shear: float, length: float) -> tuple[tuple[float, ...], ...]:
    """Stiffness of an element for (down, slope, down, slope)."""
    L, phi = length, _phi(rigidity, shear, length)
    k = rigidity / (L**3 * (1 + phi))
    a, b = 12 * k, 6 * L * k
    c, d = (4 + phi) * L * L * k, (2 - phi) * L * L * k
    return ((a, b, -a, b), (b, c, -b, d), (-a, -b, a, -b), (b, d, -b, c))


def _fixed_end(n_per_mm: float, length: float) -> tuple[float, float, float, float]:
    w, L = n_per_mm, length
    return w * L / 2, w * L * L / 12, w * L / 2, -w * L * L / 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Bent:
    """A plank under its load.

    Attributes:
        supports: as given, in order of x; `reactions_n` are the forces that hold it up at each (upward positive).
    """

    line: Line
    supports: tuple[Support, ...]
    reactions_n: tuple[float, ...]
    _elements: tuple[_Element, ...] = field(repr=False)

    def down(self, x: float) -> float:
        """Return how far down it is at x (mm)."""
        return self._at(x).down(x)

    def moment(self, x: float) -> float:
        """Return the bending moment at x (N mm), positive where the underside is stretched."""
        return self._at(x).moment(x)

    def _at(self, x: float) -> _Element:
        return next((e for e in self._elements if x <= e.end + _TINY), self._elements[-1])

    @property
    def total_n(self) -> float:
        """All that presses on it (N)."""
        even = sum(s.n_per_mm * (s.end - s.start) for s in self.line.spreads)
        return even + sum(p.n for p in self.line.points)

    def lowest(self, start: float, end: float) -> tuple[float, float]:
        """Return where between two places it hangs lowest below the straight line through them, and by how much."""
        a, b = self.down(start), self.down(end)

        def below(x: float) -> float:
            return self.down(x) - a - (b - a) * (x - start) / (end - start)

        return _greatest(below, self._nodes_between(start, end))

    def greatest_moment(self) -> float:
        """Return the greatest moment of either sign (N mm), as a positive figure."""
        most = 0.0
        for e in self._elements:
            places = [e.start, e.end]
            if e.n_per_mm:
                # The moment is greatest where no shear is left.
                level = e.start - e.forces()[0] / e.n_per_mm
                places += [level] if e.start < level < e.end else []
            most = max(most, *(abs(e.moment(x)) for x in places))
        return most

    def _nodes_between(self, start: float, end: float) -> list[float]:
        inner = [e.end for e in self._elements if start + _TINY < e.end < end - _TINY]
        return [start, *inner, end]

    def curve(self, points: int = 33) -> tuple[tuple[float, float], ...]:
        """Return places along it and how far down it is at each."""
        a, b = self.line.start, self.line.end
        xs = sorted({a + (b - a) * i / (points - 1) for i in range(points)} | {s.x for s in self.supports})
        return tuple((x, self.down(x)) for x in xs)


def _greatest(of: Callable[[float], float], nodes: Sequence[float]) -> tuple[float, float]:
    """Return place and value of the greatest `of` between nodes: a look at 16 places each, then narrowed down."""
    best_x, best = nodes[0], of(nodes[0])
    for a, b in pairwise(nodes):
        xs = [a + (b - a) * i / 16 for i in range(17)]
        values = [of(x) for x in xs]
        i = max(range(17), key=values.__getitem__)
        x = _narrowed(of, xs[max(0, i - 1)], xs[min(16, i + 1)])
        for at, value in ((xs[i], values[i]), (x, of(x))):
            if value > best:
                best_x, best = at, value
    return best_x, best


def _narrowed(of: Callable[[float], float], low: float, high: float) -> float:
    """Return the place of a single summit between two places, by golden sections."""
    golden = (math.sqrt(5) - 1) / 2
    a, b = high - golden * (high - low), low + golden * (high - low)
    at_a, at_b = of(a), of(b)
    for _ in range(30):
        if at_a < at_b:
            low, a, at_a = a, b, at_b
            b = low + golden * (high - low)
            at_b = of(b)
        else:
            high, b, at_b = b, a, at_a
            a = high - golden * (high - low)
            at_a = of(a)
    return (low + high) / 2


def bend(lines: Sequence[Line], on_levels: Mapping[Level, float] | None = None) -> tuple[Bent, ...]:
    """Return every line under its loads; `on_levels` are loads (N, downward) on the levels themselves.

    Raises:
        ValueError: a line is held by nothing, or a level rests on nothing; callers make sure of both.
    """
    system = _System(lines, on_levels or {})
    return system.bent()


class _System:
    """Numbers the unknowns of all lines, sets up their equations and solves them."""

    def __init__(self, lines: Sequence[Line], on_levels: Mapping[Level, float]) -> None:
        self._lines = lines
        self._count = 0
        self._levels: dict[Level, int] = {}
        self._nodes = [_nodes(line) for line in lines]
        self._places = [self._numbered(line, xs) for line, xs in zip(lines, self._nodes, strict=True)]
        self._matrix = [[0.0] * self._count for _ in range(self._count)]
        self._loads = [0.0] * self._count
        for level, n in on_levels.items():
            if level in self._levels:
                self._loads[self._levels[level]] += n
        for line, xs, places in zip(lines, self._nodes, self._places, strict=True):
            self._add(line, xs, places)

    def _new(self) -> int:
        self._count += 1
        return self._count - 1

    def _numbered(self, line: Line, xs: list[float]) -> list[int | None]:
        """The number of each unknown of a line, down and slope at each node; None where it is held."""
        at = {_key(s.x): s for s in line.supports}
        places: list[int | None] = []
        for x in xs:
            support = at.get(_key(x))
            if support is None:
                places.append(self._new())
            elif support.level == FIRM:
                places.append(None)
            else:
                if support.level not in self._levels:
                    self._levels[support.level] = self._new()
                places.append(self._levels[support.level])
            places.append(None if support is not None and support.clamped else self._new())
        return places

    def _add(self, line: Line, xs: list[float], places: list[int | None]) -> None:
        for i, (a, b) in enumerate(pairwise(xs)):
            stiff = _stiffness(line.rigidity_n_mm2, line.shear_n, b - a)
            fixed = _fixed_end(_even_load(line, a, b), b - a)
            here = places[2 * i : 2 * i + 4]
            for row, p in enumerate(here):
                if p is None:
                    continue
                self._loads[p] += fixed[row]
                for column, q in enumerate(here):
                    if q is not None:
                        self._matrix[p][q] += stiff[row][column]
        for load in line.points:
            p = places[2 * _index(xs, load.x)]
            if p is not None:
                self._loads[p] += load.n

    def bent(self) -> tuple[Bent, ...]:
        found = solved(self._matrix, self._loads)
        return tuple(
            _bent(line, xs, [0.0 if p is None else found[p] for p in places])
            for line, xs, places in zip(self._lines, self._nodes, self._places, strict=True)
        )


def _key(x: float) -> int:
    return round(x * 1e6)


def _index(xs: Sequence[float], x: float) -> int:
    return next(i for i, at in enumerate(xs) if _key(at) == _key(x))


def _nodes(line: Line) -> list[float]:
    """Every place where something begins, ends, rests or presses, once each and in order."""
    places = [line.start, line.end, *(s.x for s in line.supports), *(p.x for p in line.points)]
    for spread in line.spreads:
        places += [max(spread.start, line.start), min(spread.end, line.end)]
    by_key = {_key(x): x for x in places if line.start - 1e-6 <= x <= line.end + 1e-6}
    return [by_key[k] for k in sorted(by_key)]


def _even_load(line: Line, a: float, b: float) -> float:
    middle = (a + b) / 2
    return sum(s.n_per_mm for s in line.spreads if s.start <= middle <= s.end)


def _bent(line: Line, xs: list[float], ends: list[float]) -> Bent:
    elements = tuple(
        _Element(
            start=a,
            end=b,
            n_per_mm=_even_load(line, a, b),
            ends=(ends[2 * i], ends[2 * i + 1], ends[2 * i + 2], ends[2 * i + 3]),
            rigidity=line.rigidity_n_mm2,
            shear=line.shear_n,
        )
        for i, (a, b) in enumerate(pairwise(xs))
    )
    supports = tuple(sorted(line.supports, key=lambda s: s.x))
    return Bent(
        line=line,
        supports=supports,
        reactions_n=tuple(_reaction(line, elements, s.x) for s in supports),
        _elements=elements,
    )


def _reaction(line: Line, elements: tuple[_Element, ...], x: float) -> float:
    """The force upward that a support gives: what the elements at its node take, and loads set down right on it."""
    up = sum(p.n for p in line.points if _key(p.x) == _key(x))
    for e in elements:
        forces = e.forces()
        up -= forces[0] if _key(e.start) == _key(x) else 0.0
        up -= forces[2] if _key(e.end) == _key(x) else 0.0
    return up


def solved(matrix: list[list[float]], loads: list[float]) -> list[float]:
    """Return the unknowns of a symmetric system, by elimination with pivots from the diagonal's greatest.

    Raises:
        ValueError: something is held by nothing.
    """
    n = len(loads)
    rows = [[*row, load] for row, load in zip(matrix, loads, strict=True)]
    scale = [max((abs(v) for v in row), default=0.0) or 1.0 for row in matrix]
    for i in range(n):
        best = max(range(i, n), key=lambda r: abs(rows[r][i]) / scale[r])
        if abs(rows[best][i]) <= 1e-12 * scale[best]:
            raise ValueError("a plank is held by nothing")
        rows[i], rows[best] = rows[best], rows[i]
        scale[i], scale[best] = scale[best], scale[i]
        pivot = rows[i]
        for row in rows[i + 1 :]:
            factor = row[i] / pivot[i]
            if factor:
                for k in range(i, n + 1):
                    row[k] -= factor * pivot[k]
    found = [0.0] * n
    for i in reversed(range(n)):
        found[i] = (rows[i][n] - sum(rows[i][k] * found[k] for k in range(i + 1, n))) / rows[i][i]
    return found
