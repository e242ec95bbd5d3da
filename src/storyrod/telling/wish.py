"""Proposals for a wish in words: what each is, what stands where, why each size is so, what it gives up, why not."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from storyrod.drawing import Drawing, Figures
from storyrod.drawing.wish_front import Standing, wish_front
from storyrod.measure.space import Axis
from storyrod.measure.writing import LengthWriter
from storyrod.model.account import joined_words, show_money
from storyrod.model.carcass import BuiltCase
from storyrod.model.wish import HAND_ROOM, Broken, Goods, MadeBy, Misfit, Quarrel, Stand, WhyNot
from storyrod.planning import Dropped, Proposal, Proposed
from storyrod.wish import Band, Kind, things_in

_COUNTS: Final = ("no", "one", "two", "three", "four")


def kind_words(kind: Kind) -> str:
    """Return what a kind is called: `two columns, lines run through`."""
    many = _COUNTS[kind.columns]
    if kind.apart:
        what = f"{many} cases side by side"
    elif kind.columns == 1:
        what = "one column"
    else:
        what = f"{many} columns"
    over = {Band.NONE: "", Band.TOP: ", under rows of the whole width", Band.BOTTOM: ", over rows of the whole width"}
    more = [
        ("lines run through", kind.lines),
        ("left and right alike", kind.mirrored and kind.columns > 1),
        ("shelves loose", kind.loose),
    ]
    return what + over[kind.band] + "".join(f", {words}" for words, is_so in more if is_so)


def size_words(proposal: Proposal, lengths: LengthWriter) -> str:
    """Return the outside sizes of a proposal, all cases together."""
    width, height, depth = (s.mm for s in proposal.sized)
    return f"{lengths.told(width)} wide, {lengths.told(height)} high, {lengths.told(depth)} deep"


def minutes_words(minutes: float) -> str:
    """Return minutes of work as a maker says them."""
    whole = round(minutes)
    hours, rest = divmod(whole, 60)
    if not hours:
        return f"{rest} minutes"
    return f"{hours} {'hour' if hours == 1 else 'hours'}" + (f" {rest} minutes" if rest else "")


def figure_lines(proposal: Proposal, currency: str) -> Iterator[str]:
    """Yield what a proposal costs, takes and weighs, and how it is measured."""
    sheets = f"{proposal.sheets} {'sheet' if proposal.sheets == 1 else 'sheets'}"
    least = "at least " if proposal.lacks_prices else ""
    money = f"{least}{show_money(proposal.money_cents, currency)}"
    yield f"{money}, {minutes_words(proposal.minutes)}, {sheets}, {proposal.weight_kg:.0f} kg empty"
    look = proposal.look
    yield (
        f"things take {proposal.fit:.0%} of its room; look {look.total:.2f} of 1: lines {look.lines:.2f}, "
        f"few sizes {look.sizes:.2f}, lower is deeper {look.progression:.2f}, symmetry {look.symmetry:.2f}"
    )
    if proposal.to_fix:
        yield f"fix {joined_words(proposal.to_fix)} to the wall"
    if proposal.plinth_by:
        yield f"{proposal.plinth_by} hold the plinth: by the wish's own method it could not go in"
    if proposal.jigs:
        yield f"make first: {joined_words(proposal.jigs)}"


def stand_lines(proposal: Proposal, goods: Sequence[Goods], lengths: LengthWriter) -> Iterator[str]:
    """Yield what stands where, and what made each row as high as it is."""
    for stand in proposal.stands:
        own = goods[stand.goods]
        spare = stand.room - stand.count
        yield (
            f"{place_words(stand, proposal)}: {own.name}, {stand.count:,}"
            + (f" (room for {spare:,} more)" if spare > 0 else "")
            + f"; {_height_why(stand, own, lengths)}"
        )


def place_words(stand: Stand, proposal: Proposal) -> str:
    """Return where an opening is, as it is counted from the top and the left: `case A, column 2, row 3`."""
    steps = [f"case {stand.case}"] if len(proposal.job.cases) > 1 else []
    for part in stand.opening.split(".")[1:]:
        name, _, rest = part.partition("[")
        if rest:
            number = int(rest.rstrip("]")) + 1
            steps.append(f"{'column' if name == 'columns' else 'row'} {number}")
    return ", ".join(steps) or "the whole inside"


def _height_why(stand: Stand, goods: Goods, lengths: LengthWriter) -> str:
    high = lengths.told(stand.height)
    what = {
        MadeBy.REST: "it takes what the rows beside it leave",
        MadeBy.ALIKE: "as high as the row that it lines up with",
    }.get(stand.height_by)
    if what is not None:
        return f"{high} high: {what}"
    tall = goods.height * stand.layers
    on = f"{stand.layers} on one another, {lengths.told(tall)}" if stand.layers > 1 else f"{lengths.told(tall)} each"
    if goods.reach.value == "drawer":
        return f"{high} high: {on}, and what box and runner take"
    if goods.way.value == "hangs":
        return f"{high} high: {lengths.told(goods.height)} on the rail, room over it and under it"
    return f"{high} high: {on}, and {lengths.told(HAND_ROOM)} for the hand"


def sized_lines(proposal: Proposal, goods: Sequence[Goods], lengths: LengthWriter) -> Iterator[str]:
    """Yield what made the outside sizes what they are."""
    for sized in proposal.sized:
        why = {
            MadeBy.PLACE: "fills the place",
            MadeBy.ROWS: "what its rows need" if sized.size == "height" else "what its columns need",
            MadeBy.RUNNER: f"the runner of {lengths.told(sized.runner)}, the back and what it needs behind",
            MadeBy.THINGS: f"{goods[sized.goods].name} and the back" if sized.goods >= 0 else "what goes in",
        }.get(sized.by, "what is left")
        yield f"{sized.size} {lengths.told(sized.mm)}: {why}"


def given_up(proposal: Proposal, others: Sequence[Proposal], currency: str, *, look: bool = True) -> Iterator[str]:
    """Yield what a proposal gives up beside the best of the others in each measure."""
    rest = [o for o in others if o is not proposal]
    if not rest:
        return
    cheap = min(rest, key=lambda o: o.money_cents)
    if cheap.money_cents < proposal.money_cents:
        more = show_money(proposal.money_cents - cheap.money_cents, currency)
        yield f"{more} more than proposal {cheap.number}"
    quick = min(rest, key=lambda o: o.minutes)
    if round(quick.minutes) < round(proposal.minutes):
        yield f"{minutes_words(proposal.minutes - quick.minutes)} more than proposal {quick.number}"
    tight = max(rest, key=lambda o: o.fit)
    if tight.fit > proposal.fit + 0.005:
        yield f"more empty room than proposal {tight.number}"
    calm = max(rest, key=lambda o: o.look.total)
    if look and calm.look.total > proposal.look.total + 0.005:
        yield f"less calm than proposal {calm.number}"


def dropped_words(dropped: Dropped, goods: Sequence[Goods], currency: str) -> str:
    """Return why a kind came to no proposal."""
    name = kind_words(dropped.kind)
    if dropped.twin:
        return f"{name}: the same as a proposal above"
    if dropped.sagging:
        return f"{name}: a board would sag beyond its limit"
    if dropped.limits:
        return f"{name}: {'; '.join(_limit_words(q, currency) for q in dropped.limits)}"
    if dropped.faults:
        first = dropped.faults[0]
        return f"{name}: cannot be built so ({first.field}: {first.found}; allowed: {first.allowed})"
    if dropped.misfits:
        return f"{name}: {misfit_words(dropped.misfits[0], goods)}"
    return f"{name}: it does not all go in" if dropped.proven else f"{name}: no way found to put it all in"


def _limit_words(quarrel: Quarrel, currency: str) -> str:
    if quarrel.what is Broken.MONEY:
        return f"costs {show_money(quarrel.enough or 0, currency)}, {show_money(quarrel.asked or 0, currency)} allowed"
    if quarrel.what is Broken.MINUTES:
        return f"takes {minutes_words(quarrel.enough or 0)}, {minutes_words(quarrel.asked or 0)} allowed"
    if quarrel.what is Broken.SHEETS:
        return f"takes {quarrel.enough:.0f} sheets, {quarrel.asked:.0f} allowed"
    return "needs a jig that must be made first"


# --- Why not ----------------------------------------------------------------------------------------------------------


def why_lines(why: WhyNot, goods: Sequence[Goods], lengths: LengthWriter, currency: str) -> Iterator[str]:
    """Yield which wishes quarrel, and the least change of each that makes peace."""
    if not why.quarrels:
        yield "Everything goes in, but no way of building it passed. See what was tried."
        return
    yield "These wishes cannot all be met" + ("" if why.proven else ", as far as was looked") + ":"
    yield from (f"  {wish_words(q, goods, lengths, currency)}" for q in why.quarrels)
    ways = [w for q in why.quarrels if (w := peace_words(q, goods, lengths, currency))]
    if ways:
        yield "Change one of them:"
        yield from (f"  {way}" for way in ways)
    else:
        yield "No one of them alone makes peace: change two, or give the place more room."


def wish_words(quarrel: Quarrel, goods: Sequence[Goods], lengths: LengthWriter, currency: str) -> str:
    """Return one wish as it was asked."""
    name = goods[quarrel.goods].name if quarrel.goods >= 0 else ""
    asked = quarrel.asked or 0
    told = {
        Broken.COUNT: f"{asked:,.0f} {name}",
        Broken.ZONE: f"{name} at their height",
        Broken.HEIGHT: f"a place {lengths.told(asked)} high",
        Broken.WIDTH: f"a place {lengths.told(asked)} wide",
        Broken.DEPTH: f"a place {lengths.told(asked)} deep",
        Broken.SLOPE: "the slope",
        Broken.DOOR: "the door that it is carried through",
        Broken.USERS: "all within reach of who uses it",
        Broken.LOOK: "the look",
        Broken.MONEY: f"at most {show_money(asked, currency)}",
        Broken.MINUTES: f"at most {minutes_words(asked)}",
        Broken.SHEETS: f"at most {asked:.0f} sheets",
        Broken.JIGS: "no jig to make",
    }[quarrel.what]
    return f"{told} [{quarrel.field}]"


def peace_words(quarrel: Quarrel, goods: Sequence[Goods], lengths: LengthWriter, currency: str) -> str:
    """Return the least change of one wish that makes peace; "" where none does."""
    if not quarrel.helps:
        return ""
    name = goods[quarrel.goods].name if quarrel.goods >= 0 else ""
    asked, enough = quarrel.asked or 0, quarrel.enough or 0
    more = lengths.told(max(0.0, enough - asked))
    return {
        Broken.COUNT: f"{enough:,.0f} {name} go in: leave {asked - enough:,.0f} out",
        Broken.ZONE: f"let the {name} be at any height",
        Broken.HEIGHT: f"all goes in with {more} more height: {lengths.told(enough)}",
        Broken.WIDTH: f"all goes in with {more} more width: {lengths.told(enough)}",
        Broken.DEPTH: f"all goes in with {more} more depth: {lengths.told(enough)}",
        Broken.SLOPE: "without the slope all goes in",
        Broken.DOOR: "carried another way in, all goes in",
        Broken.USERS: "all goes in where someone else reaches for it",
        Broken.LOOK: "without what is asked of the look all goes in",
        Broken.MONEY: f"allow {show_money(enough, currency)}",
        Broken.MINUTES: f"allow {minutes_words(enough)}",
        Broken.SHEETS: f"allow {enough:.0f} sheets",
        Broken.JIGS: "allow a jig to be made",
    }[quarrel.what]


def misfit_words(misfit: Misfit, goods: Sequence[Goods]) -> str:
    """Return one wish that a job does not keep."""
    name = goods[misfit.goods].name if misfit.goods >= 0 else ""
    wanted, found = misfit.wanted, misfit.found
    match misfit.code:
        case "count":
            return f"{found:,.0f} of {wanted:,.0f} {name} go in"
        case "size":
            return f"{found:,.0f} of {wanted:,.0f} {name} go into {misfit.where}"
        case "place":
            return f"{misfit.where} {found:g} mm in a place of {wanted:g} mm"
        case "zone":
            return f"the {name} are at {found:g} mm, {wanted:g} mm is the limit"
        case "reach":
            return f"the {name} are not reached as was asked"
        case "collision":
            return f"the {name} meet a board in {misfit.where}"
        case _:
            return f"the opening of the {name} is gone"


def kept_lines(misfits: Sequence[Misfit], goods: Sequence[Goods], name: str) -> Iterator[str]:
    """Yield what of the wish beside a job no longer fits in, or that everything does."""
    if not misfits:
        yield f"Everything of {name} still goes in."
        return
    yield f"No longer as {name} asks:"
    yield from (f"  {misfit_words(m, goods)}" for m in misfits)


# --- A small elevation in letters -------------------------------------------------------------------------------------


@dataclass(slots=True)
class _Canvas:
    wide: int
    high: int
    rows: list[list[str]]

    def put(self, x: int, y: int, sign: str) -> None:
        if 0 <= x < self.wide and 0 <= y < self.high:
            self.rows[y][x] = sign


MOST_WIDE: Final = 72
"""A terminal of 80 signs holds an elevation so wide."""

MM_A_ROW: Final = 55.0
"""So many mm of height are one line of signs."""


def elevation_lines(proposal: Proposal, goods: Sequence[Goods]) -> tuple[str, ...]:
    """Return the front in letters: every opening, with what stands in it."""
    cases = proposal.plan.carcass.cases
    width = sum(c.case.width for c in cases)
    height = max(c.case.height for c in cases)
    across = min(MM_A_ROW / 2, 20.0)
    wide = min(MOST_WIDE, max(24, round(width / across)))
    high = max(6, round(height / MM_A_ROW))
    canvas = _Canvas(wide + 1, high + 1, [[" "] * (wide + 1) for _ in range(high + 1)])
    counts = {(s.case, s.opening): s for s in proposal.stands}
    start = 0.0
    for case in cases:
        for opening in case.openings:
            if not opening.children:
                stand = counts.get((case.case.code, opening.cause))
                (left, right), (low, top) = opening.box.span(Axis.X), opening.box.span(Axis.Z)
                x = (round((start + left) / width * wide), round((start + right) / width * wide))
                y = (high - round(top / height * high), high - round(low / height * high))
                words = f"{goods[stand.goods].name}: {stand.count:,}" if stand is not None else "free"
                _frame(canvas, x, y, words)
        start += case.case.width
    for i in range(wide + 1):
        canvas.put(i, high, "=")  # the floor
    return tuple("".join(row).rstrip() for row in canvas.rows)


def _frame(canvas: _Canvas, x: tuple[int, int], y: tuple[int, int], words: str) -> None:
    for i in range(x[0], x[1] + 1):
        canvas.put(i, y[0], "-")
        canvas.put(i, y[1], "-")
    for j in range(y[0], y[1] + 1):
        canvas.put(x[0], j, "|")
        canvas.put(x[1], j, "|")
    for i in x:
        for j in y:
            canvas.put(i, j, "+")
    room, lines = x[1] - x[0] - 1, y[1] - y[0] - 1
    if room < 3 or lines < 1:
        return
    told = textwrap.wrap(words, room)[:lines]
    first = y[0] + 1 + (lines - len(told)) // 2
    for n, line in enumerate(told):
        for i, sign in enumerate(line):
            canvas.put(x[0] + 1 + (room - len(line)) // 2 + i, first + n, sign)


def pictures_of(proposal: Proposal, goods: Sequence[Goods]) -> tuple[Drawing, ...]:
    """Return each case of a proposal from the front, with what stands in it."""
    figures = Figures.of_job(proposal.job)
    return tuple(
        wish_front(case, tuple(_standing(case.built, proposal.stands, goods)), figures=figures)
        for case in proposal.plan.details.cases
    )


def _standing(case: BuiltCase, stands: Sequence[Stand], goods: Sequence[Goods]) -> Iterator[Standing]:
    ids = {o.cause: o.id for o in case.openings}
    for stand in stands:
        if stand.case == case.case.code:
            own = goods[stand.goods]
            yield Standing(
                opening=ids[stand.opening],
                words=f"{own.name}: {stand.count:,}",
                things=things_in(case, own, stand),
            )


def report_lines(found: Proposed, lengths: LengthWriter, currency: str, *, look: bool = True) -> Iterator[str]:
    """Yield everything that is told of a wish on a terminal."""
    for proposal in sorted(found.proposals, key=lambda p: p.number):
        mark = "" if proposal.unbeaten else " (another is better or as good in everything)"
        yield f"{proposal.number}  {kind_words(proposal.kind)}: {size_words(proposal, lengths)}{mark}"
        yield ""
        yield from (f"   {line}" for line in elevation_lines(proposal, found.goods))
        yield ""
        yield from (f"   {line}" for line in figure_lines(proposal, currency))
        lost = list(given_up(proposal, found.proposals, currency, look=look))
        if lost:
            yield f"   gives up: {'; '.join(lost)}"
        yield from (f"   {line}" for line in stand_lines(proposal, found.goods, lengths))
        yield from (f"   {line}" for line in sized_lines(proposal, found.goods, lengths))
        yield ""
    if found.why is not None:
        yield from why_lines(found.why, found.goods, lengths, currency)
        yield ""
    if found.dropped:
        yield "Also tried:"
        yield from (f"  {dropped_words(d, found.goods, currency)}" for d in found.dropped)
