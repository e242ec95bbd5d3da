"""Jigs: which placings one jig serves, its stations and stops.

Placings are gathered into the fewest jigs, rows of holes that no joint asks for among them. Jigs with a fence and
line jigs that make the two halves of joints are kept in step: their stations are counted from one zero, so a
connector's halves cannot part company along the joint.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Final

from storyrod.faults import Caution
from storyrod.machining._choose import Made
from storyrod.machining._hold import Swept, hold_of, openings_apart, reach_of, swept
from storyrod.machining._jig_draft import GRID, Draft, is_round, pattern_of, widest_sweep
from storyrod.machining._jig_groups import Ask, Groups, fewest_groups
from storyrod.machining._jig_holds import under
from storyrod.machining._jig_owned import is_held, joint_words, runs_in, too_small
from storyrod.machining._jig_steps import hold_steps, steps_of
from storyrod.machining._jig_words import checks_of, notes_of
from storyrod.machining._needs import Half
from storyrod.machining._stations import Layout, Pattern, is_clear_of, share_stations
from storyrod.model.feature import CutOut
from storyrod.model.machining import JigKind, JigPlan, JigTally
from storyrod.model.workshop import Along, Jig, Workshop

PACKABLE: Final = 20.0
"""Placings whose distances from the fence differ by no more than this share a jig, with packers; a rule of thumb."""

_ANY: Final = float("inf")


@dataclass(frozen=True, slots=True)
class JigUse:
    """How one need uses its jig."""

    jig: str
    offset: float
    stop: str
    hold: str


@dataclass(frozen=True, slots=True)
class Jigs:
    """All jigs, how each need uses one (by the need's identity), and how few there can be."""

    plans: tuple[JigPlan, ...]
    uses: dict[int, JigUse]
    tally: JigTally
    cautions: tuple[Caution, ...]


def is_free(made: Made) -> bool:
    """Return whether a placing has no edge for a fence to hang on, so that a line must be marked."""
    return made.need.half is Half.RECEIVING and not made.reference.at_end


def plan_jigs(made: Sequence[Made], workshop: Workshop, *, before: int = 0) -> Jigs:
    """Return the fewest jigs that serve all placings that are made with one, owned ones first.

    They are numbered from the one after `before`.
    """
    asked = [m for m in made if m.choice.way.along is Along.JIG]
    maker = JigMaker(workshop, before)
    maker.use_owned(asked)
    owned = len({p.owned for p in maker.plans})
    left = [m for m in asked if id(m.need) not in maker.uses]
    found = fewest_groups([ask_of(m) for m in left])
    made_new = maker.make(left, found)
    tally = JigTally(to_make=made_new, bound=found.bound, owned=owned)
    return Jigs(tuple(maker.plans), maker.uses, tally, tuple(maker.cautions))


def kind_of(m: Made) -> JigKind:
    """Return the kind of jig that a placing has to itself."""
    if isinstance(m.need.first, CutOut):
        return JigKind.TEMPLATE
    if m.need.lines_up:
        return JigKind.PINS
    if m.need.half is Half.OTHER or m.need.joint is None:
        return JigKind.ROW
    return JigKind.LINE if is_free(m) else JigKind.EDGE


def _kind_of(members: Sequence[Made]) -> JigKind:
    """Return the kind of jig that serves all members: a row can share that of joints, which has a fence as well."""
    kinds = {kind_of(m) for m in members}
    return JigKind.EDGE if len(kinds) > 1 else kinds.pop()


def runs_of(m: Made) -> tuple[object, ...]:
    """Return what must be the same in a jig: its openings, thickness and bush, and what runs in it without one."""
    choice = m.choice
    opening = tuple(round(x, 2) for x in choice.opening or (0.0, 0.0))
    runs = choice.bush.diameter if choice.bush else choice.cutter.code if choice.cutter else choice.way.code
    return (opening, round(choice.guide, 2), is_round(m.need.first), runs)


def ask_of(m: Made) -> Ask:
    """Return what a placing asks of its jig."""
    kind = kind_of(m)
    if kind is JigKind.TEMPLATE:
        return Ask(key=(kind, runs_of(m), m.need.plan), distance=0.0, packable=0.0, reach=0.0, hold=_ANY)
    free = kind is JigKind.LINE
    return Ask(
        key=(free, runs_of(m)),
        distance=m.reference.wanted,
        packable=_ANY if free else PACKABLE,  # a line can be marked wherever it is wanted
        reach=reach_of(max(m.need.from_stop), swept(m.choice.tool, m.choice.bush, m.choice.opening)),
        hold=hold_of(m.need.run_length),
        pattern=pattern_of(m),
        apart=board_between(m),
    )


def board_between(m: Made) -> int:
    """Return how far two openings of a jig stand apart at least, from centre to centre, so that board is left."""
    return round(openings_apart(m.choice.opening) * GRID)


class JigMaker:
    """Makes jig plans, numbering them in order from the one after `before`."""

    def __init__(self, workshop: Workshop, before: int) -> None:
        self.workshop = workshop
        self.before = before
        self.plans: list[JigPlan] = []
        self.uses: dict[int, JigUse] = {}
        self.cautions: list[Caution] = []

    # --- owned jigs ---

    def use_owned(self, asked: Sequence[Made]) -> None:
        """Use what the workshop has, jig by jig, for all that it serves."""
        kinds: dict[tuple[object, ...], list[Made]] = {}
        for m in asked:
            if kind_of(m) is not JigKind.TEMPLATE:
                kinds.setdefault((is_free(m), runs_of(m)), []).append(m)
        for members in kinds.values():
            for jig in self.workshop.jigs:
                self._use(jig, [m for m in members if id(m.need) not in self.uses])

    def _use(self, jig: Jig, members: Sequence[Made]) -> None:
        fitting = [m for m in members if runs_in(jig, m) and jig.for_mid_panel is is_free(m)]
        served = {p: o for p in {pattern_of(m) for m in fitting} if (o := _offset_in(jig, p)) is not None}
        taken = []
        for m in fitting:
            why, do = self._not_used(jig, m, served.get(pattern_of(m)), widest_sweep(fitting))
            if why:
                self._turn_away(jig, m, why, do)
            else:
                taken.append(m)
        if taken:
            layout = Layout(tuple(round(s * GRID) for s in jig.stations), served, proven=True)
            plan = self._plan(taken, layout, labels=_labels(layout.offsets.values()), reference=_widest(taken), jig=jig)
            self.plans[-1] = replace(
                plan,
                name=jig.name,
                owned=jig.code,
                making_min=sum(h.making_min for h in plan.holds),
                pieces=tuple(dict.fromkeys(p for h in plan.holds for p in h.pieces)),
                thickness=jig.thickness,
            )
            self._finish()

    def _not_used(self, jig: Jig, m: Made, offset: int | None, sweep: Swept) -> tuple[str, str]:
        """Return why an owned jig does not serve a placing and what to do, or ("", "") where it does."""
        check = "Check the stations in the workshop file, or add stations to the jig."
        reach, wanted = max(jig.stations), max(m.need.from_stop)
        told = m.need.lengths.told
        if not is_held(jig, m):
            long, part = told(jig.length), told(m.need.run_length)
            return f"It is {long} long, too long to be clamped to {joint_words(m)}, {part} along the joint", check
        if offset is not None:
            stations = [(p - offset) / GRID for p in pattern_of(m)]
            placing = under(m, -offset / GRID, joint_words(m))
            return too_small(jig, placing, stations, sweep, told, fenced=not is_free(m))
        if wanted <= reach + 0.05:
            return f"Its stations are not where {joint_words(m)} has its cuts", check
        last = f"its last station is {told(reach)} from the stop, the last cut {told(wanted)}"
        return f"It is shorter than {joint_words(m)}: {last}", check

    def _turn_away(self, jig: Jig, m: Made, why: str, do: str) -> None:
        caution = Caution(
            code="jig-does-not-reach",
            about=jig.name,
            text=f"{why}, so that joint gets a new jig.",
            do=do,
            ids=(str(m.need.panel.id),),
        )
        if not any(c.about == caution.about and c.code == caution.code for c in self.cautions):
            self.cautions.append(caution)

    # --- new jigs ---

    def make(self, left: Sequence[Made], found: Groups) -> int:
        """Make a jig for every group and return how many; groups that share joints have stations and stops in common.

        Every two placings of a group can share; where all together cannot, because openings would run into each
        other, one of them gets a jig of its own.
        """
        every = [[left[n] for n in group] for group in found.groups]
        laid: list[tuple[list[list[Made]], Layout]] = []
        pending = _in_step(every)
        while pending:
            groups = pending.pop(0)
            layout = _layout(groups)
            if layout.clear:
                laid.append((groups, layout))
            else:
                pending[:0] = _in_step(_one_more(groups))
        made = [g for groups, _ in laid for g in groups]
        for groups, layout in laid:
            self._make_in_step(groups, layout, made)
        return len(made)

    def make_kept(self, groups: Sequence[list[Made]], every: Sequence[list[Made]]) -> None:
        """Make the jigs of groups in step, of which it is known that they can be laid out; `every` are all groups."""
        self._make_in_step(groups, _layout(groups), every)

    def _make_in_step(self, groups: Sequence[list[Made]], layout: Layout, every: Sequence[list[Made]]) -> None:
        members = [m for g in groups for m in g]
        labels, reference = _labels(layout.offsets.values()), _widest(members)
        first = ""
        for group in sorted(groups, key=lambda g: (is_free(g[0]), -max(max(m.need.from_stop) for m in g))):
            plan = self._plan(group, layout, labels=labels, reference=reference, small=_is_small(group, every))
            self.plans[-1] = replace(plan, in_step_with=first)
            self._finish()
            first = first or plan.id

    def _plan(
        self,
        members: Sequence[Made],
        layout: Layout,
        *,
        labels: dict[int, str],
        reference: float,
        small: bool = False,
        jig: Jig | None = None,
    ) -> JigPlan:
        """Add a jig with those stations of a layout that its members use, and note how each uses it."""
        jig_id, kind = f"G{self.before + len(self.plans) + 1}", _kind_of(members)
        offsets = {} if kind is JigKind.TEMPLATE else {p: layout.offsets[p] for p in {pattern_of(m) for m in members}}
        used = {p - offset for pattern, offset in offsets.items() for p in pattern} or set(layout.stations)
        draft = Draft(
            id=jig_id,
            kind=kind,
            members=members,
            stations=tuple(s / GRID for s in layout.stations if s in used),
            reference=reference,
            labels=labels,
            offsets=offsets,
            proven=layout.proven,
            small=small,
            owned=jig,
        )
        self.plans.append(draft.plan(self.workshop))
        for m in members:
            offset = offsets.get(pattern_of(m), 0)
            held_by = draft.held_by[id(m.need)]
            self.uses[id(m.need)] = JigUse(jig_id, offset / GRID, labels.get(offset, ""), held_by)
        return self.plans[-1]

    def _finish(self) -> None:
        """Write how the last jig is made, held and checked, and what to watch for."""
        plan = self.plans[-1]
        holds = tuple(replace(h, steps=hold_steps(plan, h)) for h in plan.holds)
        self.plans[-1] = replace(plan, holds=holds, steps=steps_of(plan), checks=checks_of(plan), notes=notes_of(plan))


def _in_step(groups: Sequence[list[Made]]) -> list[list[list[Made]]]:
    """Return the groups in sets that have joints in common, directly or through others."""
    sets: list[tuple[set[object], list[list[Made]]]] = []
    for group in groups:
        joints: set[object] = {(m.need.panel.case, m.need.joint.id) for m in group if m.need.joint is not None}
        joints = joints if _kind_of(group) in (JigKind.EDGE, JigKind.LINE) else set()
        here: tuple[set[object], list[list[Made]]] = (joints, [group])
        apart = []
        for known in sets:
            if known[0] & here[0] and runs_of(known[1][0][0]) == runs_of(group[0]):
                here = (known[0] | here[0], [*known[1], *here[1]])
            else:
                apart.append(known)
        sets = [*apart, here]
    order = {id(g): n for n, g in enumerate(groups)}
    return sorted((s for _, s in sets), key=lambda s: min(order[id(g)] for g in s))


def _is_small(group: Sequence[Made], every: Sequence[list[Made]]) -> bool:
    """Return whether a jig is short because of narrow parts that another one of its kind cannot be clamped to."""
    hold = min(ask_of(m).hold for m in group)
    like = [g for g in every if g is not group and ask_of(g[0]).key == ask_of(group[0]).key]
    return any(ask_of(m).reach > hold for g in like for m in g)


def _widest(members: Sequence[Made]) -> float:
    return max(m.reference.wanted for m in members)


def _layout(groups: Sequence[Sequence[Made]]) -> Layout:
    first = groups[0][0]
    if kind_of(first) is JigKind.TEMPLATE:
        return Layout((0,), {}, proven=True)
    jigs = [{pattern_of(m) for m in g} for g in groups]
    return share_stations((p for jig in jigs for p in jig), apart=board_between(first), jigs=jigs)


def _one_more(groups: Sequence[list[Made]]) -> list[list[Made]]:
    """Return groups with one pattern taken out of the jig that serves most, into a jig of its own."""
    crowded = max(groups, key=lambda g: (len({pattern_of(m) for m in g}), -groups.index(g)))
    patterns = sorted({pattern_of(m) for m in crowded})
    apart = board_between(crowded[0])

    def clashes(pattern: Pattern) -> int:
        return sum(not is_clear_of(pattern, p, apart) for p in patterns)

    worst = max(patterns, key=lambda p: (clashes(p), -len(p), p))
    kept = [m for m in crowded if pattern_of(m) != worst]
    apart_from_it = [m for m in crowded if pattern_of(m) == worst]
    return [*(kept if g is crowded else g for g in groups), apart_from_it]


def _labels(offsets: Iterable[int]) -> dict[int, str]:
    """Return a letter for each stop, A for the panel's edge itself."""
    others = sorted(set(offsets) - {0})
    return {o: chr(ord("A") + n) for n, o in enumerate([0, *others] if 0 in set(offsets) else others)}


def _offset_in(jig: Jig, pattern: Pattern) -> int | None:
    """Return the stop's offset at which a jig's own stations serve a pattern within 0.05 mm, or None."""
    stations = [round(s * GRID) for s in jig.stations]
    offsets = [0, *sorted({pattern[0] - s for s in stations}, key=abs)]
    for offset in offsets:
        if all(any(abs(p - offset - s) <= 5 for s in stations) for p in pattern):
            return offset
    return None
