"""Ruin and recreate on the cutting tree, with a goal that tightens.

After J. Gardeyn, T. Wauters, A goal-driven ruin and recreate heuristic for the 2D variable-sized bin packing
problem with guillotine constraints, European J. Operational Research, 2022: the goal is a cost below the best
plan's; parts that find no place within it are left out; parts are torn out of a few sheets and put back, and the
area left out must sink (late acceptance: as good as now, or as some rounds ago). When nothing is left out, the plan
is new best and the goal tightens. In most rounds, though, nothing is torn out: two pieces that find room where the
other is change places, which leaves out as much as before but moves the free room about, and what is left out is tried
again.

Repeatable: the same task, seed and number of rounds give the same plan; a limit of time only stops it sooner.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from typing import Final

from storyrod.sheets._blocks import Joiner, grow_forest, sheets_of_forest
from storyrod.sheets._fill import NO_LIMIT, Filled, Filler, Fit, Largest, Opening
from storyrod.sheets._mixes import Mix, mixes_below
from storyrod.sheets._swaps import exchange
from storyrod.sheets._task import Task
from storyrod.sheets._tree import gather, without_run, without_some
from storyrod.sheets._turning import TurningJoiner

HISTORY: Final = 20
EXCHANGED: Final = 0.75  # share of rounds that exchange two pieces
PAIRS: Final = 4  # pieces tried in such a round until one finds another to be exchanged with
MOST_TORN: Final = (10, 24)  # parts torn out in one round, at most about this many: one or the other by chance
MOST_SHEETS: Final = 3
EMPTIED: Final = 0.15  # share of torn sheets that are emptied
MIX_ROUNDS: Final = 2048  # rounds in which one set of sheets is tried before another is
FREE: Final = 0.1  # of the turns are with no set fixed
PLAIN: Final = 4  # of so many turns one gathers no nodes, where sheets come in several sizes: some sets want that
IDLE: Final = 5  # turns without getting better after which it begins afresh
MIXES: Final = 4  # sets tried in turn
FIT_ROUNDS: Final = 64  # one rule for so many rounds: places worked out by it are found again
FITS: Final = (Fit.AREA, Fit.SHORT_SIDE, Fit.CORNER, Fit.AREA)
ORDERS: Final = (Largest.AREA, Largest.SHORT_SIDE)
_STARTS: Final = (
    (Fit.AREA, Largest.AREA, Opening.VALUE),
    (Fit.SHORT_SIDE, Largest.AREA, Opening.VALUE),
    (Fit.SHORT_SIDE, Largest.LONG_SIDE, Opening.VALUE),
    (Fit.AREA, Largest.SHORT_SIDE, Opening.LARGEST),
    (Fit.AREA, Largest.AREA, Opening.SNUG),
    (Fit.SHORT_SIDE, Largest.AREA, Opening.CHANCE),
)


class Walk:
    """Where the search stands: sheets filled within a goal, the parts left out, and what was accepted of late."""

    __slots__ = ("energy", "history", "idle", "least", "least_before", "nearest", "out", "sheets")

    def __init__(self, sheets: tuple[Filled, ...], out: tuple[int, ...], energy: int) -> None:
        self.sheets = sheets
        self.out = out
        self.energy = energy  # area left out
        self.history = [energy] * HISTORY
        self.least = energy
        self.least_before = energy
        self.nearest = energy  # least ever, through fresh beginnings too
        self.idle = 0  # turns without getting better


class SheetSearch:
    """The search for one board; `run` may be called again to go on."""

    def __init__(self, task: Task, seed: int, bound: int) -> None:
        self.task = task
        self.chance = random.Random(seed)
        self.filler = Filler(task, self.chance)
        self.bound = bound
        self.best: tuple[Filled, ...] | None = None
        self.best_cost = NO_LIMIT
        self.fewest_out: tuple[int, ...] = tuple(task.wanted)
        self.rounds = 0
        self._rank = (NO_LIMIT, 0, 0)
        self._walk: Walk | None = None
        self._mix: Mix | None = None
        self._mixes: list[Mix] = []
        self._tried: dict[Mix | None, Walk] = {}

    @property
    def is_proved(self) -> bool:
        """Whether the best plan meets the bound."""
        return self.best_cost <= self.bound

    @property
    def nearest(self) -> float:
        """The least area left out so far of a plan that would be better, in sheets of the largest size."""
        walks = [*self._tried.values(), *([] if self._walk is None else [self._walk])]
        least = min((w.nearest for w in walks), default=self.task.area)
        return least / max(self.filler.whole)

    def start(self) -> None:
        """Fill the sheets greedily, by one way."""
        self._start(*_STARTS[0])

    def start_again(self) -> None:
        """Fill them by the other ways too; a better result becomes the best."""
        for way in _STARTS[1:]:
            if self.is_proved:
                return
            self._start(*way)

    def _start(self, fit: Fit, order: Largest, opening: Opening) -> None:
        sheets: list[Filled] = []
        kinds = self.filler.ordered(self.task.wanted, order, 0.0)
        out = self.filler.fill(sheets, kinds, budget=NO_LIMIT, left=self.filler.left(()), fit=fit, opening=opening)
        self._meet(sheets, out)

    def grow(self, rounds: int, go_on: Callable[[], bool], *, turning: bool = False, stale: int | None = None) -> None:
        """Build from the parts up (see `grow_forest`), which turn where that is wanted; a better result is kept."""
        joiner = TurningJoiner(self.filler) if turning else Joiner(self.filler)
        trees, _ = grow_forest(joiner, rounds, go_on, stale=stale)
        self._meet(*sheets_of_forest(self.filler, trees))

    def adopt(self, sheets: Sequence[Filled]) -> bool:
        """Take a plan found elsewhere, if it is better; tell whether it was."""
        return self._meet(list(sheets), [])

    def _meet(self, sheets: list[Filled], out: Sequence[int]) -> bool:
        """Take note of a result; tell whether it is a new best."""
        if out:
            if self.best is None and self.filler.area_of(out) < self.filler.area_of(self.fewest_out):
                self.fewest_out = tuple(out)
                self._go_on_from(sheets, out)
            return False
        sheets = self._cheaper(sheets)
        cost = self.filler.cost(sheets)
        rank = (cost, self.filler.bought_area(sheets), len(sheets))
        if self.best is not None and rank >= self._rank:
            return False
        self._rank = rank
        self.best, self.best_cost, self.fewest_out = tuple(sheets), cost, ()
        if self.is_proved:
            return True
        self._go_on_from(*self._within(sheets, cost - 1))
        self._mix = None
        self._tried = {}
        if len(self.task.sizes) > 1:
            self._mixes = mixes_below(self.task.sizes, self.task.area, cost, MIXES)
        return True

    def _cheaper(self, sheets: list[Filled]) -> list[Filled]:
        """Move each tree to the cheapest free sheet that holds it."""
        if len(self.task.sizes) == 1:
            return sheets
        left = self.filler.left(sheets)
        moved = list(sheets)
        for n, sheet in enumerate(sheets):
            now = self.filler.sizes[sheet.size]
            fits = [
                (size.cost, size.w * size.h, i)
                for i, size in enumerate(self.filler.sizes)
                if left[i] > 0 and sheet.root[0] <= size.w and sheet.root[1] <= size.h and size.cost < now.cost
            ]
            if fits:
                i = min(fits)[2]
                left[i] -= 1
                left[sheet.size] += 1
                moved[n] = self.filler.filled(i, sheet.root)
        return moved

    def _within(self, sheets: Sequence[Filled], budget: int) -> tuple[list[Filled], list[int]]:
        """Give up sheets, the emptiest for their cost first, until the rest is within the budget."""
        keep = list(sheets)
        out: list[int] = []
        roll = self.chance.random
        sizes = self.filler.sizes
        while self.filler.cost(keep) > budget:
            worth = [s.used / max(sizes[s.size].cost, 1) * (0.8 + 0.4 * roll()) for s in keep]
            paid = [i for i, s in enumerate(keep) if sizes[s.size].cost > 0]
            gather(keep.pop(min(paid, key=worth.__getitem__)).root, out)
        return keep, out

    def _go_on_from(self, sheets: Sequence[Filled], out: Sequence[int]) -> None:
        energy = self.filler.area_of(out)
        self._walk = Walk(tuple(sheets), tuple(out), energy)

    def _left(self, sheets: Sequence[Filled]) -> list[int]:
        """Return how many copies of each size may still be begun."""
        if self._mix is None:
            return self.filler.left(sheets)
        left = list(self._mix)
        for sheet in sheets:
            left[sheet.size] -= 1
        return left

    def _turn(self) -> None:
        """After some rounds: begin afresh where nothing got better for long, or try another set of sheets."""
        if self._walk is None or self.best is None:
            return
        walk = self._walk
        walk.idle = 0 if walk.least < walk.least_before else walk.idle + 1
        walk.least_before = walk.least
        if self._mixes:
            self._tried[self._mix] = walk
            self._mix = self._next_mix()
            if self._mix not in self._tried:
                self._begin_mix()
                return
            self._walk = walk = self._tried[self._mix]
        if walk.idle >= IDLE:
            self._walk = Walk((), tuple(self.task.wanted), self.task.area)
            self._walk.nearest = walk.nearest

    def _next_mix(self) -> Mix | None:
        """Return the set to try next: one not tried yet, else more often one that came near; or none."""
        roll = self.chance.random
        if roll() < FREE:
            return None
        new = next((mix for mix in self._mixes if mix not in self._tried), None)
        if new is not None:
            return new
        near = sorted(self._mixes, key=lambda mix: self._tried[mix].nearest)
        return near[int(roll() ** 2 * len(near))]

    def _begin_mix(self) -> None:
        """Go on from the best plan's sheets that belong to the new set."""
        best = self.best or ()
        if self._mix is None:
            self._go_on_from(*self._within(best, self.best_cost - 1))
            return
        room = list(self._mix)
        keep: list[Filled] = []
        out: list[int] = []
        for sheet in sorted(best, key=lambda s: -s.used):
            if room[sheet.size]:
                room[sheet.size] -= 1
                keep.append(sheet)
            else:
                gather(sheet.root, out)
        self._go_on_from(keep, out)

    def run(self, rounds: int, go_on: Callable[[], bool], look: Callable[[], None]) -> None:
        """Go on for at most so many rounds; every 16 ask whether to `go_on`, and tell each new best to `look`."""
        for n in range(rounds):
            if self.is_proved or (n % 16 == 0 and not go_on()):
                return
            self.rounds += 1
            if self.rounds % MIX_ROUNDS == 0:
                self.filler.gathers = len(self.task.sizes) == 1 or self.rounds // MIX_ROUNDS % PLAIN != 0
                self._turn()
            if self._round():
                look()

    def _round(self) -> bool:
        """Exchange two pieces or tear parts out, put back what is out; tell whether that gave a new best plan."""
        walk = self._walk
        if walk is None:
            return False
        exchanges = len(walk.sheets) > 1 and self.chance.random() < EXCHANGED
        exchanged = self._exchanged(walk.sheets) if exchanges else None
        sheets, gone = self._ruined(walk.sheets) if exchanged is None else (exchanged, [])
        roll = self.chance.random
        todo = self.filler.ordered([*walk.out, *gone], ORDERS[int(roll() * len(ORDERS))], 0.2)
        n = self.rounds % HISTORY
        most = max(walk.energy, walk.history[n])
        out = self.filler.fill(
            sheets,
            todo,
            budget=self.best_cost - 1,
            left=self._left(sheets),
            fit=FITS[self.rounds // FIT_ROUNDS % len(FITS)],
            opening=Opening.CHANCE,
            most_out=NO_LIMIT if self.best is None else most,
        )
        energy = self.filler.area_of(out)
        if energy <= most:
            walk.sheets, walk.out, walk.energy = tuple(sheets), tuple(out), energy
            walk.least = min(walk.least, energy)
            walk.nearest = min(walk.nearest, energy)
        walk.history[n] = walk.energy
        if not out or (self.best is None and energy < self.filler.area_of(self.fewest_out)):
            return self._meet(sheets, out)
        return False

    def _ruined(self, sheets: Sequence[Filled]) -> tuple[list[Filled], list[int]]:
        roll = self.chance.random
        keep: list[Filled | None] = list(sheets)
        gone: list[int] = []
        hit = min(1 + int(roll() * MOST_SHEETS), len(keep))
        most = MOST_TORN[int(roll() * len(MOST_TORN))]
        torn = (1 + roll() * most) / hit if hit else 0.0
        for i in self.chance.sample(range(len(keep)), hit):
            keep[i] = self._torn(sheets[i], torn, gone)
        return [s for s in keep if s is not None], gone

    def _exchanged(self, sheets: Sequence[Filled]) -> list[Filled] | None:
        """Return the sheets with two pieces of two of them exchanged; None where none was found."""
        filler, roll, many = self.filler, self.chance.random, len(sheets)
        for _ in range(PAIRS):
            a = int(roll() * many)
            b = (a + 1 + int(roll() * (many - 1))) % many
            one, other = sheets[a], sheets[b]
            edits = exchange(one.root, other.root, filler.pieces(one), filler.pieces(other), self.chance)
            if edits is None:
                continue
            changed = list(sheets)
            changed[a] = filler.exchanged(one, edits[0])
            changed[b] = filler.exchanged(other, edits[1])
            return changed
        return None

    def _torn(self, sheet: Filled, torn: float, gone: list[int]) -> Filled | None:
        roll = self.chance.random
        share = torn / sheet.count
        luck = roll()
        if share >= 1 or (luck < EMPTIED and sheet.count <= 2 * MOST_TORN[-1]):
            gather(sheet.root, gone)
            return None
        if luck < 0.5:
            root = without_run(sheet.root, torn, self.chance, gone)
        else:
            root = without_some(sheet.root, share, self.chance, gone)
        if root is None:
            return None
        return sheet if root is sheet.root else self.filler.filled(sheet.size, root)
