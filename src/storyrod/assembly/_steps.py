"""An order turned into steps for the bench: each with what to fit first, hold, clamp, glue, check and heed."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from storyrod.assembly import _points as points
from storyrod.assembly._bits import bits
from storyrod.assembly._cautions import tall_caution, turn_caution
from storyrod.assembly._groups import Groups
from storyrod.assembly._lifts import Lift
from storyrod.assembly._order import Order
from storyrod.assembly._search import Made
from storyrod.assembly._shapes import WAYS
from storyrod.assembly._splits import Split, approach_points, lock_by
from storyrod.assembly._squares import diagonals_of, find_rings
from storyrod.assembly._ties import Move, Tie
from storyrod.assembly._words import LYING, TOWARD, brought, laid, listed, sentence, the
from storyrod.faults import Caution
from storyrod.measure.space import Direction
from storyrod.measure.writing import LengthWriter
from storyrod.model.assembly import Connectors, Diagonals, Leg, Price, Step, StepKind
from storyrod.model.hand_room import Driver
from storyrod.model.method import FittedIn
from storyrod.model.panel import Panel

LEAST_APART: Final = 120.0
"""A drawing pulls a part at least so far away from its place (mm)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """What the steps of a body are told with.

    Attributes:
        allowed: greatest difference of diagonals.
        lengths: how the job writes lengths.
    """

    order: Order
    allowed: float
    lengths: LengthWriter

    @property
    def groups(self) -> Groups:
        """Answers about the body's groups."""
        return self.order.groups

    def panels(self, group: int) -> tuple[Panel, ...]:
        """Return the panels of a group."""
        return tuple(p for i, p in enumerate(self.order.body.panels) if group >> i & 1)

    def lift(self, group: int, *, driving: bool = False) -> Lift:
        """Return what lifting a group takes."""
        return Lift(
            panels=self.panels(group),
            mass_kg=self.groups.mass_kg(group),
            one_person_kg=self.groups.handling.one_person_kg,
            lengths=self.lengths,
            driving=driving,
        )

    def ties(self, joints: int) -> list[Tie]:
        """Return the joints of a set."""
        return [self.order.body.ties[n] for n in bits(joints)]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Scene:
    """One joining step: the group it makes, how that lies, what is brought to what, how, and the joints it closes."""

    group: int
    down: int
    mover: int
    base: int
    move: Move
    closing: int
    ties: tuple[Tie, ...]
    slides: bool

    @property
    def approach(self) -> int:
        """Points for the way it is brought."""
        return approach_points(self.move, self.down, slides=self.slides)


def _scene(bench: Bench, made: Made, split: Split) -> _Scene:
    closing = bench.groups.closing(split.mover, split.base)
    return _Scene(
        group=made.group,
        down=made.made_down,
        mover=split.mover,
        base=split.base,
        move=bench.order.body.moves[split.moves[made.made_down]],
        closing=closing,
        ties=tuple(bench.ties(closing)),
        slides=bool(closing & bench.groups.sliding_ties),
    )


def bench_steps(bench: Bench) -> tuple[Step, ...]:
    """Return the steps of a body in order; numbers are given later, when all bodies are known."""
    if bench.order.made is None:
        return ()
    return tuple(_with_warnings(bench, list(_told(bench, bench.order.made))))


def _told(bench: Bench, made: Made) -> Iterator[tuple[Step, int]]:
    """Yield each step with the group that is together after it, sub-assemblies first."""
    if made.split is None or made.mover is None or made.base is None:
        return
    # What has no glue waiting for a clamp is built first, so that none waits longer than it must.
    for part in sorted((made.mover, made.base), key=lambda m: bench.groups.waiting(m.group).bit_count()):
        yield from _told(bench, part)
    yield _join(bench, _scene(bench, made, made.split)), made.group
    if made.down != made.made_down:
        yield _turn(bench, made), made.group


