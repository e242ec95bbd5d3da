"""Cutting list, connectors and hardware, and the joint schedule."""

from __future__ import annotations

from collections import Counter
from itertools import groupby

from storyrod.adapters.packet._blocks import Block, Row, Section, Together
from storyrod.adapters.packet._columns import natural_width, widths_of
from storyrod.adapters.packet._page_room import GUTTER, height_of
from storyrod.adapters.packet._typeset import room_on
from storyrod.drawing import Figures, joint_detail
from storyrod.model.detail import Settled
from storyrod.model.joint import Joint
from storyrod.model.panel import Panel, PanelId
from storyrod.model.weight import panel_mass_kg
from storyrod.planning import Plan
from storyrod.telling.blocks import Column, Heading, Picture, Table, Words, right, table, wide
from storyrod.telling.connectors import connector_items
from storyrod.telling.panels import bevel_words, edging_words, panels_of, scribe_words
from storyrod.telling.shown import Shown

_MOST_JOINTS = 16  # in one column
_LEAST_SHARE = 0.55  # of the width at most: the narrower of two tables side by side
_ONE_PAGE = 64  # joints of two tables side by side, which no page may part
_ABREAST_AT_MOST = 225.0  # mm: two tables of this width before their cells break share a page's width
_TALLEST_JOINT = 62.0  # mm for a section through a joint
_ABREAST = 3  # sections through joints beside each other

_CUT_COLUMNS: tuple[Column | str, ...] = (
    "mark",
    wide("panel", 1.5),
    right("pieces"),
    right("finished"),
    right("cut"),
    "grain",
    wide("edging"),
    right("kg each"),
    "cut",
)


def cutting_section(plan: Plan) -> Section:
    """Return the cutting list, board by board."""
    shown = Shown.of(plan.job)
    rows = sorted(panels_of(plan), key=lambda pc: (pc[0].board, -pc[0].length * pc[0].width, pc[0].mark))
    blocks: list[Block] = [
        Words(
            text=f"{shown.unit_words} Length by width; the length runs from the datum end. "
            "Finished is the size in the cabinet; cut is the size at the saw, less edging. "
            "Thickness is the measured one; the grain runs along the length or the width."
        )
    ]
    for code, group in groupby(rows, key=lambda pc: pc[0].board):
        blocks.append(_board_table(plan, shown, code, list(group)))
    blocks += [
        Words(text=f"{panel.mark}, {panel.name}: {words}")
        for panel, _ in rows
        for words in (bevel_words(panel, shown), scribe_words(panel, shown))
        if words
    ]
    return Section(title="Cutting list", head="cutting list", blocks=tuple(blocks), flows=True)


def _board_table(plan: Plan, shown: Shown, code: str, panels: list[tuple[Panel, int]]) -> Table:
    board = plan.job.board(code)
    measured = "measured" if board.measured_given else "not measured: nominal taken"
    area = sum(p.cut_length * p.cut_width * n for p, n in panels) / 1e6
    mass = sum(panel_mass_kg(p, board) * n for p, n in panels)
    pieces = sum(n for _, n in panels)
    amount = f"{pieces} pieces, {area:.2f} m\u00b2, {mass:.1f} kg"
    title = f"{board.name}, {shown.n(board.measured)} thick ({measured}): {amount}"
    return table(_CUT_COLUMNS, [_cut_row(plan, shown, p, n) for p, n in panels], title=title, small=True)


def _cut_row(plan: Plan, shown: Shown, panel: Panel, count: int) -> tuple[str, ...]:
    finished = _sides(shown, panel.length, panel.width)
    cut = _sides(shown, panel.cut_length, panel.cut_width)
    grain = {"along": "length", "across": "width", "free": "free"}[panel.grain.value]
    mass = panel_mass_kg(panel, plan.job.board(panel.board))
    tick = "\u2610"
    return (panel.mark, panel.name, str(count), finished, cut, grain, edging_words(panel), f"{mass:.1f}", tick)


