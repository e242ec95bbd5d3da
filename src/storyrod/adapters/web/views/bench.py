"""The bench: one card at a time on a tablet, ticked with a thumb, by as many tablets as there are hands."""

from __future__ import annotations

import asyncio
import secrets
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import FileResponse, JSONResponse, RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.web._desk import Desk, desk_of
from storyrod.adapters.web._notes_shown import marks_of, notes_id, notes_of_card, shown
from storyrod.adapters.web._render import body_of, drawn, job_page
from storyrod.adapters.web._ticks_done import done_on, holds
from storyrod.adapters.web._ticks_words import BenchCards, Words, digest
from storyrod.adapters.web._worked import Worked
from storyrod.adapters.web.views.enter import network_shown
from storyrod.faults import Fault, JobError
from storyrod.telling.before import all_before

if TYPE_CHECKING:
    from markupsafe import Markup

    from storyrod.adapters.log import CarriedOver
    from storyrod.model.machining import SetUp, WorkPlan
    from storyrod.planning import Plan
    from storyrod.telling.cards import Card

_STATIC: Final = Path(__file__).parent.parent / "static"

_ROOM: Final = (150.0, 78.0)
"""Room for a section on a card (mm at 4 pixels); it is shown larger where the tablet is wider."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """A card as the page shows it: what is set, in words, and its section drawing."""

    card: Card
    done: int
    facts: list[list[str]]
    trial: str
    drawing: Markup | None
    feed: Markup | None
    stops: tuple[str, ...]
    minutes: float


def show(request: Request) -> Response:
    """Show the bench; `?card=S4` says which card is in view, `?copy=2` which copy's ticks, for a page without scripts.

    A job that cannot be built yet shows its faults.
    """
    desk = desk_of(request)
    worked = desk.job(request.path_params["job"])
    common: dict[str, Any] = {**network_shown(request, worked.name)}
    try:
        cards, words = desk.ticks.cards(worked), desk.ticks.words(worked.name)
    except JobError as error:
        return job_page(request, "bench.html", worked, "bench", cards=(), why=error.faults, **common)
    shown = worked.ask(lambda plan: tuple(_shown(plan, card, words) for card in cards.cards))
    chosen = request.query_params.get("card", "")
    if cards.card(chosen) is None:
        chosen = next((s.card.id for s in shown if s.done < s.card.ticks), shown[0].card.id if shown else "")
    copy = request.query_params.get("copy", "1")
    return job_page(
        request,
        "bench.html",
        worked,
        "bench",
        cards=shown,
        why=(),
        said=worked.ask(lambda plan: plan.job.lengths.explained),
        plan_version=cards.version,
        chosen=chosen,
        before=worked.ask(all_before),
        copy=int(copy) if copy.isdecimal() and len(copy) < 5 else 1,
        whole=cards.ticks,
        done=sum(s.done for s in shown),
        held=lambda thing, copy: holds(words.last.get((thing.id, copy)), thing),
        digest=digest,
        data=_data(cards, words),
        carried=carried(cards, words),
        day_query=desk.day_query(worked.name),
        **_notes(desk, worked, cards, chosen),
        **common,
    )


def _notes(desk: Desk, worked: Worked, cards: BenchCards, chosen: str) -> dict[str, Any]:
    """Return the notes of the job and of every card, and the places that a new one can be about."""
    beside, faults = desk.beside.seen(worked.name)
    marks = marks_of(worked)
    places = [("job", "the whole job")]
    places += [(f"card {c.id}", f"card {c.id}" if c.set_up else "assembly") for c in cards.cards]
    places += [(f"panel {p}", words) for p, words in marks.items()]
    return {
        "notes_of_cards": {c.id: notes_of_card(worked.name, beside, c, marks) for c in cards.cards},
        "notes_places": places,
        "notes_at": f"card {chosen}",
        "notes_faults": faults,
        "notes_gone": (),
        "notes_of_job": {
            "notes": shown(worked.name, beside.at("job"), marks),
            "notes_id": notes_id("job"),
            "notes_at": "job",
        },
    }


def _shown(plan: Plan, card: Card, words: Words) -> Shown:
    work = plan.machining
    set_up = card.set_up
    facts: list[list[str]] = []
    stops: tuple[str, ...] = ()
    if set_up is not None and set_up.setting is not None:
        from storyrod.telling.set_ups import setting_facts, stop_words

        stops = stop_words(set_up)
        facts = setting_facts(set_up.setting, work, plan.job.lengths)
    return Shown(
        card=card,
        done=done_on(card, words),
        facts=facts,
        trial=set_up.trial_on_page if set_up is not None else "",
        drawing=section_of(plan, card),
        feed=feed_drawn(set_up),
        stops=stops,
        minutes=_minutes(work, card),
    )


def section_of(plan: Plan, card: Card) -> Markup | None:
    """Return the section drawing of a card's set-up, where something is cut in it."""
    if card.set_up is None or card.set_up.section is None:
        return None
    from storyrod.drawing import Figures
    from storyrod.drawing.set_up_section import set_up_section

    figures = Figures.of_job(plan.job)
    drawing = set_up_section(card.set_up.section, id=f"bench-{card.id}", title=card.title, figures=figures, room=_ROOM)
    return drawn(drawing, prefix=f"bench-{card.id}")


