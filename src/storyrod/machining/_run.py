"""The run: set-ups in the order of least changing, compared with other orders, and the batch in lots."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

from storyrod.machining._minutes import change_minutes, minutes_of
from storyrod.machining._order import find_order
from storyrod.machining._order_heuristic import nearest_order
from storyrod.machining._order_problem import OrderProblem, RunOrder
from storyrod.machining._reference import hand_of
from storyrod.machining._setups import Group
from storyrod.machining._turns import Turns, Wants, turn, turns_in, with_turns
from storyrod.model.act import Act
from storyrod.model.machining import Hand, JigKind, Lot, Run, RunStep, SetUp, Sureness, WorkStage
from storyrod.model.panel import PanelId
from storyrod.model.workshop import Registration, Workshop

_PER_MIN: Final = 100
"""Costs are whole hundredths of a minute."""

STACK: Final = 20
"""Panels in one stack on the bench; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Ordered:
    """Groups in the order found, and the other orders it is compared with (minutes of changing, no trial joints).

    `turns` tells of each group how often its jig is changed over.
    """

    groups: tuple[Group, ...]
    turns: tuple[Turns, ...]
    before: tuple[tuple[int, int], ...]
    order: RunOrder
    nearest_min: float
    panel_by_panel_min: float


def order_groups(groups: Sequence[Group], trials: Sequence[bool], workshop: Workshop, *, limit_s: float) -> Ordered:
    """Return the groups in the order of least changing that keeps precedence.

    Raises:
        JobError: when precedence is contradictory.
    """
    before = precedence(groups)
    costs = _costs(groups, workshop)
    pairs = [(a + 1, b + 1) for a, b in before]
    names = ["the start", *(str(g.setting.way) for g in groups)]
    wants = [_wants(g) for g in groups]
    each = round(_PER_MIN * minutes_of(workshop, Act.CHANGE_JIG_OVER))
    found = find_order(costs, pairs, limit_s=limit_s, names=names)
    problem = OrderProblem(costs, pairs)
    order = with_turns(found, problem, wants, each)
    nearest = nearest_order(problem)
    nearest_turns = sum(t.count for t in turns_in(wants[i - 1] for i in nearest[1:]))
    position = {node - 1: n for n, node in enumerate(order.path[1:])}
    told = tuple(sorted((position[a], position[b]) for a, b in before))
    return Ordered(
        groups=tuple(groups[i - 1] for i in order.path[1:]),
        turns=turns_in(wants[i - 1] for i in order.path[1:]),
        before=told,
        order=order,
        nearest_min=(problem.cost_of(nearest) + each * nearest_turns) / _PER_MIN,
        panel_by_panel_min=_panel_by_panel(groups, trials, workshop),
    )


def _wants(group: Group, panel: PanelId | None = None) -> Wants:
    """Return what a group wants of its jig, on all panels or on one."""
    jigs = {p.jig.id for p in group.placed if p.jig is not None and p.jig.kind is not JigKind.TEMPLATE}
    if group.finishing or not jigs:
        return Wants("", frozenset())
    here = (p.made for p in group.placed if panel is None or p.made.need.panel.id == panel)
    return Wants(jigs.pop(), frozenset(hand_of(m.need, m.reference.toward) for m in here))


def pair_key(group: Group) -> tuple[object, ...]:
    """Return what the two halves of a joint have in common at the tool: one trial joint tests both."""
    setting = group.setting
    packer = round(setting.packer.made, 2) if setting.packer else 0.0
    return (setting.tool, setting.cutter, setting.bush, packer, group.finishing)


def is_located(group: Group) -> bool:
    """Return whether a fit hangs on a group, so that a trial joint is made."""
    return not group.finishing and any(p.made.need.locates for p in group.placed)


def last_of_pairs(groups: Sequence[Group]) -> list[bool]:
    """Return for each group whether a trial joint is made there: at the last of those that share its key."""
    last = {pair_key(g): n for n, g in enumerate(groups) if is_located(g)}
    return [is_located(g) and last[pair_key(g)] == n for n, g in enumerate(groups)]


