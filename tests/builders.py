"""Plain factories for tests: small, readable jobs and workshops, with the field paths of a file just read.

Every factory takes the usual case as its default and any field of its model by name. The default board is
exactly 18 mm, so that sums done by hand stay short: a test about measured thickness says `measured=17.7`.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from storyrod.model.feet import FootKind
from storyrod.model.job import (
    Board,
    BoardKind,
    Case,
    Edging,
    HingeSide,
    Holds,
    Job,
    Opening,
    SheetSize,
    Split,
)
from storyrod.model.workshop import Hinge, RailKind, Runner, RunnerMount, ScrewKind, Workshop


def board(code: str = "b18", thickness: float = 18.0, *, measured: float | None = None, **more: Any) -> Board:
    """Return a board without grain, `measured` as thick as its name unless set."""
    plain = Board(
        code=code,
        name=f"board {thickness:g}",
        kind=BoardKind.FACED_CHIPBOARD,
        thickness=thickness,
        measured=thickness if measured is None else measured,
        measured_given=measured is not None,
        spread=0.1,
        sheets=(SheetSize(length=2800.0, width=2070.0, price_cents=6000),),
        grain=False,
        density_kg_m3=650.0,
        stiffness_n_mm2=2500.0,
        stiffness_across_n_mm2=2500.0,
        field=f"boards.{code}",
    )
    return replace(plain, **more)


def boards() -> tuple[Board, ...]:
    """Return what most jobs need: `b18` for carcasses, `b12` for drawers, `b6` for backs and bottoms."""
    return (
        board(),
        board("b12", 12.0, kind=BoardKind.PLYWOOD, density_kg_m3=680.0, stiffness_n_mm2=6000.0),
        board("b6", 6.0, kind=BoardKind.MDF, density_kg_m3=780.0),
    )


def edging(code: str = "tape", thickness: float = 1.0, **more: Any) -> Edging:
    """Return an edge tape, 1 mm unless set."""
    return replace(
        Edging(code=code, name=f"{thickness:g} mm tape", thickness=thickness, field=f"edgings.{code}"), **more
    )


def side_runner(code: str = "side", **more: Any) -> Runner:
    """Return a side-mounted runner: 12.7 mm each side, 5 mm behind."""
    plain = Runner(
        code=code,
        name="side-mounted runner",
        mount=RunnerMount.SIDE,
        lengths=(250.0, 300.0, 350.0, 400.0, 450.0, 500.0, 550.0),
        field=f"runners.{code}",
    )
    return replace(plain, **more)


def under_runner(code: str = "under", **more: Any) -> Runner:
    """Return an under-mounted runner: the box's inside is 42 mm less than the opening."""
    plain = Runner(
        code=code,
        name="under-mounted runner",
        mount=RunnerMount.UNDER,
        lengths=(270.0, 300.0, 350.0, 400.0, 450.0, 500.0),
        box_shorter=10.0,
        room_below=12.0,
        room_above=10.0,
        field=f"runners.{code}",
    )
    return replace(plain, **more)


def hinge(code: str = "cup", **more: Any) -> Hinge:
    """Return a concealed hinge with a 35 mm cup, shallow enough for a door of 15 mm."""
    return replace(Hinge(code=code, name="cup hinge", cup_depth=11.0, field=f"hinges.{code}"), **more)


def rail(code: str = "tube", **more: Any) -> RailKind:
    """Return a kind of clothes rail: a steel tube of 25 x 1, its sockets on two screws of 3.5 each."""
    plain = RailKind(
        code=code,
        name="steel tube 25 with sockets",
        diameter=25.0,
        wall=1.0,
        fixed_with="pan-head screw 3.5",
        field=f"clothes_rails.{code}",
    )
    return replace(plain, **more)


def foot(code: str = "foot", **more: Any) -> FootKind:
    """Return a levelling foot that is turned from 90 to 130, its plate 70 wide on two screws 40 apart."""
    plain = FootKind(
        code=code, name="levelling foot", least=90.0, most=130.0, fixed_with="pan-head screw 3.5", field=f"feet.{code}"
    )
    return replace(plain, **more)


def screws() -> tuple[ScrewKind, ...]:
    """Return the kinds of screw that runners, hinges and fronts ask for unless set."""
    return (
        ScrewKind(code="pan-head screw 3.5", diameter=3.5, lengths=(6.5, 8.0, 9.5, 11.0, 13.0, 16.0), pilot=2.5),
        ScrewKind(code="pan-head screw 4", diameter=4.0, lengths=(16.0, 20.0, 25.0, 30.0, 35.0, 40.0), pilot=2.5),
        ScrewKind(code="countersunk screw 3.5", diameter=3.5, lengths=(9.5, 11.0, 13.0, 16.0), pilot=2.5),
        ScrewKind(code="countersunk screw 4", diameter=4.0, lengths=(16.0, 25.0, 35.0, 45.0), pilot=2.5),
        ScrewKind(code="system screw 6.3", diameter=6.3, lengths=(9.0, 11.0, 13.0), pilot=5.0),
    )


