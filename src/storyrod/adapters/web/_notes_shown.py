"""Notes as the pages show them: where each belongs, when it was written, and the form for the next."""

from __future__ import annotations

import datetime as dt
import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any
from urllib.parse import quote, urlencode

from storyrod.adapters.web._beside import Beside, Note

if TYPE_CHECKING:
    from storyrod.adapters.web._desk import Desk
    from storyrod.adapters.web._worked import Worked
    from storyrod.telling.cards import Card


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownNote:
    """A note, where it belongs (in words, with the way there), and when it was written."""

    note: Note
    about: str
    href: str
    when: str


def notes_values(desk: Desk, worked: Worked, at: str, *others: str) -> dict[str, Any]:
    """Return what the list of notes of a place wants: its own, those of other places beside it, and the form's place.

    The list of the job itself has the notes of all places, so that none is lost from sight when its panel is gone.
    """
    beside, faults = desk.beside.seen(worked.name)
    own = beside.notes if at == "job" else beside.at(at, *others)
    marks = marks_of(worked)
    return {
        "notes_at": at,
        "notes_id": notes_id(at),
        "notes": shown(worked.name, (n for n in own if not n.gone), marks),
        "notes_gone": shown(worked.name, (n for n in own if n.gone), marks) if at == "job" else (),
        "notes_faults": faults,
    }


def notes_of_card(job: str, beside: Beside, card: Card, marks: Mapping[str, str]) -> dict[str, Any]:
    """Return the notes of a card, with those of the panels that are on it."""
    at = f"card {card.id}"
    panels = dict.fromkeys(r.panel for g in card.groups for r in g.rows if r.panel)
    notes = shown(job, beside.at(at, *(f"panel {p}" for p in panels)), marks)
    return {"notes": notes, "notes_id": notes_id(at), "notes_at": at, "notes_faults": (), "notes_gone": ()}


def notes_id(at: str) -> str:
    """Return the id of the list of a place's notes."""
    return f"notes-{hashlib.sha256(at.encode('utf-8', 'surrogatepass')).hexdigest()[:10]}"


def marks_of(worked: Worked) -> dict[str, str]:
    """Return each panel's mark and name by its id, as far as the panels are worked out."""
    drawn = worked.drawn
    return {str(p.id): f"{p.mark} {p.name}" for c in drawn.cases for p in c.panels} if drawn is not None else {}


def shown(job: str, notes: Iterable[Note], marks: Mapping[str, str]) -> tuple[ShownNote, ...]:
    """Return notes as they are shown."""
    return tuple(_shown(job, note, marks) for note in notes)


def _shown(job: str, note: Note, marks: Mapping[str, str]) -> ShownNote:
    kind, _, which = note.at.partition(" ")
    at = f"/job/{quote(job)}"
    about, href = "", ""
    if kind == "panel":
        is_there = which in marks
        about = marks.get(which, f"{which}, no longer in this job" if marks else which)
        href = f"{at}/set-out?{urlencode({'panel': which})}" if is_there else ""
    elif kind == "card":
        about, href = f"card {which}", f"{at}/bench?{urlencode({'card': which})}"
    day = dt.datetime.fromtimestamp(min(max(note.when, 0.0), 4e9), dt.UTC).astimezone()
    return ShownNote(note=note, about=about, href=href, when=f"{day.day} {day:%B, %H:%M}")
