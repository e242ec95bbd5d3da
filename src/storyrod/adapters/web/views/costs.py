"""Costs: what the job takes in money and minutes, the same by other methods, and what the bench has taught."""

from __future__ import annotations

import asyncio
import io
import math
import tempfile
import tomllib
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import groupby
from pathlib import Path
from typing import Any, Final
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.files.editing import Change
from storyrod.adapters.web._bench_matter import Matter, learned_of, matter_of
from storyrod.adapters.web._comparing import Comparing
from storyrod.adapters.web._desk import Desk, desk_of
from storyrod.adapters.web._errands import errands_of
from storyrod.adapters.web._render import answer, body_of, fragment, job_page, wants_json
from storyrod.adapters.web._stage_answer import stage_answer
from storyrod.adapters.web._worked import Worked, version_of
from storyrod.adapters.web._workshops import WorkshopShelf, tell_users, workshops_of
from storyrod.drawing.break_even import break_even_plot
from storyrod.faults import Fault, JobError
from storyrod.ledger import terms_of, traits
from storyrod.model.account import Account, CostKind, CostLine, MethodRow, Minutes, Terms, show_money
from storyrod.model.account import total_minutes as minutes_of

CARCASSES: Final = (1, 10, 50)

_WHAT_IFS: Final = {
    "rate": ("an hour of work costs", 0.0, 10_000.0),
    "per_year": ("carcasses made in a year", 0.1, 100_000.0),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class CostGroup:
    """Lines of one kind with their sum."""

    kind: str
    money: str
    share: float
    lines: tuple[tuple[CostLine, str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CompareRow:
    """One method side by side with the others, in words."""

    row: MethodRow
    minutes: str
    step: str
    each: str
    outlay: str
    besides: str
    totals: tuple[str, ...]


def show(request: Request) -> Response:
    """Show the stage."""
    worked = desk_of(request).job(request.path_params["job"])
    return job_page(request, "costs.html", worked, "costs", **_values(request, worked))


def part(request: Request) -> Response:
    """Answer the page's script with the stage's matter, as it stands now."""
    worked = desk_of(request).job(request.path_params["job"])
    values = _values(request, worked)
    pieces = {"costs": fragment("costs_stage.html", **values)}
    return stage_answer(request, worked, "costs", pieces, working=values["working"])


def compared(request: Request) -> Response:
    """Answer with the comparison, as far as it is worked out."""
    worked = desk_of(request).job(request.path_params["job"])
    values: dict[str, Any] = {"job_name": worked.name, "comparison": None, "plot": None, "carcasses": CARCASSES}
    if worked.plan is None:
        raise JobError(*worked.faults)
    terms, _ = _terms(worked, _what_ifs(request))
    values |= _comparison(request, worked, terms)
    return answer({"costs-compare": fragment("costs_compare.html", **values)}, working=values["working"])


def export(request: Request) -> Response:
    """Answer with the whole bench log as CSV files, in one archive."""
    from storyrod.adapters.log import export_log

    made = io.BytesIO()
    desk_of(request).shelf.path(request.path_params["job"])  # tells where there is no such job
    with tempfile.TemporaryDirectory(prefix="storyrod-") as name, zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as z:
        for path in export_log(desk_of(request).log(), Path(name)):
            z.write(path, path.name)
    headers = {"Content-Disposition": 'attachment; filename="bench-log.zip"'}
    return Response(made.getvalue(), media_type="application/zip", headers=headers)


async def learn(request: Request) -> Response:
    """Take the learned time of one act into the workshop file."""
    desk, name = desk_of(request), request.path_params["job"]
    act = str((await body_of(request)).get("act", ""))
    said = await asyncio.to_thread(_take_in, desk, workshops_of(request), name, act)
    if not wants_json(request):
        return RedirectResponse(f"/job/{quote(name)}/costs#bench", 303)
    return answer(said=said)


def _take_in(desk: Desk, shelf: WorkshopShelf, name: str, act: str) -> str:
    from storyrod.adapters.files.editing import edit_job
    from storyrod.adapters.log import note_taken

    worked = desk.job(name)
    if worked.read is None or worked.plan is None:
        raise JobError(*worked.faults)
    if worked.read.workshop_path is None:
        raise _refused(
            "workshop",
            "the plain workshop that comes with storyrod",
            "a workshop file of your own",
            "Make one on the page of the workshop, and name it in the job.",
        )
    told = learned_of(desk.log(), worked.plan.workshop, act)
    if told is None:
        raise _refused("act", f'"{act}"', "an act of the workshop that was timed", "Load the page again.")
    now = Minutes(low=round(told.now.low, 2), usual=round(told.now.usual, 2), high=round(told.now.high, 2))
    file = worked.read.workshop_path.stem
    text = shelf.text(file)
    changes = _time_changes(text, act, {"low": now.low, "usual": now.usual, "high": now.high})
    shelf.save(file, edit_job(text, changes), base=version_of(text))
    note_taken(desk.log(), act, now)
    tell_users(desk, file)
    return f"{file}.toml now says {told.now.usual:.2f} min for this: {act}."


def _time_changes(text: str, act: str, minutes: dict[str, float]) -> list[Change]:
    """Return the changes that write an act's minutes: in their place where the file has the act already."""
    times = tomllib.loads(text).get("times", {})
    if act in times:
        return [Change(path=f'times."{act}".{name}', value=value) for name, value in minutes.items()]
    return [Change(path=f'times."{act}"', value={**minutes})]


def _refused(field: str, found: str, allowed: str, do: str) -> JobError:
    return JobError(Fault(code="learn", field=field, found=found, allowed=allowed, do=do))


def _values(request: Request, worked: Worked) -> dict[str, Any]:
    asked = _what_ifs(request)
    values: dict[str, Any] = {
        "job_name": worked.name,
        "account": None,
        "comparison": None,
        "plot": None,
        "working": False,
        "matter": None,
        "why_not": (),
        "asked": asked,
        "wrong": dict.fromkeys(_WHAT_IFS, ""),
        "query": request.url.query,
        "carcasses": CARCASSES,
    }
    if worked.plan is None:
        return values
    terms, wrong = _terms(worked, asked)
    values |= {"wrong": wrong, "terms": terms, "is_what_if": terms != _own_terms(worked), "money": _money(terms)}
    values |= _account(worked, terms)
    if values["account"] is not None:
        values |= _comparison(request, worked, terms)
    values["matter"] = _matter(desk_of(request), worked)
    values["has_file"] = worked.read is not None and worked.read.workshop_path is not None
    return values


def _what_ifs(request: Request) -> dict[str, str]:
    return {name: request.query_params.get(name, "").strip() for name in _WHAT_IFS}


def _own_terms(worked: Worked) -> Terms:
    assert worked.plan is not None  # noqa: S101  # asked only of jobs that were read
    return terms_of(worked.plan.workshop.money, worked.plan.job.currency)


def _terms(worked: Worked, asked: dict[str, str]) -> tuple[Terms, dict[str, str]]:
    """Return the workshop's terms with what is asked in their place, and what is wrong with what is asked."""
    terms, wrong = _own_terms(worked), dict.fromkeys(_WHAT_IFS, "")
    for name, text in asked.items():
        if not text:
            continue
        words, low, high = _WHAT_IFS[name]
        try:
            value = float(text.replace(",", "."))
        except ValueError:
            value = math.nan
        if not low <= value <= high:
            wrong[name] = f'Found "{text}" where {words}; allowed: {low:g} to {high:,.0f}.'
        elif name == "rate":
            terms = replace(terms, rate_cents_per_h=round(value * 100))
        else:
            terms = replace(terms, carcasses_per_year=value)
    return terms, wrong


def _money(terms: Terms) -> Any:  # noqa: ANN401  # a function for the template
    return lambda cents: show_money(cents, terms.currency)


def _account(worked: Worked, terms: Terms) -> dict[str, Any]:
    try:
        told = worked.ask(lambda plan: plan.accounted(terms))
    except JobError as error:
        return {"why_not": error.faults}
    return {
        "account": told,
        "groups": tuple(_groups(told)),
        "by_act": tuple(_by_act(told)),
        "batches": tuple(b for b in told.batches if b.size in CARCASSES),
        "to_buy": tuple(b for b in told.to_buy if b.packs),
    }


def _groups(told: Account) -> Iterator[CostGroup]:
    order = list(CostKind)
    lines = sorted(told.lines, key=lambda line: order.index(line.kind))
    for kind, own in groupby(lines, key=lambda line: line.kind):
        cents = told.cents_of(kind)
        yield CostGroup(
            kind=kind.value,
            money=show_money(cents),
            share=cents / told.price_cents if told.price_cents > 0 else 0.0,
            lines=tuple((line, _amount(line), show_money(line.cents)) for line in own),
        )


def _amount(line: CostLine) -> str:
    if line.unit == "share":
        return f"{line.quantity:.0%}"
    whole = abs(line.quantity - round(line.quantity)) < 1e-9 or line.quantity >= 100
    unit = line.unit[:-1] if line.quantity == 1 and line.unit.endswith("s") else line.unit
    return f"{line.quantity:.0f} {unit}" if whole else f"{line.quantity:.2f} {unit}"


def _by_act(told: Account) -> Iterator[tuple[str, str, float, Minutes]]:
    """Yield each act with its stage, how often it is done, and its minutes; those that take longest first."""
    acts: dict[tuple[str, str], list[Any]] = {}
    for item in told.work.items:
        if item.hands_on and item.usual_min > 0:
            acts.setdefault((item.act, item.stage.value), []).append(item)
    listed = [(act, stage, sum(i.times for i in items), minutes_of(items)) for (act, stage), items in acts.items()]
    yield from sorted(listed, key=lambda line: -line[3].usual)


def _comparison(request: Request, worked: Worked, terms: Terms) -> dict[str, Any]:
    assert worked.read is not None  # noqa: S101  # asked only of jobs that were read
    key = ("comparing", worked.name, worked.read.digest)
    comparing = errands_of(request).ask(key, Comparing, lambda: Comparing(worked))
    values: dict[str, Any] = {
        "working": not comparing.is_done,
        "done": comparing.count,
        "in_all": comparing.in_all,
        "trouble": comparing.trouble or " ".join(str(f) for f in comparing.faults),
    }
    if not comparing.is_done or values["trouble"]:
        return values
    told = comparing.at(terms)
    own = told.own.candidate.method if told.own is not None else ""
    pays = tuple(b for b in told.break_evens if own in {b.cheap, b.dear} and b.outlay_cents > 0)
    return values | {
        "comparison": told,
        "rows": tuple(_row(r) for r in told.rows),
        "plot": break_even_plot(told),
        "pays": pays,
    }


def _row(row: MethodRow) -> CompareRow:
    m, step = row.minutes, row.candidate.step_mm
    return CompareRow(
        row=row,
        minutes=f"{m.usual:.0f}",
        step="" if step is None else f"± {step:.1f}",
        each=show_money(row.cost_cents),
        outlay=show_money(row.outlay_cents),
        besides=", ".join(traits(row)),
        totals=tuple(show_money(row.outlay_cents + n * row.each_cents) for n in CARCASSES),
    )


def _matter(desk: Desk, worked: Worked) -> Matter:
    try:
        return matter_of(desk.log(), worked)
    except JobError as error:
        return Matter(trouble=tuple(str(f) for f in error.faults))


routes: tuple[BaseRoute, ...] = (
    Route("/job/{job}/costs", show),
    Route("/job/{job}/costs/part", part),
    Route("/job/{job}/costs/compared", compared),
    Route("/job/{job}/costs/bench-log.zip", export),
    Route("/job/{job}/costs/learn", learn, methods=["POST"]),
)
