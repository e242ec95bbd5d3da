"""What was done while the clock ran, act by act, so that the standard times can learn from it.

One stretch of the clock holds several acts: the jig is clamped, then five holes are drilled. Nobody stops a watch
between the two, so the minutes are shared by what each act takes as written; over many stretches of unlike mixture,
each act finds its own time.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from storyrod.model.act import Act
from storyrod.model.assembly import HandAct, StepKind
from storyrod.model.joint import Joint
from storyrod.model.machining import Operation, WorkStage
from storyrod.model.workshop import Along, Registration, Way, Workshop
from storyrod.planning import Plan
from storyrod.telling.cards import Card, CardKind, Row, hand_id
from storyrod.telling.things import ThingKind

BY_HAND: Final[Mapping[HandAct, tuple[Act, float]]] = {
    HandAct.RUNNER_CASE: (Act.FIT_RUNNERS, 0.2),
    HandAct.RUNNER_DRAWER: (Act.FIT_RUNNERS, 0.2),
    HandAct.RUNNER_CATCH: (Act.FIT_RUNNERS, 0.4),
    HandAct.PLATES: (Act.HANG_DOOR, 0.15),
    HandAct.HINGES: (Act.HANG_DOOR, 0.25),
    HandAct.SET_DOOR: (Act.HANG_DOOR, 0.35),
    HandAct.SOCKET: (Act.FIT_CLOTHES_RAIL, 0.3),
    HandAct.TUBE: (Act.FIT_CLOTHES_RAIL, 0.4),
    HandAct.PINS: (Act.LAY_IN_SHELF, 0.4),
    HandAct.TURN: (Act.TURN_CAM, 1.0),
    HandAct.FEET: (Act.FIT_FOOT, 1.0),
    HandAct.CLIPS: (Act.CLIP_PLINTH, 0.7),
}
"""What is ticked by hand in the assembly, and which share of an act it is: a pair of runners has two halves on the
case, two on the drawer, and goes in. Common practice, no source; in sum each act is done once."""

PLACED: Final[Mapping[StepKind, tuple[Act, float]]] = {
    StepKind.DRAWER: (Act.FIT_RUNNERS, 0.2),
    StepKind.FRONT: (Act.FIX_DRAWER_FRONT, 1.0),
    StepKind.DOOR: (Act.HANG_DOOR, 0.25),
    StepKind.SHELF: (Act.LAY_IN_SHELF, 0.6),
    StepKind.WORKTOP: (Act.FIX_WORKTOP, 1.0),
    StepKind.PLINTH: (Act.CLIP_PLINTH, 0.3),
    StepKind.FILLER: (Act.SCRIBE, 1.0),
}
"""The same for what is brought into its place."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Done:
    """An act done `count` times (or metres), which takes `minutes` as written; `method` where it is of one joint."""

    act: str
    method: str
    count: float
    minutes: float


def acts_of(plan: Plan, card: Card, ticked: Iterable[tuple[str, int]]) -> tuple[Done, ...]:
    """Return the acts that the ticks of one stretch stand for; things of other cards are passed over.

    Args:
        plan: the plan that the card is of.
        card: the card.
        ticked: ids of things with the number of the copy, each once.
    """
    sums: dict[tuple[str, str], tuple[float, float]] = defaultdict(lambda: (0.0, 0.0))
    for act, method, count, minutes in _acts(plan, card, list(ticked)):
        had = sums[act, method]
        sums[act, method] = had[0] + count, had[1] + minutes
    return tuple(
        Done(act=act, method=method, count=count, minutes=minutes)
        for (act, method), (count, minutes) in sums.items()
        if count > 0 and minutes > 0
    )


def share_out(minutes: float, done: tuple[Done, ...]) -> tuple[tuple[Done, float], ...]:
    """Return each act with its share of the measured minutes, by what the acts take as written."""
    whole = sum(d.minutes for d in done)
    return tuple((d, minutes * d.minutes / whole) for d in done) if whole > 0 else ()


type _Act = tuple[str, str, float, float]


def _acts(plan: Plan, card: Card, ticked: list[tuple[str, int]]) -> Iterator[_Act]:
    shop = plan.workshop
    joints: dict[str, Joint] = {str(j.id): j for c in plan.details.cases for j in c.joints}
    rows = {r.thing.id: r for r in card.rows}
    if card.kind is not CardKind.SET_UP or card.set_up is None:
        yield from _together(plan, [rows[thing] for thing, _ in ticked if thing in rows], joints)
        return
    if card.set_up.is_cut:
        way = next((w for w in shop.ways if card.set_up.setting and w.code == card.set_up.setting.way), None)
        ways = {o.id: o for o in card.set_up.operations}
        for group in card.groups:
            mine = {r.thing.id for r in group.rows}
            count = sum(thing in mine for thing, _ in ticked)
            if count:
                yield from _machined(ways[group.operation], count / len(mine), way, joints, shop)
        return
    lipped = _lipped(plan)
    by_thing = dict(zip((r.thing.id for r in card.rows), _in_row_order(card), strict=True))
    for thing, _ in ticked:
        if thing in by_thing:
            yield from _other(card.set_up.stage, by_thing[thing], joints, shop, lipped)