def feed_drawn(set_up: SetUp | None) -> Markup | None:
    """Return the plan of the direction of feed of a set-up, where it has one."""
    if set_up is None or set_up.setting is None or set_up.setting.feed is None:
        return None
    from storyrod.drawing.feed_plan import feed_plan

    return drawn(feed_plan(set_up.setting.feed, set_up.stops), prefix=f"feed-{set_up.id}")


def _minutes(work: WorkPlan, card: Card) -> float:
    return next((s.minutes for s in work.run.steps if s.set_up == card.id), 0.0)


def _data(cards: BenchCards, words: Words) -> dict[str, Any]:
    """Return what the page's script needs: names and contents of things, and the last words."""
    things = {t.id: [t.name, t.content, digest(t), cards.copies[t.id], t.key] for t in cards.things.values()}
    return {
        "plan": cards.version,
        "seq": words.seq,
        "first": words.first,
        "words": words.told(cards.things),
        "things": things,
    }


def carried(cards: BenchCards, words: Words) -> CarriedOver | None:
    """Return which ticks of older plans hold no longer; None where all hold."""
    from storyrod.adapters.log import carry_over

    found = carry_over(words.last.values(), cards.things.values())
    return found if found.changed or found.gone else None


# Ticks -------------------------------------------------------------------------------------------------------------


async def ticks(request: Request) -> Response:
    """Keep ticks and stretches of the clock; sending the same again changes nothing. See `TickBook.keep`."""
    desk, job = desk_of(request), request.path_params["job"]
    body = await body_of(request)
    return JSONResponse(await asyncio.to_thread(desk.ticks.keep, job, body))


async def tick(request: Request) -> Response:
    """Tick one thing, or take its tick back, as a form without scripts does."""
    desk, job = desk_of(request), request.path_params["job"]
    body = await body_of(request)
    return await asyncio.to_thread(_tick, desk, job, body)


def _tick(desk: Desk, job: str, body: dict[str, Any]) -> Response:
    worked = desk.job(job)
    cards, words = desk.ticks.cards(worked), desk.ticks.words(job)
    thing = cards.things.get(str(body.get("thing", "")))
    copy = str(body.get("copy", "1"))
    if thing is None or not copy.isdecimal() or not 1 <= int(copy[:6]) <= cards.copies[thing.id]:
        found = f"copy {copy[:9]}" if thing is not None else f'"{str(body.get("thing", ""))[:60]}"'
        raise JobError(
            Fault(
                code="tick-unknown",
                field="tick",
                found=found,
                allowed="a mark, panel or joint of this plan",
                do="Load the bench again: the job may have changed.",
            )
        )
    done = not holds(words.last.get((thing.id, int(copy))), thing)
    made = {"uid": secrets.token_hex(16), "thing": thing.id, "copy": int(copy), "done": done, "version": cards.version}
    desk.ticks.keep(job, {"ticks": [made]})
    card = next(c.id for c in cards.cards if any(r.thing.id == thing.id for r in c.rows))
    return RedirectResponse(f"/job/{quote(job)}/bench?card={quote(card)}&copy={copy}#card-{quote(card)}", 303)


def words(request: Request) -> Response:
    """Tell the last word on every thing that changed after the row `since`, and which plan the job has now."""
    desk, job = desk_of(request), request.path_params["job"]
    plan = desk.job(job).plan
    since = request.query_params.get("since", "0")
    told = desk.ticks.words(job)
    row = int(since) if since.isdecimal() and len(since) < 16 else 0
    version = plan.version if plan is not None else ""
    return JSONResponse(
        {
            "seq": told.seq,
            "first": told.first,
            "since": row,
            "words": told.told(desk.ticks.things(job), row),
            "plan": version,
        }
    )


def worker(_: Request) -> Response:
    """Answer with the service worker, which opens the bench again while the server is away.

    It stands at the root, since a worker only serves what lies below it.
    """
    return FileResponse(_STATIC / "js" / "bench-worker.js", media_type="text/javascript")


routes: tuple[BaseRoute, ...] = (
    Route("/job/{job}/bench", show),
    Route("/job/{job}/bench/ticks", ticks, methods=["POST"]),
    Route("/job/{job}/bench/tick", tick, methods=["POST"]),
    Route("/job/{job}/bench/words", words),
    Route("/bench-worker.js", worker),
)
