"""Sheets in the packet: figures, every layout drawn, the saw's list to tick off, offcuts used and to keep."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import partial
from typing import Final

from storyrod.adapters.packet._blocks import Block, Row, Section, Together
from storyrod.adapters.packet._cards import warned
from storyrod.adapters.packet._typeset import room_on
from storyrod.drawing import Hatch
from storyrod.measure.length import Unit
from storyrod.model.bench_lines import BenchLine
from storyrod.model.saw_list import SawList, WhatIf
from storyrod.model.sheet import BoardPlan, SheetPlan
from storyrod.model.sheet import Figures as SheetFigures
from storyrod.model.stock import rack_code
from storyrod.planning import Plan
from storyrod.telling.account import money_of
from storyrod.telling.blocks import TICK, Bullets, Heading, Picture, Table, Warning_, Words, right, table, wide
from storyrod.telling.sheets import (
    FACE_UP,
    SHORT_SEARCH,
    boards_without_sheets,
    money_then,
    sheet_drawing,
    sheet_number,
    sheets_then,
    steps_at_saw,
    trim_words,
)
from storyrod.telling.shown import Shown

_FEET_IN_M = 1 / 0.3048
_TALLEST = 96.0  # mm of the page's height for one sheet, so that two usual ones share a page
_EVERY = "At every tool"
_ONE_COLUMN = 3  # offcuts that stand in one column
_RACK_ROOM = 70.0  # mm of the page's width for an offcut off the rack


type Patterns = Mapping[str, Hatch]
"""By a part's id, where parts of several jobs are told apart."""


def sheet_sections(plan: Plan, patterns: Patterns | None = None) -> tuple[Section, ...]:
    """Return the sheets in figures, then for each board its layouts and the saw's list."""
    both = zip(plan.sheets.boards, plan.saw_lists, strict=True)
    boards = [_board_section(plan, board, saw, patterns) for board, saw in both]
    return (_figures_section(plan), *boards)


def _figures_section(plan: Plan) -> Section:
    boards = plan.sheets.boards
    blocks: list[Block] = []
    if boards:
        blocks.append(_figures_table(plan))
        blocks.append(Words(text=_how_cut(plan), quiet=True))
    bare = boards_without_sheets(plan)
    if bare:
        blocks.append(
            Words(text=f"No sheet size is given for {', '.join(bare)}: nothing is laid out; see the cutting list.")
        )
    shared = _on_every_list(plan)
    if shared:
        blocks.append(Warning_(title=_EVERY, text=" ".join(c.text for c in shared)))
    if boards:
        blocks.append(Words(text="The number on each cut is its step in the saw's list below."))
    blocks += _offcut_tables(plan)
    return Section(title="Sheets", head="sheets", blocks=tuple(blocks), flows=True)


def _on_every_list(plan: Plan) -> list[BenchLine]:
    """Return what is heeded at every tool, where there are several saw's lists: it is said once, before the first."""
    lists = plan.saw_lists
    if len(lists) < 2:
        return []
    every = [{c.text for c in saw.cautions} for saw in lists]
    return [c for c in lists[0].cautions if c.is_on_every_card and all(c.text in texts for texts in every)]


def sheet_reasons(plan: Plan) -> tuple[Section, ...]:
    """Return what is proven of the layouts, and what another size or kerf would change."""
    if not plan.sheets.boards:
        return ()
    claims = tuple(f"{_name(plan, b.board)}: {b.claim}" for b in plan.sheets.boards)
    blocks: tuple[Block, ...] = (Bullets(items=claims), *_change_table(plan))
    return (Section(title="Why the sheets are cut so", head="sheets", blocks=blocks, flows=True),)


def _name(plan: Plan, code: str) -> str:
    return plan.job.board(code).name


def _figures_table(plan: Plan) -> Table:
    rows = [_figures_row(plan, b) for b in plan.sheets.boards]
    if len(rows) > 1 and not any(b.figures.unpriced for b in plan.sheets.boards):
        rows.append(("together", "", "", "", "", "", money_of(plan, plan.sheets.cents)))
    inches = plan.job.unit is Unit.INCH
    columns = (
        wide("board", 1.2),
        wide("sheets", 1.4),
        right("parts ft²" if inches else "parts m²"),
        right("used"),
        right("cut ft" if inches else "cut m"),
        right("settings"),
        right("money"),
    )
    return table(columns, rows, small=True)


def _figures_row(plan: Plan, board: BoardPlan) -> tuple[str, ...]:
    f = board.figures
    feet, decimals = (_FEET_IN_M, 1) if plan.job.unit is Unit.INCH else (1.0, 2)
    cents = "no price" if f.unpriced else money_of(plan, f.cents)
    return (
        _name(plan, board.board),
        bought_sheets(plan, f),
        f"{f.parts_m2 * (feet * feet):.{decimals}f}",
        f"{f.yield_share:.0%}",
        f"{f.cut_m * feet:.{1 if feet == 1 else 0}f}",
        str(_saw_of(plan, board).settings),
        cents,
    )


def _saw_of(plan: Plan, board: BoardPlan) -> SawList:
    return next(s for s in plan.saw_lists if s.board == board.board)


def bought_sheets(plan: Plan, figures: SheetFigures) -> str:
    """Return how many sheets of which size are cut, and the offcuts off the rack."""
    stock = {s.id: s for s in plan.stock}
    return ", ".join(
        stock[code].name if stock[code].offcut else f"{n} of {stock[code].name}" for code, n in figures.sheets
    )


