"""The search: every move, and every two moves one after the other, weighed up by cost and proven cheapest first.

All combinations are laid out and costed before the first is proven, so the first one that passes is the best of them;
only the proof, which takes longest, is stopped when enough ways are found. Where no two moves do, a third is put to
those pairs that leave least undone, as far as a bound of states goes.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from storyrod.model.detail import DetailedCase
from storyrod.model.rescue import Break, Cost, Move, Way
from storyrod.rescue._breaks import Breaks, of_joints
from storyrod.rescue._check import check_way
from storyrod.rescue._costs import cost_of
from storyrod.rescue._draft import Bench, Draft, first_draft
from storyrod.rescue._limits import SIZE
from storyrod.rescue._move_fits import FitMoves
from storyrod.rescue._move_joints import OUTER_ROLES, JointMoves
from storyrod.rescue._move_pieces import PieceMoves
from storyrod.rescue._reading import Count, Reader
from storyrod.rescue._stands import as_found, as_stands

MOST_WAYS: Final = 8
"""Ways that are shown."""

MOST_STATES: Final = 6000
"""States that are laid out; beyond it the best found is not called the best."""

MOST_THREES: Final = 6000
"""States of three moves that are laid out; beyond it the best found is not called the best."""

MOST_PROOFS: Final = 240
"""States that go through the proof."""

ALIKE: Final = 2
"""Ways of the same kinds of move that are shown."""

type Prove = Callable[[DetailedCase, DetailedCase, bool, frozenset[str]], bool]
"""Whether a case holds: as it would stand, as it is wanted, whether a piece is of another size than planned, and what
is left as it is, by its key."""


@dataclass(frozen=True)
class Found:
    """What a search came to."""

    ways: tuple[Way, ...]
    tried: int
    proven: int
    is_best: bool
    most_moves: int = 2


class Search:
    """Lays out the states that moves lead to; what each piece comes to in each place is worked out once."""

    def __init__(self, bench: Bench, taken: Sequence[str] = ()) -> None:
        self.bench = bench
        self.reader = Reader()
        self.breaks = Breaks(bench, self.reader)
        self._pieces, self._joints = PieceMoves(bench, self.reader), JointMoves(bench, self.reader)
        self._fits = FitMoves(bench, self.reader, self.breaks)
        cut = {c.id for p in bench.pieces.values() for c in p.cuts}
        self.before = frozenset(f.id for f in bench.case.features if f.id not in cut)
        self.start, self.missing = self._after(taken)

    def _after(self, taken: Sequence[str]) -> tuple[Draft, tuple[str, ...]]:
        """Return the state after moves that were taken, by their codes, and those that there are no more."""
        draft, missing = first_draft(self.bench), []
        for code in taken:
            found = next((d for m, d in self.moves(draft) if m.code == code), None)
            if found is None:
                missing.append(code)
            else:
                draft = found
        return draft, tuple(missing)

    def moves(self, draft: Draft, *, late: bool = True) -> Iterator[tuple[Move, Draft]]:
        """Yield every move of a state, with the state that it leads to; without `late` none that takes long to find."""
        yield from self._pieces.of(draft)
        yield from self._joints.of(draft, late=late)
        yield from self._fits.of(draft)

    def states(self) -> Iterator[Draft]:
        """Yield the state as it is, after every move, and after every two."""
        yield self.start
        firsts = [d for _, d in self.moves(self.start)]
        yield from firsts
        yield from self.after_each(firsts)

    def after_each(self, drafts: Iterable[Draft]) -> Iterator[Draft]:
        """Yield the states that one move more leads to from each of some, whichever order the moves came in once."""
        seen: set[frozenset[str]] = set()
        for draft in drafts:
            for _, more in self.moves(draft):
                codes = frozenset(m.code for m in more.moves)
                if codes not in seen:
                    seen.add(codes)
                    yield more

    def cost(self, draft: Draft) -> Cost:
        """Return what a state costs in all."""
        again = Count(self.reader, draft).again(self.before)
        return cost_of(draft, self.bench, self.reader, again)

    def told_breaks(self) -> tuple[Break, ...]:
        """Return what does not hold as things are: cuts that are not where they are wanted, and all else."""
        return (*of_joints(self.start, self.reader, self.bench.lengths), *self.breaks.of(self.start))

    def found(self) -> DetailedCase:
        """Return the case as the slips left it."""
        return as_found(self.start, self.reader)

    def stands(self, draft: Draft) -> DetailedCase:
        """Return the case as it would stand in a state."""
        return as_stands(draft, self.reader)

    def sizes_differ(self, draft: Draft) -> bool:
        """Return whether a piece is of another size than its panel, or a top or base off the lines of the outside."""
        outer = {p.id: p.box for p in self.bench.case.panels if p.role in OUTER_ROLES}
        return any(p.box != outer[p.id] for p in draft.case.panels if p.id in outer) or any(
            abs(size - planned) > 1e-6
            for lying in self.reader.all(draft)
            for size, planned in zip(
                lying.piece.sizes, (lying.panel.length, lying.panel.width, lying.panel.thickness), strict=True
            )
        )

    def way(self, draft: Draft, cost: Cost, stands: DetailedCase) -> Way:
        """Return a state as a way out."""
        count = Count(self.reader, draft)
        used = {s.piece for s in draft.seats.values()}
        return Way(
            moves=draft.moves,
            case=draft.case,
            as_stands=stands,
            pieces={i: p for i, p in draft.pieces.items() if i in used},
            seats=draft.seats,
            plugs=draft.plugs,
            to_cut=frozenset(f.id for f in count.to_cut),
            again=frozenset(f.id for f in count.again(self.before)),
            old=tuple((lying.piece.id, n) for lying in self.reader.all(draft) for n in lying.old),
            left=tuple(sorted(draft.left)),
            cost=cost,
        )


def find_ways(
    search: Search,
    prove: Prove,
    *,
    most: int = MOST_WAYS,
    told: Callable[[Way], None] | None = None,
    stop: Callable[[], bool] = lambda: False,
) -> Found:
    """Return the ways out of what lies on the bench, the best first; each passed the proof and the checker.

    Args:
        search: what was planned and what lies there.
        prove: whether a case holds.
        most: how many ways are looked for.
        told: given each way as soon as it is proven.
        stop: asked between proofs: whether to leave off.
    """
    judge = _Judge(search, prove)
    first = _tell_first(search, judge, told)
    looked = _Looked(search, stop)
    ways = _proven(looked.pairs(), judge, most, told, stop)
    if ways or stop():
        is_best = looked.is_whole and bool(ways)
        return Found(ways or first, looked.tried, judge.proven, is_best)
    is_whole = not judge.is_weary
    judge.allow_more()
    ways = _proven(looked.threes(), judge, most, told, stop)
    return Found(ways, looked.tried, judge.proven, is_whole and looked.is_whole and bool(ways), 3)


def _proven(
    ranked: Iterable[tuple[Cost, Draft]],
    judge: _Judge,
    most: int,
    told: Callable[[Way], None] | None,
    stop: Callable[[], bool],
) -> tuple[Way, ...]:
    """Return the ways among states, the cheapest first, until enough are found."""
    ways: list[Way] = []
    for cost, draft in ranked:
        if len(ways) >= most or judge.is_weary or stop():
            break
        way = None if _adds_nothing(draft, ways) else judge.way(draft, cost)
        if way is not None:
            ways.append(way)
            if told is not None:
                told(way)
    return tuple(ways)


class _Judge:
    """Puts states through the proof and the checker, each once; `proven` counts them."""

    def __init__(self, search: Search, prove: Prove) -> None:
        self.search, self.prove = search, prove
        self.proven, self._most = 0, MOST_PROOFS
        self._known: dict[tuple[str, ...], Way | None] = {}

    @property
    def is_weary(self) -> bool:
        """Whether as many states went through the proof as may."""
        return self.proven >= self._most

    def allow_more(self) -> None:
        """Let as many more states through the proof."""
        self._most = self.proven + MOST_PROOFS

    def way(self, draft: Draft, cost: Cost) -> Way | None:
        """Return a state as a way out, or None where it does not hold."""
        codes = tuple(m.code for m in draft.moves)
        if codes not in self._known:
            self.proven += 1
            self._known[codes] = self._judged(draft, cost)
        return self._known[codes]

    def _judged(self, draft: Draft, cost: Cost) -> Way | None:
        search = self.search
        stands = search.stands(draft)
        if not self.prove(stands, draft.case, search.sizes_differ(draft), draft.left):
            return None
        way, bench = search.way(draft, cost, stands), search.bench
        wrong = check_way(bench.case, bench.pieces, way, wall=bench.job.limits.wall, size=SIZE)
        return None if wrong else way


def _tell_first(search: Search, judge: _Judge, told: Callable[[Way], None] | None) -> tuple[Way, ...]:
    """Tell the cheapest way that one move alone, or none, comes to: soon, and before all are weighed up; return it."""
    if told is None:
        return ()
    singles = [search.start, *(d for _, d in search.moves(search.start, late=False))]
    costed = [(search.cost(d), d) for d in singles if not search.breaks.of(d)]
    for cost, draft in sorted(costed, key=lambda f: f[0].score):
        way = judge.way(draft, cost)
        if way is not None:
            told(way)
            return (way,)
    return ()


class _Looked:
    """Lays states out and costs them; `tried` counts those that hold by our own rules, `is_whole` that none was cut."""

    def __init__(self, search: Search, stop: Callable[[], bool]) -> None:
        self.search, self.stop = search, stop
        self.tried, self.is_whole = 0, True
        self._short: list[tuple[int, float, tuple[str, ...], Draft]] = []

    def pairs(self) -> list[tuple[Cost, Draft]]:
        """Return the states of up to two moves in which all holds, the cheapest first; others are kept for a third."""
        return self._ranked(self.search.states(), MOST_STATES, keep=True)

    def threes(self) -> list[tuple[Cost, Draft]]:
        """Return the states of three moves in which all holds; what leaves least undone is gone on from first."""
        before = (d for _, _, _, d in sorted(self._short, key=lambda f: f[:3]))
        return self._ranked(self.search.after_each(before), MOST_THREES, keep=False)

    def _ranked(self, states: Iterable[Draft], most: int, *, keep: bool) -> list[tuple[Cost, Draft]]:
        found = []
        for number, draft in enumerate(states, start=1):
            if number > most or self.stop():
                self.is_whole = False
                break
            breaks = self.search.breaks.of(draft)
            if not breaks:
                found.append((self.search.cost(draft), draft))
            elif keep and len(draft.moves) == len(self.search.start.moves) + 2:
                minutes, codes = sum(m.minutes for m in draft.moves), tuple(m.code for m in draft.moves)
                self._short.append((len(breaks), minutes, codes, draft))
        self.tried += len(found)
        return sorted(found, key=lambda f: (f[0].score, len(f[1].moves), [m.code for m in f[1].moves]))


def _adds_nothing(draft: Draft, ways: Sequence[Way]) -> bool:
    """Return whether a cheaper way does with some of these moves, or kinds of move; or two are shown of these kinds."""
    codes, kinds = {m.code for m in draft.moves}, Counter(m.kind for m in draft.moves)
    before = [Counter(m.kind for m in w.moves) for w in ways]
    return any(set(w.codes) < codes for w in ways) or any(b < kinds for b in before) or before.count(kinds) >= ALIKE