def _join(bench: Bench, scene: _Scene) -> Step:
    groups, ids = bench.groups, bench.order.body.ids
    clamps = _clamped(bench, scene.group) & ~_clamped(bench, scene.mover) & ~_clamped(bench, scene.base)
    lifts = _lifts(bench, scene)
    tall = _tall(bench, scene.group, scene.down)
    step = Step(
        number=0,
        kind=StepKind.JOIN,
        body=bench.order.body.code,
        moving=ids(scene.mover),
        onto=ids(scene.base),
        legs=_legs(bench, scene.move, scene.mover),
        down=WAYS[scene.down],
        rests_on=ids(groups.resting(scene.base, scene.down)),
        joints=tuple(t.joint.id for t in scene.ties),
        at_once=(scene.closing & groups.fitting_ties).bit_count(),
        lay_first=_laid_first(bench, scene),
        fit_first=tuple(c for t in scene.ties for c in _connectors(t, bench)),
        clamps=tuple(t.joint.id for t in bench.ties(clamps)),
        clamp_count=_clamp_count(bench.ties(clamps)),
        screws=tuple(t.joint.id for t in scene.ties if t.screws),
        short_driver=tuple(bench.order.body.ties[n].joint.id for n in _short(bench, scene)),
        glue=tuple(t.joint.id for t in scene.ties if t.glue),
        glue_min=groups.glue_min(scene.closing),
        moved_kg=groups.mass_kg(scene.mover),
        whole_kg=groups.mass_kg(scene.group),
        persons=max(2 if tall else 1, *(lift.persons for lift in lifts)),
        diagonals=_diagonals(bench, scene),
        hold=tuple(_holds(bench, scene)),
        cautions=(*(c for lift in lifts for c in lift.cautions()), *tall),
        price=_join_price(bench, scene),
    )
    return replace(step, text=_join_text(bench, scene, step))


def _lifts(bench: Bench, scene: _Scene) -> tuple[Lift, ...]:
    """Return what is lifted in a step: the panel that is laid down to begin with, and what is brought to it."""
    held = bool(scene.approach >= points.FROM_THE_SIDE and scene.closing & bench.groups.driven_ties)
    laid = [scene.base] if len(bench.panels(scene.base)) == 1 else []
    return (*(bench.lift(g) for g in laid), bench.lift(scene.mover, driving=held))


def _legs(bench: Bench, move: Move, mover: int) -> tuple[Leg, ...]:
    blocks = [bench.order.body.blocks[i] for i in bits(mover)]
    axis = move.out >> 1
    size = max(b[axis + 3] for b in blocks) - min(b[axis] for b in blocks)
    first = Leg(way=WAYS[move.out ^ 1], distance=max(LEAST_APART, round(size * 0.4, 1)))
    if move.unseat < 0:
        return (first,)
    return (first, Leg(way=WAYS[move.unseat ^ 1], distance=move.by))


def _clamped(bench: Bench, group: int) -> int:
    """Return the joints of a group on which a clamp can bear."""
    groups = bench.groups
    fast = groups.inside(group) & ~groups.loose(group)
    return sum(1 << t.number for t in bench.ties(fast) if t.clamps)


def _tall(bench: Bench, group: int, down: int) -> tuple[Caution, ...]:
    return tall_caution([bench.order.body.panels[i] for i in bench.groups.not_held(group, down)])


def _clamp_count(ties: Sequence[Tie]) -> int:
    """Return how many clamps close these joints: a clamp across a panel bears on the joints at both its ends."""
    pairs: dict[frozenset[int], float] = {}
    for tie in ties:
        pair = frozenset({tie.number, *tie.opposite})
        pairs[pair] = max(pairs.get(pair, 0.0), tie.joint.length)
    return sum(
        1 if length <= points.ONE_CLAMP else max(2, math.ceil(length / points.CLAMP_PITCH)) for length in pairs.values()
    )


def _short(bench: Bench, scene: _Scene) -> Iterator[int]:
    """Yield the joints to whose screws or cams only a short driver comes."""
    for number in bits(scene.closing & bench.groups.driven_ties):
        if bench.groups.driver(number, scene.group, scene.down) is Driver.SHORT:
            yield number


