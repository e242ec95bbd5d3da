"""What can be ticked in a plan, and which ticks of an older plan still hold."""

from __future__ import annotations

from collections.abc import Iterable

from storyrod.adapters.log._types import CarriedOver, Changed, Tick
from storyrod.telling.things import Thing, is_sheets_cut, is_still


def carry_over(ticks: Iterable[Tick], things: Iterable[Thing]) -> CarriedOver:
    """Return which ticks hold in a plan with these `things`, which things are now wanted otherwise, which are gone."""
    now = {t.id: t for t in things}
    held: list[Tick] = []
    changed: list[Changed] = []
    gone: list[Tick] = []
    for tick in ticks:
        if not tick.done or is_sheets_cut(tick.thing.id):  # Sheets once cut stay cut, whatever is planned.
            continue
        thing = now.get(tick.thing.id)
        if thing is None:
            gone.append(tick)
        elif is_still(tick.thing, thing):
            held.append(tick)
        else:
            changed.append(Changed(tick=tick, now=thing))
    return CarriedOver(held=tuple(held), changed=tuple(changed), gone=tuple(gone))
