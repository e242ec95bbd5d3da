"""The order for one body: locks chosen, the search run narrow and then in full, and how sure the answer is."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from random import Random
from typing import Final

from storyrod.assembly._beam import Beam
from storyrod.assembly._body import Body, Locks, Parts, make_body, make_ties, shapes_of
from storyrod.assembly._groups import Groups
from storyrod.assembly._loosen import find_stuck
from storyrod.assembly._search import NEVER, UPRIGHT, Allowance, Dive, Made, OutOfWorkError, Search
from storyrod.assembly._splits import Splitter, lock_by
from storyrod.assembly._ties import Hold, Tie
from storyrod.model.assembly import BodyResult, Verdict
from storyrod.model.joint import JointId
from storyrod.model.method import Method
from storyrod.model.workshop import Handling

EXACT_UP_TO: Final = 16
"""Bodies of more panels than this are planned by the narrow search alone, and their order is not called best."""

DIVES: Final = 10
"""So many orders are found without looking back for a body too large to search; all but the first by chance."""

WORK: Final = 110_000
"""Ways looked at and listed, for a body of 16 panels or fewer; less than a second. Larger ones get more."""

FIRST_SHARE: Final = 0.3
"""So much of the work may pass until the full search has shown something; where it has not, it would not get far."""

FEW: Final = 6
MANY: Final = 20_480
"""So many orders are followed side by side: first few, then many, over the square of the number of panels.

Now and then the few lead further.
"""

MOST_COMBINATIONS: Final = 16
"""So many ways of choosing locks are tried, the preferred one first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """The order found for a body, or none.

    Attributes:
        made: how it comes together; None where there is no order.
        body: the body with its locks chosen.
        groups: answers about its groups.
        mixed_locks: whether slots of one panel had to lock in different ways.
    """

    result: BodyResult
    body: Body
    groups: Groups
    made: Made | None
    methods: Mapping[str, Method]
    mixed_locks: bool = False


@dataclass(slots=True)
class _Tally:
    """What the searches of one body came to, all together."""

    work: int
    seed: int
    states: int = 0
    looked: int = 0
    bound: int = NEVER

    def part(self, among: int) -> Allowance:
        """Take an equal part of the work that is left, for one of so many searches still to come."""
        part = self.work // among
        self.work -= part
        return Allowance(part)

    def add(self, search: Search) -> None:
        self.states += search.states
        self.looked += search.looked


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    """An order found: its points, how it comes about, and the body with its locks."""

    cost: int
    made: Made
    groups: Groups


def order_body(parts: Parts, handling: Handling, *, fixed: Locks, seed: int = 0, work: int | None = None) -> Order:
    """Return the least troublesome order of a body, upright at the end; `work` in place of the usual allowance."""
    tally = _Tally(work=work_for(len(parts.panels)) if work is None else work, seed=seed)
    shapes = shapes_of(parts)
    ties = make_ties(parts, fixed)
    best: _Found | None = None
    choices = tuple(lock_combinations(ties, fixed))
    for n, locks in enumerate(choices):
        allowance = tally.part(len(choices) - n)
        best = _better(Groups(make_body(parts, locks, shapes), handling), best, tally, allowance)
        tally.work += max(0, allowance.left)
    is_last_resort = best is None
    for locks in last_resorts(ties, fixed) if best is None else ():
        best = _better(Groups(make_body(parts, locks, shapes), handling), None, tally, tally.part(2))
        if best is not None:
            break
    if best is None:
        groups = Groups(make_body(parts, preferred(ties, fixed), shapes), handling)
        result = _result(parts, tally, Verdict.IMPOSSIBLE, NEVER, NEVER)
        return Order(result=result, body=groups.body, groups=groups, made=None, methods=parts.methods)
    proven = tally.bound >= best.cost and not is_last_resort
    bound = best.cost if proven else min(best.cost - 1, tally.bound)
    verdict = Verdict.PROVEN_BEST if proven else Verdict.FOUND
    return Order(
        result=_result(parts, tally, verdict, best.cost, bound),
        body=best.groups.body,
        groups=best.groups,
        made=best.made,
        methods=parts.methods,
        mixed_locks=is_last_resort and _are_mixed(best.groups.body, best.made),
    )