def _connectors(tie: Tie, bench: Bench) -> Iterator[Connectors]:
    """Yield what is fitted before the joint closes; screws are driven after, and glue alone fits nothing."""
    if tie.screws:
        return
    method = bench.order.methods[tie.joint.method]
    fitted = {c.item: c.fitted_in for size in method.sizes for c in size.consumes}
    for item, count in tie.joint.connectors:
        to = tie.joint.receiving if fitted.get(item) is FittedIn.RECEIVING else tie.joint.entering
        yield Connectors(joint=tie.joint.id, panel=to, item=item, count=count)


def _diagonals(bench: Bench, scene: _Scene) -> Diagonals | None:
    """Return the check for square where the step closes a frame, or puts on the back that keeps it square."""
    backed = bool(scene.closing & bench.groups.back_ties)
    for ring in find_rings(bench.order.body):
        closes = scene.group & ring.panels == ring.panels
        was = any(g & ring.panels == ring.panels for g in (scene.mover, scene.base))
        if closes and (not was or backed):
            return diagonals_of(bench.order.body, ring, bench.allowed)
    return None


def _holds(bench: Bench, scene: _Scene) -> Iterator[str]:
    groups = bench.groups
    mover = the(bench.panels(scene.mover))
    if scene.approach >= points.FROM_THE_SIDE:
        yield f"Hold {mover} up, or prop it, until its joints are closed."
    elif scene.closing & groups.held_ties:
        yield f"Hold or clamp {mover} in place until {_until(scene)}."
    if groups.tips_at_deg(scene.base, scene.down) < points.TIPS_AT_DEG:
        yield f"Steady {the(bench.panels(scene.base))}: it tips easily as it stands."
    started = [t.joint.number for t in scene.ties if groups.fitting_ties >> t.number & 1]
    if len(started) > 1:
        count, names = len(started), listed(started)
        yield f"Start {count} joints together ({names}), working from one end to the other, a little at a time."


def _until(scene: _Scene) -> str:
    """Return what holds a part that does not hold itself: its screws, or glue that has set."""
    if any(t.screws for t in scene.ties):
        return "its screws are in"
    return "the glue has set" if any(t.glue for t in scene.ties) else "the next part holds it"


def _join_price(bench: Bench, scene: _Scene) -> Price:
    groups = bench.groups
    locks = sum(
        points.lock_points(lock_by(scene.move, entering_moves=bool(scene.mover >> t.entering & 1)))
        for t in scene.ties
        if groups.sliding_ties >> t.number & 1
    )
    over = points.over_open_time(groups.glue_min(scene.closing), groups.handling.open_time_min)
    early = scene.closing & groups.back_ties and groups.back_ties & ~groups.inside(scene.group)
    apart = not groups.is_made(scene.mover) and not groups.is_made(scene.base)
    lying = groups.rest_points(scene.base, scene.down) if groups.is_made(scene.base) else 0
    parts = (
        ("joints started at once", points.start_together((scene.closing & groups.fitting_ties).bit_count())),
        ("held by hand", points.HOLD * (scene.closing & groups.held_ties).bit_count()),
        ("more than one person", points.HELPER * (groups.persons(scene.mover) - 1)),
        ("built apart", points.SET_ASIDE if apart else 0),
        ("back on before its frame", points.EARLY_BACK if early else 0),
        ("glue beyond its open time", over if scene.closing & groups.glued_ties else 0),
        ("two-part move", points.TWO_PARTS if scene.move.unseat >= 0 else 0),
        ("not from above", scene.approach),
        ("slots that use pulls open", locks),
        ("little room for the driver", groups.driving(scene.group).points(scene.closing)[scene.down]),
        ("how it lies before", lying),
        ("how it rests after", groups.rest_points(scene.group, scene.down)),
    )
    return Price(parts=tuple(p for p in parts if p[1]))


def _laid_first(bench: Bench, scene: _Scene) -> str:
    base = bench.panels(scene.base)
    return sentence(laid(base[0], WAYS[scene.down])) if len(base) == 1 else ""


