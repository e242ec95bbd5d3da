"""Measuring a connector, step by step: each step asks a few things beside a drawing with the figures as they are."""

from __future__ import annotations

import asyncio
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Any, Final
from urllib.parse import urlencode

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from storyrod.adapters.files import packaged_workshop
from storyrod.adapters.files.measuring import (
    answers_of,
    code_of,
    first_answers,
    key_of,
    own_methods,
    without_method,
    written_text,
)
from storyrod.adapters.files.measuring_steps import Step, steps_of
from storyrod.adapters.files.measuring_words import KINDS, Kind
from storyrod.adapters.files.workshop_editing import unit_of
from storyrod.adapters.web import _sample_joint as sample
from storyrod.adapters.web._desk import desk_of
from storyrod.adapters.web._render import answer, body_of, fragment, page
from storyrod.adapters.web._shelf import StaleError
from storyrod.adapters.web._workshop_changes import bad
from storyrod.adapters.web._workshop_page import Shown, all_of, told_at, understood, usual_of
from storyrod.adapters.web._workshops import OWN, WorkshopShelf, new_faults, read_of, tell_users, workshops_of
from storyrod.faults import Fault, JobError
from storyrod.measure.length import Unit

if TYPE_CHECKING:
    from storyrod.drawing import Drawing

MOST_ANSWERS: Final = 200
_KEY: Final = re.compile(r"[a-z_]+\d?(\.[a-z_]+)?")
_NAMELESS: Final = "the connector measured here"


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """What the answers come to: the joint drawn, and what is wrong at which answer.

    Attributes:
        wrong: what is wrong, by the answer's key.
        others: what is wrong with the joint as a whole.
        cautions: what stands in the way of making it here, which does not keep it from being written down.
    """

    drawing: Drawing | None = None
    row: Drawing | None = None
    wrong: Mapping[str, str]
    others: tuple[str, ...] = ()
    facts: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    after: str = ""


def show(request: Request) -> Response:
    """Show a step of the form; the answers given so far are in the address."""
    shelf, name = workshops_of(request), request.query_params.get("file") or OWN
    given = answers_in(request.query_params)
    return _step_page(request, shelf, name, given, request.query_params.get("step", ""))


def answers_in(sent: Mapping[str, Any]) -> dict[str, str]:
    """Return the answers among what was sent."""
    skip = {"file", "step", "base"}
    found = {k: str(v)[:600] for k, v in sent.items() if k not in skip and _KEY.fullmatch(k)}
    return dict(list(found.items())[:MOST_ANSWERS])


def _begun(text: str, given: Mapping[str, str]) -> dict[str, str]:
    """Return the answers, or those with which the form begins; none before a kind is chosen.

    Raises:
        JobError: the method to be corrected is not there, or the file is not TOML.
    """
    if given.get("edit") and "low" not in given:
        size = given.get("size", "0")
        return answers_of(text, given["edit"], int(size) if size.isdigit() and len(size) < 6 else -1)
    kind = next((k for k in KINDS if k.key == given.get("kind")), None)
    if "low" not in given:
        return first_answers(text, kind) if kind is not None else {}
    return dict(given)


def _step_page(
    request: Request,
    shelf: WorkshopShelf,
    name: str,
    given: Mapping[str, str],
    wanted: str,
    *,
    said: str = "",
    status: int = 200,
) -> Response:
    common = all_of(shelf, name)
    answers = _begun(common["text"], given)
    if not answers or (wanted == "kind" and not answers.get("edit")):
        kinds = [(k, kind_drawing(k)) for k in KINDS]
        return page(request, "workshop_kinds.html", group_key="measure", kinds=kinds, **common)
    look = look_at(common["text"], name, answers, is_last=wanted == "keep")
    steps = tuple(s for s in steps_of(answers) if not (answers.get("edit") and s.key == "kind"))
    number = next((n for n, s in enumerate(steps) if s.key == wanted), 0 if answers.get("edit") else 1)
    if wanted == "wrong":
        number = next((n for n, s in enumerate(steps) if any(q.key in look.wrong for q in s.questions)), number)
    step = steps[number]
    asked = {q.key for q in step.questions}
    values: dict[str, Any] = {
        "step": step,
        "steps": steps,
        "before": steps[number - 1] if number else None,
        "then": steps[number + 1] if number + 1 < len(steps) else None,
        "fields": shown_fields(step, answers, look, unit_of(common["text"])),
        "carried": {k: v for k, v in answers.items() if k not in asked},
        "answers": answers,
        "wrong_steps": {s.key for s in steps if any(q.key in look.wrong for q in s.questions)},
        "look": look,
        "answered": _answered(steps, answers, unit_of(common["text"])) if step.key == "keep" else (),
        "said": said,
    }
    return page(request, "workshop_measure.html", status=status, group_key="measure", **common, **values)