def precedence(groups: Sequence[Group]) -> list[tuple[int, int]]:
    """Return which group must be done before which: by number, each pair once.

    On one panel channels and cut-outs come before bores; a countersink comes after its hole. A hole drilled through its
    mate comes after everything: its joint must be held closed for it.
    """
    panels = [{p.made.need.panel.id for p in g.placed} for g in groups]
    made_in = {
        m.feature.id: n for n, g in enumerate(groups) if not g.finishing for p in g.placed for m in p.made.need.marks
    }
    pairs: set[tuple[int, int]] = set()
    for a, first in enumerate(groups):
        for b, second in enumerate(groups):
            if first.rank == 0 and second.rank > 0 and panels[a] & panels[b]:
                pairs.add((a, b))
    for b, group in enumerate(groups):
        for p in group.placed:
            for mark in p.made.need.marks:
                if group.finishing:
                    pairs.add((made_in[mark.feature.id], b))
                elif group.setting.registration is Registration.MATE and mark.feature.mate in made_in:
                    pairs.add((made_in[mark.feature.mate], b))
    late = numbers_in_place(groups)
    pairs |= {(a, b) for a in range(len(groups)) if a not in late for b in late}
    return sorted(pair for pair in pairs if pair[0] != pair[1])


def numbers_in_place(groups: Sequence[Group]) -> frozenset[int]:
    """Return the groups that are bored in place, through the mate's holes, with what is then done to those holes."""
    bored = {n for n, g in enumerate(groups) if g.setting.registration is Registration.MATE and not g.finishing}
    holes = {m.feature.id for n in bored for p in groups[n].placed for m in p.made.need.marks}
    after = {
        n
        for n, g in enumerate(groups)
        if g.finishing and any(m.feature.id in holes for p in g.placed for m in p.made.need.marks)
    }
    return frozenset(bored | after)


def _costs(groups: Sequence[Group], workshop: Workshop) -> list[list[int]]:
    """Return the change from each group to each; row 0 is the start, where every tool lies in its drawer."""
    settings = [None, *(g.setting for g in groups)]
    return [[0 if j is None else round(_PER_MIN * change_minutes(i, j, workshop)) for j in settings] for i in settings]


def _panel_by_panel(groups: Sequence[Group], trials: Sequence[bool], workshop: Workshop) -> float:
    """Return the minutes of changing when every panel is finished before the next is taken up.

    Like panels of a lot are taken together. On each panel the next set-up is the cheapest to change to; a trial joint
    is made the first time a set-up is met, and again whenever it is come back to. A jig is changed over as the panel
    wants it.
    """
    on_panel: dict[PanelId, list[int]] = {}
    for n, group in enumerate(groups):
        for panel in dict.fromkeys(p.made.need.panel.id for p in group.placed):
            on_panel.setdefault(panel, []).append(n)
    known: dict[tuple[int | None, int], float] = {}
    trial = minutes_of(workshop, Act.TRIAL_JOINT)

    def change(a: int | None, b: int) -> float:
        if (a, b) not in known:
            before = None if a is None else groups[a].setting
            known[a, b] = change_minutes(before, groups[b].setting, workshop) + (trial if trials[b] else 0.0)
        return known[a, b]

    total, last = 0.0, None
    lies: dict[str, Hand] = {}
    over = minutes_of(workshop, Act.CHANGE_JIG_OVER)
    for panel, numbers in on_panel.items():
        left = set(numbers)
        while left:
            rank = min(groups[n].rank for n in left)
            free = [n for n in left if groups[n].rank == rank]
            step = last if last in free else min(free, key=lambda n: (change(last, n), n))
            assert step is not None  # noqa: S101  # `free` is never empty
            total += 0.0 if step == last else change(last, step)
            total += over * turn(lies, _wants(groups[step], panel)).count
            last = step
            left.discard(step)
    return total


