"""What of a job goes in whole steps as a size changes: sheets, runners, hinges, connectors, jigs, lifts for two."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from storyrod.planning import Plan
from storyrod.telling.connectors import connector_items
from storyrod.telling.figures import sheets_bought


class Thing(StrEnum):
    """What is counted."""

    SHEET = "sheet"
    RUNNER = "runner"
    HINGE = "hinge"
    CONNECTOR = "connector"
    JIG = "jig"
    LIFT = "lift"


@dataclass(frozen=True, slots=True, kw_only=True)
class Counted:
    """A thing that is counted, by its kind and its name: which board, which length."""

    thing: Thing
    name: str = ""


type Counts = Mapping[Counted, int]


def counts_of(plan: Plan) -> Counts:
    """Return how many of each thing a plan takes, all copies counted.

    Raises:
        JobError: the job cannot be built, or its sheets not be cut.
    """
    counts: Counter[Counted] = Counter()
    for name, n in sheets_bought(plan):
        counts[Counted(thing=Thing.SHEET, name=name)] += n
    for case in plan.details.cases:
        copies = case.built.case.count
        for drawer in case.built.drawers:
            name = f"{drawer.runner}, {plan.job.lengths.n(drawer.runner_length)}"
            counts[Counted(thing=Thing.RUNNER, name=name)] += copies
        counts[Counted(thing=Thing.HINGE)] += sum(door.hinges for door in case.built.doors) * copies
    for item, n in connector_items(plan).items():
        counts[Counted(thing=Thing.CONNECTOR, name=item)] += n
    counts[Counted(thing=Thing.JIG)] += sum(not jig.owned for jig in plan.machining.jigs)
    for found in plan.soundness.cases:
        lifts = sum(p.persons > 1 for p in (*found.weights.panels, found.weights.carcass))
        counts[Counted(thing=Thing.LIFT)] += lifts
    return {counted: n for counted, n in counts.items() if n}


def changes(before: Counts, after: Counts) -> tuple[str, ...]:
    """Return what one plan takes more and fewer of than another, in words: `1 sheet of birch plywood 18 fewer`."""
    return tuple(_changes(before, after))


def only_connectors(before: Counts, after: Counts) -> bool:
    """Return whether nothing but connectors is more or fewer."""
    return all(c.thing is Thing.CONNECTOR for c in {**before, **after} if before.get(c, 0) != after.get(c, 0))


def _changes(before: Counts, after: Counts) -> Iterator[str]:
    order = list(Thing)
    every = sorted({**before, **after}, key=lambda c: (order.index(c.thing), c.name))
    for counted in every:
        more = after.get(counted, 0) - before.get(counted, 0)
        if more:
            yield f"{_words(counted, abs(more))} {'more' if more > 0 else 'fewer'}"


_PLURALS: Final[Mapping[Thing, tuple[str, str]]] = {
    Thing.SHEET: ("sheet of {name}", "sheets of {name}"),
    Thing.RUNNER: ("pair of runners ({name})", "pairs of runners ({name})"),
    Thing.HINGE: ("hinge", "hinges"),
    Thing.CONNECTOR: ("× {name}", "× {name}"),
    Thing.JIG: ("jig to make", "jigs to make"),
    Thing.LIFT: ("lift for two people", "lifts for two people"),
}


def _words(counted: Counted, n: int) -> str:
    one, many = _PLURALS[counted.thing]
    return f"{n} {(one if n == 1 else many).format(name=counted.name)}"