def _how_cut(plan: Plan) -> str:
    shown, rules = Shown.of(plan.job), plan.cut_rules
    notes = " ".join(plan.sheets.notes)
    return (
        f"{shown.unit_words} Kerf {shown.n(rules.kerf)}. {trim_words(plan)} {FACE_UP} "
        f"Settings: how often you set the {'rail' if rules.saw.value == 'track saw' else 'fence'} is set. {notes}"
    ).strip()


_OFF_THE_RACK: Final = (
    "Take these off the rack first. Sizes are without a factory edge: saw that off before you measure"
)


def _offcut_tables(plan: Plan) -> Iterator[Block]:
    shown = Shown.of(plan.job)
    used = [s for s in plan.sheets.sheets if s.offcut]
    if used:
        rows = [(s.stock, _name(plan, s.board), f"{shown.n(s.length)} × {shown.n(s.width)}", TICK) for s in used]
        yield table(("offcut", wide("board"), right("size"), "used up"), rows, title=_OFF_THE_RACK)
    kept = [(s, o) for s in plan.sheets.sheets for o in s.offcuts if o.keep]
    if kept:
        worth = [(rack_code(o.name, plan.version), f"{shown.n(o.length)} × {shown.n(o.width)}", TICK) for _, o in kept]
        least = f"{shown.n(plan.cut_rules.offcut_length)} × {shown.n(plan.cut_rules.offcut_width)}"
        title = f"Offcuts worth keeping ({least} and larger), along the grain × across"
        columns = (wide("write on it"), right("size"), "kept")
        if len(worth) <= _ONE_COLUMN:
            yield table(columns, worth, title=title, small=True)
            return
        half = -(-len(worth) // 2)
        both = (table(columns, part, small=True) for part in (worth[:half], worth[half:]))
        yield Together(blocks=(Words(text=title, strong=True), Row(cells=tuple((t,) for t in both), shares=(1.0, 1.0))))


def _change_table(plan: Plan) -> Iterator[Block]:
    rows = [
        (
            _name(plan, board),
            change_words(plan, change),
            sheets_then(change),
            money_then(change, partial(money_of, plan)),
        )
        for board, changes in plan.sheet_changes
        for change in changes
    ]
    if rows:
        columns = (wide("board"), wide("with", 1.2), wide("sheets"), right("money"))
        yield table(columns, rows, title="What would change", small=True)
        yield Words(text=SHORT_SEARCH, quiet=True)


def change_words(plan: Plan, change: WhatIf) -> str:
    """Return what was asked, with lengths in the job's unit."""
    if change.size is None:
        return change.question
    shown = Shown.of(plan.job)
    return f"sheets of {shown.n(change.size[0])} × {shown.n(change.size[1])} as well, at the same price by area"


def _board_section(plan: Plan, board: BoardPlan, saw: SawList, patterns: Patterns | None) -> Section:
    name = _name(plan, board.board)
    blocks: list[Block] = []
    for sheet in board.sheets:
        if not sheet.same_as:
            blocks += _layout(plan, board, sheet, patterns)
    blocks.append(Heading(text="The saw's list"))
    shared = [c.text for c in _on_every_list(plan)]
    own = [c for c in saw.cautions if c.text not in shared]
    more = f"Read “{_EVERY}” under Sheets too." if shared else ""
    blocks.append(warned(own, f"At the {saw.saw.value}", more=more))
    blocks.append(_saw_table(plan, board, saw))
    return Section(title=f"Sheets of {name}", head=f"sheets of {name}", blocks=tuple(blocks), flows=True)


def _layout(plan: Plan, board: BoardPlan, sheet: SheetPlan, patterns: Patterns | None) -> Iterator[Block]:
    width, _ = room_on(plan.job.paper.value)
    room = (width * 0.5, _RACK_ROOM) if sheet.offcut else (width, _TALLEST)
    yield Heading(text=_layout_words(board, sheet))
    yield Picture(drawing=sheet_drawing(plan, sheet, room=room, patterns=patterns), notes=False)


def _layout_words(board: BoardPlan, sheet: SheetPlan) -> str:
    twins = [s for s in board.sheets if s.same_as == sheet.name]
    used = f"{sheet.used_share:.0%} used"
    if sheet.offcut:
        return f"Sheet {sheet_number(sheet.name)}: offcut {sheet.stock} off the rack, {used}"
    if not twins:
        return f"Sheet {sheet_number(sheet.name)}: {used}"
    numbers = ", ".join(sheet_number(s.name) for s in (sheet, *twins))
    return f"Sheets {numbers}, cut alike: {used}"


def _saw_table(plan: Plan, board: BoardPlan, saw: SawList) -> Table:
    rows = []
    for step in steps_at_saw(plan, board, saw):
        hand = "; ".join(step.hands)
        if step.two_people:
            hand += f"; 2 people: {step.mass_kg:.0f} kg"
        off = ", ".join(step.gives)
        if step.leaves:
            off += f"; leaves {'; '.join(step.leaves)}"
        rows.append((str(step.number), step.what, step.setting or "–", str(step.cuts), hand, off, TICK))
    columns = (
        right("step"),
        "cut",
        right("set to", working=True),
        right("cuts"),
        wide("piece in hand", 1.1),
        wide("comes off"),
        "done",
    )
    return table(columns, rows, small=True)