def _join_text(bench: Bench, scene: _Scene, step: Step) -> str:
    base = bench.panels(scene.base)
    parts: list[str] = []
    met = {i for t in scene.ties for i in (t.entering, t.receiving)}
    onto = the([p for i, p in enumerate(bench.order.body.panels) if i in met and scene.base >> i & 1] or base)
    numbers = listed([t.joint.number for t in scene.ties])
    verb = "lower" if step.legs[0].way is step.down else "bring"
    text = f"{verb} {the(bench.panels(scene.mover))} {brought(step.legs[0].way, step.down)} onto {onto}"
    parts.append(sentence(f"{text} ({numbers})" if numbers else text))
    if len(step.legs) > 1:
        by = bench.lengths.told(step.legs[1].distance)
        end = "until it locks" if scene.slides else "home"
        parts.append(f"Then slide it {by} toward {TOWARD[step.legs[1].way]}, {end}.")
    if step.short_driver:
        short = [t.joint for t in scene.ties if t.joint.id in step.short_driver]
        tool = "right-angle driver" if set(step.short_driver) <= set(step.screws) else "short screwdriver"
        parts.append(f"There is room only for a {tool} at {listed([j.number for j in short])}.")
    return " ".join(parts)


def _turn(bench: Bench, made: Made) -> Step:
    groups, group = bench.groups, made.group
    was, now = WAYS[made.made_down], WAYS[made.down]
    panels = bench.panels(group)
    pulled = bench.ties(groups.pulled(group, made.made_down, made.down))
    how = "over" if was.axis is now.axis else ""
    text = f"turn it {how} so that it lies {LYING[now]}" if how else f"turn it {LYING[now]}"
    if now is Direction.DOWN:
        text = f"turn it {how + ' ' if how else ''}upright"
    lift = bench.lift(group)
    cautions = turn_caution(bench.order.body.code, panels, groups.folds(group), lift.persons)
    cautions += _tall(bench, group, made.down)
    if not cautions:
        cautions = lift.cautions()
    if pulled:
        text += f"; press {listed([t.joint.number for t in pulled])} together as you turn, nothing holds them yet"
    if any(t.glue for t in bench.ties(groups.inside(group))):
        text += ". Leave the clamps on, or wait until the glue has set, before you turn it"
    price = (
        ("turn", groups.turn_points(group, made.made_down, made.down)),
        ("how it rests after", groups.rest_points(group, made.down)),
    )
    return Step(
        number=0,
        kind=StepKind.TURN,
        body=bench.order.body.code,
        moving=bench.order.body.ids(group),
        down=now,
        was_down=was,
        rests_on=bench.order.body.ids(groups.resting(group, made.down)),
        hold=tuple(f"Hold {t.joint.number} together while you turn it." for t in pulled),
        moved_kg=groups.mass_kg(group),
        whole_kg=groups.mass_kg(group),
        persons=max(lift.persons, 2 if cautions else 1),
        cautions=cautions,
        text=sentence(text),
        price=Price(parts=tuple(p for p in price if p[1])),
    )


def _with_warnings(bench: Bench, told: list[tuple[Step, int]]) -> Iterator[Step]:
    """Say after which steps the work must not be turned: where joints are loose, or a frame may fold."""
    for (step, group), after in zip(told, [*told[1:], None], strict=True):
        turns_next = after is not None and after[0].kind is StepKind.TURN
        reason = "" if turns_next else _why_not_turn(bench, group)
        yield replace(step, do_not_turn=reason) if step.kind is StepKind.JOIN else step


def _why_not_turn(bench: Bench, group: int) -> str:
    groups = bench.groups
    loose = [t for t in bench.ties(groups.loose(group)) if not groups.is_kept_shut(group, t.number)]
    if loose:
        names = listed([t.joint.number for t in loose])
        return f"Do not turn it yet: nothing holds {names} together."
    if groups.folds(group) and group != bench.order.body.everything:
        return "Do not turn it yet, or only with a batten across a diagonal: nothing keeps it from folding."
    return ""
