"""What was done while the clock ran, act by act, so that the standard times can learn from it.

One stretch of the clock holds several acts: the jig is clamped, then five holes are drilled. Nobody stops a watch
between the two, so the minutes are shared by what each act takes as written; over many stretches of unlike mixture,
each act finds its own time.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from storyrod.adapters.log.cards import Card, CardKind
from storyrod.model.joint import Joint
from storyrod.model.machining import HOLDING, HOLDING_MIN, Operation, WorkStage
from storyrod.model.workshop import Along, Registration, Way, Workshop
from storyrod.plan import Plan

_ALONE = {"edge": "edge with an iron, per metre", "laid in": "lay in a loose shelf", "hung": "hang a door"}


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
        for thing, _ in ticked:
            if thing in rows:
                yield from _assembled(thing, rows[thing].words, joints, shop)
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
    by_thing = dict(zip((r.thing.id for r in card.rows), _in_row_order(card), strict=True))
    for thing, _ in ticked:
        if thing in by_thing:
            yield from _other(card.set_up.stage, by_thing[thing], joints, shop)


def _in_row_order(card: Card) -> Iterator[Operation]:
    assert card.set_up is not None  # noqa: S101  # asked only of the cards of set-ups
    for group in card.groups:
        yield from (o for o in card.set_up.operations if o.case == group.case)


def _usual(shop: Workshop, act: str, otherwise: float) -> float:
    return shop.minutes(act, otherwise) or otherwise


def _machined(o: Operation, share: float, way: Way | None, joints: dict[str, Joint], shop: Workshop) -> Iterator[_Act]:
    method = joints[str(o.joint)].method if o.joint else ""
    if o.finishes:
        yield "countersink a hole", method, len(o.finishes) * share, o.cut_min * share
        return
    if way is None:
        return
    number = len(o.features) or 1
    if way.cut_act and o.cut_min > 0:
        per_time = _usual(shop, way.cut_act, o.cut_min / number)
        count = o.cut_min / per_time if way.per_metre else float(number)
        yield way.cut_act, method, count * share, o.cut_min * share
    to_marks = way.along is Along.MARKS and way.registration is not Registration.MATE
    holding = shop.minutes(HOLDING, HOLDING_MIN) if o.held_in is not None else 0.0
    if holding:
        yield HOLDING, "", share, holding * share
    marking = number * shop.minutes("mark a connector", 0.1) if to_marks else 0.0
    if to_marks:
        yield "mark a connector", method, number * share, marking * share
    placing = o.place_min - marking - holding
    if way.place_act and placing > 1e-9:
        yield way.place_act, method, (number if to_marks else 1) * share, placing * share


def _other(stage: WorkStage, o: Operation, joints: dict[str, Joint], shop: Workshop) -> Iterator[_Act]:
    if stage is WorkStage.CUT:
        act = "cut a panel, track saw" if shop.saw.track_saw else "cut a panel, table saw"
        yield act, "", 1.0, o.cut_min
    elif stage is WorkStage.EDGE:
        act = _ALONE["edge"]
        yield act, "", o.cut_min / _usual(shop, act, 4.0), o.cut_min
    elif stage is WorkStage.MARK:
        line = _usual(shop, "mark a joint line", 0.5)
        yield "face and edge marks, per panel", "", 1.0, o.place_min
        yield "mark a joint line", "", o.cut_min / line, o.cut_min
    elif stage is WorkStage.FIT and o.joint:
        joint = joints[str(o.joint)]
        act = "glue a connector" if joint.glue else "fit a dry connector"
        yield act, joint.method, float(o.count), o.cut_min


def _assembled(thing: str, words: str, joints: dict[str, Joint], shop: Workshop) -> Iterator[_Act]:
    kind, _, about = thing.partition(" ")
    if kind == "joint" and about in joints:
        act = "close a joint line"
        yield act, joints[about].method, 1.0, _usual(shop, act, 0.9)
    elif kind == "place":
        alone = next((a for word, a in _ALONE.items() if words.startswith(word)), "")
        if alone:
            yield alone, "", 1.0, _usual(shop, alone, 1.0)
