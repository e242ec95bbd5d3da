"""What lies beside a job: notes and photos on the job, its panels and its cards, and what of its buying list is there.

All of it is in one folder beside the job file, `NAME.notes`: `notes.json` and the photos it names. It goes with the job
when that is renamed, deleted or brought back. A note that is taken away is marked so, and can be put back; a photo is
never overwritten, for its name is made from what is in it. A `notes.json` that cannot be understood is left alone.
"""

from __future__ import annotations

import hashlib
import json
import re
import secrets
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from storyrod.adapters.files.editing import FolderLock, lock_of, plain_bytes, write_bytes_safely, write_text_safely
from storyrod.adapters.web._folder import made
from storyrod.faults import Fault, JobError

if TYPE_CHECKING:
    from storyrod.adapters.web._shelf import Shelf

LONGEST_TEXT: Final = 2000
MOST_NOTES: Final = 300
LARGEST_PHOTO: Final = 3_500_000
"""Bytes; less than the page takes at once."""

MOST_PHOTOS: Final = 100
MOST_HAVE: Final = 1000
LONGEST_KEY: Final = 300

_FORMAT: Final = 1
_PLACE: Final = re.compile(r"job|(?:panel|card) [\w.\- ]{1,80}")
_ID: Final = re.compile(r"[0-9a-f]{8,64}")
_PHOTO: Final = re.compile(r"[0-9a-f]{32}\.(jpg|png|webp)")
_KINDS: Final = (
    ("jpg", "image/jpeg", re.compile(rb"\xff\xd8\xff")),
    ("png", "image/png", re.compile(rb"\x89PNG\r\n\x1a\n")),
    ("webp", "image/webp", re.compile(rb"RIFF....WEBP", re.DOTALL)),
)
"""Kinds of photo by their first bytes: what a file is called says nothing."""

