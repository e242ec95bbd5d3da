"""A board's layout as it is shown step by step at the saw."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from storyrod.drawing import Drawing, Figures, sheet_layout, short_name
from storyrod.model.saw_list import SawList, SawStep
from storyrod.model.sheet import BoardPlan, Cut, CutNode, PieceKind, SawKind, SheetPlan, StepKind, piece_of_rest
from storyrod.planning import Plan
from storyrod.sheets import saw_list
from storyrod.telling.sheets import steps_at_saw


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """One step at the saw on one sheet.

    Attributes:
        number: of the step in the saw's list.
        do: what to do, as `rip, fence`.
        setting: the figure to set; for a trimming cut, how much comes off or is left.
        hands: pieces in hand; `frees` parts that are done with it, `gives` other pieces that come off or are left.
    """

    number: int
    do: str
    setting: str
    cuts: int
    hands: tuple[str, ...]
    frees: tuple[str, ...]
    gives: tuple[str, ...]
    two_people: bool
    mass_kg: float


def list_of(plan: Plan, board: BoardPlan, saw: SawKind) -> SawList:
    """Return the saw's list of a board for a saw: the workshop's own, or the other one."""
    if saw is plan.cut_rules.saw:
        return next(s for s in plan.saw_lists if s.board == board.board)
    return saw_list(board, replace(plan.cut_rules, saw=saw), plan.stock, plan.job.lengths)


def numbers_on(listed: SawList, sheet: SheetPlan) -> tuple[int, ...]:
    """Return the steps of the list in which something on this sheet is cut."""
    return tuple(s.number for s in listed.steps if any(name == sheet.name for name, _ in s.cuts))


def told_of(plan: Plan, listed: SawList, sheet: SheetPlan, number: int) -> Told | None:
    """Return one step on one sheet in words, None where the list has no such step on it."""
    step = next((s for s in listed.steps if s.number == number), None)
    cuts = [sheet.cuts[n - 1] for name, n in (step.cuts if step is not None else ()) if name == sheet.name]
    if step is None or not cuts:
        return None
    nodes, board = _nodes(sheet.tree), next(b for b in plan.sheets.boards if b.board == sheet.board)
    marks = {p.id: f"{p.mark} {p.name}".strip() or p.id for p in plan.parts}
    trim = step.kind is StepKind.TRIM
    off = [] if trim else [c.gives for c in cuts] + [n for c in cuts if (n := _left(sheet, c)) is not None]
    done = [n for n in off if n in nodes and nodes[n].kind is PieceKind.PART]
    rest = [n for n in off if n not in done and not (n in nodes and nodes[n].kind is PieceKind.WASTE)]
    return Told(
        number=number,
        do=_do(listed.saw, step),
        setting=next(s.setting for s in steps_at_saw(plan, board, listed) if s.number == number),
        cuts=len(cuts),
        hands=tuple(dict.fromkeys(_called(sheet, c.piece) for c in cuts)),
        frees=tuple(marks[nodes[n].part] for n in done),
        gives=tuple(_called(sheet, n) for n in rest),
        two_people=step.two_people,
        mass_kg=step.mass_kg,
    )


def drawn_at(plan: Plan, listed: SawList, sheet: SheetPlan, number: int | None, room: tuple[float, float]) -> Drawing:
    """Return the sheet with its steps' numbers, or as it stands at one step."""
    steps = {n: s.number for s in listed.steps for name, n in s.cuts if name == sheet.name}
    return sheet_layout(
        sheet,
        plan.parts,
        kerf=plan.cut_rules.kerf,
        grain=plan.job.board(sheet.board).grain,
        steps=steps,
        figures=Figures.of_job(plan.job),
        room=room,
        at_step=number,
    )


def _do(saw: SawKind, step: SawStep) -> str:
    if step.kind is StepKind.TRIM:
        return "trim the long edge" if step.way.value == "rip" else "trim the end"
    if step.kind is StepKind.BREAK_DOWN:
        return f"break down by track saw: {step.way.value} at"
    if saw is SawKind.TRACK:
        return f"{step.way.value}, stops at"
    return "rip, fence at" if step.way.value == "rip" else "crosscut, stop at"


def _nodes(node: CutNode) -> dict[str, CutNode]:
    found = {node.name: node}
    for child in node.children:
        found |= _nodes(child)
    return found


def _left(sheet: SheetPlan, cut: Cut) -> str | None:
    """Return the name of the finished piece that a piece's last cut leaves in hand, None where there is none."""
    node = _nodes(sheet.tree).get(cut.piece)
    own: Sequence[Cut] = [c for c in sheet.cuts if c.piece == cut.piece and not c.trim]
    if node is None or not own or own[-1] is not cut or len(node.children) != len(own) + 1:
        return None
    return node.children[-1].name


def _called(sheet: SheetPlan, name: str) -> str:
    piece = piece_of_rest(name)
    if piece is not None:
        return f"what is left of {_called(sheet, piece)}"
    word = short_name(sheet.name, name)
    return "the sheet" if word == "sheet" else word