def _together(plan: Plan, rows: Sequence[Row], joints: dict[str, Joint]) -> Iterator[_Act]:
    """Yield the acts of putting a case together."""
    shop = plan.workshop
    placed = {s.body: s.kind for c in plan.assembly.cases for s in c.steps if s.kind in PLACED}
    by_hand = {hand_id(o): o for c in plan.assembly.cases for s in c.steps for o in s.by_hand}
    for row in rows:
        if row.kind is ThingKind.PLACE:
            yield from _shared(PLACED[placed[row.about]], 1, "", shop)
        elif row.thing.id in by_hand:
            one = by_hand[row.thing.id]
            joint = joints.get(one.about)
            yield from _shared(BY_HAND[one.act], one.count, joint.method if joint else "", shop)
        elif row.kind is ThingKind.JOINT:
            method = joints[row.about].method
            yield Act.CLOSE_JOINT_LINE, method, 1.0, shop.minutes(Act.CLOSE_JOINT_LINE)


def _in_row_order(card: Card) -> Iterator[Operation]:
    assert card.set_up is not None  # noqa: S101  # asked only of the cards of set-ups
    for group in card.groups:
        yield from (o for o in card.set_up.operations if o.case == group.case)


def _shared(part: tuple[Act, float], count: int, method: str, shop: Workshop) -> Iterator[_Act]:
    """Yield a share of an act, done so many times."""
    act, share = part
    yield act, method, share * count, share * count * shop.minutes(act)


def _machined(o: Operation, share: float, way: Way | None, joints: dict[str, Joint], shop: Workshop) -> Iterator[_Act]:
    method = joints[str(o.joint)].method if o.joint else ""
    if o.finishes:
        yield Act.COUNTERSINK_HOLE, method, len(o.finishes) * share, o.cut_min * share
        return
    if way is None:
        return
    number = len(o.features) or 1
    if way.cut_act and o.cut_min > 0:
        count = o.cut_min / shop.minutes(way.cut_act) if way.per_metre else float(number)
        yield way.cut_act, method, count * share, o.cut_min * share
    to_marks = way.along is Along.MARKS and way.registration is not Registration.MATE
    holding = shop.minutes(Act.HOLD_NARROW_PART) if o.held_in is not None else 0.0
    if holding:
        yield Act.HOLD_NARROW_PART, "", share, holding * share
    marking = number * shop.minutes(Act.MARK_CONNECTOR) if to_marks else 0.0
    if to_marks:
        yield Act.MARK_CONNECTOR, method, number * share, marking * share
    placing = o.place_min - marking - holding
    if way.place_act and placing > 1e-9:
        yield way.place_act, method, (number if to_marks else 1) * share, placing * share


def _lipped(plan: Plan) -> frozenset[str]:
    """Return the ids of the panels that are lipped with solid wood."""
    solid = {e.code for e in plan.job.edgings if e.solid}
    return frozenset(str(p.id) for c in plan.details.cases for p in c.panels if any(s.edging in solid for s in p.edged))


def _other(
    stage: WorkStage, o: Operation, joints: dict[str, Joint], shop: Workshop, lipped: frozenset[str]
) -> Iterator[_Act]:
    if stage is WorkStage.CUT:
        act = Act.CUT_PANEL_TRACK_SAW if shop.saw.track_saw else Act.CUT_PANEL_TABLE_SAW
        yield act, "", 1.0, o.cut_min
    elif stage is WorkStage.EDGE:
        act = Act.LIP_SOLID_WOOD if str(o.panel) in lipped else Act.EDGE_IRON
        yield act, "", _times(o.cut_min, shop.minutes(act)), o.cut_min
    elif stage is WorkStage.MARK:
        yield Act.FACE_EDGE_MARKS, "", 1.0, o.place_min
        yield Act.MARK_JOINT_LINE, "", _times(o.cut_min, shop.minutes(Act.MARK_JOINT_LINE)), o.cut_min
    elif stage is WorkStage.FIT and o.joint and o.count:
        joint = joints[str(o.joint)]
        act = Act.GLUE_CONNECTOR if joint.glue else Act.FIT_DRY_CONNECTOR
        yield act, joint.method, float(o.count), o.cut_min


def _times(whole: float, each: float) -> float:
    """Return how often an act of `each` minutes is done in `whole`; none where it is written to take no time."""
    return whole / each if each > 0 else 0.0
