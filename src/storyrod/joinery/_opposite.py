"""Joints back to back across one panel: told, and staggered where their cuts do not fit one behind the other."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from storyrod.faults import Fault, WayOut
from storyrod.joinery._choose import Chosen
from storyrod.joinery._contacts import Contact
from storyrod.joinery._fit import reach_of, reason_against, receiving_reach
from storyrod.joinery._stations import stations_of
from storyrod.measure.tolerance import EXACT, TOUCH
from storyrod.model.job import Job, Limits
from storyrod.model.method import CutPlace, Method, SizeForBoard
from storyrod.model.panel import PanelId


@dataclass(slots=True)
class Line:
    """One joint line with its stations so far."""

    contact: Contact
    method: Method
    size: SizeForBoard
    stations: tuple[float, ...]
    opposite: Line | None = None

    @property
    def low_side(self) -> bool:
        """Whether it lies on the receiving panel's left, front or lower face."""
        return self.contact.sign > 0

    def depth(self) -> float:
        """Return how deep it goes into the receiving panel."""
        board = self.contact.receiving.thickness
        cuts = (board if c.through else c.depth or 0.0 for c in self.size.receiving)
        return max([self.size.enters, *cuts])

    def spans(self) -> list[tuple[float, float]]:
        """Return what its receiving cuts take up along the joint, in the case frame."""
        reach, sign, start = receiving_reach(self.size), self.contact.run_sign, self.contact.start
        back, ahead = (reach.back, reach.ahead) if sign > 0 else (reach.ahead, reach.back)
        return [(start + sign * s - back, start + sign * s + ahead) for s in self.stations]


def settle_opposites(
    lines: Sequence[Line], chosen: Sequence[Chosen], job: Job, methods: Iterable[Method]
) -> list[Fault]:
    """Pair the joints that lie back to back, and stagger by half a pitch those of which the cuts would meet.

    Of panels in a row, every other one is staggered, beginning with the second from the left or from below, so that
    both ends of one panel stay alike. Returns the faults of joints that cannot be told apart by staggering, with
    those of the `methods` that would do.
    """
    pairs = list(_pairs(lines))
    for a, b in pairs:
        a.opposite, b.opposite = b, a
    field_of = {id(line): c for line, c in zip(lines, chosen, strict=True)}
    known = tuple(methods)
    faults = [f for a, b in pairs if (f := _screws_covered(a, b, field_of, job, known)) is not None]
    meeting = [(a, b) for a, b in pairs if not _fit_behind(a, b, job.limits) and _collisions(a, b, job.limits)]
    second = _every_other(meeting)
    for a, b in meeting:
        one, other = (a, b) if second[b.contact.entering.panel.id] else (b, a)
        if second[a.contact.entering.panel.id] == second[b.contact.entering.panel.id]:
            one, other = a, b
        _stagger(one, other, field_of[id(other)], job.limits)
    return faults


def _pairs(lines: Sequence[Line]) -> Iterator[tuple[Line, Line]]:
    """Yield the joints in line on both faces of a panel, the one on the low side first."""
    by_panel: dict[tuple[str, int, int], tuple[list[Line], list[Line]]] = {}
    for line in lines:
        c = line.contact
        sides = by_panel.setdefault((c.receiving.panel.id, c.home, c.run), ([], []))
        sides[0 if line.low_side else 1].append(line)
    for lows, highs in by_panel.values():
        if not lows or not highs:
            continue
        found = [(-shared, n, m) for n, a in enumerate(lows) for m, b in enumerate(highs) if (shared := _shared(a, b))]
        taken: set[tuple[str, int]] = set()
        for _, n, m in sorted(found):
            if ("low", n) not in taken and ("high", m) not in taken:
                taken |= {("low", n), ("high", m)}
                yield lows[n], highs[m]


def _shared(a: Line, b: Line) -> float:
    """Return the area that two joints share, seen through the panel; 0 where they are not in line."""
    area = 1.0
    for axis in (a.contact.run, a.contact.across):
        both = min(a.contact.high[axis], b.contact.high[axis]) - max(a.contact.low[axis], b.contact.low[axis])
        if both <= TOUCH:
            return 0.0
        area *= both
    return area


def _fit_behind(a: Line, b: Line, limits: Limits) -> bool:
    return a.depth() + b.depth() + limits.skin <= a.contact.receiving.thickness + EXACT


def _collisions(a: Line, b: Line, limits: Limits) -> int:
    """Return how many pairs of stations leave too little board between their cuts, along the joint."""
    room = max(limits.wall, limits.skin) - EXACT
    there = b.spans()
    return sum(low < high_b + room and low_b < high + room for low, high in a.spans() for low_b, high_b in there)


def _every_other(meeting: Sequence[tuple[Line, Line]]) -> dict[PanelId, bool]:
    """Return which entering panels are staggered: neighbours across a panel differ wherever that is possible."""
    beside: dict[PanelId, list[PanelId]] = {}
    for a, b in meeting:
        one, other = a.contact.entering.panel.id, b.contact.entering.panel.id
        beside.setdefault(one, []).append(other)
        beside.setdefault(other, []).append(one)
    second: dict[PanelId, bool] = {}
    starts = [a.contact.entering for a, _ in meeting]
    for start in sorted(starts, key=lambda s: (s.low, s.key)):
        if start.panel.id in second:
            continue
        second[start.panel.id] = False
        waiting = deque([start.panel.id])
        while waiting:
            here = waiting.popleft()
            for there in beside[here]:
                if there not in second:
                    second[there] = not second[here]
                    waiting.append(there)
    return second


def _stagger(kept: Line, moved: Line, chosen: Chosen, limits: Limits) -> None:
    """Move one joint's stations on by half a step, where that makes fewer of them meet."""
    rules = moved.method.rules
    if rules is None:
        return
    reach = reach_of(moved.size)
    room = max(reach.back, reach.ahead) + limits.wall
    before = moved.stations
    now = _collisions(kept, moved, limits)
    moved.stations = stations_of(moved.contact.length, rules, chosen.spread, staggered=True, reach=room) or before
    if _collisions(kept, moved, limits) >= now:
        moved.stations = before


def _screws_covered(a: Line, b: Line, chosen: dict[int, Chosen], job: Job, methods: tuple[Method, ...]) -> Fault | None:
    """Return the fault of two joints in line that both want screws from the face on which the other stands."""
    if not (_from_outside(a) and _from_outside(b)):
        return None
    receiving = a.contact.receiving.panel.name
    one, other = a.contact.entering.panel.name, b.contact.entering.panel.name
    height = job.lengths.told(b.contact.entering.thickness)
    others = [m.code for m in methods if not _has_screws_outside(m) and _holds(m, (a, b), chosen, job)]
    return Fault(
        code="screws-covered",
        field=chosen[id(b)].field,
        found=f"{one} and {other} both screwed through {receiving} at the same place",
        allowed=f"screws through {receiving} for only one of the two",
        do=f"Give one of the two joints another method, or move one panel by {height} or more.",
        ways=tuple(WayOut(field=chosen[id(b)].field, value=code) for code in others[:4]),
    )


def _holds(method: Method, lines: Iterable[Line], chosen: dict[int, Chosen], job: Job) -> bool:
    """Whether a method can hold each of these joints as well."""
    return all(reason_against(n.contact, method, chosen[id(n)].spread, job.limits) is None for n in lines)


def _has_screws_outside(method: Method) -> bool:
    return any(c.place is CutPlace.OUTSIDE for size in method.sizes for c in size.receiving)


def _from_outside(line: Line) -> bool:
    return any(c.place is CutPlace.OUTSIDE for c in line.size.receiving)
