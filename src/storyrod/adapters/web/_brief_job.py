"""What can be changed about a whole job: what it is made of, and how it will stand and be used."""

from __future__ import annotations

from typing import Any, Final

from storyrod.adapters.files.asking import as_shown, names_in
from storyrod.adapters.files.reshaping import path_in
from storyrod.adapters.web._brief_fields import Doing, FieldGroup, Line, Paper, Part
from storyrod.adapters.web._brief_groups import ask_table, group_of, opened, said

_HINTS: Final = {
    "grain": "Whether the faces have a grain that matters. Unless set: yes for plywood, blockboard and solid wood.",
    "edging": "For its visible edges. Add it under Edgings below.",
}
_SHEET_LABELS: Final = {"length": "Length", "width": "Width", "price": "Price", "copies": "How many there are"}


def job_groups(paper: Paper, wanted: str = "") -> tuple[FieldGroup, ...]:
    """Return the groups of the whole job; the one of the key `wanted` is open, and those with faults are."""
    units = ("units", "fraction") if paper.raw.get("units") == "in" else ("units",)
    made = [
        group_of(
            paper,
            ("job", "The job"),
            [("", ("title", "customer", "maker", "currency", *units, "paper", "note"))],
            state=said(paper.raw, "customer"),
        ),
        group_of(
            paper,
            ("quotation", "Quotation and finish"),
            [("", ("number", "customer_address", "description")), ("finish", None)],
            note="What a customer is sent. Your own name, tax and terms are in the workshop.",
        ),
        _boards(paper),
        _edgings(paper),
        _use(paper),
        group_of(
            paper,
            ("gluing", "Gluing up"),
            [("gluing", None)],
            state="two people" if paper.table("gluing").get("people") == 2 else "",
            note="How long the glue stays open is set in the workshop.",
        ),
        group_of(
            paper,
            ("marking", "Marks and stations"),
            [("", ("mark_to", "spread")), ("limits", None)],
            note="How marks are rounded, how the stations of joints are spread, and how thin the board may become.",
        ),
    ]
    return opened(made, wanted)


def _codes(paper: Paper, table: str) -> list[str]:
    known = paper.raw.get(table)
    return [c for c, b in known.items() if isinstance(b, dict)] if isinstance(known, dict) else []


def _boards(paper: Paper) -> FieldGroup:
    codes = _codes(paper, "boards")
    return FieldGroup(
        key="boards",
        title="Boards",
        state=(_name_of(paper.table(path_in("boards", codes[0]))) or codes[0]) if len(codes) == 1 else f"{len(codes)}",
        parts=tuple(_board(paper, code) for code in codes),
        note="Measure each sheet with callipers: every size is worked out from the measured thickness.",
    )


def _board(paper: Paper, code: str) -> Part:
    at = path_in("boards", code)
    sheets = paper.table(at).get("sheets")
    count = len(sheets) if isinstance(sheets, list) else 0
    lines = tuple(_size(paper, code, f"{at}.sheets[{n}]", n, count) for n in range(count))
    word = "Add another sheet size" if count else "Say its sheet size and price"
    return Part(
        title=_told(code, paper.table(at)),
        at=at,
        fields=tuple(paper.ask(f"{at}.{n}", hint=_HINTS.get(n, "")) for n in names_in(at, paper.table(at))),
        lines=lines,
        more=ask_table(paper, at, seldom=True),
        acts=(
            Doing(do=f"add-sheet:{code}", word=word, about=f"of {code}"),
            Doing(do=f"remove-board:{code}", word="Remove this board", about=code),
        ),
        wrong=(*paper.faults_at(at), *paper.faults_at(f"{at}.sheets")),
    )


def _told(code: str, board: dict[str, Any]) -> str:
    """Return a board's code with what it is, as far as it is written."""
    words = _name_of(board)
    return f"{code}: {words}" if words else code


def _name_of(board: dict[str, Any]) -> str:
    """Return a board's name, or its thickness and kind; as far as they are written."""
    name = board.get("name")
    if isinstance(name, str) and name:
        return name
    return " ".join(w for w in (as_shown(board.get("thickness")), as_shown(board.get("kind"))) if w)


def _size(paper: Paper, code: str, at: str, number: int, count: int) -> Line:
    word = f"size {number + 1}" if count > 1 else "the size"
    return Line(
        title=f"Sheet size {number + 1}" if count > 1 else "Sheet size",
        fields=tuple(paper.ask(f"{at}.{n}", label=_SHEET_LABELS[n]) for n in _SHEET_LABELS),
        take_away=Doing(do=f"remove-sheet:{at}", word="Remove this size", about=f"{word} of {code}"),
    )


def _edgings(paper: Paper) -> FieldGroup:
    codes = _codes(paper, "edgings")
    return FieldGroup(
        key="edgings",
        title="Edgings",
        state=", ".join(codes) or "none",
        parts=tuple(_edging(paper, code) for code in codes),
    )


def _edging(paper: Paper, code: str) -> Part:
    at = path_in("edgings", code)
    return Part(
        title=code,
        at=at,
        fields=ask_table(paper, at),
        acts=(Doing(do=f"remove-edging:{code}", word="Remove this edging", about=code),),
        wrong=paper.faults_at(at),
    )


def _use(paper: Paper) -> FieldGroup:
    use: dict[str, Any] = paper.table("use")
    return FieldGroup(
        key="use",
        title="How it will stand and be used",
        state="fixed to a wall" if use.get("fixed_to_wall") is True else "",
        parts=(
            Part(fields=ask_table(paper, "use")),
            Part(
                title="Loads to plan for",
                fields=ask_table(paper, "use.loads"),
                folded=True,
                note="Used where an opening has no load of its own. Weigh what will go there if you can.",
            ),
            Part(
                title="When to warn you",
                fields=ask_table(paper, "use", seldom=True),
                folded=True,
                note="Make these stricter for a room where people climb and lean; never looser for a kinder answer.",
            ),
        ),
    )