def told_run(
    set_ups: Sequence[SetUp], ordered: Ordered, workshop: Workshop, copies: int, panels: tuple[int, float]
) -> Run:
    """Return the run of set-ups in order; `panels`: how many one carcass of each case has, and their mean area."""
    trial, over = minutes_of(workshop, Act.TRIAL_JOINT), minutes_of(workshop, Act.CHANGE_JIG_OVER)
    steps, last = [], None
    for set_up in set_ups:
        machine = set_up.is_cut
        change = change_minutes(last, set_up.setting, workshop) if machine and set_up.setting else 0.0
        turning = over * set_up.turns
        last = set_up.setting if machine else last
        steps.append(
            RunStep(
                set_up=set_up.id,
                change_min=change + turning,
                turn_min=turning,
                trial_min=trial if set_up.trial_kind and machine and _is_joint_trial(set_up) else 0.0,
                place_min=sum(o.copies * o.place_min for o in set_up.operations),
                cut_min=sum(o.copies * o.cut_min for o in set_up.operations),
                handle_min=minutes_of(workshop, Act.READ_CARD),
            )
        )
    trials_min = sum(s.trial_min for s in steps)
    cost, bound = ordered.order.cost / _PER_MIN, ordered.order.bound / _PER_MIN
    table = _lots(set_ups, steps, workshop, copies, panels)
    best = min(table, key=lambda lot: (round(lot.minutes, 6), -lot.size))
    machine_ids = [s.id for s in set_ups if s.is_cut]
    return Run(
        steps=_handled(steps, best, set_ups),
        before=tuple((machine_ids[a], machine_ids[b]) for a, b in ordered.before) + _stage_order(set_ups),
        changes_min=cost + trials_min,
        bound_min=bound + trials_min,
        sureness=Sureness.PROVEN_BEST if ordered.order.proven else Sureness.FOUND,
        panel_by_panel_min=ordered.panel_by_panel_min,
        nearest_min=ordered.nearest_min + trials_min,
        lot=best,
        lot_table=table,
    )


def _is_joint_trial(set_up: SetUp) -> bool:
    return set_up.trial_kind == "packer"


def _stage_order(set_ups: Sequence[SetUp]) -> tuple[tuple[str, str], ...]:
    """Return the pairs that keep sawing, edging, marking out, machining and fitting in this order."""
    stages = list(WorkStage)
    by_stage = {stage: [s.id for s in set_ups if s.stage is stage] for stage in stages}
    present = [stage for stage in stages if by_stage[stage]]
    return tuple((a, b) for one, two in pairwise(present) for a in by_stage[one] for b in by_stage[two])


def _lots(
    set_ups: Sequence[SetUp], steps: Sequence[RunStep], workshop: Workshop, copies: int, panels: tuple[int, float]
) -> tuple[Lot, ...]:
    """Return the minutes of the batch for every size of lot worth trying.

    Smaller lots change more often, and find jigs as the lot before left them; in larger ones the panels no longer lie
    within reach, and each is fetched from a stack and put back whenever it is worked on.
    """
    changes = sum(s.change_min + s.trial_min + s.handle_min for s in steps)
    work = sum(s.place_min + s.cut_min for s in steps)
    visits = sum(len({(o.panel, c) for o in s.operations for c in range(o.copies)}) for s in set_ups)
    each, area = panels
    reach = STACK * max(1, int(workshop.handling.bench_length * workshop.handling.bench_width / max(area, 1.0)))
    fetch = minutes_of(workshop, Act.FETCH_PANEL)
    left = {s.setting.jig: s.hands[-1] for s in set_ups if s.setting and s.hands}
    back = minutes_of(workshop, Act.CHANGE_JIG_OVER) * sum(hand is Hand.TURNED for hand in left.values())
    lots = []
    for size in _sizes(copies):
        count = -(-copies // size)
        beyond = max(0.0, 1 - reach / max(1, each * size))
        lots.append(
            Lot(
                size=size,
                lots=count,
                changes_min=count * changes + (count - 1) * back,
                handling_min=visits * beyond * fetch,
                work_min=work,
            )
        )
    return tuple(lots)


def _sizes(copies: int) -> list[int]:
    return sorted({copies, *(s for s in (1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 50) if s < copies)})


def _handled(steps: Sequence[RunStep], lot: Lot, set_ups: Sequence[SetUp]) -> tuple[RunStep, ...]:
    """Return the steps with the batch's fetching of panels shared out by the panels each works on."""
    visits = [sum(o.copies for o in s.operations) for s in set_ups]
    total = sum(visits) or 1
    return tuple(
        replace(step, handle_min=step.handle_min + lot.handling_min * v / total)
        for step, v in zip(steps, visits, strict=True)
    )
