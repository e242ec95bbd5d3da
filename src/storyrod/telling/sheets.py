"""Sheets in words: the saw's list step by step, every figure in the unit of the job."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from storyrod.drawing import SHEET_ROOM, Drawing, Figures, Hatch, sheet_layout, short_name
from storyrod.model.saw_list import SawList, SawStep, WhatIf
from storyrod.model.sheet import BoardPlan, Cut, CutNode, PieceKind, SawKind, SheetPlan, StepKind, Way
from storyrod.planning import Plan

SHEET_UNIT: Final = 10.0
"""Millimetres of the sheet for one on paper in a file at full size: words are sized by it, lines are as they are."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AtSaw:
    """One step at the saw as it is told: every figure in the job's unit, pieces called as on the drawing."""

    number: int
    what: str
    setting: str
    cuts: int
    hands: tuple[str, ...]
    gives: tuple[str, ...]
    leaves: tuple[str, ...]
    two_people: bool
    mass_kg: float


def steps_at_saw(plan: Plan, board: BoardPlan, saw: SawList) -> tuple[AtSaw, ...]:
    """Return the saw's list of one board in words, sheets with one layout counted together."""
    teller = _Teller(plan, board)
    return tuple(teller.step(saw, step) for step in saw.steps)


def step_numbers(saw: SawList, sheet: SheetPlan) -> dict[int, int]:
    """Return the step of the saw's list in which each cut of a sheet is made, by the cut's number."""
    return {number: step.number for step in saw.steps for name, number in step.cuts if name == sheet.name}


def sheet_drawing(
    plan: Plan,
    sheet: SheetPlan,
    *,
    room: tuple[float, float] | None = None,
    unit: float | None = None,
    patterns: Mapping[str, Hatch] | None = None,
) -> Drawing:
    """Return a sheet as it is cut, each cut with its step of the saw's list, in `room` on paper or at `unit`.

    `patterns` tells parts of several jobs apart, by the part's id.
    """
    saw = next(s for s in plan.saw_lists if s.board == sheet.board)
    return sheet_layout(
        sheet,
        plan.parts,
        kerf=plan.cut_rules.kerf,
        grain=plan.job.board(sheet.board).grain,
        steps=step_numbers(saw, sheet),
        figures=Figures.of_job(plan.job),
        room=room or SHEET_ROOM,
        unit=unit,
        patterns=patterns,
    )


def sheet_number(name: str) -> str:
    """Return the number of a sheet among those of its board."""
    return name.rpartition("-")[2]


type Piece = tuple[str, str, str]
"""Where it is (empty for parts), its kind or mark, and its number on its sheet."""


SHORT_SEARCH: Final = "Each is laid out again in a short search: a fair guide, not the last word."
"""How far the answers to what would change go."""


FACE_UP: Final = "Lay each sheet face up, as drawn. The double ring marks the first cut."
"""How a sheet lies at the saw: cut face up, a table saw's teeth and a rail's splinter strip leave the face clean, and
matching fronts come off in the order in which they are drawn. Common practice, no source."""


def trim_words(plan: Plan) -> str:
    """Return what is sawn off the edges of a new sheet, and what is left as it is, in sentences."""
    trim = plan.job.lengths.n(plan.cut_rules.trim.left)
    return (
        f"Trim {trim} off a factory edge, kerf included, where a part would keep it or is measured from it. Offcuts "
        f"keep their factory edge: saw it off when you use the piece; its size here is without it."
    )


def sheets_then(change: WhatIf) -> str:
    """Return how many sheets a change would take, and how many fewer or more that is."""
    if change.sheets_less == 0:
        return f"{change.sheets}, the same"
    return f"{change.sheets}, {abs(change.sheets_less)} {'fewer' if change.sheets_less > 0 else 'more'}"


def money_then(change: WhatIf, told: Callable[[int], str]) -> str:
    """Return how much less or more a change would cost; `told` writes a sum."""
    if change.cents_less == 0:
        return "the same"
    return f"{told(abs(change.cents_less))} {'less' if change.cents_less > 0 else 'more'}"


def boards_without_sheets(plan: Plan) -> tuple[str, ...]:
    """Return the names of boards that parts are of and no sheet size is given for: nothing of them is laid out."""
    laid = {b.board for b in plan.sheets.boards}
    return tuple(plan.job.board(code).name for code in dict.fromkeys(p.board for p in plan.parts) if code not in laid)


