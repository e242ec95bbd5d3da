"""What each move costs: minutes of one person, risk and what is seen, in one figure by which ways are ranked.

The minutes are common practice, no source; cutting takes what the job's methods say. A workshop that knows better sets
its methods' minutes.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Final

from storyrod.model.feature import Feature
from storyrod.model.rescue import Cost, MoveKind
from storyrod.rescue._draft import Bench, Draft
from storyrod.rescue._reading import Lying, Reader
from storyrod.rescue._seen import seen_at

MINUTES: Final[Mapping[MoveKind, float]] = {
    MoveKind.MATES: 4.0,
    MoveKind.CLEAR: 4.0,
    MoveKind.SHIFT: 6.0,
    MoveKind.FIT: 8.0,
    MoveKind.TURN: 1.0,
    MoveKind.SWAP: 2.0,
    MoveKind.PLUG: 6.0,
    MoveKind.METHOD: 5.0,
    MoveKind.LEAVE_OUT: 1.0,
    MoveKind.PACK: 15.0,
    MoveKind.TRIM: 8.0,
    MoveKind.PLANE: 12.0,
    MoveKind.WIDEN: 6.0,
    MoveKind.SHIM: 8.0,
    MoveKind.REMAKE: 25.0,
    MoveKind.LEAVE: 0.0,
}
"""For the move itself, without what is cut anew for it."""

SET_OTHERWISE: Final = 2.0
"""To set a cut that is still to be made to another width."""

EACH_FITTED: Final = 3.0
EACH_ANEW: Final = 12.0
"""A panel trimmed to another size, or sawn anew, because what is beside it was shifted."""

EACH_PLUG: Final = 4.0
EACH_CUT: Final = 3.0
"""A cut that no joint's method gives minutes for: marked and cut by itself."""

RISK_IN_MINUTES: Final = 10.0
SEEN_IN_MINUTES: Final = 15.0
WAIT_IN_MINUTES: Final = 0.1
"""What a step of risk, a step of what is seen and a minute of waiting count for in the ranking."""

OLD_IN_MINUTES: Final = 1.5
"""An old cut that stays open counts for so much: it can be taken for a right one, and lets glue run out."""

MONEY_UNKNOWN_MIN: Final = 30.0
"""Stands for the money of a board that has no price."""


def cutting_minutes(features: Iterable[Feature], bench: Bench, joints: Mapping[str, str]) -> float:
    """Return the minutes to cut what is cut once more: each joint's half set up once, then station by station."""
    minutes = 0.0
    set_up: set[tuple[str, str]] = set()
    for one in features:
        method = joints.get(one.joint)
        if not one.joint or method is None:
            minutes += EACH_CUT
            continue
        work = bench.method(method).work
        if (one.joint, one.panel) not in set_up:
            set_up.add((one.joint, one.panel))
            minutes += work.setup_min or EACH_CUT
        minutes += max(work.per_station_receiving_min, work.per_station_entering_min)
    return minutes


def cost_of(draft: Draft, bench: Bench, reader: Reader, again: Iterable[Feature]) -> Cost:
    """Return what a state has cost: its moves, what is cut once more, and old cuts that stay open and are seen."""
    methods: dict[str, str] = {j.id: j.method for j in draft.case.joints}
    minutes = sum(m.minutes for m in draft.moves) + cutting_minutes(again, bench, methods)
    known = [m.cents for m in draft.moves if m.cents is not None]
    is_known = len(known) == len(draft.moves)
    cents = sum(known)
    risk = max((m.risk for m in draft.moves), default=0)
    seen = max(max((m.seen for m in draft.moves), default=0), open_seen(draft, reader))
    wait = max((m.wait_min for m in draft.moves), default=0.0)
    money = cents / bench.cents_per_minute if bench.cents_per_minute else cents / 100
    missing = MONEY_UNKNOWN_MIN * sum(m.cents is None for m in draft.moves)
    every = sum(m.risk for m in draft.moves)
    score = minutes + money + missing + every * RISK_IN_MINUTES + seen * SEEN_IN_MINUTES + wait * WAIT_IN_MINUTES
    score += OLD_IN_MINUTES * len(left_open(draft, reader))
    return Cost(
        minutes=minutes, cents=cents if is_known else None, risk=risk, seen=seen, wait_min=wait, score=round(score, 6)
    )


def left_open(draft: Draft, reader: Reader) -> tuple[tuple[Lying, Feature], ...]:
    """Return the old cuts that stay open, each with the panel it is in."""
    plugged = {(p.piece, p.cut) for p in draft.plugs}
    return tuple(
        (lying, cut)
        for lying in reader.all(draft)
        for number, cut in lying.old.items()
        if (lying.piece.id, number) not in plugged
    )


def open_seen(draft: Draft, reader: Reader) -> int:
    """Return how much is seen of the old cut that is seen most, of those that stay open."""
    found = left_open(draft, reader)
    return max((seen_at(draft.case, lying.panel, cut.surface, cut.at) for lying, cut in found), default=0)
