"""Where the connectors of one joint stand: by ladder, by even spread, or as a joint too short for either allows.

Distances run from the start of the joint. The rules are those of `docs/conventions.md`.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from typing import Final

from storyrod.model.job import Spread
from storyrod.model.joint import JointKind
from storyrod.model.method import SizeForBoard, StationRules

DUST: Final = 1e-9
"""Float dust: a station this much over a limit still keeps it."""


def stations_of(
    length: float, rules: StationRules, spread: Spread, *, staggered: bool = False, reach: float = 0.0
) -> tuple[float, ...] | None:
    """Return the stations of a joint of `length`, or None where the rules have no solution.

    `staggered` moves the whole spread on by half a step, for a joint that would meet the one on the other face.
    `reach` is how far a station's own cuts go along the joint: one alone in the middle must still lie within it.
    """
    spaced = (_even if spread is Spread.EVEN else _ladder)(length, rules, staggered=staggered)
    if len(spaced) >= rules.least and _keeps(spaced, length, rules):
        return spaced
    return _short(length, rules, reach)


DRAWER_END: Final = 12.0
DRAWER_GAP: Final = 18.0
"""At a corner of a drawer two fastenings stand as near as this to the end and to each other, rather than one alone:
one alone lets the corner twist (mm); common practice, no source."""


def corner_rules(rules: StationRules, kept: float = 0.0) -> StationRules:
    """Return the rules of a drawer's corner that is too short for two by the rules of its method.

    `kept` is how far the cuts of a station go along the joint, with the board that must stay beside them.
    """
    end, gap = min(rules.end_min, DRAWER_END), min(rules.gap_min, DRAWER_GAP)
    return replace(rules, end_min=max(end, kept), gap_min=max(gap, 2 * kept), single=False)


def two_at_a_corner(length: float, rules: StationRules, kept: float) -> tuple[float, ...] | None:
    """Return two stations at the quarters of a drawer's corner, or None where it is too short for them."""
    near = corner_rules(rules, kept)
    first = max(near.end_min, length / 4)
    pair = (first, length - first)
    return pair if _keeps(pair, length, near) else None


def rules_kept(
    rules: StationRules, stations: tuple[float, ...], length: float, kind: JointKind, kept: float = 0.0
) -> StationRules:
    """Return the rules that the stations of a joint keep: those of its method, or those of a short drawer corner.

    `kept` is how far the cuts of a station go along the joint, with the board that must stay beside them.
    """
    is_near = kind is JointKind.DRAWER_BOX and len(stations) > 1 and not _keeps(stations, length, rules)
    return corner_rules(rules, kept) if is_near else rules


def connectors_of(size: SizeForBoard, stations: int) -> tuple[tuple[str, int], ...]:
    """Return what a joint of so many stations uses up, item by item."""
    return tuple((c.item, c.each * stations + c.per_joint) for c in size.consumes)


def shortest(rules: StationRules, reach: float = 0.0) -> float:
    """Return the length of the shortest joint that the rules can serve."""
    if rules.single:
        return 2 * reach
    return 2 * rules.end_min + rules.gap_min * (rules.least - 1)


def _ladder(length: float, rules: StationRules, *, staggered: bool) -> tuple[float, ...]:
    """`end`, `end + pitch`, … as far as `length - end_min`; one more at `length - end` if a pitch is left."""
    first = rules.end + (rules.pitch / 2 if staggered else 0.0)
    last = length - rules.end_min + DUST
    count = max(0, math.floor((last - first) / rules.pitch) + 1)
    spaced = [first + i * rules.pitch for i in range(count)]
    reached = spaced[-1] if spaced else 0.0
    if length - reached > rules.pitch + DUST:
        extra = max(length - rules.end, reached + rules.gap_min if spaced else rules.end)
        if extra <= last:
            spaced.append(extra)
    return tuple(spaced)


def _even(length: float, rules: StationRules, *, staggered: bool) -> tuple[float, ...]:
    """`max(least, ceil((length - 2 end) / pitch) + 1)` stations from `end` to `length - end` in equal steps."""
    room = length - 2 * rules.end
    count = max(rules.least, math.ceil(room / rules.pitch - DUST) + 1)
    if count == 1:
        return (length / 2,)
    while count > max(2, rules.least) and room / (count - 1) < rules.gap_min - DUST:
        count -= 1
    step = room / (count - 1)
    if staggered:
        return tuple(rules.end + (i + 0.5) * step for i in range(count - 1))
    return tuple(rules.end + i * step for i in range(count))


def _short(length: float, rules: StationRules, reach: float) -> tuple[float, ...] | None:
    """`least` stations spread evenly between `e` and `length - e`, or one in the middle where that will do."""
    spaces = rules.least - 1
    if spaces:
        e = min(rules.end, (length - rules.gap_min * spaces) / 2)
        if e >= rules.end_min - DUST:
            step = (length - 2 * e) / spaces
            return tuple(e + i * step for i in range(rules.least))
    elif length / 2 >= rules.end_min - DUST:
        return (length / 2,)
    if rules.single and length / 2 >= reach - DUST:
        return (length / 2,)
    return None


def _keeps(spaced: tuple[float, ...], length: float, rules: StationRules) -> bool:
    """Return whether the stations keep the least end and the least gap."""
    if not spaced or spaced[0] < rules.end_min - DUST or length - spaced[-1] < rules.end_min - DUST:
        return False
    return all(b - a >= rules.gap_min - DUST for a, b in pairwise(spaced))
