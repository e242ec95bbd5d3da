"""Jigs and set-ups: the run in order, each setting drawn, the trial joint, and what is counted at the end."""

from __future__ import annotations

import asyncio
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, Final

from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.web._desk import Desk, desk_of
from storyrod.adapters.web._render import body_of, drawn, fault_words, job_page, wants_json
from storyrod.adapters.web._ticks_done import holds
from storyrod.adapters.web._ticks_words import Words
from storyrod.adapters.web.views.bench import feed_drawn
from storyrod.faults import Fault, JobError

if TYPE_CHECKING:
    from markupsafe import Markup

    from storyrod.adapters.log import Trial
    from storyrod.adapters.web._worked import Worked
    from storyrod.model.machining import Correction, Count, JigPlan, SetUp, WorkPlan
    from storyrod.planning import Plan
    from storyrod.telling.cards import Card

_ROOM: Final = (160.0, 92.0)
_JIG_ROOM: Final = (190.0, 100.0)
_READINGS: Final = {
    "step": "the step between the faces (above 0: the entering panel stands proud; below 0: it is recessed)",
    "gap": "how far the joint is open",
    "fence": "how much too far from the edge the cut is (below 0: too near)",
}
_USUAL: Final = {"packer": "step", "fence": "fence", "depth": "gap"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Counted:
    """A line of the count sheet: halves wanted, in the run, and ticked at the bench."""

    about: str
    name: str
    wanted: int
    planned: int
    ticked: int


def show(request: Request) -> Response:
    """Show the stage; `?set-up=S4` says which card is open. A job that cannot be worked so far shows why."""
    desk = desk_of(request)
    worked = desk.job(request.path_params["job"])
    try:
        values = worked.ask(lambda plan: _values(desk, worked, plan, request.query_params.get("set-up", "")))
    except JobError as error:
        return job_page(request, "set_ups.html", worked, "set-ups", work=None, why=error.faults)
    asked = {k: request.query_params.get(k, "") for k in ("kind", "reading", "packer")}
    trial = _tried(worked, values["chosen"], asked) if asked["reading"] else None
    return job_page(request, "set_ups.html", worked, "set-ups", why=(), asked=asked, trial=trial, **values)


def _values(desk: Desk, worked: Worked, plan: Plan, wanted: str) -> dict[str, Any]:
    from storyrod.telling.placing import placed_from
    from storyrod.telling.set_ups import (
        FLUSH,
        jig_words,
        mark_numbers,
        minute_words,
        placed_together,
        run_words,
        setting_facts,
        stop_words,
        told_of_jig,
    )

    work, lengths = plan.machining, plan.job.lengths
    chosen = next((s for s in work.set_ups if s.id.lower() == wanted.strip().lower()), None)
    chosen = chosen or next((s for s in work.set_ups if s.setting is not None), work.set_ups[0])
    cards, words = desk.ticks.cards(worked), _words(desk, worked.name)
    ticked = _ticked(cards.cards, words)
    return {
        "work": work,
        "chosen": chosen,
        "facts": setting_facts(chosen.setting, work, lengths) if chosen.setting is not None else [],
        "section": _section(plan, chosen),
        "feed": chosen.setting.feed if chosen.setting is not None else None,
        "feed_drawn": feed_drawn(chosen),
        "stop_words": stop_words(chosen),
        "trial_said": chosen.trial_on_page,
        "readings": _readings(chosen),
        "kind_usual": _USUAL.get(chosen.trial_kind, ""),
        "packers": plan.workshop.packers,
        "kept": [t for t in _trials(desk, worked.name) if t.set_up == chosen.id],
        "run_words": run_words(work),
        "minute_words": minute_words,
        "flush_words": FLUSH,
        "placed_together": placed_together,
        "mark_numbers": mark_numbers,
        "placed_from": lambda o: placed_from(o, lengths),
        "steps": {s.set_up: s for s in work.run.steps},
        "jigs": [
            (j, jig_words(j, lengths), _jig(plan, j), _file(plan, j), told_of_jig(j, lengths), _holds(plan, j))
            for j in work.jigs
        ],
        "counts": _counts(work, ticked) | {"fitting": _fitted(cards.cards, ticked)},
        "done": {c.set_up.id: (sum(ticked[r.thing.id] for r in c.rows), c.ticks) for c in cards.cards if c.set_up},
    }


def _words(desk: Desk, job: str) -> Words:
    try:
        return desk.ticks.words(job)
    except JobError:
        return Words()


def _trials(desk: Desk, job: str) -> tuple[Trial, ...]:
    try:
        return desk.log().trials(job)
    except JobError:
        return ()


def _section(plan: Plan, set_up: SetUp) -> Markup | None:
    if set_up.section is None:
        return None
    from storyrod.drawing import Figures
    from storyrod.drawing.set_up_section import set_up_section

    figures = Figures.of_job(plan.job)
    drawing = set_up_section(set_up.section, id=f"section-{set_up.id}", title=set_up.title, figures=figures, room=_ROOM)
    return drawn(drawing, prefix="section")


def _jig(plan: Plan, jig: JigPlan) -> Markup:
    from storyrod.drawing import Figures
    from storyrod.drawing.jig_drawing import jig_drawing

    drawing = jig_drawing(jig, figures=Figures.of_job(plan.job), room=_JIG_ROOM)
    return drawn(drawing, prefix=f"jig-{jig.id}")


def _holds(plan: Plan, jig: JigPlan) -> list[tuple[str, Markup | None]]:
    """Return how a jig is held, each with its title and its drawing."""
    from storyrod.drawing import Figures
    from storyrod.drawing.hold_drawing import hold_drawing, is_drawn
    from storyrod.telling.set_ups import hold_title

    figures = Figures.of_job(plan.job)
    drawings = [
        drawn(hold_drawing(jig, h, figures=figures), prefix=f"hold-{h.id}") if is_drawn(h) else None for h in jig.holds
    ]
    return [(hold_title(jig, h), drawing) for h, drawing in zip(jig.holds, drawings, strict=True)]


def _file(plan: Plan, jig: JigPlan) -> str:
    from storyrod.telling.file_names import jig_names

    return f"jigs/{jig_names(plan)[jig.id]}"


# Counting ----------------------------------------------------------------------------------------------------------


def _ticked(cards: tuple[Card, ...], words: Words) -> dict[str, int]:
    """Return how many copies of each thing are ticked."""
    return {
        r.thing.id: sum(holds(words.last.get((r.thing.id, copy)), r.thing) for copy in range(1, g.copies + 1))
        for card in cards
        for g in card.groups
        for r in g.rows
    }


def _counts(work: WorkPlan, ticked: dict[str, int]) -> dict[str, list[Counted]]:
    """Return the count sheet by set-up, panel and joint; a hole and its countersink are two cuts."""
    from storyrod.telling.things import ThingKind

    by: dict[str, dict[str, int]] = {"set-up": {}, "panel": {}, "joint": {}}
    for set_up in work.set_ups:
        for o in set_up.operations:
            done = sum(ticked.get(ThingKind.CUT.of(f), 0) for f in o.features)
            done += sum(ticked.get(ThingKind.FINISH.of(f), 0) for f in o.finishes)
            for kind, key in (("set-up", set_up.id), ("panel", str(o.panel)), ("joint", str(o.joint or ""))):
                by[kind][key] = by[kind].get(key, 0) + done
    count = work.reconciliation
    told: dict[str, tuple[Count, ...]] = {"set-up": count.set_ups, "panel": count.panels, "joint": count.joints}
    return {
        kind: [
            Counted(about=c.about, name=c.name, wanted=c.wanted, planned=c.planned, ticked=by[kind].get(c.about, 0))
            for c in counts
        ]
        for kind, counts in told.items()
    }


def _fitted(cards: tuple[Card, ...], ticked: dict[str, int]) -> list[Counted]:
    """Return what is fixed by hand and brought into its place, each named, so that a missed one is seen."""
    from storyrod.telling.things import ThingKind

    return [
        Counted(about=r.thing.id, name=r.thing.name, wanted=g.copies, planned=g.copies, ticked=ticked[r.thing.id])
        for card in cards
        if card.set_up is None
        for g in card.groups
        for r in g.rows
        if r.kind is not ThingKind.JOINT
    ]


# Trial joints ------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """What a reading asks for: a correction, or why it is none."""

    correction: Correction | None = None
    faults: tuple[Fault, ...] = ()


def _readings(set_up: SetUp) -> dict[str, str]:
    """Return which readings correct a set-up, with what each means."""
    from storyrod.adapters.trying import readings_of

    can = readings_of(set_up)
    return {kind: words for kind, words in _READINGS.items() if kind in can}


def _tried(worked: Worked, set_up: SetUp, asked: dict[str, str]) -> Tried:
    """Work out a correction, by the function that the command line asks too."""
    from storyrod.adapters.trying import Reading, correct
    from storyrod.model.machining import TrialKind

    kind = TrialKind(asked["kind"]) if asked["kind"] in set(TrialKind) else TrialKind.STEP
    reading = Reading(
        set_up=set_up.id, kind=kind, written=asked["reading"].strip(), packer=asked["packer"].strip() or None
    )
    try:
        return Tried(correction=worked.ask(lambda plan: correct(plan, reading)))
    except JobError as error:
        return Tried(faults=tuple(_for_the_page(f) for f in error.faults))


def _for_the_page(fault: Fault) -> Fault:
    """Return a fault with the name that its field has on the page."""
    return replace(fault, field="the packer in use" if fault.field == "packer" else "what you measured")


async def trial(request: Request) -> Response:
    """Work out the correction that a reading asks for; with `keep`, keep the reading in the bench log."""
    desk, job = desk_of(request), request.path_params["job"]
    body = {k: str(v) for k, v in (await body_of(request)).items()}
    return await asyncio.to_thread(_trial, request, desk, job, body)


def _trial(request: Request, desk: Desk, job: str, body: dict[str, str]) -> Response:
    worked = desk.job(job)
    wanted = body.get("set-up", "")
    work = worked.ask(lambda plan: plan.machining)
    set_up = next((s for s in work.set_ups if s.id == wanted), None)
    if set_up is None:
        allowed = ", ".join(s.id for s in work.set_ups if s.setting is not None)
        do = "Take one of the list."
        fault = Fault(code="trial-set-up", field="set-up", found=f'"{wanted[:40]}"', allowed=allowed, do=do)
        raise JobError(fault)
    asked = {k: body.get(k, "")[:60] for k in ("kind", "reading", "packer")}
    tried = _tried(worked, set_up, asked)
    if body.get("keep") and tried.correction is not None:
        version = worked.ask(lambda plan: plan.version)
        found = tried.correction
        desk.log().add_trial(job, set_up.id, found.kind.value, found.reading, version=version, note=found.text)
    if wants_json(request):
        return JSONResponse(_told(tried, kept=bool(body.get("keep"))), 200 if tried.correction else 422)
    query = "&".join(f"{k}={_quoted(v)}" for k, v in {"set-up": set_up.id, **asked}.items())
    return RedirectResponse(f"/job/{_quoted(job)}/set-ups?{query}#trial", 303)


def _told(tried: Tried, *, kept: bool) -> dict[str, Any]:
    found = tried.correction
    if found is None:
        return {"faults": [fault_words(f) for f in tried.faults]}
    return {
        "direction": found.direction,
        "text": found.text,
        "was": found.was,
        "becomes": found.becomes,
        "what": found.what,
        "kept": kept,
    }


def _quoted(words: str) -> str:
    from urllib.parse import quote

    return quote(words, safe="")


routes: tuple[BaseRoute, ...] = (
    Route("/job/{job}/set-ups", show),
    Route("/job/{job}/set-ups/trial", trial, methods=["POST"]),
)
