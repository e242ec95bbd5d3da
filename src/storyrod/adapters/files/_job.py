"""From the tables of a job file to the job that travels between the stages."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path as FilePath
from typing import Final

from storyrod.adapters.files._fields import Share
from storyrod.adapters.files._lines import path_text
from storyrod.adapters.files._made import keyed, made
from storyrod.adapters.files._read import Table
from storyrod.faults import Fault
from storyrod.measure.length import Unit
from storyrod.model.job import (
    Board,
    BoardKind,
    Case,
    Edging,
    Fillers,
    Fits,
    Holds,
    Job,
    Opening,
    SheetSize,
    Split,
    Worktop,
)
from storyrod.trade.boards import GRAINED, usual_density_kg_m3, usual_spread, usual_stiffness_n_mm2
from storyrod.trade.sold import commonest


def job_from(table: Table, *, name: str) -> tuple[Job, tuple[Fault, ...]]:
    """Return the job, and the faults of what its fields say together.

    Sizes that cannot be known stand at a figure within bounds, so that the rest can still be cross-checked.
    """
    faults: list[Fault] = []
    boards = tuple(_board(code, b, table["units"], faults) for code, b in table["boards"].items())
    only = boards[0].code if len(boards) == 1 else None
    _check_use(table["use"], faults)
    job = made(
        Job,
        table,
        "",
        title=table["title"] or FilePath(name).stem.replace("-", " ").replace("_", " "),
        boards=boards,
        edgings=keyed(Edging, table["edgings"], "edgings", _edging_name),
        cases=tuple(_case(c, f"cases[{i}]", only, boards, faults) for i, c in enumerate(table["cases"])),
    )
    return job, tuple(faults)


def _board(code: str, b: Table, unit: Unit, faults: list[Fault]) -> Board:
    path = path_text(("boards", code))
    kind, thickness, is_measured = b["kind"], b["thickness"], b["measured"] is not None
    along, across = usual_stiffness_n_mm2(kind, thickness)
    usual = {
        "density_kg_m3": usual_density_kg_m3(kind, thickness),
        "stiffness_n_mm2": along,
        "stiffness_across_n_mm2": across,
    }
    if b["density_kg_m3"] is None and usual["density_kg_m3"] is None:
        faults.append(_no_density(path, kind))
    return made(
        Board,
        b,
        path,
        code=code,
        name=b["name"] or f"{thickness:g} mm {kind.value}",
        measured=b["measured"] if is_measured else thickness,
        measured_given=is_measured,
        spread=usual_spread(kind, thickness, measured=is_measured) if b["spread"] is None else b["spread"],
        sheets=tuple(made(SheetSize, s, path) for s in b["sheets"]) or (_commonest_sheet(unit),),
        grain=kind in GRAINED if b["grain"] is None else b["grain"],
        density_kg_m3=b["density_kg_m3"] or usual["density_kg_m3"] or UNKNOWN_DENSITY,
        stiffness_n_mm2=b["stiffness_n_mm2"] or along,
        stiffness_across_n_mm2=b["stiffness_across_n_mm2"] or across,
        named_figures=tuple(name for name, figure in usual.items() if b[name] is None and figure is not None),
    )


def _commonest_sheet(unit: Unit) -> SheetSize:
    length, width = commonest(unit)
    return SheetSize(length=length, width=width)


def _no_density(path: str, kind: BoardKind) -> Fault:
    return Fault(
        code="missing",
        field=f"{path}.density_kg_m3",
        found=f'nothing, for a board of kind "{kind.value}"',
        allowed="100 to 1500 kg/m3",
        do="Weigh a piece and divide by its volume: there is no usual figure for this kind of board.",
    )


def _check_use(use: Table, faults: list[Fault]) -> None:
    low, high = use["humidity_low"], use["humidity_high"]
    if low > high:
        faults.append(
            Fault(
                code="range",
                field="use.humidity_low",
                found=f"{low:g} %, above the highest of {high:g} %",
                allowed=f"20 to {high:g} %",
                do="Swap the two, or correct one of them.",
            )
        )


def _edging_name(edging: Table) -> str:
    return f"{edging['thickness']:g} mm {'lipping' if edging['solid'] else 'tape'}"


def _case(c: Table, path: str, only: str | None, boards: Sequence[Board], faults: list[Fault]) -> Case:
    if c["board"] is None and only is None:
        faults.append(_missing(f"{path}.board", "the code of a board", "Name the board of this case, one of `boards`."))
    fits = None if c["fits"] is None else made(Fits, c["fits"], f"{path}.fits")
    room = _less_fillers(c, _less_worktop(c, fits, path, {b.code: b for b in boards}, only), path)
    return made(
        Case,
        c,
        path,
        name=c["name"] or f"case {c['code']}",
        width=_size("width", c["width"], room, path, faults),
        height=_size("height", c["height"], room, path, faults),
        depth=_size("depth", c["depth"], room, path, faults),
        board=c["board"] or only or "",
        fits=fits,
        inside=_opening(c["inside"], f"{path}.inside", None, faults),
    )


def _less_worktop(c: Table, fits: Fits | None, path: str, boards: Mapping[str, Board], only: str | None) -> Fits | None:
    """Return the place that is left for the case itself under its worktop."""
    if fits is None or c["worktop"] is None:
        return fits
    top = made(Worktop, c["worktop"], f"{path}.worktop")
    board = boards.get(top.board or c["board"] or only or "")
    thick = board.measured if board is not None else 0.0

    def left(size: str, place: float | None) -> float | None:
        return None if place is None else place - top.adds(size, thick)

    return replace(
        fits,
        width=left("width", fits.width),
        height=left("height", fits.height),
        depth=left("depth", fits.depth),
    )


def _less_fillers(c: Table, fits: Fits | None, path: str) -> Fits | None:
    """Return the place that is left for the case itself between its fillers."""
    if fits is None or fits.width is None or c["fillers"] is None:
        return fits
    return replace(fits, width=fits.width - made(Fillers, c["fillers"], f"{path}.fillers").gaps)


UNKNOWN_DENSITY: Final = 700.0
"""What a density (kg/m3) stands at while its absence is told."""

UNKNOWN_SIZES: Final[Mapping[str, float]] = {"width": 600.0, "height": 720.0, "depth": 400.0}
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


def _opening(o: Table, path: str, within: Split | None, faults: list[Fault]) -> Opening:
    faults.extend(_opening_faults(o, path, within))
    written = o["height"] if within is Split.ROWS else o["width"] if within is Split.COLUMNS else None
    share = written or Share()
    split = Split.ROWS if o["rows"] else Split.COLUMNS if o["columns"] else None
    word = split.value if split else ""
    return made(
        Opening,
        o,
        path,
        size=share.mm,
        parts=share.parts,
        split=split,
        inside=tuple(
            _opening(inner, f"{path}.{word}[{i}]", split, faults) for i, inner in enumerate(o["rows"] or o["columns"])
        ),
        holds=_holds(o),
    )


def _holds(o: Table) -> Holds:
    if o["holds"] in {None, Holds.OPEN} and o["loose_shelves"] and not (o["rows"] or o["columns"]):
        return Holds.LOOSE_SHELVES
    return o["holds"] or Holds.OPEN


def _opening_faults(o: Table, path: str, within: Split | None) -> list[Fault]:
    faults = []
    for name, fits_in, other in (("height", Split.ROWS, "row"), ("width", Split.COLUMNS, "column")):
        if o[name] is not None and within is not fits_in:
            here = "the whole inside" if within is None else f"a {within.value[:-1]}"
            faults.append(
                _tree(
                    f"{path}.{name}",
                    f"a {name} for {here}",
                    f"a {name} for a {other} only",
                    "Delete it: the size of the case sets it."
                    if within is None
                    else f"Delete it, or write {'width' if name == 'height' else 'height'}.",
                )
            )
    if o["shelf_at"] is not None and within is not Split.ROWS:
        faults.append(
            _tree(
                f"{path}.shelf_at",
                "the height of a shelf below it",
                "the height of a shelf below a row",
                "Delete it, or cut the opening into rows.",
            )
        )
    faults += _front_faults(o, path, within)
    if o["set_back"] and not o["rows"]:
        faults.append(
            _tree(
                f"{path}.set_back",
                "shelves set back where there are no rows",
                "an opening that is cut into rows",
                "Write it at the opening whose rows they divide; loose shelves have a `set_back` of their own.",
            )
        )
    if o["rows"] and o["columns"]:
        faults.append(
            _tree(
                f"{path}.columns",
                "both rows and columns",
                "one of the two",
                "Cut it into rows first, and give one of the rows its columns.",
            )
        )
    cut = bool(o["rows"] or o["columns"])
    if cut and o["holds"] in {Holds.DRAWER, Holds.LOOSE_SHELVES}:
        faults.append(
            _tree(
                f"{path}.holds",
                f'"{o["holds"].value}" in an opening that is cut further',
                '"door" or "pair of doors" before it, or nothing',
                "Say what each of its rows or columns holds.",
            )
        )
    if o["loose_shelves"] and (cut or o["holds"] is Holds.DRAWER):
        what = "an opening that is cut further" if cut else "a drawer"
        faults.append(
            _tree(
                f"{path}.loose_shelves",
                f"loose shelves in {what}",
                "loose shelves in an opening that is left whole",
                "Put them in one of its rows or columns." if cut else "Delete one of the two.",
            )
        )
    if o["clothes_rail"] is not None and (cut or o["holds"] is Holds.DRAWER or o["loose_shelves"]):
        what = "an opening that is cut further" if cut else "a drawer" if not o["loose_shelves"] else "loose shelves"
        faults.append(
            _tree(
                f"{path}.clothes_rail",
                f"a clothes rail {'with' if o['loose_shelves'] and not cut else 'in'} {what}",
                "a clothes rail in an opening that is left whole, without loose shelves",
                "Put it in one of its rows or columns." if cut else "Cut the opening into rows, one for the rail.",
            )
        )
    if o["holds"] is Holds.LOOSE_SHELVES and not o["loose_shelves"] and not cut:
        faults.append(_missing(f"{path}.loose_shelves", "1 to 30", "Say how many loose shelves: `loose_shelves = 2`."))
    return faults


def _front_faults(o: Table, path: str, within: Split | None) -> list[Fault]:
    """Return what is wrong with what an opening says of its front, or of the fronts of its rows."""
    faults = []
    fronted = o["holds"] in {Holds.DRAWER, Holds.DOOR, Holds.PAIR_OF_DOORS}
    if o["front_height"] is not None and (within is not Split.ROWS or not fronted or o["height"] is not None):
        faults.append(
            _tree(
                f"{path}.front_height",
                "the height of a front" + (" and the height of its row" if fronted and o["height"] is not None else ""),
                "a front's height at a row that holds a drawer or a door, instead of the row's own",
                "Delete one of the two." if fronted and o["height"] is not None else "Delete it.",
            )
        )
    if o["front_kind"] is not None and not fronted:
        faults.append(
            _tree(
                f"{path}.front_kind",
                "how its front lies, but no front",
                "an opening that holds a drawer or a door",
                "Delete it, or say what the opening holds.",
            )
        )
    if o["graduated"] is not None and not o["rows"]:
        faults.append(
            _tree(
                f"{path}.graduated",
                "graduated fronts where there are no rows",
                "an opening that is cut into rows",
                "Write it at the opening whose rows the fronts cover.",
            )
        )
    return faults


def _tree(field: str, found: str, allowed: str, do: str) -> Fault:
    return Fault(code="inside", field=field, found=found, allowed=allowed, do=do)
