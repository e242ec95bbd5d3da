"""Proposals for a wish: layouts of every kind, each through the real plan, those that pass it with what they cost.

The search knows nothing of the plan. What a proposal costs, weighs and takes is what its plan says.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from importlib.util import find_spec
from typing import TYPE_CHECKING, Final

from storyrod.faults import Fault, JobError
from storyrod.measure.space import Axis
from storyrod.model.panel import Role
from storyrod.model.wish import Broken, Goods, Look, Misfit, Quarrel, Sized, Stand, WhyNot, Wish
from storyrod.planning._plan import Plan
from storyrod.wish import (
    Answer,
    Brief,
    Kind,
    Layout,
    Space,
    brief_of,
    check_fit,
    check_room,
    faults_of,
    kinds_for,
    look_of,
    search,
    space_of,
    why_not,
)

if TYPE_CHECKING:
    from storyrod.model.carcass import Carcass
    from storyrod.model.job import Job
    from storyrod.model.workshop import Workshop

ENOUGH: Final = 6
"""So many proposals are made unless more are asked for: five differ in kind, and one to spare."""

NARROWER: Final = (900.0, 650.0, 480.0)
"""What sags is tried again with no column wider than this (mm)."""


PLINTH_METHODS: Final = ("pocket screws", "carcass screws", "dowels")
"""What holds a plinth that the wish's own method shuts out, as far as the workshop has it; in this order."""