def shown_fields(step: Step, answers: Mapping[str, str], look: Look, unit: Unit) -> tuple[Shown, ...]:
    """Return the questions of a step with the words that answer them."""
    return tuple(
        Shown(
            asked=q.asked,
            id=f"q-{q.key.replace('.', '-')}",
            name=q.key,
            words=answers.get(q.key, ""),
            usual=usual_of(q.asked, unit) if q.asked.name not in {"low", "high"} else "",
            mine=False,
            packaged="",
            understood=understood(q.asked, answers.get(q.key, ""), unit),
            wrong=look.wrong.get(q.key, ""),
            choices=q.asked.choices,
        )
        for q in step.questions
    )


def _answered(
    steps: tuple[Step, ...], answers: Mapping[str, str], unit: Unit
) -> tuple[tuple[str, tuple[tuple[str, str], ...]], ...]:
    """Return what was answered, step by step, as a maker reads it over, with each figure as understood."""
    found = []
    for step in steps:
        told = tuple(
            (q.asked.title, understood(q.asked, words, unit) or words.strip())
            for q in step.questions
            if (words := answers.get(q.key, "")).strip()
        )
        if told:
            found.append((step.short, told))
    return tuple(found)


def look_at(text: str, name: str, answers: Mapping[str, str], *, is_last: bool = False) -> Look:
    """Return what the answers come to."""
    named = {**answers} if code_of(answers) else {**answers, "name": _NAMELESS}
    try:
        after = written_text(text, named)
        faults = new_faults(text, after, name)
    except JobError as error:
        return _faulty(error.faults, named)
    code = code_of(named)
    if faults:
        return _faulty(faults, named)
    workshop, _ = read_of(after, name)
    size = int(named["size"]) if named.get("size", "").isdigit() else 0
    shown = sample.sample_of(workshop, code, size) if workshop is not None else None
    if workshop is None or shown is None:
        return Look(wrong={}, after=after)
    thin = sample.sample_of(workshop, code, size, thinnest=True)
    found = _joined((*shown.faults, *(thin.faults if thin is not None else ())))
    return Look(
        drawing=sample.drawing_of(shown),
        row=sample.row_of(shown),
        wrong={},
        others=tuple(f"Found {_plainly(f)}; allowed: {f.allowed}." for f in found),
        facts=sample.facts_of(shown, size),
        cautions=tuple(f"Found {f.found}. {f.do}" for f in sample.not_made(shown)) if is_last else (),
        after=after,
    )


def _joined(faults: Iterable[Fault]) -> tuple[Fault, ...]:
    seen: dict[str, Fault] = {}
    for fault in faults:
        seen.setdefault(_plainly(fault), fault)
    return tuple(seen.values())


def _plainly(fault: Fault) -> str:
    """Return what was found, without the names of the sample's own joints."""
    return re.sub(r" \([^()]*\)$", "", fault.found)


def _faulty(faults: tuple[Fault, ...], answers: Mapping[str, str]) -> Look:
    keys = {q.key for s in steps_of(answers) for q in s.questions}
    wrong: dict[str, str] = {}
    others: list[str] = []
    for fault in faults:
        key = fault.field if fault.field in keys else key_of(fault, answers)
        if key in keys:
            wrong[key] = f"{wrong[key]} {told_at(fault)}" if key in wrong else told_at(fault)
        else:
            others.append(str(fault))
    return Look(wrong=wrong, others=tuple(others))


