"""Whether the two halves of every connector meet as printed, once the mate stands on its lines."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from fractions import Fraction
from statistics import median

from storyrod_blind._finding import Finding, FindingKind
from storyrod_blind._length import Span
from storyrod_blind._paper import Cut, JointId, Paper
from storyrod_blind._seats import SAME, Seat

Pair = tuple[Cut, Cut]
"""The half on the receiving panel, and that on the entering one."""


def check_mates(paper: Paper, seats: dict[JointId, Seat]) -> Iterator[Finding]:
    """Yield marks whose mate is missing, and pairs that do not meet."""
    pairs: dict[JointId, list[Pair]] = defaultdict(list)
    for cut in paper.cuts.values():
        if cut.mate is None:
            continue
        other = paper.cuts.get(cut.mate)
        if other is None or other.mate != cut.id or other.joint != cut.joint or cut.joint not in paper.joints:
            words = f"its mate {cut.mate[0]}.{cut.mate[1]} is not there, or names another mate or joint"
            yield Finding(FindingKind.MATE_MISSING, _name(cut), words)
        elif cut.joint in seats and seats[cut.joint].line.panel == cut.id[0]:
            pairs[cut.joint].append((cut, other))
    for joint, both in pairs.items():
        yield from _across(seats[joint], both)
        yield from _along(seats[joint], both)


def _across(seat: Seat, pairs: Sequence[Pair]) -> Iterator[Finding]:
    """Yield pairs that differ across the mate's thickness, from the line of its face."""
    for mine, other in pairs:
        here, depth = _place(mine, seat.across), other.w
        if here is None or depth is None:
            continue
        off = here.middle - (seat.nought + seat.sign * depth.middle)
        if abs(off) > SAME:
            words = f"{_name(mine)} and {_name(other)}, across the board"
            yield Finding(FindingKind.MATES_APART, _name(mine), words, float(off))


def _along(seat: Seat, pairs: Sequence[Pair]) -> Iterator[Finding]:
    """Yield pairs that differ along the joint, once the mate lies so that most of them agree."""
    told = [(mine, other, *places) for mine, other in pairs if (places := _places(seat, mine, other)) is not None]
    if not told:
        return
    sign, shift = shift_of([(a, b) for _, _, a, b in told])
    for mine, other, a, b in told:
        off = a - sign * b - shift
        if abs(off) > SAME:
            words = f"{_name(mine)} and {_name(other)}, along the joint"
            yield Finding(FindingKind.MATES_APART, _name(mine), words, float(off))


def shift_of(places: Sequence[tuple[Fraction, Fraction]]) -> tuple[int, Fraction]:
    """Return whether the mate's figures run the same way (1) or against (-1), and where its nought lies: the median."""
    spreads: list[tuple[Fraction, int]] = []
    for sign in (1, -1):
        offs = [a - sign * b for a, b in places]
        spreads.append((max(offs) - min(offs), -sign))
    sign = -min(spreads)[1]
    return sign, Fraction(median([a - sign * b for a, b in places]))


def places_of(paper: Paper, seat: Seat) -> list[tuple[Fraction, Fraction]]:
    """Return the places along a joint of each pair of marks: on the receiving panel, on the entering one."""
    found: list[tuple[Fraction, Fraction]] = []
    for cut in paper.cuts_of(seat.line.panel):
        other = paper.cuts.get(cut.mate) if cut.mate is not None and cut.joint == seat.line.joint else None
        places = _places(seat, cut, other) if other is not None else None
        if places is not None:
            found.append(places)
    return found


def _places(seat: Seat, mine: Cut, other: Cut) -> tuple[Fraction, Fraction] | None:
    a, b = _place(mine, seat.along), _place(other, seat.mate_along)
    return (a.middle, b.middle) if a is not None and b is not None else None


def _place(cut: Cut, axis: str) -> Span | None:
    place: Span | None = getattr(cut, axis)
    return place


def _name(cut: Cut) -> str:
    return f"{cut.id[0]}.{cut.id[1]}"