def _result(parts: Parts, tally: _Tally, verdict: Verdict, cost: int, bound: int) -> BodyResult:
    return BodyResult(
        body=parts.code,
        panels=len(parts.panels),
        verdict=verdict,
        states=tally.states,
        splits=tally.looked,
        cost=cost,
        bound=bound,
    )


def _better(groups: Groups, best: _Found | None, tally: _Tally, allowance: Allowance) -> _Found | None:
    """Return the best order of a body with its locks given, if it beats `best`, else `best`.

    A dive and beams give a good plan soon. The full search then shows that none is better, or finds it. Bodies too
    large for that get a narrow search.
    """
    body = groups.body
    if find_stuck(body) or (best is not None and groups.lower(body.everything) >= best.cost):
        return best
    exact = len(body.panels) <= EXACT_UP_TO
    narrow = Splitter(groups, narrow=True, alike=find_alike(body))
    best = _by_beams(groups, narrow, _by_dives(groups, narrow, best, 1 if exact else DIVES, tally))
    bound = groups.lower(body.everything)
    if exact:
        best, bound = _by_search(groups, Splitter(groups, narrow=False), best, tally, allowance)
    else:
        best, _ = _by_search(groups, narrow, best, tally, allowance)
    if best is None:  # Only by moving panels together that are not joined.
        loose = Splitter(groups, narrow=True, whole=False)
        best = _by_dives(groups, loose, None, 1, tally)
        best, _ = _by_search(groups, loose, best, tally, allowance)
        bound = 0
    tally.bound = min(tally.bound, bound)
    return best


def work_for(panels: int) -> int:
    """Return the work allowed for a body: the usual up to 16 panels, and more in proportion to their number."""
    return int(WORK * max(1.0, panels / EXACT_UP_TO))


def _by_dives(groups: Groups, splitter: Splitter, best: _Found | None, count: int, tally: _Tally) -> _Found | None:
    chance = Random(tally.seed)
    for number in range(count):
        dive = Dive(groups, splitter, chance if number else None)
        found = dive.made(groups.body.everything, UPRIGHT)
        if found is not None and (best is None or found[0] < best.cost):
            best = _Found(cost=found[0], made=found[1], groups=groups)
    return best


