"""Random jobs that a maker could build, for property tests of every stage.

`jobs()` draws valid jobs with the whole vocabulary of a job file. Sizes are drawn from the outside in, so that every
opening has room for what it holds: a drawer for its runner, a door for its hinges, loose shelves for their
rows of holes.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from hypothesis import strategies as st

from storyrod.measure.length import Unit
from storyrod.model.job import (
    REBATED_CLEARANCE,
    Back,
    BackKind,
    BetweenOrOver,
    Board,
    BoardKind,
    BottomKind,
    Case,
    Drawers,
    Edging,
    Fits,
    FrontKind,
    Fronts,
    HandHold,
    HandHoldKind,
    Holds,
    Job,
    JointClass,
    JointOverride,
    Limits,
    LooseShelves,
    MethodChoice,
    Opening,
    Paper,
    Plinth,
    SheetSize,
    Split,
    Spread,
)
from storyrod.model.workshop import RunnerMount, Workshop
from storyrod.trade.boards import usual_density_kg_m3, usual_spread, usual_stiffness_n_mm2
from tests import builders

CARCASS, THIN, DRAWER = "carcass", "thin", "drawer"
"""Codes of the boards that every random job has."""


def mm(low: float, high: float) -> st.SearchStrategy[float]:
    """Draw a length in whole and half millimetres."""
    return st.integers(round(low * 2), round(high * 2)).map(lambda halves: halves / 2)


def tenths(low: float, high: float) -> st.SearchStrategy[float]:
    """Draw a length in tenths of a millimetre."""
    return st.integers(round(low * 10), round(high * 10)).map(lambda n: n / 10)


names = st.text(
    st.sampled_from("abcdefghij XYZ äéß-_'\"\\#[]={}0123456789…"),
    min_size=1,
    max_size=20,
).filter(lambda t: t == t.strip())
"""Names with all that might trip a writer of TOML."""


@st.composite
def boards(draw: st.DrawFn, code: str, thickness: float, kinds: tuple[BoardKind, ...]) -> Board:
    """Draw a board of a nominal thickness: measured or not, with figures of its own or the usual ones of its kind."""
    kind = draw(st.sampled_from(kinds))
    given_figures, is_measured = draw(st.booleans()), draw(st.booleans())
    measured = draw(tenths(thickness - 0.6, thickness + 0.3)) if is_measured else thickness
    along, across = usual_stiffness_n_mm2(kind, thickness)
    plain = Board(
        code=code,
        name=draw(names),
        kind=kind,
        thickness=thickness,
        measured=measured,
        measured_given=is_measured,
        spread=draw(st.sampled_from([usual_spread(kind, thickness, measured=is_measured), 0.1, 0.25])),
        sheets=tuple(draw(st.lists(_sheets(), min_size=1, max_size=2))),
        grain=draw(st.booleans()),
        density_kg_m3=usual_density_kg_m3(kind, thickness) or 700.0,
        stiffness_n_mm2=along,
        stiffness_across_n_mm2=across,
        named_figures=("density_kg_m3", "stiffness_n_mm2", "stiffness_across_n_mm2"),
        field=f"boards.{code}",
    )
    if not given_figures:
        return plain
    return replace(
        plain,
        density_kg_m3=draw(st.sampled_from([655.5, 700.0])),
        stiffness_n_mm2=draw(st.sampled_from([2500.0, 6000.5])),
        stiffness_across_n_mm2=2000.0,
        named_figures=(),
    )


def _sheets() -> st.SearchStrategy[SheetSize]:
    return st.builds(
        SheetSize,
        length=mm(2400, 3050),
        width=mm(1220, 2070),
        price_cents=st.none() | st.integers(0, 20_000),
        copies=st.none() | st.integers(0, 40),
    )


_SHEET_KINDS = (BoardKind.CHIPBOARD, BoardKind.FACED_CHIPBOARD, BoardKind.MDF, BoardKind.PLYWOOD)
_THIN_KINDS = (BoardKind.MDF, BoardKind.PLYWOOD, BoardKind.HARDBOARD)


@dataclass(frozen=True)
class Room:
    """What is known of a case while its inside is drawn."""

    board: float
    depth: float
    drawers: bool
    doors: bool
    widest_drawer: float


@st.composite
def jobs(draw: st.DrawFn, workshop: Workshop | None = None, most_cases: int = 2) -> Job:
    """Draw a valid job for a workshop (the plain one of the test builders unless given)."""
    shop = builders.workshop() if workshop is None else workshop
    carcass = draw(boards(CARCASS, draw(st.sampled_from([15.0, 16.0, 18.0, 19.0, 22.0])), _SHEET_KINDS))
    drawer = draw(boards(DRAWER, draw(st.sampled_from([12.0, 15.0])), (BoardKind.PLYWOOD, BoardKind.MDF)))
    thin = draw(boards(THIN, draw(st.sampled_from([6.0, 9.0])), _THIN_KINDS))
    edgings: tuple[Edging, ...] = ()
    if draw(st.booleans()):
        edgings = (draw(_edgings()),)
        carcass = replace(carcass, edging=edgings[0].code)
    count = draw(st.integers(1, most_cases))
    chosen = tuple(draw(cases(f"{'ABCDEF'[i]}", carcass, shop)) for i in range(count))
    plain = builders.job(*chosen, boards=(carcass, drawer, thin), edgings=edgings)
    return replace(
        plain,
        title=draw(names),
        unit=draw(st.sampled_from(list(Unit))),
        fraction=draw(st.sampled_from([32, 64])),
        mark_to=draw(st.sampled_from([0.1, 0.5, 1.0])),
        methods=draw(_choices(shop, "methods")),
        spread=draw(st.sampled_from(list(Spread))),
        overrides=draw(_overrides(chosen)),
        limits=draw(st.sampled_from([Limits(), Limits(skin=2.5, wall=1.5)])),
        paper=draw(st.sampled_from(list(Paper))),
        maker=draw(st.just("") | names),
        customer=draw(st.just("") | names),
        note=draw(st.just("") | st.just('Two lines,\nand a "quote".')),
        currency=draw(st.sampled_from(["", "EUR"])),
    )


def _edgings() -> st.SearchStrategy[Edging]:
    return st.builds(
        Edging,
        code=st.just("edge"),
        name=names,
        thickness=st.sampled_from([0.4, 1.0, 2.0]),
        price_cents_per_m=st.none() | st.integers(0, 500),
        solid=st.booleans(),
        field=st.just("edgings.edge"),
    )


def _choices(shop: Workshop, field: str) -> st.SearchStrategy[MethodChoice]:
    """Draw which method holds which class: those of the workshop that suit it, or none said."""

    def one(joint_class: JointClass) -> st.SearchStrategy[str | None]:
        return st.sampled_from([None, *(m.code for m in shop.methods if joint_class in m.classes)])

    return st.builds(
        MethodChoice,
        corner=one(JointClass.CORNER),
        mid_panel=one(JointClass.MID_PANEL),
        plinth=one(JointClass.PLINTH),
        back=one(JointClass.BACK),
        drawer_box=one(JointClass.DRAWER_BOX),
        field=st.just(field),
    )


@st.composite
def _overrides(draw: st.DrawFn, chosen: tuple[Case, ...]) -> tuple[JointOverride, ...]:
    with_base = [c for c in chosen if c.base is BetweenOrOver.BETWEEN_SIDES]
    if not with_base or not draw(st.booleans()):
        return ()
    between = draw(st.sampled_from([("left side", "base"), ("base", "right side")]))
    spread = draw(st.sampled_from(list(Spread)))
    return (JointOverride(case=with_base[0].code, between=between, spread=spread, field="joints[0]"),)


@st.composite
def cases(draw: st.DrawFn, code: str, board: Board, shop: Workshop) -> Case:
    """Draw a case with room for what its inside holds."""
    t = board.measured
    width, height, depth = draw(mm(320, 1200)), draw(mm(320, 1400)), draw(mm(360, 620))
    is_open = draw(st.integers(0, 5)) == 0
    top, base = draw(_top(is_open)), draw(_base(is_open))
    has_plinth = base is BetweenOrOver.BETWEEN_SIDES and height > 420 and draw(st.booleans())
    plinth = draw(_plinths()) if has_plinth else None
    back = draw(_backs())
    fronts = draw(_fronts())
    drawers = draw(_drawers(shop))
    widest = next(r.width_max for r in shop.runners if r.code == (drawers.runner or shop.default_runner))
    room = Room(board=t, depth=depth, drawers=not is_open, doors=t >= 16, widest_drawer=min(widest, 600.0))
    clear_height = height - (plinth.height if plinth else 0.0) - 2 * t
    inside = draw(openings(width - 2 * t, clear_height, room, fronted=is_open, level=0))
    return Case(
        code=code,
        name=draw(names),
        count=draw(st.integers(1, 4)),
        width=width,
        height=height,
        depth=depth,
        board=board.code,
        top=top,
        base=base,
        rail_width=draw(mm(60, 120)),
        plinth=plinth,
        back=back,
        fits=draw(st.none() | st.just(Fits(width=width + 10.5, height=height + 20.0, clearance=5.0))),
        inside=inside,
        fronts=fronts,
        drawers=drawers,
        loose_shelves=draw(_loose_shelves()),
        edged=draw(st.booleans()),
        methods=draw(st.none() | _choices(shop, "")),
    )


def _top(is_open: bool) -> st.SearchStrategy[BetweenOrOver]:
    usual = [BetweenOrOver.BETWEEN_SIDES, BetweenOrOver.OVER_SIDES, BetweenOrOver.RAILS]
    return st.sampled_from([*usual, BetweenOrOver.NONE] if is_open else usual)


def _base(is_open: bool) -> st.SearchStrategy[BetweenOrOver]:
    usual = [BetweenOrOver.BETWEEN_SIDES, BetweenOrOver.UNDER_SIDES]
    return st.sampled_from(usual)


def _plinths() -> st.SearchStrategy[Plinth]:
    return st.builds(
        Plinth,
        height=mm(50, 120),
        setback=mm(0, 60),
        board=st.sampled_from([None, CARCASS]),
        back_rail=st.booleans(),
    )


@st.composite
def _backs(draw: st.DrawFn) -> Back:
    kind = draw(st.sampled_from(list(BackKind)))
    if kind is BackKind.NONE:
        return Back(kind=kind)
    inset = draw(mm(0, 20)) if kind is BackKind.BETWEEN else draw(mm(8, 20)) if kind is BackKind.GROOVED else 0.0
    housed = kind in {BackKind.REBATED, BackKind.GROOVED}
    return Back(
        kind=kind,
        board=THIN,
        inset=inset,
        in_top=draw(st.booleans()) if housed else True,
        in_base=draw(st.booleans()) if housed else True,
        clearance=draw(tenths(0, 3)) if kind is BackKind.REBATED else REBATED_CLEARANCE,
    )


@st.composite
def _fronts(draw: st.DrawFn) -> Fronts:
    kind = draw(st.sampled_from(list(FrontKind)))
    return Fronts(
        kind=kind,
        board=draw(st.sampled_from([None, CARCASS])),
        gap=draw(tenths(2, 4)),
        reveal=draw(tenths(0.5, 3)),
        back=draw(mm(0, 4)) if kind is FrontKind.INSET else 0.0,
        hand_hold=draw(hand_holds()),
        matching_grain=draw(st.booleans()),
    )


def hand_holds() -> st.SearchStrategy[HandHold]:
    """Draw a hand hold that goes into any front a random job has."""
    none = st.just(HandHold(kind=HandHoldKind.NONE))
    round_hole = st.builds(HandHold, kind=st.just(HandHoldKind.ROUND), length=mm(30, 40), down=mm(38, 45))
    slot = st.builds(HandHold, kind=st.just(HandHoldKind.SLOT), length=mm(60, 110), height=mm(22, 30), down=mm(38, 42))
    scoop = st.builds(
        HandHold, kind=st.just(HandHoldKind.SCOOP), length=mm(60, 110), height=mm(22, 30), corner=mm(8, 11)
    )
    return none | round_hole | slot | scoop


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


def _loose_shelves() -> st.SearchStrategy[LooseShelves]:
    own = st.builds(
        LooseShelves,
        board=st.sampled_from([None, CARCASS]),
        hole=st.sampled_from([5.0, 6.0]),
        hole_depth=tenths(8, 10),
        pitch=st.sampled_from([25.0, 32.0]),
        from_front=mm(30, 50),
        from_back=mm(30, 50),
        margin=mm(40, 64),
        slack=tenths(0.5, 1.5),
        set_back=mm(0, 20),
        behind=mm(0, 8),
    )
    return st.just(LooseShelves()) | own


@st.composite
def openings(draw: st.DrawFn, width: float, height: float, room: Room, *, fronted: bool, level: int) -> Opening:
    """Draw an opening of a clear size; `fronted` says that it must not have fronts of its own."""
    most_rows, most_columns = int(height // 150), int(width // 300)
    splits = [s for s, most in ((Split.ROWS, most_rows), (Split.COLUMNS, most_columns)) if most >= 2]
    if level < 3 and splits and draw(st.integers(0, 3)) > level:
        split = draw(st.sampled_from(splits))
        holds = draw(st.sampled_from([Holds.OPEN, *_doors(width, height, room)])) if not fronted else Holds.OPEN
        behind = fronted or holds is not Holds.OPEN
        inside = draw(_parts(split, width, height, room, behind, level))
        hinged = draw(st.sampled_from(["left", "right"]))
        return Opening(split=split, inside=inside, holds=holds, hinged=hinged, name=draw(st.just("") | names))
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
    count = draw(st.integers(2, min(4, int((along + room.board) // (least + room.board)))))
    unparted = split is Split.ROWS and draw(st.integers(0, 2)) == 0
    panels = 0 if unparted else count - 1
    left = along - panels * room.board
    spare = left - count * least
    sized = draw(st.integers(0, count - 1)) if spare > 0 else 0
    sizes: list[float | None] = [least + draw(mm(0, int(spare / count))) for _ in range(sized)]
    shared = count - sized
    rest = left - sum(s or 0.0 for s in sizes)
    parts = draw(st.sampled_from([1.0, 1.0, 1.5])) if rest / (shared + 0.5) >= least else 1.0
    places = draw(st.permutations([*sizes, *([None] * shared)]))
    first = places.index(None)
    total = shared - 1 + parts
    inside = []
    for number, size in enumerate(places):
        share = parts if number == first else 1.0
        clear = size if size is not None else rest * share / total
        w, h = (width, clear) if split is Split.ROWS else (clear, height)
        # Rows with no panel between them leave nothing for dividers to stand on: they are not cut further.
        if unparted:
            opening = draw(_whole(w, h, room, behind))
        else:
            opening = draw(openings(w, h, room, fronted=behind, level=level + 1))
        inside.append(replace(opening, size=size, parts=share if size is None else 1.0, parted=not unparted))
    return tuple(inside)


@st.composite
def _whole(draw: st.DrawFn, width: float, height: float, room: Room, fronted: bool) -> Opening:
    kinds = [Holds.OPEN]
    with_pins = height >= (450 if fronted else 300) and width >= 150  # hinge plates take some of the places
    if with_pins:
        kinds.append(Holds.LOOSE_SHELVES)
    if not fronted:
        kinds += _doors(width, height, room)
        if room.drawers and height >= 120 and 250 <= width <= room.widest_drawer:
            kinds += [Holds.DRAWER, Holds.DRAWER]
    holds = draw(st.sampled_from(kinds))
    is_bare = holds in {Holds.OPEN, Holds.DRAWER} or (holds is not Holds.LOOSE_SHELVES and height < 450)
    most = 0 if is_bare else min(3, int(height // 250))
    least = 1 if holds is Holds.LOOSE_SHELVES else 0
    return Opening(
        holds=holds,
        loose_shelves=draw(st.integers(least, max(least, most))) if with_pins and most else 0,
        hinged=draw(st.sampled_from(["left", "right"])),
        hand_hold=draw(st.none() | hand_holds()) if holds in _FRONTED else None,
        load_kg=draw(st.none() | st.sampled_from([5.0, 20.0])),
        name=draw(st.just("") | names),
    )


_FRONTED = frozenset({Holds.DRAWER, Holds.DOOR, Holds.PAIR_OF_DOORS})
