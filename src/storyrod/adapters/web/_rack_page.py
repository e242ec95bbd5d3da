"""The rack of offcuts on the page: what lies there, what cutting the sheets does to it, and what is done by hand."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

from storyrod.adapters.log import BenchLog, Offcut, confirmed_versions, cut_sheets_of, keep_offcuts, take_off
from storyrod.adapters.web._desk import Desk
from storyrod.adapters.web._worked import Worked
from storyrod.drawing import Figures
from storyrod.faults import Fault, JobError, raise_if_any
from storyrod.measure.length import parse_length

_MOST_LETTERS: Final = 30
_LONGEST: Final = 10_000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class RackLine:
    """A piece on the rack."""

    code: str
    board: str
    size: str
    is_used: bool


def rack_of(desk: Desk, worked: Worked) -> dict[str, Any]:
    """Return what lies on the rack, and what cutting these sheets would do to it."""
    assert worked.plan is not None  # noqa: S101  # asked only of jobs that were read
    plan = worked.plan
    figures, boards = Figures.of_job(plan.job), {b.code: b.name for b in plan.job.boards}

    def line(code: str, board: str, length: float, width: float, *, used: bool = False) -> RackLine:
        size = f"{figures.of(length)} × {figures.of(width)}"
        return RackLine(code=code, board=boards.get(board, board), size=size, is_used=used)

    told: dict[str, Any] = {
        "boards": tuple(boards.items()),
        "unit": figures.said,
        "takes": (),
        "puts": (),
        "trouble": (),
    }
    try:
        log = desk.log()
        told["is_cut"] = plan.version in confirmed_versions(log, plan.job.title)
    except JobError as error:
        return told | {"trouble": tuple(str(f) for f in error.faults), "pieces": (), "is_cut": False, "can_cut": False}
    try:
        cut = worked.ask(cut_sheets_of)
    except JobError:
        used, told["can_cut"] = frozenset[str](), False
    else:
        used, told["can_cut"] = frozenset(o.code for o in cut.used), True
        told["takes"] = tuple(line(o.code, o.board, o.length, o.width) for o in cut.used)
        told["puts"] = tuple(line(o.code, o.board, o.length, o.width) for o in cut.left)
    gone = _gone(log)
    pieces = [o for o in plan.workshop.rack if o.code not in gone]
    told["pieces"] = tuple(line(o.code, o.board, o.length, o.width, used=o.code in used) for o in pieces)
    return told


def _gone(log: BenchLog) -> frozenset[str]:
    """Return the codes of pieces that were taken: a plan that is cut still counts them in its stock."""
    latest = {e.offcut.code: e.here for e in log.rack_book()}
    return frozenset(code for code, here in latest.items() if not here)


def act_on_rack(desk: Desk, name: str, body: dict[str, Any]) -> str:
    """Put a piece on the rack, take one off, or confirm that the sheets are cut; return what was done, in words.

    Raises:
        JobError: what was sent makes no sense, or the log refuses it; nothing was changed.
    """
    worked = desk.job(name)
    if worked.plan is None:
        raise JobError(*worked.faults)
    acts = {"put": _put, "take": _take, "cut": _cut}
    act = acts.get(str(body.get("act", "")))
    if act is None:
        raise wrong("act", str(body.get("act", "")), ", ".join(acts))
    return act(desk, worked, body)


def _put(desk: Desk, worked: Worked, body: dict[str, Any]) -> str:
    assert worked.plan is not None  # noqa: S101  # seen to by the caller
    plan, log = worked.plan, desk.log()
    code, board = str(body.get("code", "")).strip(), str(body.get("board", ""))
    faults, sides = [], []
    lying = {o.code for o in plan.workshop.rack} - _gone(log)
    if not 0 < len(code) <= _MOST_LETTERS:
        faults.append(_fault("code", code, f"1 to {_MOST_LETTERS} letters or figures, as you write it on the piece"))
    elif code in lying:
        faults.append(_fault("code", code, "a code that no piece on the rack has yet"))
    if board not in {b.code for b in plan.job.boards}:
        faults.append(_fault("board", board, ", ".join(b.code for b in plan.job.boards)))
    for side in ("length", "width"):
        text = str(body.get(side, "")).strip()
        try:
            value = parse_length(text, plan.job.unit)
        except JobError:
            value = 0.0
        if not 0 < value <= _LONGEST:
            faults.append(_fault(side, text, 'a length, as 600 or 23 5/8"'))
        sides.append(value)
    raise_if_any(faults)
    log.put_offcut(Offcut(code=code, board=board, length=sides[0], width=sides[1]))
    return f"{code} is on the rack."


def _take(desk: Desk, worked: Worked, body: dict[str, Any]) -> str:
    assert worked.plan is not None  # noqa: S101  # seen to by the caller
    log, code = desk.log(), str(body.get("code", ""))
    written = next((o for o in worked.plan.workshop.rack if o.code == code), None)
    if written is not None and code not in {e.offcut.code for e in log.rack_book()}:
        # It stands in the workshop file; from now on the log says that it is gone.
        piece = Offcut(code=code, board=written.board, length=written.length, width=written.width)
        log.put_offcut(piece, here=False)
        return f"{code} is off the rack."
    return f"{take_off(log, code).code} is off the rack."


def _cut(desk: Desk, worked: Worked, body: dict[str, Any]) -> str:
    assert worked.plan is not None  # noqa: S101  # seen to by the caller
    raise_if_any(worked.checked())
    copy, text = 1, str(body.get("copy", 1))
    if text.isdecimal() and 0 < int(text) < 1000:
        copy = int(text)
    sheets = worked.ask(lambda plan: plan.sheets)
    done = keep_offcuts(desk.log(), worked.ask(cut_sheets_of), copy=copy)
    fresh = desk.job(worked.name)
    if fresh is not worked and fresh.plan is not None and fresh.plan.version == worked.plan.version:
        fresh.show_sheets(sheets)  # the layout that was cut stays the one that is shown
    return " ".join(done.lines())


def _fault(field: str, found: str, allowed: str) -> Fault:
    return Fault(code="sent", field=field, found=f'"{found}"', allowed=allowed, do="Write it again.")


def wrong(field: str, found: str, allowed: str) -> JobError:
    """Return that something was sent that is not allowed."""
    return JobError(_fault(field, found, allowed))
