"""The lines of caution that a card carries, by tool, cutter and board.

Sources: a school's router safety sheet; a router workshop's page on direction; Health and Safety Executive, Circular
saw benches (WIS16) and Wood dust; the rest common practice, no source. They are reminders, not training.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from storyrod.model.job import BoardKind
from storyrod.model.machining import Setting
from storyrod.model.workshop import CutterKind, Registration, ToolKind

LAST: Final = (
    "These are reminders, not training. Your tool's manual, the law and codes where you work, and a licensed or "
    "trained person's word come before this card."
)

DUST: Final = "Dust: extraction at the tool, a mask, no dry sweeping. Look up today's limit where you work."

_ROUTER: Final = (
    "Router: unplug before changing cutter or height; take the wrench off; shank well into the collet, to the maker's "
    "mark; work clamped; eyes, ears, dust mask."
)
_DIRECTION: Final = (
    "Router: cut against the rotation: outside edges anticlockwise, inside openings clockwise, seen from above; never "
    "climb-cut with a bush in a slot."
)
_TEMPLATE: Final = (
    "Template: the cutter must clear the bush, and the bush stand proud of the cutter's nut; template longer than the "
    "cut and clamped at two places."
)
_UNDERCUT: Final = (
    "Undercut cutter: plunge, move, come back to the entry, let it stop, then lift; never lift in the undercut."
)
_DRILL: Final = (
    "Drill: jig and work clamped; side handle for big bits; stop collar tight and tested in scrap; clear the chips; no "
    "gloves."
)
_SAW: Final = (
    "Table saw: riving knife and guard fitted and set for this job; push stick for the last 300 mm; blade sharp; never "
    "reach over. Most accidents happen with the guard missing or badly set."
)
_GROOVE_SAW: Final = "Table saw, grooves: ask first whether a guarded router or spindle moulder is the better machine."
_TRACK: Final = (
    "Track saw: rail clamped or known not to creep; work held up on both sides of the cut; blade 3 to 5 mm below the "
    "sheet; cable and hose behind."
)
_MDF: Final = "MDF and chipboard: treat the dust as hardwood dust unless you know better."
_PLUNGE: Final = (
    "Plunging cutter: both hands on the tool, base pressed flat, work clamped; let it stop before it is lifted."
)
_PROGRAM: Final = "Machine under program: run it in the air first; guards closed; stay at the stop button."


def cautions_for(setting: Setting, kinds: Iterable[BoardKind], *, groove: bool) -> tuple[str, ...]:
    """Return the lines for one set-up, the closing line last."""
    return (*_tool_lines(setting, groove=groove), DUST, *_board_lines(kinds), LAST)


def _tool_lines(setting: Setting, *, groove: bool) -> tuple[str, ...]:
    kind = setting.tool_kind
    if kind in (ToolKind.ROUTER, ToolKind.ROUTER_TABLE):
        return _router_lines(setting)
    if kind in (ToolKind.HAND_DRILL, ToolKind.DRILL_PRESS, ToolKind.DRILL_JIG, ToolKind.POCKET_JIG):
        return (_DRILL,)
    if kind is ToolKind.TABLE_SAW:
        return (_SAW, _GROOVE_SAW) if groove else (_SAW,)
    if kind is ToolKind.TRACK_SAW:
        return (_TRACK,)
    if kind is ToolKind.NC_ROUTER:
        return (_PROGRAM,)
    return (_PLUNGE,)


def _router_lines(setting: Setting) -> tuple[str, ...]:
    lines = [_ROUTER, _DIRECTION]
    deep, _ = setting.passes
    if deep > 1:
        lines.append(
            f"Router: {deep} passes, one under another: not over half the diameter at once, 3 mm if it is small."
        )
    if setting.speed_rpm:
        lines.append(
            f"Speed: not above {setting.speed_rpm} turns a minute for this cutter; the limit marked on it rules."
        )
    if setting.bush is not None:
        lines.append(_TEMPLATE)
    if setting.cutter_name.startswith((CutterKind.KEYHOLE.value, CutterKind.UNDERCUT.value)):
        lines.append(_UNDERCUT)
    if setting.registration is Registration.EDGE:
        lines.append("Router table: feed against the rotation, never between cutter and fence; guard over the cutter.")
    return tuple(lines)


def _board_lines(kinds: Iterable[BoardKind]) -> tuple[str, ...]:
    dusty = {BoardKind.MDF, BoardKind.CHIPBOARD, BoardKind.FACED_CHIPBOARD}
    return (_MDF,) if dusty & set(kinds) else ()
