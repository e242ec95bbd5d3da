"""What went wrong here: a slip recorded at a panel or card, what it breaks, the ways out, and the rescue sheet."""

from __future__ import annotations

import asyncio
import datetime as dt
from collections.abc import Mapping
from copy import copy as snapshot
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final
from urllib.parse import quote, urlencode

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.files.as_built import NAME, read_as_built, redone, undone
from storyrod.adapters.rescuing import (
    case_and_copy,
    case_of_mark,
    cases_with_slips,
    changed,
    no_such_way,
    no_way_taken,
    record,
    slips_of,
    take,
    ticked_cuts,
)
from storyrod.adapters.web._desk import Desk, desk_of
from storyrod.adapters.web._errands import Errands, errands_of
from storyrod.adapters.web._render import job_page, today
from storyrod.adapters.web._rescuing import KINDS, Rescuing, cuts_asked, key_of, lengths_asked, slip_sent
from storyrod.adapters.web._worked import Worked
from storyrod.drawing import Figures, panel_set_out
from storyrod.faults import Fault, JobError, raise_if_any
from storyrod.model.as_built import AsBuilt, SlipKind
from storyrod.model.panel import Surface
from storyrod.model.rescue import Way
from storyrod.rescue import FIELDS
from storyrod.telling.rescue import break_lines, cost_words, found_words, slip_words, way_lines

if TYPE_CHECKING:
    from storyrod.model.feature import FeatureId
    from storyrod.model.mark import PanelSetOut
    from storyrod.planning import Plan

FIRST_S: Final = 0.8
"""So long the page waits for the first way, so that it is there when the page is; the rest come after it."""

NOT_KEPT: Final = "Not kept"
MOST_DIGITS: Final = 3
"""Of the number of a copy, as the file has it."""

_ROOM: Final = (200.0, 150.0)
_BETWEEN: Final = "|"
"""Stands between the codes of moves that a form sends."""


def show(request: Request) -> Response:
    """Show what was recorded, what it breaks and what can be done; ask for a slip at the panel that is named."""
    desk, name = desk_of(request), request.path_params["job"]
    worked = desk.job(name)
    return _page(request, desk, worked, dict(request.query_params))


def _page(
    request: Request, desk: Desk, worked: Worked, sent: Mapping[str, str], told: tuple[Fault, ...] = ()
) -> Response:
    faults = worked.checked()
    if faults or worked.plan is None:
        return _page_of(request, worked, told, plan=None)
    plan = worked.plan
    try:
        facts = read_as_built(desk.shelf.path(worked.name))
    except JobError as error:
        told = (*told, *error.faults)
        head = f"{NAME}, beside this job, cannot be understood: it is left as it is"
        return _page_of(request, worked, told, plan=None, told_head=head)
    values = _of_slip(plan, sent) | _of_ways(desk, errands_of(request), worked, plan, facts, sent)
    return _page_of(request, worked, told, plan=plan, **values)


def _page_of(request: Request, worked: Worked, told: tuple[Fault, ...], **values: Any) -> Response:  # noqa: ANN401
    """Return the page, with what was not kept of what was sent."""
    status, usual = 422 if told else 200, {"told_head": NOT_KEPT}
    return job_page(request, "rescue.html", worked, "bench", told=told, status=status, **(usual | values))


def _of_slip(plan: Plan, sent: Mapping[str, str]) -> dict[str, Any]:
    """Return what the form asks: panels, then kinds of slip, then what that kind is told by."""
    outs = [p for c in plan.set_out.cases for p in c.panels]
    asked = sent.get("panel", "")
    out = next((o for o in outs if asked in {o.panel.id, o.panel.mark}), None)
    what = sent.get("what", "")
    kind = SlipKind(what) if what in set(SlipKind) else None
    figures = Figures.of_job(plan.job)
    case = next((c for c in plan.details.cases if out is not None and out.panel in c.panels), None)
    return {
        "panels": [(o.panel.mark, o.panel.name) for o in outs],
        "out": out,
        "kinds": [(k.value, words) for k, words in KINDS.items() if out is None or _can_be(k, out)],
        "kind": kind,
        "kind_words": KINDS[kind] if kind is not None else "",
        "asks": FIELDS[kind] if kind is not None else frozenset(),
        "lengths": lengths_asked(kind, sent) if kind is not None else (),
        "cuts": cuts_asked(out) if out is not None else (),
        "joints": [j.number for j in case.joints if out.panel.id in {j.entering, j.receiving}] if case and out else [],
        "surfaces": [s.value for s in Surface],
        "copies": case.built.case.count if case is not None else 1,
        "drawings": panel_set_out(out, figures=figures, room=_ROOM) if out is not None and kind is not None else (),
        "figures": figures,
        "sent": dict(sent),
    }


