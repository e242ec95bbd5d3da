"""A first job file from a few answers, with comments that teach what may be written next."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from storyrod.adapters.files._tables import FORMAT
from storyrod.adapters.files._values import length, text, write
from storyrod.measure.length import Unit
from storyrod.model.job import BackKind, BoardKind, Holds

WIDE_CASE: Final = 500.0
"""Wider cases (mm) get drawer bottoms of 9 mm; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NewJob:
    """The answers from which a job file is begun. Lengths in mm.

    Attributes:
        width: outside width of the case.
        height: outside height, with the plinth.
        depth: outside depth, without overlay fronts.
        thickness: nominal thickness of the board.
        measured: what the callipers say, where it has been measured.
        holds: what the inside holds.
        how_many: drawers one below the other, or loose shelves. Bottoms of drawers are of 6 mm board, wide ones of 9.
        plinth: height of a plinth, or None.
        back: how the back is fixed; it is of 6 mm board.
    """

    title: str = "My first case"
    unit: Unit = Unit.MM
    width: float
    height: float
    depth: float
    kind: BoardKind = BoardKind.PLYWOOD
    thickness: float = 18.0
    measured: float | None = None
    holds: Holds = Holds.OPEN
    how_many: int = 1
    plinth: float | None = None
    back: BackKind = BackKind.NONE
    count: int = 1
    workshop: str = ""


def new_job_text(answers: NewJob) -> str:
    """Return the text of a job file that says what was answered, and how to go on."""
    parts = [
        _head(answers),
        _board("board", answers.kind, answers.thickness, answers.measured, answers.unit, note=True),
        *_thin_boards(answers),
        _case(answers),
        _plinth(answers),
        _back(answers),
        _drawers(answers),
        _inside(answers),
    ]
    return "\n\n".join(p for p in parts if p) + "\n"


def _head(a: NewJob) -> str:
    bare = "inches" if a.unit is Unit.INCH else "millimetres"
    lines = [
        f'# A job for storyrod. Bare numbers are {bare}; "60 cm" and \'23 5/8"\' work as well.',
        "# Look at it with `storyrod check`, work it out with `storyrod plan`. docs/job-file.md explains every field.",
        "",
        f"format = {FORMAT}",
        f"title = {text(a.title)}",
        f"units = {write(a.unit)}",
    ]
    if a.workshop:
        lines.append(f"workshop = {text(a.workshop)}")
    return "\n".join(lines)


def _board(
    code: str, kind: BoardKind, thickness: float, measured: float | None, unit: Unit, *, note: bool = False
) -> str:
    lines = [f"[boards.{code}]", f"kind = {write(kind)}", f"thickness = {write(length(thickness, unit))}"]
    if measured is not None:
        lines.append(f"measured = {write(length(measured, unit))}")
    elif note:
        lines.append("# measured = 17.7   # measure your sheet and write it here: every size follows from it")
    if kind in {BoardKind.SOLID, BoardKind.OTHER}:
        lines.append("density_kg_m3 = 650   # weigh a piece and divide by its volume")
    return "\n".join(lines)


def _thin_boards(a: NewJob) -> list[str]:
    boards = []
    if a.holds is Holds.DRAWER:
        boards.append(_board("drawers", BoardKind.PLYWOOD, 12.0, None, a.unit))
    if a.back is not BackKind.NONE or _bottoms(a) == "thin":
        boards.append(_board("thin", BoardKind.PLYWOOD, 6.0, None, a.unit))
    if _bottoms(a) == "bottoms":
        boards.append(_board("bottoms", BoardKind.PLYWOOD, 9.0, None, a.unit))
    return boards


def _bottoms(a: NewJob) -> str:
    """Return the board of drawer bottoms: of wide drawers it is thicker, so that they do not sag."""
    if a.holds is not Holds.DRAWER:
        return ""
    return "bottoms" if a.width > WIDE_CASE else "thin"


def _case(a: NewJob) -> str:
    unit = a.unit
    lines = [
        "# Sizes are of the outside, with the plinth and without overlay fronts.",
        "[[cases]]",
        'code = "A"',
        'board = "board"',
        f"width = {write(length(a.width, unit))}",
        f"height = {write(length(a.height, unit))}",
        f"depth = {write(length(a.depth, unit))}",
    ]
    if a.count != 1:
        lines.append(f"count = {a.count}")
    return "\n".join(lines)


def _plinth(a: NewJob) -> str:
    if a.plinth is None:
        return ""
    setback = write(length(40.0, a.unit))
    return f"[cases.plinth]\nheight = {write(length(a.plinth, a.unit))}\nsetback = {setback}   # room for the toes"


def _back(a: NewJob) -> str:
    if a.back is BackKind.NONE:
        return ""
    inset = f"\ninset = {write(length(10.0, a.unit))}" if a.back is BackKind.GROOVED else ""
    return f'[cases.back]\nkind = {write(a.back)}\nboard = "thin"{inset}'


def _drawers(a: NewJob) -> str:
    if a.holds is not Holds.DRAWER:
        return ""
    return f'[cases.drawers]\nboard = "drawers"\nbottom_board = "{_bottoms(a)}"'


def _inside(a: NewJob) -> str:
    head = "# What is inside: one opening, or rows from the top down, or columns from the left.\n[cases.inside]"
    if a.holds is Holds.DRAWER:
        row = '    { holds = "drawer", parted = false },   # `height = 140` fixes one; the others share the rest'
        rows = [row, *['    { holds = "drawer", parted = false },'] * (a.how_many - 1)]
        return "\n".join([head, "rows = [", *rows, "]"]) if a.how_many > 1 else f'{head}\nholds = "drawer"'
    if a.holds is Holds.LOOSE_SHELVES:
        return f"{head}\nloose_shelves = {max(1, a.how_many)}"
    if a.holds is Holds.OPEN:
        return f"{head}\n# rows = [{{}}, {{}}]   # a shelf in the middle"
    shelves = f"\nloose_shelves = {a.how_many}" if a.how_many else ""
    return f"{head}\nholds = {write(a.holds)}{shelves}"
