"""The small parts of a random job: lengths as its unit writes them, boards, edgings, hand holds, rows of pins."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from hypothesis import strategies as st

from storyrod.measure.length import MM_PER_INCH, Unit
from storyrod.model.job import (
    Board,
    BoardKind,
    Edging,
    Feet,
    Fillers,
    HandHold,
    HandHoldKind,
    Hung,
    HungBy,
    LooseShelves,
    PipeCutOut,
    PipedPanel,
    Plinth,
    Scribe,
    SheetSize,
    Skirting,
    WallKind,
    Worktop,
)
from storyrod.trade.boards import usual_density_kg_m3, usual_spread, usual_stiffness_n_mm2

CARCASS, THIN, DRAWER = "carcass", "thin", "drawer"
"""Codes of the boards that every random job has."""

PARTS_OF_AN_INCH: Final = 32
"""An inch job is drawn in these: its brief is written with a rule of that fineness."""

SHEET_KINDS: Final = (BoardKind.CHIPBOARD, BoardKind.FACED_CHIPBOARD, BoardKind.MDF, BoardKind.PLYWOOD)
DRAWER_KINDS: Final = (BoardKind.PLYWOOD, BoardKind.MDF)
THIN_KINDS: Final = (BoardKind.MDF, BoardKind.PLYWOOD, BoardKind.HARDBOARD)


def mm(low: float, high: float) -> st.SearchStrategy[float]:
    """Draw a length in whole and half millimetres."""
    return st.integers(round(low * 2), round(high * 2)).map(lambda halves: halves / 2)


def tenths(low: float, high: float) -> st.SearchStrategy[float]:
    """Draw a length in tenths of a millimetre."""
    return st.integers(round(low * 10), round(high * 10)).map(lambda n: n / 10)


def sizes(unit: Unit, low: float, high: float) -> st.SearchStrategy[float]:
    """Draw a length (mm) that a maker would write in this unit: half millimetres, or inches and their fractions."""
    if unit is Unit.MM:
        return mm(low, high)
    step = MM_PER_INCH / PARTS_OF_AN_INCH
    return st.integers(int(low / step) + 1, int(high / step)).map(lambda n: n / PARTS_OF_AN_INCH * MM_PER_INCH)


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


def edgings() -> st.SearchStrategy[Edging]:
    """Draw an edging by the code `edge`."""
    return st.builds(
        Edging,
        code=st.just("edge"),
        name=names,
        thickness=st.sampled_from([0.4, 1.0, 2.0]),
        price_cents_per_m=st.none() | st.integers(0, 500),
        solid=st.booleans(),
        proud=st.sampled_from([0.0, 1.0, 1.5]),
        field=st.just("edgings.edge"),
    )


def plinths(unit: Unit) -> st.SearchStrategy[Plinth]:
    """Draw a plinth of 50 to 120 mm."""
    return st.builds(
        Plinth,
        height=sizes(unit, 50, 120),
        setback=mm(0, 60),
        board=st.sampled_from([None, CARCASS]),
        back_rail=st.booleans(),
    )


def hung(unit: Unit, height: float, reach: float) -> st.SearchStrategy[Hung]:
    """Draw how a case so high hangs whose rail has so much reach for fixings: in studs that stand close, or plugs."""
    studs = st.builds(
        Hung,
        top_at=sizes(unit, height + 60, height + 1200),
        wall=st.just(WallKind.STUDS),
        stud_spacing=st.just(round(reach / 4, 1)),
        first_stud=st.none() | mm(0, 40),
        lining=st.sampled_from([0.0, 12.5, 25.0]),
        rail_width=mm(80, 130),
        by=st.sampled_from(HungBy),
    )
    plugs = st.builds(
        Hung,
        top_at=sizes(unit, height + 60, height + 1200),
        wall=st.just(WallKind.MASONRY),
        rail_width=mm(80, 130),
        by=st.sampled_from(HungBy),
    )
    return studs | plugs


def worktops() -> st.SearchStrategy[Worktop]:
    """Draw a worktop of the carcass's board, flush or standing out."""
    return st.builds(
        Worktop,
        front=mm(0, 60),
        back=st.sampled_from([0.0, 0.0, 25.0]),
        left=st.just(0.0) | mm(5, 180),
        right=st.just(0.0) | mm(5, 180),
        board=st.sampled_from([None, CARCASS]),
        edged_back=st.booleans(),
    )


def feet(unit: Unit) -> st.SearchStrategy[Feet]:
    """Draw levelling feet of the workshop's usual kind, with a plinth board or without."""
    return st.builds(
        Feet,
        height=sizes(unit, 90, 130),
        apart=st.sampled_from([600.0, 600.0, 350.0]),
        plinth=st.booleans(),
        setback=mm(20, 60),
        board=st.sampled_from([None, CARCASS]),
        floor_gap=mm(0, 5),
    )


def skirtings() -> st.SearchStrategy[Skirting]:
    """Draw a skirting board, lower or higher than most plinths."""
    return st.builds(Skirting, height=mm(40, 130), depth=mm(10, 25), clearance=mm(0, 5))


def scribes() -> st.SearchStrategy[Scribe]:
    """Draw sides to be scribed: one of them, or both alike."""
    one = st.builds(Scribe, left=mm(5, 20)) | st.builds(Scribe, right=mm(5, 20))
    return one | mm(5, 20).map(lambda by: Scribe(left=by, right=by))


def fillers() -> st.SearchStrategy[Fillers]:
    """Draw a filler on one side or on both."""
    return st.builds(
        Fillers,
        left=st.none() | mm(30, 80),
        right=mm(30, 80),
        scribe=st.sampled_from([0.0, 8.0, 12.5]),
        back=mm(0, 10),
        board=st.sampled_from([None, CARCASS]),
    )


def pipes(width: float, floor: float) -> st.SearchStrategy[tuple[PipeCutOut, ...]]:
    """Draw a cut-out for a pipe in the back of a case so wide, over its floor."""
    one = st.builds(
        PipeCutOut,
        panel=st.just(PipedPanel.BACK),
        across=mm(80, int(width) - 80),
        up=mm(int(floor) + 60, int(floor) + 90),
        width=mm(20, 60),
        height=st.none() | mm(20, 60),
    )
    return one.map(lambda c: (c,))


def hand_holds() -> st.SearchStrategy[HandHold]:
    """Draw a hand hold that goes into any front a random job has."""
    none = st.just(HandHold(kind=HandHoldKind.NONE))
    round_hole = st.builds(HandHold, kind=st.just(HandHoldKind.ROUND), length=mm(30, 40), down=mm(38, 45))
    slot = st.builds(HandHold, kind=st.just(HandHoldKind.SLOT), length=mm(60, 110), height=mm(22, 30), down=mm(38, 42))
    scoop = st.builds(
        HandHold, kind=st.just(HandHoldKind.SCOOP), length=mm(60, 110), height=mm(22, 30), corner=mm(8, 11)
    )
    return none | round_hole | slot | scoop


def rows_of_pins() -> st.SearchStrategy[LooseShelves]:
    """Draw how loose shelves stand: the usual way, or another."""
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
        rows_each_way=st.sampled_from([None, None, 0, 1, 3]),
    )
    return st.just(LooseShelves()) | own
