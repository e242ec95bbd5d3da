"""From the tables of a job file to the job that travels between the stages."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path as FilePath

from storyrod.adapters.files import _job_file as f
from storyrod.adapters.files._fields import Share
from storyrod.adapters.files._lines import path_text
from storyrod.faults import Fault
from storyrod.model.job import (
    Back,
    BackKind,
    Board,
    BoardKind,
    Case,
    Drawers,
    Edging,
    Fits,
    Fronts,
    HandHold,
    HandHoldKind,
    Holds,
    Job,
    JointOverride,
    Limits,
    Loads,
    LooseShelves,
    MethodChoice,
    Opening,
    Plinth,
    SheetSize,
    Split,
    Use,
)
from storyrod.trade.boards import GRAINED, usual_density_kg_m3, usual_spread, usual_stiffness_n_mm2

STANDARD_SHEET = SheetSize(length=2440.0, width=1220.0)
"""Taken where a board names no size: the commonest size of sheet (common practice, no source)."""


def job_from(table: f.JobTable, *, name: str) -> tuple[Job, tuple[Fault, ...]]:
    """Return the job, and the faults of what its fields say together.

    Sizes that can not be known stand at a figure within bounds, so that the rest can still be cross-checked.
    """
    faults: list[Fault] = []
    boards = tuple(_board(code, b, faults) for code, b in table.boards.items())
    only = boards[0].code if len(boards) == 1 else None
    job = Job(
        title=table.title or FilePath(name).stem.replace("-", " ").replace("_", " "),
        unit=table.units,
        fraction=table.fraction,
        mark_to=table.mark_to,
        boards=boards,
        edgings=tuple(_edging(code, e) for code, e in table.edgings.items()),
        methods=_methods(table.methods, "methods"),
        spread=table.spread,
        overrides=tuple(
            JointOverride(case=j.case, between=j.between, method=j.method, spread=j.spread, field=f"joints[{i}]")
            for i, j in enumerate(table.joints)
        ),
        cases=tuple(_case(c, f"cases[{i}]", only, faults) for i, c in enumerate(table.cases)),
        limits=Limits(skin=table.limits.skin, wall=table.limits.wall),
        use=_use(table.use, faults),
        paper=table.paper,
        maker=table.maker,
        customer=table.customer,
        note=table.note,
        currency=table.currency,
    )
    return job, tuple(faults)


def _board(code: str, b: f.BoardTable, faults: list[Fault]) -> Board:
    path = path_text(("boards", code))
    thickness = b.thickness
    measured = thickness if b.measured is None else b.measured
    density = usual_density_kg_m3(b.kind, thickness)
    along, across = usual_stiffness_n_mm2(b.kind, thickness)
    if b.density_kg_m3 is None and density is None:
        faults.append(_no_density(path, b.kind))
    named = [
        name
        for name, given, usual in (
            ("density_kg_m3", b.density_kg_m3, density),
            ("stiffness_n_mm2", b.stiffness_n_mm2, along),
            ("stiffness_across_n_mm2", b.stiffness_across_n_mm2, across),
        )
        if given is None and usual is not None
    ]
    return Board(
        code=code,
        name=b.name or f"{thickness:g} mm {b.kind.value}",
        kind=b.kind,
        thickness=thickness,
        measured=measured,
        measured_given=b.measured is not None,
        spread=usual_spread(b.kind, thickness, measured=b.measured is not None) if b.spread is None else b.spread,
        sheets=tuple(SheetSize(length=s.length, width=s.width, price_cents=s.price, copies=s.copies) for s in b.sheets)
        or (STANDARD_SHEET,),
        grain=b.kind in GRAINED if b.grain is None else b.grain,
        density_kg_m3=b.density_kg_m3 or density or 700.0,
        stiffness_n_mm2=b.stiffness_n_mm2 or along,
        stiffness_across_n_mm2=b.stiffness_across_n_mm2 or across,
        edging=b.edging,
        named_figures=tuple(named),
        field=path,
    )


def _no_density(path: str, kind: BoardKind) -> Fault:
    return Fault(
        code="missing",
        field=f"{path}.density_kg_m3",
        found=f'nothing, for a board of kind "{kind.value}"',
        allowed="100 to 1500 kg/m3",
        do="Weigh a piece and divide by its volume: there is no usual figure for such a board.",
    )


def _use(u: f.UseTable, faults: list[Fault]) -> Use:
    if u.humidity_low > u.humidity_high:
        faults.append(
            Fault(
                code="range",
                field="use.humidity_low",
                found=f"{u.humidity_low:g} %, above the highest of {u.humidity_high:g} %",
                allowed=f"20 to {u.humidity_high:g} %",
                do="Swap the two, or correct one of them.",
            )
        )
    return Use(
        sag_limit=u.sag_limit,
        tip_margin=u.tip_margin,
        child_kg=u.child_kg,
        pull_n=u.pull_n,
        fix_above=u.fix_above,
        step_shows=u.step_shows,
        front_gap=u.front_gap,
        floor=u.floor,
        fixed_to_wall=u.fixed_to_wall,
        climate=u.climate,
        humidity_low=u.humidity_low,
        humidity_high=u.humidity_high,
        loads=Loads(**u.loads.model_dump()),
    )


def _edging(code: str, e: f.EdgingTable) -> Edging:
    return Edging(
        code=code,
        name=e.name or f"{e.thickness:g} mm {'lipping' if e.solid else 'tape'}",
        thickness=e.thickness,
        price_cents_per_m=e.price_per_m,
        solid=e.solid,
        field=path_text(("edgings", code)),
    )


def _methods(m: f.MethodsTable, path: str) -> MethodChoice:
    return MethodChoice(
        corner=m.corner,
        mid_panel=m.mid_panel,
        plinth=m.plinth,
        back=m.back,
        drawer_box=m.drawer_box,
        field=path,
    )


def _case(c: f.CaseTable, path: str, only: str | None, faults: list[Fault]) -> Case:
    if c.board is None and only is None:
        faults.append(_missing(f"{path}.board", "the code of a board", "Name the board of this case, one of `boards`."))
    fits = None
    if c.fits is not None:
        fits = Fits(
            width=c.fits.width,
            height=c.fits.height,
            depth=c.fits.depth,
            clearance=c.fits.clearance,
            field=f"{path}.fits",
        )
    return Case(
        code=c.code,
        name=c.name or f"case {c.code}",
        count=c.count,
        width=_size("width", c.width, fits, path, faults),
        height=_size("height", c.height, fits, path, faults),
        depth=_size("depth", c.depth, fits, path, faults),
        board=c.board or only or "",
        top=c.top,
        base=c.base,
        rail_width=c.rail_width,
        plinth=_plinth(c.plinth, f"{path}.plinth"),
        back=_back(c.back, f"{path}.back"),
        fits=fits,
        inside=_opening(c.inside, f"{path}.inside", None, faults),
        fronts=_fronts(c.fronts, f"{path}.fronts"),
        drawers=_drawers(c.drawers, f"{path}.drawers"),
        loose_shelves=_loose_shelves(c.loose_shelves, f"{path}.loose_shelves"),
        edged=c.edged,
        methods=None if c.methods is None else _methods(c.methods, f"{path}.methods"),
        field=path,
    )


UNKNOWN_SIZES: Mapping[str, float] = {"width": 600.0, "height": 720.0, "depth": 400.0}
"""What a size stands at while its absence is told."""


def _size(name: str, given: float | None, fits: Fits | None, path: str, faults: list[Fault]) -> float:
    if given is not None:
        return given
    place = getattr(fits, name) if fits else None
    if place is None:
        faults.append(
            _missing(f"{path}.{name}", "a length, or a place under `fits`", f"Write `{name} = …`, the outside {name}.")
        )
        return UNKNOWN_SIZES[name]
    return float(place - (fits.clearance if fits else 0.0))


def _missing(field: str, allowed: str, do: str) -> Fault:
    return Fault(code="missing", field=field, found="nothing", allowed=allowed, do=do)


def _plinth(p: f.PlinthTable | None, path: str) -> Plinth | None:
    if p is None:
        return None
    return Plinth(height=p.height, setback=p.setback, board=p.board, back_rail=p.back_rail, field=path)


def _back(b: f.BackTable | None, path: str) -> Back:
    if b is None:
        return Back(kind=BackKind.NONE, field=path)
    return Back(
        kind=b.kind,
        board=b.board,
        inset=b.inset,
        in_top=b.in_top,
        in_base=b.in_base,
        clearance=b.clearance,
        field=path,
    )


def _hand_hold(h: f.HandHoldTable | None, path: str) -> HandHold | None:
    if h is None:
        return None
    return HandHold(kind=h.kind, length=h.length, height=h.height, down=h.down, corner=h.corner, field=path)


def _fronts(t: f.FrontsTable, path: str) -> Fronts:
    return Fronts(
        kind=t.kind,
        board=t.board,
        gap=t.gap,
        reveal=t.reveal,
        back=t.back,
        hand_hold=_hand_hold(t.hand_hold, f"{path}.hand_hold")
        or HandHold(kind=HandHoldKind.NONE, field=f"{path}.hand_hold"),
        matching_grain=t.matching_grain,
        field=path,
    )


def _drawers(d: f.DrawersTable, path: str) -> Drawers:
    return Drawers(
        runner=d.runner,
        board=d.board,
        bottom_board=d.bottom_board,
        bottom=d.bottom,
        room_above=d.room_above,
        room_below=d.room_below,
        bottom_up=d.bottom_up,
        field=path,
    )


def _loose_shelves(s: f.LooseShelvesTable, path: str) -> LooseShelves:
    return LooseShelves(
        board=s.board,
        hole=s.hole,
        hole_depth=s.hole_depth,
        pitch=s.pitch,
        from_front=s.from_front,
        from_back=s.from_back,
        margin=s.margin,
        slack=s.slack,
        set_back=s.set_back,
        behind=s.behind,
        field=path,
    )


def _opening(o: f.OpeningTable, path: str, within: Split | None, faults: list[Fault]) -> Opening:
    faults.extend(_opening_faults(o, path, within))
    written = o.height if within is Split.ROWS else o.width if within is Split.COLUMNS else None
    share = written or Share()
    split = Split.ROWS if o.rows else Split.COLUMNS if o.columns else None
    word = split.value if split else ""
    inside = o.rows or o.columns
    return Opening(
        size=share.mm,
        parts=share.parts,
        split=split,
        inside=tuple(_opening(n, f"{path}.{word}[{i}]", split, faults) for i, n in enumerate(inside)),
        parted=o.parted,
        holds=_holds(o),
        loose_shelves=o.loose_shelves,
        divider_board=o.board,
        hinged=o.hinged.value,
        hand_hold=_hand_hold(o.hand_hold, f"{path}.hand_hold"),
        load_kg=o.load_kg,
        contents=o.contents,
        name=o.name,
        field=path,
    )


def _holds(o: f.OpeningTable) -> Holds:
    if o.holds in {None, Holds.OPEN} and o.loose_shelves and not (o.rows or o.columns):
        return Holds.LOOSE_SHELVES
    return o.holds or Holds.OPEN


def _opening_faults(o: f.OpeningTable, path: str, within: Split | None) -> list[Fault]:
    faults = []
    for name, fits_in, other in (("height", Split.ROWS, "row"), ("width", Split.COLUMNS, "column")):
        if getattr(o, name) is not None and within is not fits_in:
            here = "the whole inside" if within is None else f"a {within.value[:-1]}"
            faults.append(
                _tree(
                    f"{path}.{name}",
                    f"a {name} for {here}",
                    f"a {name} for a {other} only",
                    "Delete it: the case's own size says it."
                    if within is None
                    else f"Delete it, or write {'width' if name == 'height' else 'height'}.",
                )
            )
    if o.rows and o.columns:
        faults.append(
            _tree(
                f"{path}.columns",
                "both rows and columns",
                "one of the two",
                "Cut it into rows first, and give one of the rows its columns.",
            )
        )
    cut = bool(o.rows or o.columns)
    if cut and o.holds in {Holds.DRAWER, Holds.LOOSE_SHELVES}:
        faults.append(
            _tree(
                f"{path}.holds",
                f'"{o.holds.value}" in an opening that is cut further',
                '"door" or "pair of doors" before it, or nothing',
                "Say what each of its rows or columns holds.",
            )
        )
    if o.loose_shelves and (cut or o.holds is Holds.DRAWER):
        what = "an opening that is cut further" if cut else "a drawer"
        faults.append(
            _tree(
                f"{path}.loose_shelves",
                f"loose shelves in {what}",
                "loose shelves in an opening that is left whole",
                "Put them in one of its rows or columns." if cut else "Delete one of the two.",
            )
        )
    if o.holds is Holds.LOOSE_SHELVES and not o.loose_shelves and not cut:
        faults.append(_missing(f"{path}.loose_shelves", "1 to 30", "Say how many loose shelves: `loose_shelves = 2`."))
    return faults


def _tree(field: str, found: str, allowed: str, do: str) -> Fault:
    return Fault(code="inside", field=field, found=found, allowed=allowed, do=do)