def _can_be(kind: SlipKind, out: PanelSetOut) -> bool:
    of_cuts = {SlipKind.SIZE, SlipKind.DAMAGE, SlipKind.LOST, SlipKind.GLUED}
    return kind in of_cuts or bool(out.marks)


def _of_ways(
    desk: Desk, errands: Errands, worked: Worked, plan: Plan, facts: AsBuilt, sent: Mapping[str, str]
) -> dict[str, Any]:
    """Return what was recorded of one copy of a case, and the ways out as far as they are found."""
    case, copy = case_and_copy(plan, facts, sent.get("case", ""), _copy_sent(sent))
    if case not in {c.built.case.code for c in plan.details.cases}:
        case = plan.job.cases[0].code
    slips = slips_of(plan, facts, case, copy)
    taken = tuple(code for t in facts.taken_for(case, copy) for code in t.moves)
    lengths = plan.job.lengths
    values: dict[str, Any] = {
        "slips": [slip_words(s, lengths) for s in slips],
        "has_back": any(s.taken_back for s in facts.slips) or any(t.taken_back for t in facts.taken),
        "case_code": case,
        "copy": copy,
        "others": [told for told in cases_with_slips(plan, facts) if told != (case, copy)],
        "taken": None,
        "breaks": (),
        "ways": (),
        "found": "",
        "waits": False,
        "trouble": (),
    }
    if not slips and not taken:
        return values
    errand = _errand(desk, errands, worked, plan, (facts, case, copy))
    if sent.get("stop"):
        errand.is_stopped = True
    errand.has_some.wait(FIRST_S)
    rescue = errand.told
    ways = rescue.ways if rescue is not None else (errand.first,) if errand.first is not None else ()
    way = next((w for w in ways if w.codes == taken), None) if taken else None
    return values | {
        "taken": way_lines(way) if way is not None else None,
        "breaks": break_lines(rescue.breaks) if rescue is not None else (),
        "ways": [] if way is not None else [_shown(w, plan.job.currency) for w in ways],
        "found": found_words(rescue) if rescue is not None else "",
        "waits": not errand.is_done,
        "trouble": (*errand.faults, *((errand.trouble,) if errand.trouble else ())),
    }


def _copy_sent(sent: Mapping[str, str]) -> int:
    """Return which copy of a case is asked for; 0 where that is not said."""
    word = sent.get("copy", "")
    return int(word) if word.isascii() and word.isdigit() and len(word) <= MOST_DIGITS else 0


def _errand(desk: Desk, errands: Errands, worked: Worked, plan: Plan, of: tuple[AsBuilt, str, int]) -> Rescuing:
    facts, case, copy = of
    ticked = _ticked(desk, worked, plan, copy)
    key = key_of(worked.name, worked.version, (facts, case, copy, ticked))
    return errands.ask(key, Rescuing, lambda: Rescuing(plan, facts, case, copy, ticked))


def _ticked(desk: Desk, worked: Worked, plan: Plan, copy: int) -> frozenset[FeatureId]:
    if not desk.settings.log.exists():
        return frozenset()
    try:
        return ticked_cuts(desk.log(), plan, (worked.name, worked.title), copy)
    except JobError:  # the bench page says why the log cannot be read
        return frozenset()


def _shown(way: Way, currency: str) -> dict[str, Any]:
    watch = [w for m in way.moves for w in (m.watch, m.weaker) if w]
    return {
        "cost": cost_words(way.cost, currency),
        "lines": way_lines(way),
        "watch": list(dict.fromkeys(watch)),
        "codes": _BETWEEN.join(way.codes),
        "moves": bool(way.moves),
    }