def _sides(shown: Shown, length: float, width: float) -> str:
    """Return length by width; where there is no room for both in a line, the width goes into the next, whole."""
    long, wide = (shown.n(side).replace(" ", "\u00a0") for side in (length, width))
    return f"{long}\u00a0\u00d7 {wide}"


def hardware_section(plan: Plan) -> Section:
    """Return what is to be bought or fetched: connectors by item, hardware by case."""
    blocks: list[Block] = []
    items = connector_items(plan)
    if items:
        methods = _methods_by_item(plan)
        rows = [(item, str(n), ", ".join(sorted(methods[item])), "\u2610") for item, n in sorted(items.items())]
        columns = (wide("connector"), right("how many"), wide("used by"), "here")
        blocks.append(table(columns, rows, title="Connectors"))
    hardware = [
        (h.name, f"{h.count * c.built.case.count} {h.unit}".strip(), f"{c.built.case.code}: {h.where}", "\u2610")
        for c in plan.details.cases
        for h in c.built.hardware
    ]
    if hardware:
        columns = (wide("item"), right("how many"), wide("where", 1.4), "here")
        blocks.append(table(columns, hardware, title="Runners, hinges and other hardware"))
    handles = [
        f"{len(fronts) * c.built.case.count} for case {c.built.case.code} ({', '.join(p.name for p in fronts)})"
        for c in plan.details.cases
        if (fronts := c.built.fronts_to_handle)
    ]
    if handles:
        told = "; ".join(handles)
        text = f"Not on this list and not priced: handles or knobs of your choice, with screws: {told}."
        blocks.append(Words(text=text))
    if not blocks:
        blocks.append(Words(text="Nothing to buy: no joint in this job takes a connector."))
    return Section(title="Connectors and hardware", head="connectors", blocks=tuple(blocks), flows=True)


def _methods_by_item(plan: Plan) -> dict[str, set[str]]:
    used: dict[str, set[str]] = {}
    for case in plan.details.cases:
        for connector in case.connectors:
            used.setdefault(connector.item, set()).add(plan.details.method(connector.method).name)
    return used


def joint_section(plan: Plan) -> Section:
    """Return the joint schedule: every joint, how it is held, and its stations."""
    shown = Shown.of(plan.job)
    blocks: list[Block] = [
        Words(
            text="The entering panel's edge meets the receiving panel's face. Stations are measured on the entering "
            f"panel, from its face edge, or from its datum end where the joint runs along it. {shown.unit_words}"
        )
    ]
    for case in plan.details.cases:
        name = f"{case.built.case.code}: {case.built.case.name}"
        panels = {p.id: p for p in case.panels}
        joints = [(_held(plan, j), _joint_row(shown, j, panels)) for j in case.joints]
        blocks += _joint_tables(name, joints, room_on(plan.job.paper.value)[0])
    blocks += _sections_through(plan)
    return Section(title="Joint schedule", head="joints", blocks=tuple(blocks), flows=True)