@lru_cache(maxsize=32)
def kind_drawing(kind: Kind) -> Drawing | None:
    """Return the joint of an ordinary connector of a kind."""
    workshop = packaged_workshop()
    method = workshop.method(kind.like)
    if method is None:
        return None
    size = next((n for n, s in enumerate(method.sizes) if s.low <= sample.USUAL < s.high), 0)
    shown = sample.sample_of(workshop, kind.like, size)
    return sample.drawing_of(shown, room=(76.0, 62.0)) if shown is not None else None


async def look(request: Request) -> Response:
    """Answer with the drawing and what is wrong, while the figures are typed; nothing is written."""
    body = await body_of(request)
    return await asyncio.to_thread(_look, request, body)


def _look(request: Request, body: Mapping[str, Any]) -> Response:
    name = str(body.get("file") or OWN)
    text = workshops_of(request).text(name)
    answers = answers_in(body)
    found = look_at(text, name, answers, is_last=body.get("step") == "keep")
    step = next((s for s in steps_of(answers) if s.key == body.get("step")), None)
    fields = shown_fields(step, answers, found, unit_of(text)) if step is not None else ()
    notes = [{"id": s.id, "wrong": s.wrong, "understood": s.understood} for s in fields]
    return answer({"look": fragment("workshop_look.html", look=found, step=step, fields=fields)}, notes=notes)


async def keep(request: Request) -> Response:
    """Write the method into the workshop file, or show the step where something is wrong."""
    body = await body_of(request)
    return await asyncio.to_thread(_keep, request, body)


def _keep(request: Request, body: Mapping[str, Any]) -> Response:
    shelf, name = workshops_of(request), str(body.get("file") or OWN)
    answers = answers_in(body)
    text = shelf.text(name)
    if not code_of(answers):
        said = "Give it a name."
        return _step_page(request, shelf, name, answers, "face", said=said, status=422)
    found = look_at(text, name, answers)
    if not found.after or found.wrong:
        said = "Something is still wrong: nothing was written."
        return _step_page(request, shelf, name, answers, "wrong", said=said, status=422)
    try:
        if found.after != text:
            shelf.save(name, found.after, base=str(body.get("base", "")))
            tell_users(desk_of(request), name)
    except StaleError:
        said = "The workshop file was changed somewhere else in the meantime. Check it once more, then keep it."
        return _step_page(request, shelf, name, answers, "keep", said=said, status=409)
    return RedirectResponse(f"/workshop/methods?{urlencode({'file': name, 'kept': code_of(answers)})}", 303)


async def put_back(request: Request) -> Response:
    """Take a method out of the workshop file: it is as packaged again, or gone."""
    body = await body_of(request)
    return await asyncio.to_thread(_put_back, request, body)


def _put_back(request: Request, body: Mapping[str, Any]) -> Response:
    shelf, name, code = workshops_of(request), str(body.get("file") or OWN), str(body.get("code", ""))
    text = shelf.text(name)
    if code not in own_methods(text):
        raise JobError(bad("code", f'no method "{code[:40]}" in this file', "one that is written in it"))
    after = without_method(text, code)
    faults = new_faults(text, after, name)
    if faults:
        raise JobError(*faults)
    try:
        shelf.save(name, after, base=str(body.get("base", "")))
    except StaleError:
        raise HTTPException(
            409, "The workshop file was changed somewhere else in the meantime. Nothing was done."
        ) from None
    tell_users(desk_of(request), name)
    return RedirectResponse(f"/workshop/methods{f'?{urlencode({"file": name})}' if name != OWN else ''}", 303)


routes: tuple[BaseRoute, ...] = (
    Route("/workshop/measure", show),
    Route("/workshop/measure/look", look, methods=["POST"]),
    Route("/workshop/measure/keep", keep, methods=["POST"]),
    Route("/workshop/measure/back", put_back, methods=["POST"]),
)
