"""Sets of panels or joints as bits of a whole number, and what is added up or united over them, a byte at a time."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache, reduce
from operator import add, or_

_BYTE = 8
_LAST = (1 << _BYTE) - 1
_MEMBERS = tuple(tuple(n for n in range(_BYTE) if byte >> n & 1) for byte in range(1 << _BYTE))


@lru_cache(maxsize=1 << 15)
def bits(group: int) -> tuple[int, ...]:
    """Return the numbers of the members of a set; kept, since a search asks for the same few sets all the time."""
    if group <= _LAST:
        return _MEMBERS[group]
    found: list[int] = []
    start = 0
    while group:
        found += [start + n for n in _MEMBERS[group & _LAST]]
        group >>= _BYTE
        start += _BYTE
    return tuple(found)


def set_of(numbers: Iterable[int]) -> int:
    """Return the set of these numbers."""
    found = 0
    for number in numbers:
        found |= 1 << number
    return found


class Unions:
    """For any set of members, the union of the sets that belong to each."""

    def __init__(self, of_each: Sequence[int]) -> None:
        self._tables = _tables(of_each, 0, or_)

    def __call__(self, group: int) -> int:
        found = 0
        for table in self._tables:
            found |= table[group & _LAST]
            group >>= _BYTE
        return found


class Sums:
    """For any set of members, the sum of the figures that belong to each."""

    def __init__(self, of_each: Sequence[float]) -> None:
        self._tables = _tables(of_each, 0.0, add)

    def __call__(self, group: int) -> float:
        found = 0.0
        for table in self._tables:
            found += table[group & _LAST]
            group >>= _BYTE
        return found


def _tables[Value: (int, float)](
    of_each: Sequence[Value], nothing: Value, join: Callable[[Value, Value], Value]
) -> tuple[list[Value], ...]:
    """Return, for each eight members, what their subsets come to."""
    eights = [of_each[start : start + _BYTE] for start in range(0, len(of_each), _BYTE)]
    return tuple(
        reduce(lambda table, one: [*table, *(join(t, one) for t in table)], eight, [nothing]) for eight in eights
    )