async def send(request: Request) -> Response:
    """Record a slip (`do=record`), take a way (`do=take`), or take back or put back what was recorded last."""
    async with request.form(max_files=0, max_fields=400) as form:
        sent = {name: value for name, value in form.items() if isinstance(value, str)}
        cuts = tuple(v for v in form.getlist("cuts") if isinstance(v, str))
        joints = tuple(v for v in form.getlist("joints") if isinstance(v, str))
    return await asyncio.to_thread(_sent, request, sent, cuts, joints)


def _sent(request: Request, sent: dict[str, str], cuts: tuple[str, ...], joints: tuple[str, ...]) -> Response:
    desk, name = desk_of(request), request.path_params["job"]
    worked = desk.job(name)
    raise_if_any(worked.checked())
    try:
        code = _done(request, worked, sent, (cuts, joints))
    except JobError as error:
        return _page(request, desk, worked, sent, error.faults)
    number = _copy_sent(sent)
    asked = {"case": code} | ({"copy": str(number)} if number else {})
    return RedirectResponse(f"/job/{quote(name)}/rescue?{urlencode(asked)}#ways", 303)


def _done(
    request: Request, worked: Worked, sent: dict[str, str], picked: tuple[tuple[str, ...], tuple[str, ...]]
) -> str:
    """Do what was sent, and return the code of the case that it is about."""
    desk, plan = desk_of(request), worked.ask(lambda p: p)
    path = desk.shelf.path(worked.name)
    do = sent.get("do", "")
    if do == "record":
        slip = slip_sent(sent, picked, plan.job.lengths, _now())
        record(path, plan, slips=(slip,))
        return case_of_mark(plan, slip.panel)
    if do == "take":
        _take(request, desk, worked, plan, path, sent)
    elif do in {"undo", "redo"}:
        changed(path, plan, undone if do == "undo" else redone)
    else:
        raise JobError(_no_such(do))
    return sent.get("case", "")


def _no_such(do: str) -> Fault:
    return Fault(
        code="sent", field="do", found=repr(do[:20]), allowed="record, take, undo, redo", do="Load the page again."
    )


def _take(request: Request, desk: Desk, worked: Worked, plan: Plan, path: Path, sent: Mapping[str, str]) -> None:
    facts = read_as_built(path)
    case, copy = case_and_copy(plan, facts, sent.get("case", ""), _copy_sent(sent))
    errand = _errand(desk, errands_of(request), worked, plan, (facts, case, copy))
    ways = (*(errand.told.ways if errand.told is not None else ()), *((errand.first,) if errand.first else ()))
    codes = tuple(sent.get("codes", "").split(_BETWEEN))
    way = next((w for w in ways if w.codes == codes), None)
    if way is None:
        raise no_such_way("a way that is not among those there are now", f"{len(ways)} ways")
    take(path, plan, case, copy, way, _now())


def sheet(request: Request) -> Response:
    """Answer with the rescue sheet of the way that is taken, as PDF."""
    from storyrod.adapters.printing import rescue_sheet_apart
    from storyrod.planning import rescue

    desk, name = desk_of(request), request.path_params["job"]
    worked = desk.job(name)
    raise_if_any(worked.checked())
    plan = worked.ask(snapshot)
    facts = read_as_built(desk.shelf.path(name))
    case, copy = case_and_copy(plan, facts, request.query_params.get("case", ""), _copy_sent(request.query_params))
    taken = tuple(code for t in facts.taken_for(case, copy) for code in t.moves)
    if not taken:
        return RedirectResponse(f"/job/{quote(name)}/rescue#ways", 303)  # where one can be taken
    errand = _errand(desk, errands_of(request), worked, plan, (facts, case, copy))
    told = errand.told or rescue(plan, facts, case, copy, errand.ticked)
    way = next((w for w in told.ways if w.codes == taken), None)
    if way is None:
        raise no_way_taken()
    data = rescue_sheet_apart(plan, way, slips_of(plan, facts, case, copy), date=today())
    head = {"Content-Disposition": f"inline; filename*=UTF-8''{quote(name)}-rescue.pdf"}
    return Response(data, media_type="application/pdf", headers=head)


def _now() -> str:
    return f"{dt.datetime.now(dt.UTC).astimezone():%Y-%m-%d %H:%M}"


routes: tuple[BaseRoute, ...] = (
    Route("/job/{job}/rescue", show),
    Route("/job/{job}/rescue", send, methods=["POST"]),
    Route("/job/{job}/rescue/sheet.pdf", sheet),
)
