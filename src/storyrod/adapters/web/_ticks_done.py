"""How far a job is: what is ticked and holds, card by card and stage by stage."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from storyrod.model.machining import WorkStage

if TYPE_CHECKING:
    from storyrod.adapters.log import Tick
    from storyrod.adapters.web._worked import Worked
    from storyrod.telling.cards import Card
    from storyrod.telling.things import Thing  # the log brings a library with it: loaded when first asked for

from storyrod.adapters.web._ticks_words import BenchCards, Words


def holds(tick: Tick | None, thing: Thing) -> bool:
    """Return whether a thing is done, as this plan wants it."""
    from storyrod.telling.things import is_still

    return tick is not None and tick.done and is_still(tick.thing, thing)


def done_on(card: Card, words: Words) -> int:
    """Return how many ticks of a card are made and hold."""
    return sum(
        holds(words.last.get((r.thing.id, copy)), r.thing)
        for g in card.groups
        for r in g.rows
        for copy in range(1, g.copies + 1)
    )


def stage_of(card: Card) -> str:
    """Return the key of the stage of the page to which a card belongs."""
    if card.kind.value == "assembly":
        return "assembly"
    cut = card.set_up is not None and card.set_up.stage is WorkStage.CUT
    return "sheets" if cut else "set-ups"


def shares_on(cards: BenchCards, words: Words) -> Mapping[str, float]:
    whole: dict[str, int] = {}
    done: dict[str, int] = {}
    for card in cards.cards:
        for stage in (stage_of(card), "bench"):
            whole[stage] = whole.get(stage, 0) + card.ticks
            done[stage] = done.get(stage, 0) + done_on(card, words)
    return {stage: done[stage] / whole[stage] for stage in whole if whole[stage]}


def rough_shares(worked: Worked, words: Words) -> Mapping[str, float]:
    """Return the shares by ids alone, from the plan as far as it is drawn."""
    from storyrod.telling.things import ThingKind

    drawn = worked.drawn
    if drawn is None:
        return {}
    whole = {"sheets": 0, "set-ups": 0, "assembly": 0}
    done = dict(whole)
    for case in drawn.cases:
        copies = case.built.case.count
        named = {
            "sheets": [ThingKind.PANEL.of(p.id) for p in case.panels],
            "set-ups": [ThingKind.CUT.of(f.id) for f in case.features],
            "assembly": [ThingKind.JOINT.of(j.id) for j in case.joints],
        }
        for stage, ids in named.items():
            whole[stage] += copies * len(ids)
            last = (words.last.get((i, c)) for i in ids for c in range(1, copies + 1))
            done[stage] += sum(t is not None and t.done for t in last)
    shares = {s: done[s] / whole[s] for s in whole if whole[s]}
    return {**shares, "bench": sum(done.values()) / max(sum(whole.values()), 1)}