class _Teller:
    """What the words of one board's steps need."""

    def __init__(self, plan: Plan, board: BoardPlan) -> None:
        self.job = plan.job
        self.is_alone = len(board.sheets) == 1
        self.sheets = {s.name: s for s in board.sheets}
        self.twins: dict[str, list[SheetPlan]] = {}
        for sheet in board.sheets:
            self.twins.setdefault(sheet.same_as or sheet.name, []).append(sheet)
        self.marks = {node.name: plan_mark for s in board.sheets for node, plan_mark in _parts_in(s.tree, _marks(plan))}
        self.last = {(sheet.name, cut.number): left for sheet in board.sheets for cut, left in _lasts(sheet)}

    def step(self, saw: SawList, step: SawStep) -> AtSaw:
        cuts = [(self.sheets[name], self.sheets[name].cuts[n - 1]) for name, n in step.cuts]
        trim = step.kind is StepKind.TRIM
        left = [(s, self.last[s.name, c.number]) for s, c in cuts if (s.name, c.number) in self.last]
        return AtSaw(
            number=step.number,
            what=_what(saw.saw, step),
            setting=self._trims(cuts) if trim else self._length(step.setting),
            cuts=len(cuts),
            hands=_counted([self._piece(s, c.piece) for s, c in cuts]),
            gives=() if trim else _counted([self._piece(s, c.gives) for s, c in cuts]),
            leaves=() if trim else _counted([self._piece(s, n.name) for s, n in left if n.kind in _TOLD]),
            two_people=step.two_people,
            mass_kg=step.mass_kg,
        )

    def _length(self, length: float) -> str:
        return self.job.lengths.n(length)

    def _trims(self, cuts: Sequence[tuple[SheetPlan, Cut]]) -> str:
        """Return how much is trimmed off a first edge, kerf counted; how much is left between it and its opposite."""
        told: list[str] = []
        for sheet, cut in cuts:
            rip = cut.way is Way.RIP
            if cut.at < (sheet.width if rip else sheet.length) / 2:
                words = f"{self._length(sheet.trim.bottom if rip else sheet.trim.left)} off"
            else:
                words = f"{self._length(cut.setting)} left"
            if words not in told:
                told.append(words)
        return " / ".join(told)

    def _piece(self, sheet: SheetPlan, name: str) -> Piece:
        """Return what a piece is called: a part by its mark, a strip or offcut by its number on its sheet."""
        if name in self.marks:
            return ("", self.marks[name], "")
        twins = self.twins[sheet.same_as or sheet.name]
        which = ", ".join(sheet_number(s.name) for s in twins)
        kind, _, number = short_name(sheet.name, name).partition(" ")
        if kind == "sheet":
            return ("", "sheet", which)
        return ("" if self.is_alone else f"sheet{'s' * (len(twins) > 1)} {which}: ", kind, number)


_TOLD = frozenset({PieceKind.PART, PieceKind.STRIP, PieceKind.OFFCUT})


def _marks(plan: Plan) -> dict[str, str]:
    return {p.id: p.mark or p.id for p in plan.parts}


def _parts_in(node: CutNode, marks: dict[str, str]) -> Iterator[tuple[CutNode, str]]:
    if node.kind is PieceKind.PART:
        yield node, marks[node.part]
    for child in node.children:
        yield from _parts_in(child, marks)


def _lasts(sheet: SheetPlan) -> Iterator[tuple[Cut, CutNode]]:
    """Yield each piece's last cut with what is left in hand after it."""
    cuts: dict[str, list[Cut]] = {}
    for cut in sheet.cuts:
        if not cut.trim:
            cuts.setdefault(cut.piece, []).append(cut)

    def walk(node: CutNode) -> Iterator[tuple[Cut, CutNode]]:
        own = cuts.get(node.name, [])
        if own and len(node.children) == len(own) + 1:
            yield own[-1], node.children[-1]
        for child in node.children:
            yield from walk(child)

    return walk(sheet.tree)


def _counted(pieces: Sequence[Piece]) -> tuple[str, ...]:
    """Return the pieces in words: parts of one mark counted, strips of one sheet told together."""
    marks = Counter(mark for _, mark, number in pieces if not number)
    numbers: dict[tuple[str, str], list[str]] = {}
    for where, kind, number in pieces:
        held = numbers.setdefault((where, kind), []) if number else []
        if number not in held:
            held.append(number)
    told = [f"{n} × {mark}" if n > 1 else mark for mark, n in marks.items()]
    for (where, kind), found in numbers.items():
        listed = ", ".join(found)
        told.append(f"{where}{kind}{'s' * (',' in listed)} {listed}")
    return tuple(told)


def _what(saw: SawKind, step: SawStep) -> str:
    if step.kind is StepKind.TRIM:
        return "trim long edge" if step.way.value == "rip" else "trim end"
    if step.kind is StepKind.BREAK_DOWN:
        return f"break down by track saw: {step.way.value}"
    if saw is SawKind.TRACK:
        return step.way.value
    return "rip, fence" if step.way.value == "rip" else "crosscut, stop"