def workshop(**more: Any) -> Workshop:
    """Return a workshop with two runners (side-mounted by default), one hinge and clothes rail, no methods."""
    plain = Workshop(
        name="choir's workshop",
        methods=(),
        runners=(side_runner(), under_runner()),
        hinges=(hinge(),),
        clothes_rails=(rail(),),
        feet=(foot(),),
        screws=screws(),
        default_runner="side",
        default_hinge="cup",
        default_rail="tube",
        default_foot="foot",
    )
    return replace(plain, **more)


def opening(size: float | None = None, **more: Any) -> Opening:
    """Return an opening left whole; `size` is its clear height as a row or width as a column."""
    return replace(Opening(size=size), **more)


def drawer(size: float | None = None, **more: Any) -> Opening:
    """Return an opening with a drawer in it."""
    return replace(Opening(size=size, holds=Holds.DRAWER), **more)


def door(size: float | None = None, *, hinged: str = "left", **more: Any) -> Opening:
    """Return an opening behind one door."""
    return replace(Opening(size=size, holds=Holds.DOOR, hinged=HingeSide(hinged)), **more)


def doors(size: float | None = None, **more: Any) -> Opening:
    """Return an opening behind a pair of doors."""
    return replace(Opening(size=size, holds=Holds.PAIR_OF_DOORS), **more)


def shelves(count: int, size: float | None = None, **more: Any) -> Opening:
    """Return an opening with `count` loose shelves."""
    return replace(Opening(size=size, holds=Holds.LOOSE_SHELVES, loose_shelves=count), **more)


def rows(*inside: Opening, **more: Any) -> Opening:
    """Return an opening cut into rows, from the top down."""
    return replace(Opening(split=Split.ROWS, inside=inside), **more)


def columns(*inside: Opening, **more: Any) -> Opening:
    """Return an opening cut into columns, from the left."""
    return replace(Opening(split=Split.COLUMNS, inside=inside), **more)


def case(
    code: str = "A",
    *,
    width: float = 600.0,
    height: float = 720.0,
    depth: float = 400.0,
    board: str = "b18",
    **more: Any,
) -> Case:
    """Return a case with sides, top and base, open inside and without a back unless set."""
    plain = Case(
        code=code,
        name=f"case {code}",
        count=1,
        width=width,
        height=height,
        depth=depth,
        board=board,
    )
    return replace(plain, **more)


def job(*cases: Case, **more: Any) -> Job:
    """Return a job with these cases (one plain one unless set), each part with the path of its field."""
    stock: tuple[Board, ...] = more.pop("boards", boards())
    chosen = cases or (case(),)
    plain = Job(
        title="rehearsal room",
        boards=stock,
        cases=tuple(_at(c, f"cases[{i}]") for i, c in enumerate(chosen)),
    )
    return replace(plain, **more)


def _at(case: Case, path: str) -> Case:
    fronts = replace(
        case.fronts,
        field=f"{path}.fronts",
        hand_hold=replace(case.fronts.hand_hold, field=f"{path}.fronts.hand_hold"),
    )
    return replace(
        case,
        field=path,
        plinth=replace(case.plinth, field=f"{path}.plinth") if case.plinth else None,
        hung=replace(case.hung, field=f"{path}.hung") if case.hung else None,
        feet=replace(case.feet, field=f"{path}.feet") if case.feet else None,
        worktop=replace(case.worktop, field=f"{path}.worktop") if case.worktop else None,
        skirting=replace(case.skirting, field=f"{path}.skirting") if case.skirting else None,
        cut_outs=tuple(replace(c, field=f"{path}.cut_outs[{n}]") for n, c in enumerate(case.cut_outs)),
        scribe=replace(case.scribe, field=f"{path}.scribe") if case.scribe else None,
        fillers=replace(case.fillers, field=f"{path}.fillers") if case.fillers else None,
        back=replace(case.back, field=f"{path}.back"),
        fits=replace(case.fits, field=f"{path}.fits") if case.fits else None,
        inside=_opening_at(case.inside, f"{path}.inside"),
        fronts=fronts,
        drawers=replace(case.drawers, field=f"{path}.drawers"),
        loose_shelves=replace(case.loose_shelves, field=f"{path}.loose_shelves"),
        methods=replace(case.methods, field=f"{path}.methods") if case.methods else None,
    )


def _opening_at(node: Opening, path: str) -> Opening:
    word = node.split.value if node.split else ""
    return replace(
        node,
        field=path,
        hand_hold=replace(node.hand_hold, field=f"{path}.hand_hold") if node.hand_hold else None,
        clothes_rail=replace(node.clothes_rail, field=f"{path}.clothes_rail") if node.clothes_rail else None,
        inside=tuple(_opening_at(n, f"{path}.{word}[{i}]") for i, n in enumerate(node.inside)),
    )
