"""The screws of a case's fittings: chosen, put on the list of what is bought, and told where none will do."""

from __future__ import annotations

from dataclasses import replace

from storyrod.carcass._fixings import Draft, NoScrew, settle
from storyrod.carcass._making import Making
from storyrod.model.fixing import Fixing, FixingKind


def settle_fixings(making: Making) -> tuple[Fixing, ...]:
    """Return every fitting of the case with its screws; screws are put on the list, what has none is a fault."""
    cuts = {f.id: f for features in making.fittings.values() for f in features}
    drafts = [replace(d, features=tuple(cuts[f.id] for f in d.features)) for d in making.drafts]
    fixings, without = settle(drafts, making.workshop, making.shallow)
    for one in without:
        _tell(making, one)
    by_place = {(d.kind, d.panel.id, d.about): d for d in drafts}
    for fixing in fixings:
        draft = by_place[fixing.kind, fixing.panel, fixing.about]
        if fixing.screws is not None:
            making.stock(fixing.screws.item, fixing.screws.item, fixing.screws.count, "piece", draft.where, draft.cause)
        _tell_shorter(making, draft, fixing)
    return fixings


def _tell(making: Making, one: NoScrew) -> None:
    if one.kind is None:
        making.fault(
            "missing-screw",
            one.driven.place,
            found=f'"{one.driven.code}" for {one.draft.name}',
            allowed="a kind of screw that the workshop has",
            do="Add it under [screws] in the workshop file, with the lengths you keep.",
        )
        return
    lengths = ", ".join(map(making.job.lengths.bought, one.kind.lengths))
    name, board = one.draft.name, one.draft.panel.name
    what = name if name == board else f"{name} on {board}"
    making.fault(
        "fitting-screws",
        one.driven.place,
        found=f"{one.kind.code} in {lengths} for {what}, {making.mm(one.driven.board)} thick",
        allowed=f"a screw whose tip goes {making.mm(one.driven.least)} to {making.mm(max(0.0, one.deepest))} into it, "
        f"under {making.mm(one.driven.seat)} of what it holds",
        do="Choose a thicker board, or add a shorter screw that you have to the workshop's screws.",
    )


def _tell_shorter(making: Making, draft: Draft, fixing: Fixing) -> None:
    """Caution the maker where the screws in the fitting's bag would meet others from the panel's other face."""
    if fixing.screws is None or not any(f.id in making.shallow for f in draft.features):
        return
    about = f"{draft.panel.name}, {draft.where}"
    do = f"Use {fixing.screws.item} there: its tip goes {making.mm(fixing.screws.bite)} deep."
    ids = (draft.panel.id,)
    if fixing.kind is FixingKind.RUNNER_CASE:
        making.caution(
            "short-runner-screws", about, "Runner screws from both faces meet at the same place.", do, ids=ids
        )
    elif fixing.kind is FixingKind.RAIL_SOCKET:
        making.caution(
            "short-socket-screws", about, "Socket screws from both faces meet at the same place.", do, ids=ids
        )