REFUSED: Final = 4
"""After so many kinds that the plan refuses, none of them passed, the rest is not tried: it would refuse them too."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposal:
    """One way to meet a wish: a job that its whole plan passes.

    Attributes:
        number: from 1, in the order in which they were found.
        stands: what stands where; `sized` what made the outside sizes so.
        money_cents, minutes, weight_kg, sheets: of its plan.
        fit: share of the openings' clear room that the things take.
        look: how calm its front is.
        best_of_kind: whether it is proven that no layout of this kind is reckoned at less.
        unbeaten: whether no other is at least as good in money, minutes, fit and look and better in one.
        to_fix: codes of the cases that are fixed to the wall.
        jigs: what is made first.
        lacks_prices: whether something of it has no price, so that it costs more than `money_cents`.
        plinth_by: what holds the plinth in place of the wish's own method, which shut it out; "" where that holds it.
    """

    number: int
    kind: Kind
    job: Job
    plan: Plan
    stands: tuple[Stand, ...]
    sized: tuple[Sized, ...]
    money_cents: int
    minutes: float
    weight_kg: float
    sheets: int
    fit: float
    look: Look
    best_of_kind: bool
    unbeaten: bool = True
    to_fix: tuple[str, ...] = ()
    jigs: tuple[str, ...] = ()
    lacks_prices: bool = False
    plinth_by: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Dropped:
    """A kind that came to no proposal.

    Attributes:
        proven: whether it is proven that this kind cannot hold it all.
        faults: of the plan; `misfits` of the checker; `limits` that it passes, with what it comes to.
        twin: whether it came to the same as an earlier proposal.
        sagging: names of boards that sag beyond their limits however it is cut.
    """

    kind: Kind
    proven: bool = False
    faults: tuple[Fault, ...] = ()
    misfits: tuple[Misfit, ...] = ()
    limits: tuple[Quarrel, ...] = ()
    twin: bool = False
    sagging: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposed:
    """All proposals for a wish, and the kinds that came to none."""

    proposals: tuple[Proposal, ...]
    dropped: tuple[Dropped, ...]
    goods: tuple[Goods, ...]
    why: WhyNot | None = None


class Proposing:
    """The proposals for one wish, one kind after the other.

    Raises:
        JobError: the solver is not installed, or something is wrong with the wish that needs no search to be seen.
    """

    def __init__(self, wish: Wish, goods: tuple[Goods, ...], base: Job, workshop: Workshop, *, seed: int = 1) -> None:
        if not can_search():
            raise JobError(_no_solver())
        self.space = space_of(wish, goods, base, workshop)
        faults = faults_of(self.space)
        if faults:
            raise JobError(*faults)
        self.wish, self.goods, self.workshop, self.seed = wish, goods, workshop, seed
        self._before: Plan | None = None
        self._trees: set[object] = set()
        self._found = 0

    @property
    def kinds(self) -> tuple[Kind, ...]:
        """The kinds that are tried, in their order."""
        return kinds_for(self.space)

    def first(self) -> Brief | None:
        """Return the first brief that holds it all, before it is planned: soon drawn."""
        for kind in self.kinds:
            layout = self._layout(self.space, kind, NARROWER[0], depths=1)
            if isinstance(layout, Layout):
                return brief_of(self.space, layout)
        return None

    def each(self) -> Iterator[Proposal | Dropped]:
        """Yield what comes of each kind, the quickest first."""
        for kind in self.kinds:
            yield self._of_kind(kind)

    def propose(self, tell: Callable[[Proposal | Dropped | None], None], most: int = ENOUGH) -> Proposed:
        """Return proposals of as many kinds as are asked for, weighed against each other.

        `tell` is called with each as it comes, and with None before each search; it may raise to stop.
        """
        proposals: list[Proposal] = []
        dropped: list[Dropped] = []
        for kind in self.kinds:
            if len(proposals) >= most or self.is_hopeless(proposals, dropped):
                break
            tell(None)
            found = self._of_kind(kind)
            tell(found)
            if isinstance(found, Proposal):
                proposals.append(found)
            else:
                dropped.append(found)
        why = None if proposals else self.why_not(dropped, lambda: tell(None))
        weighed = weigh(proposals, look=self.wish.look.weighed)
        return Proposed(proposals=weighed, dropped=tuple(dropped), goods=self.goods, why=why)

    @staticmethod
    def is_hopeless(proposals: Sequence[Proposal], dropped: Sequence[Dropped]) -> bool:
        """Return whether the plan refused so many layouts, and let none pass, that it would refuse the rest."""
        return not proposals and sum(bool(d.faults) for d in dropped) >= REFUSED

    def why_not(self, dropped: Sequence[Dropped], tell: Callable[[], None] = lambda: None) -> WhyNot:
        """Return why a wish cannot be met: by its limits, where layouts were found, else by its room."""
        passed = [d.limits for d in dropped if d.limits]
        if passed:
            fewest = min(passed, key=len)
            ways = [q for limits in passed if len(limits) == 1 for q in limits]
            best = {q.what: min((w for w in ways if w.what is q.what), key=_enough, default=q) for q in fewest}
            helps = tuple(replace(q, helps=len(fewest) == 1) for q in best.values())
            return WhyNot(quarrels=helps, proven=False)
        if any(d.faults or d.sagging or d.misfits for d in dropped):  # it all goes in, but is not built so
            return WhyNot(quarrels=(), proven=False)
        return why_not(self.space, tell)

    # --- One kind -----------------------------------------------------------------------------------------------------

    def _layout(self, space: Space, kind: Kind, widest: float, depths: int = 2) -> Layout | Dropped:
        """Return the layout of a kind that is reckoned at least, of the depths worth trying."""
        found: list[Layout] = []
        proven = True
        tried = space.depths()
        for inside in dict.fromkeys((tried[0], tried[-1])[:depths]):
            searched = search(space, kind, inside, widest=widest, seed=self.seed)
            proven = proven and searched.answer is Answer.NONE
            if searched.layout is not None:
                found.append(searched.layout)
        if not found:
            return Dropped(kind=kind, proven=proven)
        return min(found, key=lambda layout: layout.cost)

    def _of_kind(self, kind: Kind) -> Proposal | Dropped:
        """Return what comes of a kind: what sags is tried again with thicker drawer bottoms or narrower columns.

        So is a drawer whose runner screws meet the groove of its bottom: a thick bottom lies under the box.
        """
        space, widths = self.space, [*NARROWER]
        came = Dropped(kind=kind)
        while widths:
            layout = self._layout(space, kind, widths[0])
            if isinstance(layout, Dropped):
                return came if came.sagging or came.faults else layout
            found = self._built(space, layout)
            if isinstance(found, Proposal) or not (found.sagging or _of_drawers(found.faults)):
                return found
            came = found
            bottoms = not found.sagging or self._only_bottoms(found.sagging)
            if bottoms and space.bottom_board != space.drawer_board:
                space = replace(space, bottom_board=space.drawer_board)
            elif found.sagging:
                widths.pop(0)
            else:
                return found
        return came

    def _built(self, space: Space, layout: Layout) -> Proposal | Dropped:
        """Return what the plan makes of a layout; a plinth that is shut out is held by another method from then on."""
        found = self._planned(brief_of(space, layout))
        own = (c for c in PLINTH_METHODS if self.workshop.method(c) is not None)
        for code in own:
            if isinstance(found, Proposal) or not _of_plinth(found.faults):
                break
            base = replace(self.space.base, methods=replace(self.space.base.methods, plinth=code))
            again = self._planned(brief_of(replace(space, base=base), layout))
            if isinstance(again, Proposal) or not again.faults:
                self.space, found = replace(self.space, base=base), again
        return found

    def _only_bottoms(self, sagging: Sequence[str]) -> bool:
        assert self._before is not None  # noqa: S101 - asked of a plan that was made
        roles = {str(p.id): p.role for case in self._before.carcass.cases for p in case.panels}
        return all(roles.get(panel) is Role.DRAWER_BOTTOM for panel in sagging)

    def _planned(self, brief: Brief) -> Proposal | Dropped:
        """Return what the real plan makes of a brief."""
        kind = brief.layout.kind
        tree = tuple(_shape(c.inside) for c in brief.job.cases)
        if tree in self._trees:
            return Dropped(kind=kind, twin=True)
        try:
            plan = Plan(brief.job, self.workshop, self._before)
            self._before = plan
            if plan.faults:
                return Dropped(kind=kind, faults=plan.faults)
            misfits = check_fit(plan.carcass.cases, self.goods, brief.stands, self.wish)
            if misfits:
                return Dropped(kind=kind, misfits=misfits)
            sagging = tuple(s.panel for c in plan.soundness.cases for s in c.sags if s.within_limit is False)
            if sagging:
                return Dropped(kind=kind, sagging=sagging)
            return self._proposed(brief, plan.with_sheets(plan.sheets_counted), tree)
        except JobError as error:
            return Dropped(kind=kind, faults=error.faults)

    def _proposed(self, brief: Brief, plan: Plan, tree: object) -> Proposal | Dropped:
        beyond = tuple(self._beyond(plan))
        if beyond:
            return Dropped(kind=brief.layout.kind, limits=beyond)
        self._trees.add(tree)
        self._found += 1
        return Proposal(
            number=self._found,
            kind=brief.layout.kind,
            job=brief.job,
            plan=plan,
            stands=brief.stands,
            sized=brief.sized,
            money_cents=plan.account.cost_cents,
            minutes=plan.account.minutes.usual,
            weight_kg=math.fsum(c.weights.empty_kg for c in plan.soundness.cases),
            sheets=_sheets(plan),
            fit=_fit(plan.carcass, self.goods),
            look=look_of(plan.carcass.cases),
            best_of_kind=brief.layout.proven,
            to_fix=tuple(c.case for c in plan.soundness.cases if c.tipping is not None and c.tipping.fix_to_wall),
            jigs=tuple(plan.account.work.jigs),
            lacks_prices=bool(plan.account.missing),
            plinth_by=_other(brief.job.methods.plinth, self.wish.methods.plinth),
        )

    def _beyond(self, plan: Plan) -> Iterator[Quarrel]:
        """Yield each limit that a plan passes, with what it comes to."""
        limits = self.wish.limits
        at = limits.field
        money, minutes, sheets = plan.account.cost_cents, plan.account.minutes.usual, _sheets(plan)
        if limits.money is not None and money > limits.money:
            yield Quarrel(what=Broken.MONEY, field=f"{at}.money", asked=limits.money, enough=money)
        if limits.minutes is not None and minutes > limits.minutes:
            enough = math.ceil(minutes)
            yield Quarrel(what=Broken.MINUTES, field=f"{at}.minutes", asked=limits.minutes, enough=enough)
        if limits.sheets is not None and sheets > limits.sheets:
            yield Quarrel(what=Broken.SHEETS, field=f"{at}.sheets", asked=limits.sheets, enough=sheets)
        if limits.jigs_owned and plan.account.work.jigs:
            yield Quarrel(what=Broken.JIGS, field=f"{at}.jigs_owned")


def _no_solver() -> Fault:
    return Fault(
        code="wish-extra",
        field="",
        found="no solver, which searches for proposals",
        allowed="the extra storyrod[wish]",
        do="Start the command through run.py, which gets it, or install the extra.",
    )


def can_search() -> bool:
    """Return whether the solver is installed, which is an extra."""
    return find_spec("ortools") is not None


def weigh(proposals: Sequence[Proposal], *, look: bool) -> tuple[Proposal, ...]:
    """Return proposals with those marked that no other beats, these first, each group by money."""

    def figures(p: Proposal) -> tuple[float, ...]:
        return (p.money_cents, round(p.minutes, 1), -round(p.fit, 3), -round(p.look.total, 3) if look else 0.0)

    def beaten(p: Proposal) -> bool:
        own = figures(p)
        others = (figures(o) for o in proposals if o is not p)
        return any(all(a <= b for a, b in zip(o, own, strict=True)) and o != own for o in others)

    marked = [replace(p, unbeaten=not beaten(p)) for p in proposals]
    return tuple(sorted(marked, key=lambda p: (not p.unbeaten, p.money_cents, p.number)))


def misfits_of(plan: Plan, wish: Wish, goods: Sequence[Goods]) -> tuple[Misfit, ...]:
    """Return what of a wish a job does not keep, as it is planned now, wherever the things are put."""
    return check_room(plan.carcass.cases, goods, wish)


def _other(method: str | None, own: str | None) -> str:
    return method or "" if method != own else ""


def _of_plinth(faults: Sequence[Fault]) -> bool:
    """Return whether all faults are of plinths, which no order of assembly lets in as they are held."""
    return bool(faults) and all(f.field.endswith(".plinth") for f in faults)


def _of_drawers(faults: Sequence[Fault]) -> bool:
    """Return whether all faults are of drawer boxes and their runners."""
    return bool(faults) and all(".drawers" in f.field for f in faults)


def _enough(quarrel: Quarrel) -> float:
    return math.inf if quarrel.enough is None else quarrel.enough


def _shape(opening: object) -> object:
    """Return what an inside is, without its millimetres: proposals of one shape are the same in kind."""
    from storyrod.model.job import Opening

    assert isinstance(opening, Opening)  # noqa: S101 - a tree of openings
    return (
        opening.split,
        opening.holds,
        opening.name,
        opening.loose_shelves > 0,
        tuple(_shape(o) for o in opening.inside),
    )


def _sheets(plan: Plan) -> int:
    offcuts = {s.id for s in plan.stock if s.offcut}
    return sum(n for b in plan.sheets.boards for code, n in b.figures.sheets if code not in offcuts)


def _fit(carcass: Carcass, goods: Sequence[Goods]) -> float:
    """Return the share of the clear room of all openings that the things themselves take."""
    boxes = [o.box for case in carcass.cases for o in case.openings if not o.children]
    room = math.fsum(b.size(Axis.X) * b.size(Axis.Y) * b.size(Axis.Z) for b in boxes)
    taken = math.fsum(g.width * g.height * g.depth * g.count for g in goods)
    return taken / room if room else 0.0
