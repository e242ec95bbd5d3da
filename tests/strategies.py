"""Random jobs that a maker could build, for property tests of every stage.

`jobs()` draws valid jobs with the whole vocabulary of a job file. Sizes are drawn from the outside in, so that every
opening has room for what it holds: a drawer for its runner, a door for its hinges, loose shelves for their
rows of holes. A method is drawn only where it has a size for the boards and suits the place, so that few jobs are
turned away (`unit/test_strategies.py` counts them); an inch job is drawn in fractions of an inch.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

from hypothesis import strategies as st

from storyrod.measure.length import MM_PER_INCH, Unit
from storyrod.model.job import (
    REBATED_CLEARANCE,
    Back,
    BackKind,
    BetweenOrOver,
    BottomKind,
    Case,
    ClothesRail,
    Drawers,
    Edging,
    Fillers,
    Fits,
    FrontKind,
    Fronts,
    HingeSide,
    Holds,
    Job,
    JointOverride,
    Limits,
    Opening,
    Paper,
    RailsStand,
    Skirting,
    Split,
    Spread,
    Worktop,
)
from storyrod.model.workshop import RunnerMount, Workshop
from tests import builders
from tests.drawn_methods import Held, Stock, choices
from tests.drawn_parts import (
    CARCASS,
    DRAWER,
    DRAWER_KINDS,
    SHEET_KINDS,
    THIN,
    THIN_KINDS,
    boards,
    edgings,
    feet,
    fillers,
    hand_holds,
    hung,
    mm,
    names,
    pipes,
    plinths,
    rows_of_pins,
    scribes,
    sizes,
    skirtings,
    tenths,
    worktops,
)

MOST_PANELS: Final = 40
"""About so many panels a random job has at the most."""

SHELL: Final = 7
"""So many panels a case has around its inside: sides, top, base, back, plinth and its rail."""

BROUGHT: Final = {Holds.DRAWER: 6, Holds.DOOR: 1, Holds.PAIR_OF_DOORS: 2}
"""Panels that each of these brings."""


@dataclass(slots=True)
class Budget:
    """How many more panels may be drawn."""

    left: int

    def take(self, count: int) -> bool:
        """Take so many if there are that many."""
        if count > self.left:
            return False
        self.left -= count
        return True


@dataclass(frozen=True)
class Room:
    """What is known of a case while its inside is drawn."""

    board: float
    depth: float
    drawers: bool
    doors: bool
    widest_drawer: float
    unit: Unit
    budget: Budget
    rich: bool


@st.composite
def jobs(
    draw: st.DrawFn,
    workshop: Workshop | None = None,
    most_cases: int = 2,
    most_panels: int = MOST_PANELS,
    favourite: str | None = None,
) -> Job:
    """Draw a valid job for a workshop (the plain one of the test builders unless given).

    A favourite is a method's code: it holds whatever it suits. Unless given, a random one is drawn, or none.
    """
    shop = builders.workshop() if workshop is None else workshop
    unit = draw(st.sampled_from(list(Unit)))
    stock = draw(_stocks(unit))
    taped: tuple[Edging, ...] = ()
    if draw(st.booleans()):
        taped = (draw(edgings()),)
        stock = replace(stock, carcass=replace(stock.carcass, edging=taped[0].code))
    liked = draw(st.sampled_from([None, *(m.code for m in shop.methods)])) if favourite is None else favourite
    count = draw(st.integers(1, most_cases))
    chosen: list[Case] = []
    budget = Budget(most_panels - SHELL * count)
    for i in range(count):
        left = max(0, budget.left)
        own = Budget(draw(st.sampled_from([left, left // (count - i)])))  # one case may be large, others bare
        budget.left -= own.left
        chosen.append(draw(cases("ABCDEF"[i], stock, shop, unit, own)))
        budget.left += own.left
    by_job = [Held(c.back, c.plinth) for c in chosen]
    plain = builders.job(*chosen, boards=(stock.carcass, stock.drawer, stock.thin), edgings=taped)
    return replace(
        plain,
        title=draw(names),
        unit=unit,
        fraction=draw(st.sampled_from([32, 64])),
        mark_to=draw(st.sampled_from([0.1, 0.5, 1.0])),
        methods=draw(choices(shop, stock, by_job, "methods", liked)),
        spread=draw(st.sampled_from(list(Spread))),
        overrides=draw(_overrides(tuple(chosen))),
        limits=draw(st.sampled_from([Limits(), Limits(skin=2.5, wall=1.5)])),
        paper=draw(st.sampled_from(list(Paper))),
        maker=draw(st.just("") | names),
        customer=draw(st.just("") | names),
        note=draw(st.just("") | st.just('Two lines,\nand a "quote".')),
        currency=draw(st.sampled_from(["", "EUR"])),
    )


@st.composite
def _stocks(draw: st.DrawFn, unit: Unit) -> Stock:
    """Draw the boards of a job; no bottom of 9 mm goes into thin sides, whose screws its groove would meet."""
    by_the_inch = [MM_PER_INCH * 5 / 8, MM_PER_INCH * 3 / 4] if unit is Unit.INCH else []
    carcass = draw(boards(CARCASS, draw(st.sampled_from([15.0, 16.0, 18.0, 19.0, 22.0, *by_the_inch])), SHEET_KINDS))
    drawer = draw(boards(DRAWER, draw(st.sampled_from([12.0, 15.0])), DRAWER_KINDS))
    thin = draw(boards(THIN, draw(st.sampled_from([6.0] if drawer.thickness < 15 else [6.0, 9.0])), THIN_KINDS))
    return Stock(carcass, thin, drawer)


@st.composite
def _overrides(draw: st.DrawFn, chosen: tuple[Case, ...]) -> tuple[JointOverride, ...]:
    with_base = [c for c in chosen if c.base is BetweenOrOver.BETWEEN_SIDES]
    if not with_base or not draw(st.booleans()):
        return ()
    between = draw(st.sampled_from([("left side", "base"), ("base", "right side")]))
    spread = draw(st.sampled_from(list(Spread)))
    return (JointOverride(case=with_base[0].code, between=between, spread=spread, field="joints[0]"),)


@st.composite
def cases(draw: st.DrawFn, code: str, stock: Stock, shop: Workshop, unit: Unit, budget: Budget) -> Case:
    """Draw a case with room for what its inside holds."""
    t = stock.carcass.measured
    rich = draw(st.integers(0, 3)) == 3  # large, and cut into openings as often as there is room
    width = draw(sizes(unit, 800 if rich else 320, 1200))
    height = draw(sizes(unit, 900 if rich else 320, 1400))
    depth = draw(sizes(unit, 360, 620))
    is_open = draw(st.integers(0, 5)) == 0
    top, base = draw(_top(is_open)), draw(_base(is_open))
    has_plinth = base is BetweenOrOver.BETWEEN_SIDES and height > 420 and draw(st.booleans())
    plinth = draw(plinths(unit)) if has_plinth else None
    on_feet = draw(feet(unit)) if plinth is None and height > 480 and draw(st.integers(0, 3)) == 3 else None
    back = draw(_backs())
    rail_width, stand = draw(mm(60, 110)), draw(st.sampled_from(RailsStand))
    upright = top is BetweenOrOver.RAILS and stand is RailsStand.UPRIGHT
    has_top = top is not BetweenOrOver.NONE and not upright
    may_hang = has_top and base is BetweenOrOver.BETWEEN_SIDES and plinth is None and on_feet is None
    hangs = draw(hung(unit, height, width - 2 * t - 60)) if may_hang and draw(st.integers(0, 2)) == 2 else None
    strip = draw(mm(80, 120)) if has_top and hangs is None and draw(st.integers(0, 3)) == 3 else None
    if hangs is not None or strip is not None:
        back = _set_in(back)
    wide_enough = (top is not BetweenOrOver.RAILS or rail_width >= 100) and t >= 17  # a screw of some length holds
    over = draw(worktops()) if has_top and hangs is None and wide_enough and draw(st.integers(0, 2)) == 2 else None
    below = plinth.height if plinth else on_feet.height if on_feet else 0.0
    skirting = draw(skirtings()) if hangs is None and draw(st.integers(0, 3)) == 3 else None
    off_wall = over.back if over is not None else 0.0
    if skirting is not None and skirting.top > below and skirting.out > off_wall:
        back = _clear_of(skirting, back)
    may_scribe = hangs is None and back.kind is not BackKind.APPLIED
    strips = draw(fillers()) if draw(st.integers(0, 3)) == 3 else None
    drawers = draw(_drawers(shop))
    widest = next(r.width_max for r in shop.runners if r.code == (drawers.runner or shop.default_runner))
    room = Room(
        board=t,
        depth=depth,
        drawers=not is_open,
        doors=t >= 16,
        widest_drawer=min(widest, 600.0),
        unit=unit,
        budget=budget,
        rich=rich,
    )
    clear_height = height - below - t - (rail_width if upright else t)
    inside = draw(openings(width - 2 * t, clear_height, room, fronted=is_open, level=0))
    may_pipe = back.kind is not BackKind.NONE and inside.split is None
    return Case(
        code=code,
        name=draw(names),
        count=draw(st.integers(1, 4)),
        width=width,
        height=height,
        depth=depth,
        board=stock.carcass.code,
        top=top,
        base=base,
        rail_width=rail_width,
        rail_count=draw(st.sampled_from([2, 3])),
        rails_stand=stand,
        back_rail=strip,
        plinth=plinth,
        hung=hangs,
        worktop=over,
        skirting=skirting,
        cut_outs=draw(pipes(width, below + t)) if may_pipe and draw(st.integers(0, 2)) == 2 else (),
        scribe=draw(scribes()) if may_scribe and draw(st.integers(0, 3)) == 3 else None,
        fillers=strips,
        feet=on_feet,
        back=back,
        fits=draw(st.none() | st.just(_place(width, height, t, over, strips))),
        inside=inside,
        fronts=draw(_fronts()),
        drawers=drawers,
        loose_shelves=draw(rows_of_pins()),
        edged=draw(st.booleans()),
        edged_ends=draw(st.booleans()),
        methods=draw(st.none() | choices(shop, stock, [Held(back, plinth)], "")),
    )


def _place(width: float, height: float, t: float, over: Worktop | None, strips: Fillers | None) -> Fits:
    """Return a place that a case goes into, with its worktop and fillers."""
    width += strips.gaps if strips is not None else 0.0
    more = (over.left + over.right, t) if over is not None else (0.0, 0.0)
    return Fits(width=width + 10.5 + more[0], height=height + 20.0 + more[1], clearance=5.0)


def _top(is_open: bool) -> st.SearchStrategy[BetweenOrOver]:
    usual = [BetweenOrOver.BETWEEN_SIDES, BetweenOrOver.OVER_SIDES, BetweenOrOver.RAILS]
    return st.sampled_from([*usual, BetweenOrOver.NONE] if is_open else usual)


def _base(is_open: bool) -> st.SearchStrategy[BetweenOrOver]:
    usual = [BetweenOrOver.BETWEEN_SIDES, BetweenOrOver.UNDER_SIDES]
    return st.sampled_from(usual)


@st.composite
def _backs(draw: st.DrawFn) -> Back:
    kind = draw(st.sampled_from(list(BackKind)))
    if kind is BackKind.NONE:
        return Back(kind=kind)
    inset = draw(mm(0, 20)) if kind is BackKind.BETWEEN else draw(mm(8, 20)) if kind is BackKind.GROOVED else 0.0
    housed = kind in {BackKind.REBATED, BackKind.GROOVED}
    return Back(
        kind=kind,
        board=THIN if housed or draw(st.booleans()) else CARCASS,
        inset=inset,
        in_top=draw(st.booleans()) if housed else True,
        in_base=draw(st.booleans()) if housed else True,
        clearance=draw(tenths(0, 3)) if kind is BackKind.REBATED else REBATED_CLEARANCE,
    )


def _set_in(back: Back) -> Back:
    """Return a back that leaves room behind it for a rail, as far in as the rail is thick unless that is too little."""
    kind = {BackKind.APPLIED: BackKind.NONE, BackKind.REBATED: BackKind.GROOVED}.get(back.kind, back.kind)
    if kind is BackKind.NONE:
        return Back(kind=kind)
    inset = back.inset + 20 if back.inset > 10 else 0.0
    return replace(back, kind=kind, inset=inset, in_top=True, clearance=REBATED_CLEARANCE)


def _clear_of(skirting: Skirting, back: Back) -> Back:
    """Return a back before a skirting board: set in as far as that asks for, unless it is farther in already."""
    kind = {BackKind.APPLIED: BackKind.NONE, BackKind.REBATED: BackKind.GROOVED}.get(back.kind, back.kind)
    if kind is BackKind.NONE:
        return Back(kind=kind)
    inset = back.inset + 35 if back.inset > 10 else 0.0
    return replace(back, kind=kind, inset=inset, clearance=REBATED_CLEARANCE)


@st.composite
def _fronts(draw: st.DrawFn) -> Fronts:
    kind = draw(st.sampled_from(list(FrontKind)))
    return Fronts(
        kind=kind,
        board=draw(st.sampled_from([None, CARCASS])),
        gap=draw(tenths(2, 4)),
        reveal=draw(tenths(0.5, 3)),
        at_top=draw(st.none() | tenths(1, 6)),
        at_bottom=draw(st.none() | tenths(1, 6)),
        at_left=draw(st.none() | tenths(1, 4)),
        at_right=draw(st.none() | tenths(1, 4)),
        back=draw(mm(0, 4)) if kind is FrontKind.INSET else 0.0,
        hand_hold=draw(hand_holds()),
        matching_grain=draw(st.booleans()),
    )


@st.composite
def _drawers(draw: st.DrawFn, shop: Workshop) -> Drawers:
    runner = draw(st.sampled_from([None, *(r.code for r in shop.runners)]))
    mount = next(r.mount for r in shop.runners if r.code == (runner or shop.default_runner))
    applied = mount is RunnerMount.SIDE and draw(st.booleans())
    return Drawers(
        runner=runner,
        board=DRAWER,
        bottom_board=THIN,
        bottom=BottomKind.APPLIED if applied else BottomKind.GROOVED,
        room_above=draw(st.none() | mm(10, 20)),
        room_below=draw(st.none() | mm(15, 16)),
        bottom_up=draw(mm(10, 11)),  # clear of the runner's screws, which stand about 20 mm up
    )


@st.composite
def openings(draw: st.DrawFn, width: float, height: float, room: Room, *, fronted: bool, level: int) -> Opening:
    """Draw an opening of a clear size; `fronted` says that it must not have fronts of its own."""
    most_rows, most_columns = int(height // 150), int(width // 300)
    splits = [s for s, most in ((Split.ROWS, most_rows), (Split.COLUMNS, most_columns)) if most >= 2]
    if level < 3 and splits and room.budget.left > 0 and (room.rich or draw(st.integers(0, 3)) > level):
        split = draw(st.sampled_from(splits))
        holds = draw(st.sampled_from([*[Holds.OPEN] * 3, *_doors(width, height, room)])) if not fronted else Holds.OPEN
        room.budget.take(BROUGHT.get(holds, 0))
        behind = fronted or holds is not Holds.OPEN
        inside = draw(_parts(split, width, height, room, behind, level))
        hinged = draw(st.sampled_from(HingeSide))
        set_back = draw(st.sampled_from([0.0, 0.0, 30.0, 40.5])) if split is Split.ROWS else 0.0
        return Opening(
            split=split, inside=inside, holds=holds, hinged=hinged, set_back=set_back, name=draw(st.just("") | names)
        )
    return draw(_whole(width, height, room, fronted))


def _doors(width: float, height: float, room: Room) -> list[Holds]:
    if height < 300 or not room.doors:
        return []
    single = [Holds.DOOR] if 200 <= width <= 600 else []
    return [*single, Holds.PAIR_OF_DOORS] if 420 <= width <= 1100 else single


@st.composite
def _parts(
    draw: st.DrawFn, split: Split, width: float, height: float, room: Room, behind: bool, level: int
) -> tuple[Opening, ...]:
    along = height if split is Split.ROWS else width
    least = 130.0 if split is Split.ROWS else 270.0
    most = min(4, int((along + room.board) // (least + room.board)))
    may_bank = split is Split.ROWS and not behind and _takes_drawer(width, least, room) and most >= 3
    bank = may_bank and room.budget.left >= 3 * BROUGHT[Holds.DRAWER] + 2 and draw(st.booleans())
    if bank:
        count = 4 if most == 4 and room.budget.left >= 4 * BROUGHT[Holds.DRAWER] + 3 and draw(st.booleans()) else 3
    else:  # a rich case is nested deep rather than cut in many parts at once
        count = draw(st.integers(2, min(2 if room.rich and level < 2 else 4, most)))
    unparted = split is Split.ROWS and draw(st.integers(0, 2)) == 0
    panels = 0 if unparted else count - 1
    room.budget.take(panels)
    left = along - panels * room.board
    each = (left - count * least) / count  # so much more than the least, of every part
    sized = draw(st.integers(0, count - 1)) if each >= 2 else 0
    said: list[float | None] = [draw(sizes(room.unit, least, least + each)) for _ in range(sized)]
    shared = count - sized
    rest = left - sum(s or 0.0 for s in said)
    parts = draw(st.sampled_from([1.0, 1.0, 1.5])) if rest / (shared + 0.5) >= least else 1.0
    places = draw(st.permutations([*said, *([None] * shared)]))
    first = places.index(None)
    total = shared - 1 + parts
    inside = []
    for number, size in enumerate(places):
        share = parts if number == first else 1.0
        clear = size if size is not None else rest * share / total
        w, h = (width, clear) if split is Split.ROWS else (clear, height)
        # Rows with no panel between them leave nothing for dividers to stand on: they are not cut further.
        if bank:
            opening = draw(_whole(w, h, room, behind, (Holds.DRAWER,)))
        elif unparted:
            opening = draw(_whole(w, h, room, behind))
        else:
            opening = draw(openings(w, h, room, fronted=behind, level=level + 1))
        inside.append(replace(opening, size=size, parts=share if size is None else 1.0, parted=not unparted))
    return tuple(inside)


def _takes_drawer(width: float, height: float, room: Room) -> bool:
    return room.drawers and height >= 120 and 250 <= width <= room.widest_drawer


@st.composite
def _whole(
    draw: st.DrawFn, width: float, height: float, room: Room, fronted: bool, only: tuple[Holds, ...] = ()
) -> Opening:
    kinds = [Holds.OPEN]
    with_pins = height >= (450 if fronted else 300) and width >= 150  # hinge plates take some of the places
    if with_pins:
        kinds.append(Holds.LOOSE_SHELVES)
    if not fronted:
        kinds += _doors(width, height, room)
        if _takes_drawer(width, height, room):
            kinds += [Holds.DRAWER, Holds.DRAWER]
    holds = draw(st.sampled_from(only or kinds))
    if not room.budget.take(BROUGHT.get(holds, 0)):
        holds = Holds.OPEN
    is_bare = holds in {Holds.OPEN, Holds.DRAWER} or (holds is not Holds.LOOSE_SHELVES and height < 450)
    most = 0 if is_bare else min(3, int(height // 250))
    least = 1 if holds is Holds.LOOSE_SHELVES else 0
    shelves = draw(st.integers(least, max(least, most))) if with_pins and most else 0
    railed = not shelves and holds is not Holds.DRAWER and width >= 150 and height >= 300
    return Opening(
        holds=holds,
        loose_shelves=shelves,
        clothes_rail=draw(st.none() | clothes_rails(height)) if railed else None,
        hinged=draw(st.sampled_from(HingeSide)),
        front_kind=draw(st.sampled_from([None, None, *FrontKind])) if holds in _FRONTED else None,
        hand_hold=draw(st.none() | hand_holds()) if holds in _FRONTED else None,
        load_kg=draw(st.none() | st.sampled_from([5.0, 20.0])),
        name=draw(st.just("") | names),
    )


@st.composite
def clothes_rails(draw: st.DrawFn, height: float) -> ClothesRail:
    """Draw a clothes rail of the workshop's usual kind, high enough under the top of an opening."""
    return ClothesRail(
        height=draw(st.none() | mm(100, int(height) - 60)),
        from_front=draw(st.none() | mm(90, 150)),
        load_kg=draw(st.none() | st.sampled_from([10.0, 40.0])),
    )


_FRONTED = frozenset({Holds.DRAWER, Holds.DOOR, Holds.PAIR_OF_DOORS})