def _joint_tables(name: str, joints: list[tuple[str, tuple[str, ...]]], width: float) -> list[Block]:
    """Return the joints of a case below what holds them; many in two tables side by side, where both have room."""
    by_held: dict[str, list[tuple[str, ...]]] = {}
    for held, row in joints:
        by_held.setdefault(held, []).append(row)
    rows = [row for own in by_held.values() for row in own]
    heads = [held for held, own in by_held.items() for _ in own]
    if _MOST_JOINTS < len(rows) <= _ONE_PAGE:
        half = len(rows) // 2
        ways = [_abreast(name, rows, heads, n, width) for n in range(half // 2, half + 3, 2)]
        fitting = [way for way in ways if way is not None]
        if fitting:
            return [Together(blocks=(min(fitting, key=lambda row: height_of(row, width)),))]
    return [_joint_table(name, rows, heads)]


def _abreast(name: str, rows: list[tuple[str, ...]], heads: list[str], at: int, width: float) -> Row | None:
    """Return the joints in two tables side by side, parted at a row; nothing where they have no room."""
    one, other = _joint_table(name, rows[:at], heads[:at]), _joint_table(f"{name}, more", rows[at:], heads[at:])
    whole = [natural_width(t) for t in (one, other)]
    if sum(whole) > _ABREAST_AT_MOST:
        return None
    room = width - GUTTER
    least = min(*whole, room * _LEAST_SHARE)  # the other's stations may take two lines
    shares = (room - least, least) if whole[0] >= whole[1] else (least, room - least)
    if any(widths_of(t, share) is None for t, share in zip((one, other), shares, strict=True)):
        return None  # a head would stand out over the gutter
    return Row(cells=((one,), (other,)), shares=shares)


def _joint_table(name: str, rows: list[tuple[str, ...]], heads: list[str]) -> Table:
    groups = []
    for n, held in enumerate(heads):
        if n == 0 or held != heads[n - 1]:
            own = [row for row, head in zip(rows, heads, strict=True) if head == held]
            groups.append((n, held if any(row[-1] for row in own) else f"{held}, whole length"))
    columns = ("joint", "entering", "receiving", right("length"), wide("stations"))
    return table(columns, rows, title=name, small=True, groups=tuple(groups))


def _sections_through(plan: Plan) -> list[Block]:
    """Return a section through one joint of each method and pair of boards, a few side by side."""
    figures = Figures(unit=plan.job.unit, fraction=plan.job.fraction)
    boards = tuple(b.code for b in plan.job.boards)
    room = ((room_on(plan.job.paper.value)[0] - GUTTER * (_ABREAST - 1)) / _ABREAST, _TALLEST_JOINT)
    pictures: dict[tuple[object, ...], tuple[Block, ...]] = {}
    for case in plan.details.cases:
        panels = {p.id: p for p in case.panels}
        for joint in case.joints:
            ends = panels[joint.receiving].board, panels[joint.entering].board
            kind = (joint.method, *ends, joint.at_corner)
            if kind in pictures or not joint.stations:
                continue
            name = plan.details.method(joint.method).name
            words = f"{name}: {panels[joint.entering].name} on {panels[joint.receiving].name} ({joint.number})"
            drawn = joint_detail(case, joint, figures=figures, boards=boards, room=room)
            pictures[kind] = (Words(text=words, strong=True), Picture(drawing=drawn, notes=False))
    cells = list(pictures.values())
    rows = [cells[n : n + _ABREAST] for n in range(0, len(cells), _ABREAST)]
    drawn_rows: list[Block] = [
        Row(cells=(*row, *((),) * (_ABREAST - len(row))), shares=(1.0,) * _ABREAST) for row in rows
    ]
    return [Heading(text="How they are cut"), *drawn_rows] if drawn_rows else []


def _held(plan: Plan, joint: Joint) -> str:
    """Return what sort of joint it is, and what holds it: `Corner, dowels`."""
    held = plan.details.method(joint.method).name
    if joint.lock is not None:
        held += f", slides {joint.lock.word}" if joint.travel else f", stops toward the {joint.lock.side}"
    kind = joint.kind.value
    return f"{kind[:1].upper()}{kind[1:]}, {held}"


def _joint_row(shown: Shown, joint: Joint, panels: dict[PanelId, Panel]) -> tuple[str, ...]:
    stations = ", ".join(shown.n(s).replace(" ", "\u00a0") for s in joint.stations)
    marks = panels[joint.entering].mark, panels[joint.receiving].mark
    return (joint.number, *marks, shown.n(joint.length), stations)


def settled_words(plan: Plan) -> list[str]:
    """Return why stations of each case are not where the ladder would have them."""
    shown = Shown.of(plan.job)
    return [words for case in plan.details.cases for words in _settled_words(case.settled, shown)]


def _settled_words(settled: tuple[Settled, ...], shown: Shown) -> list[str]:
    """Return one sentence for each reason why stations were moved off the ladder."""
    reasons: Counter[tuple[str, str]] = Counter()
    for one in settled:
        reasons[(str(one.joint), f"by {shown.n(abs(one.moved_by))}: {one.because}")] += 1
    return [f"{joint}: {n} station{'s' if n > 1 else ''} moved {why}." for (joint, why), n in reasons.items()]