NOTES: Final = ".notes"
"""How the name of the folder ends."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """A note: on the job (`job`), a panel (`panel A.top`) or a card (`card S3`); `photo` is its file, or ""."""

    id: str
    at: str
    text: str
    when: float
    photo: str = ""
    gone: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """All that lies beside a job; `have` are the lines of the buying list that are there already."""

    notes: tuple[Note, ...] = ()
    have: frozenset[str] = frozenset()

    def at(self, *places: str) -> tuple[Note, ...]:
        """Return the notes of some places that were not taken away, the oldest first."""
        return tuple(n for n in self.notes if n.at in places and not n.gone)


class BesideShelf:
    """Reads and writes what lies beside the jobs of a shelf."""

    def __init__(self, shelf: Shelf) -> None:
        self._shelf = shelf
        self._lock: FolderLock = lock_of(shelf.folder, shelf.kept / "lock")

    def of(self, job: str) -> Beside:
        """Return what lies beside a job.

        Raises:
            JobError: there is no such job, or what lies there cannot be understood.
        """
        told = self._read(job)
        return Beside(
            notes=tuple(n for n in (_note(entry) for entry in told["notes"]) if n is not None),
            have=frozenset(h for h in told["have"] if isinstance(h, str)),
        )

    def seen(self, job: str) -> tuple[Beside, tuple[Fault, ...]]:
        """Return the same, or nothing and why it cannot be understood: a page is shown all the same."""
        try:
            return self.of(job), ()
        except JobError as error:
            return Beside(), error.faults

    def add(self, job: str, note: Note, photo: bytes = b"") -> None:
        """Add a note, with a photo if there is one; sent again with the same id it is there once.

        Raises:
            JobError: it is empty, too long or too many, no photo of a known kind, or cannot be written.
        """
        ending = _wrong(note, photo)
        name = f"{hashlib.sha256(photo).hexdigest()[:32]}.{ending}" if photo else ""

        def added(told: dict[str, Any]) -> None:
            if any(isinstance(e, dict) and e.get("id") == note.id for e in told["notes"]):
                return
            photos = {e.get("photo") for e in told["notes"] if isinstance(e, dict)} - {"", None}
            if len(told["notes"]) >= MOST_NOTES or (name and len(photos | {name}) > MOST_PHOTOS):
                full = f"{MOST_NOTES} notes and {MOST_PHOTOS} photos of one job"
                raise JobError(_bad("note", f"more than {full}", full, "Write it on the job's own note instead."))
            if name:
                self._keep_photo(job, name, photo)
            entry = {"id": note.id, "at": note.at, "text": note.text.strip(), "when": round(note.when, 3)}
            told["notes"].append(entry | ({"photo": name} if name else {}))

        self._change(job, added)

    def set_gone(self, job: str, note: str, *, gone: bool) -> None:
        """Take a note away, or put it back; its photo stays where it is.

        Raises:
            JobError: there is no such note, or it cannot be written.
        """

        def marked(told: dict[str, Any]) -> None:
            entry = next((e for e in told["notes"] if isinstance(e, dict) and e.get("id") == note), None)
            if entry is None:
                raise JobError(_bad("note", "a note that is not there", "a note of this job", "Load the page again."))
            entry.pop("gone", None)
            if gone:
                entry["gone"] = True

        self._change(job, marked)

    def set_have(self, job: str, key: str, *, have: bool) -> None:
        """Tick a line of the buying list as being there, or take the tick back.

        Raises:
            JobError: it is no line of a buying list, or it cannot be written.
        """
        if not 0 < len(key) <= LONGEST_KEY or not key.isprintable():
            raise JobError(_bad("line", repr(key[:40]), "a line of the buying list", "Load the page again."))

        def ticked(told: dict[str, Any]) -> None:
            others = [h for h in told["have"] if h != key]
            if have and len(others) >= MOST_HAVE:
                raise JobError(_bad("line", f"more than {MOST_HAVE} lines", "fewer", "Take ticks back first."))
            told["have"] = [*others, key] if have else others

        self._change(job, ticked)

    def photo(self, job: str, name: str) -> tuple[bytes, str] | None:
        """Return a photo and its kind; None where there is none of that name, or what lies there is none."""
        if not _PHOTO.fullmatch(name):
            return None
        path = self._folder(job) / name
        if path.is_symlink() or path.parent.is_symlink():
            return None
        try:
            data = plain_bytes(path)
        except OSError:
            return None
        kind = _kind(data)
        return (data, kind[1]) if kind is not None else None

    # Files ------------------------------------------------------------------------------------------------------------

    def _folder(self, job: str) -> Path:
        return folder_beside(self._shelf.path(job))

    def _read(self, job: str) -> dict[str, Any]:
        folder = self._folder(job)
        path = folder / "notes.json"
        if folder.is_symlink() or path.is_symlink():
            raise _not_understood(path)
        try:
            told = json.loads(plain_bytes(path).decode("utf-8"))
        except FileNotFoundError:
            return {"format": _FORMAT, "notes": [], "have": []}
        except (OSError, ValueError, RecursionError):
            raise _not_understood(path) from None
        if not isinstance(told, dict) or told.get("format") != _FORMAT:
            raise _not_understood(path)
        for name in ("notes", "have"):
            if not isinstance(told.setdefault(name, []), list):
                raise _not_understood(path)
        return told

    def _change(self, job: str, make: Callable[[dict[str, Any]], None]) -> None:
        with self._lock:
            told = self._read(job)
            before = json.dumps(told)
            make(told)
            if json.dumps(told) != before:
                folder = self._made(job)
                text = json.dumps(told, indent=1, ensure_ascii=False)
                write_text_safely(folder / "notes.json", f"{text}\n", over_unreadable=True)

    def _keep_photo(self, job: str, name: str, data: bytes) -> None:
        path = self._made(job) / name
        if path.is_symlink():
            raise _not_understood(path)
        if not path.exists():
            write_bytes_safely(path, data)

    def _made(self, job: str) -> Path:
        return made(self._folder(job), "notes")


def folder_beside(path: Path) -> Path:
    """Return the folder that lies beside a job file."""
    return path.with_name(f"{path.stem}{NOTES}")


def new_note(at: str, text: str, sent_id: str = "") -> Note:
    """Return a note as it was sent just now; by its id it is known again when it is sent twice."""
    known = sent_id if _ID.fullmatch(sent_id) else secrets.token_hex(16)
    words = text.encode("utf-8", "replace").decode("utf-8").replace("\r\n", "\n")
    return Note(id=known, at=at, text=words, when=time.time())


def _wrong(note: Note, photo: bytes) -> str:
    """Return the ending of a note's photo, or "" where it has none.

    Raises:
        JobError: something of it cannot be kept.
    """
    if not _PLACE.fullmatch(note.at):
        raise JobError(_bad("at", repr(note.at[:40]), "the job, a panel or a card", "Load the page again."))
    if not note.text.strip() and not photo:
        raise JobError(_bad("note", "nothing", "some words or a photo", "Write the note, or choose a photo."))
    if len(note.text) > LONGEST_TEXT:
        found = f"{len(note.text)} letters"
        raise JobError(_bad("note", found, f"{LONGEST_TEXT} at most", "Make two notes of it."))
    if not photo:
        return ""
    kind = _kind(photo)
    if kind is None:
        found = "a file that is no JPEG, PNG or WebP picture"
        raise JobError(_bad("photo", found, "a JPEG, PNG or WebP picture", "Save the picture as one of these."))
    if len(photo) > LARGEST_PHOTO:
        found, allowed = f"{len(photo) / 1e6:.1f} MB", f"{LARGEST_PHOTO / 1e6:g} MB at most"
        raise JobError(_bad("photo", found, allowed, "Make the picture smaller."))
    return kind[0]


def _kind(data: bytes) -> tuple[str, str] | None:
    return next(((ending, kind) for ending, kind, begins in _KINDS if begins.match(data)), None)


def _note(entry: object) -> Note | None:
    """Return an entry of the file as a note; None for one that is none, which stays in the file."""
    if not isinstance(entry, dict):
        return None
    at, text, photo, when = (entry.get(n) for n in ("at", "text", "photo", "when"))
    if not isinstance(at, str) or not isinstance(text, str) or not isinstance(entry.get("id"), str):
        return None
    return Note(
        id=entry["id"],
        at=at,
        text=text,
        when=float(when) if isinstance(when, int | float) else 0.0,
        photo=photo if isinstance(photo, str) and _PHOTO.fullmatch(photo) else "",
        gone=entry.get("gone") is True,
    )


def _bad(field: str, found: str, allowed: str, do: str) -> Fault:
    return Fault(code="sent", field=field, found=found, allowed=allowed, do=do)


def _not_understood(path: Path) -> JobError:
    return JobError(
        Fault(
            code="notes-unreadable",
            field="",
            found=f'"{path.parent.name}/{path.name}", which is no file of notes',
            allowed="the notes as this page wrote them",
            do="Fix it in an editor, or move it away: it is left as it is, and no note is kept until then.",
        )
    )
