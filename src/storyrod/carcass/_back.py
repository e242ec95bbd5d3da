"""The back: applied, rebated, grooved or between, with the rebates or grooves that take it.

A rebate is as deep, from the rear edge, as the back is thick, and half the measured board wide; the back is half its
`clearance` short of each. A groove is one
third of the measured board deep; the back's front face lies against its front wall, and it is wider than the
back by `GROOVE_SLACK` behind it. Both stop where the back ends, so that they never show below a base or over a top.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from storyrod.carcass._making import Blank, Making, box_of
from storyrod.carcass._shell import GROOVE_SLACK, Shell, rails_are_upright
from storyrod.carcass._sums import Term, told
from storyrod.measure.space import PanelAxis, Point
from storyrod.measure.tolerance import EXACT, TOUCH
from storyrod.model.feature import Channel
from storyrod.model.job import BackKind, BetweenOrOver
from storyrod.model.panel import Panel, Role, Surface

BACK_CLEARANCE = 0.5
"""A back is this much short of its groove's bottom at each grooved side (mm)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Bite:
    """How a back is let in: `depth` of the channel, how far the back itself goes in, and the channel's y span."""

    kind: str
    depth: float
    enters: float
    y: tuple[float, float]


def add_back(making: Making, shell: Shell) -> None:
    """Put the back in its place, and cut what takes it."""
    match making.case.back.kind:
        case BackKind.NONE:
            return
        case BackKind.APPLIED:
            _add_applied(making, shell)
        case BackKind.BETWEEN:
            _add_between(making, shell)
        case BackKind.REBATED:
            depth = shell.t / 2
            rear = shell.side_depth
            enters = depth - making.case.back.clearance / 2
            _let_in(making, shell, _Bite(kind="rebate", depth=depth, enters=enters, y=(rear - shell.back_t, rear)))
        case BackKind.GROOVED:
            depth = shell.t / 3
            front = shell.inside.high.y
            y = (front, front + shell.back_t + GROOVE_SLACK)
            _let_in(making, shell, _Bite(kind="groove", depth=depth, enters=depth - BACK_CLEARANCE, y=y))


def _add_applied(making: Making, shell: Shell) -> None:
    case, unit = making.case, making.job.unit
    _add_panel(
        making,
        shell,
        x=(0.0, case.width),
        z=(shell.floor, case.height),
        sums=(told(unit, case.width), told(unit, case.height, Term(-1, shell.floor))),
    )


def _add_between(making: Making, shell: Shell) -> None:
    case, unit, inside = making.case, making.job.unit, shell.inside
    above, below = case.height - inside.high.z, inside.low.z - shell.floor
    if rails_are_upright(making):
        above = 0.0  # it runs up behind them
    _add_panel(
        making,
        shell,
        x=(inside.low.x, inside.high.x),
        z=(inside.low.z, case.height - above),
        sums=(
            told(unit, case.width, Term(-2, shell.t)),
            told(unit, case.height, Term(-1, shell.floor), Term(-1, above), Term(-1, below)),
        ),
    )


def _add_panel(
    making: Making,
    shell: Shell,
    *,
    x: tuple[float, float],
    z: tuple[float, float],
    sums: tuple[str, str],
) -> Panel:
    front = shell.inside.high.y
    return making.add(
        Blank(
            suffix="back",
            role=Role.BACK,
            name="back",
            board=shell.back_board,
            box=box_of(x, (front, front + shell.back_t), z),
            sums=sums,
            cause=making.case.back.field,
        )
    )


def _let_in(making: Making, shell: Shell, bite: _Bite) -> None:
    case, inside = making.case, shell.inside
    top = case.top is not BetweenOrOver.NONE and case.back.in_top and not rails_are_upright(making)
    base = case.base is not BetweenOrOver.NONE and case.back.in_base
    x = (inside.low.x - bite.enters, inside.high.x + bite.enters)
    z = (inside.low.z - bite.enters if base else shell.floor, inside.high.z + bite.enters if top else case.height)
    back = _add_panel(making, shell, x=x, z=z, sums=_let_in_sums(making, shell, bite, top=top, base=base))
    cut_z = (inside.low.z - bite.depth if base else z[0], inside.high.z + bite.depth if top else z[1])
    cut_x = (inside.low.x - bite.depth, inside.high.x + bite.depth)
    stopped = False
    for panel in tuple(making.panels.values()):
        if panel.role in {Role.SIDE_LEFT, Role.SIDE_RIGHT}:
            stopped |= _cut(making, panel, Surface.FACE, _to_the_edge(bite, panel), cut_z)
        elif _carries(panel, "top") and top:
            stopped |= _cut(making, panel, Surface.FAR_FACE, bite, cut_x)
        elif _carries(panel, "base") and base:
            stopped |= _cut(making, panel, Surface.FACE, bite, cut_x)
    if stopped:
        making.caution(
            f"stopped-{bite.kind}",
            f"case {case.code}",
            f"The {bite.kind} of the back stops before the end of a panel, so that it does not show.",
            "Square its rounded ends with a chisel, or round the back's corners to the cutter.",
            ids=(back.id,),
        )


def _to_the_edge(bite: _Bite, side: Panel) -> _Bite:
    """Return the bite as a side takes it: a rebate runs out at its rear edge, what is to be scribed there included."""
    return replace(bite, y=(bite.y[0], side.box.high.y)) if bite.kind == "rebate" else bite


def _carries(panel: Panel, level: str) -> bool:
    """Whether the panel closes the case at the back of that level: the top or base, or its back rail."""
    return panel.name in {level, f"{level} back rail"}


def _let_in_sums(making: Making, shell: Shell, bite: _Bite, *, top: bool, base: bool) -> tuple[str, str]:
    case, unit, inside, spare = making.case, making.job.unit, shell.inside, bite.depth - bite.enters
    width = told(unit, case.width, Term(-2, shell.t), Term(2, bite.depth), Term(-2, spare))
    ends = [Term(-1, shell.floor)]
    if top:
        ends.append(Term(-1, case.height - inside.high.z))
    if base:
        ends.append(Term(-1, inside.low.z - shell.floor))
    let_in = top + base
    ends += [Term(let_in, bite.depth), Term(-let_in, spare)]
    return width, told(unit, case.height, *ends)


def _cut(making: Making, panel: Panel, surface: Surface, bite: _Bite, along: tuple[float, float]) -> bool:
    """Cut the rebate or groove along `along` as far as the panel goes; return whether it stops within it."""
    axis = panel.frame.u.axis
    low, high = panel.box.span(axis)
    start, end = max(low, along[0]), min(high, along[1])
    if end - start < TOUCH:
        return False
    stopped = (start > low + EXACT, end < high - EXACT)
    middle = Point(panel.box.centre.x, (bite.y[0] + bite.y[1]) / 2, panel.box.centre.z)
    shape = Channel(
        kind=bite.kind,
        length=end - start,
        width=bite.y[1] - bite.y[0],
        depth=bite.depth,
        run=PanelAxis.U,
        stopped=stopped,
    )
    making.cut(
        panel,
        f"back-{bite.kind}",
        surface,
        middle.with_(axis, (start + end) / 2),
        shape,
        why=f"takes the back of case {making.case.code}",
        item="back",
    )
    return any(stopped)