def _by_beams(groups: Groups, splitter: Splitter, best: _Found | None) -> _Found | None:
    beam = Beam(groups, splitter)
    for width in (FEW, max(FEW, min(80, MANY // len(groups.body.panels) ** 2))):
        found = beam.made(groups.body.everything, width)
        if found is not None and (best is None or found[0] < best.cost):
            best = _Found(cost=found[0], made=found[1], groups=groups)
    return best


def _by_search(
    groups: Groups, splitter: Splitter, best: _Found | None, tally: _Tally, allowance: Allowance
) -> tuple[_Found | None, int]:
    """Return the best order known after a search, and what no order that it looks at goes below.

    The limit is raised step by step from what is known beforehand: a search that is cut short has then shown something.
    """
    kept_back = 0 if splitter.narrow else int(allowance.left * (1 - FIRST_SHARE))
    allowance.left -= kept_back
    search = Search(groups, splitter, allowance)
    everything = groups.body.everything
    bound = shown = groups.lower(everything)
    try:
        while best is None or bound < best.cost:
            limit = NEVER if best is None else best.cost
            if best is not None and not splitter.narrow:
                limit = min(limit, bound + max(2, (best.cost - bound + 1) // 2))
            bound = search.least(everything, UPRIGHT, limit)
            if bound >= NEVER:
                break
            if bound < limit:
                best = _Found(cost=bound, made=search.made(everything, UPRIGHT), groups=groups)
            shown = bound
            allowance.left, kept_back = allowance.left + kept_back, 0
    except OutOfWorkError:
        pass
    allowance.left = max(0, allowance.left) + kept_back
    tally.add(search)
    return best, shown


def find_alike(body: Body) -> tuple[tuple[int, ...], ...]:
    """Return sets of panels that are joined to the same panels in the same ways, as shelves between two sides."""
    by_joints: dict[object, list[int]] = {}
    for i, panel in enumerate(body.panels):
        signs = sorted(
            (
                (t.receiving if t.entering == i else t.entering),
                t.entering == i,
                t.home,
                t.joint.method,
                t.locks,
            )
            for t in body.ties
            if i in {t.entering, t.receiving}
        )
        by_joints.setdefault((panel.role, tuple(signs)), []).append(i)
    return tuple(tuple(found) for found in by_joints.values() if len(found) > 1)


def _clusters(ties: Sequence[Tie]) -> list[list[Tie]]:
    """Return the sliding joints that must lock the same way: those along one axis that share panels."""
    clusters: list[list[Tie]] = []
    for tie in ties:
        if tie.hold not in {Hold.KEYHOLE, Hold.SLIDE} or len(tie.locks) < 2:
            continue
        near = [c for c in clusters if any(_shares(tie, other) for other in c)]
        clusters = [c for c in clusters if c not in near]
        clusters.append([*itertools.chain.from_iterable(near), tie])
    return clusters


def _shares(one: Tie, other: Tie) -> bool:
    panels = {one.entering, one.receiving} & {other.entering, other.receiving}
    return bool(panels) and set(one.locks) == set(other.locks)


def lock_combinations(ties: Sequence[Tie], fixed: Locks) -> Iterator[Locks]:
    """Yield the choices of locks that keep all slots of a panel alike, the preferred one first."""
    clusters = _clusters(ties)
    base = preferred(ties, fixed)
    ways = [cluster[0].locks for cluster in clusters]
    for chosen in itertools.islice(itertools.product(*ways), MOST_COMBINATIONS):
        locks = dict(base)
        for cluster, lock in zip(clusters, chosen, strict=True):
            locks.update({t.joint.id: (lock,) for t in cluster})
        yield locks


def preferred(ties: Sequence[Tie], fixed: Locks) -> dict[JointId, tuple[int, ...]]:
    return {t.joint.id: fixed.get(t.joint.id, t.locks[:1]) for t in ties if t.locks}


def last_resorts(ties: Sequence[Tie], fixed: Locks) -> Iterator[Locks]:
    """Yield the choices that are tried when no other will do: slots of one panel unlike, housings turned round."""
    base = preferred(ties, fixed)
    sliding = [t for t in ties if t.hold in {Hold.KEYHOLE, Hold.SLIDE} and len(t.locks) > 1]
    housings = [t for t in ties if t.stops and len(t.locks) > 1]
    freed = {t.joint.id: t.locks for t in sliding}
    if sliding:
        yield {**base, **freed}
    turned = {t.joint.id: t.locks[1:] for t in housings}
    for panel in dict.fromkeys(t.entering for t in housings):
        yield {**base, **{t.joint.id: t.locks[1:] for t in housings if t.entering == panel}}
    if housings:
        yield {**base, **turned}
    if housings and sliding:
        yield {**base, **turned, **freed}


def chosen_locks(body: Body, made: Made | None) -> dict[JointId, int]:
    """Return the direction in which each joint that has a choice locks, as the order closes it."""
    found: dict[JointId, int] = {t.joint.id: t.locks[0] for t in body.ties if t.stops}
    waiting = [made] if made else []
    while waiting:
        one = waiting.pop()
        if one.split is None or one.mover is None or one.base is None:
            continue
        waiting += [one.mover, one.base]
        move = body.moves[one.split.moves[one.made_down]]
        for tie in body.ties:
            if tie.hold not in {Hold.KEYHOLE, Hold.SLIDE}:
                continue
            enters, receives = one.split.mover >> tie.entering & 1, one.split.mover >> tie.receiving & 1
            if enters != receives and one.group >> tie.entering & 1 and one.group >> tie.receiving & 1:
                found[tie.joint.id] = lock_by(move, entering_moves=bool(enters))
    return found


def _are_mixed(body: Body, made: Made) -> bool:
    locks = chosen_locks(body, made)
    sliding = [t for t in body.ties if t.hold in {Hold.KEYHOLE, Hold.SLIDE}]
    return any(
        locks[a.joint.id] == locks[b.joint.id] ^ 1 and {a.entering, a.receiving} & {b.entering, b.receiving}
        for a in sliding
        for b in sliding
    )
