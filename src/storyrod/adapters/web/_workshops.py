"""The workshop files of the jobs' folder: read, changed, undone; and which job uses which."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final

from starlette.requests import Request

from storyrod.adapters.files import edit_job, workshop_from_text, write_text_safely
from storyrod.adapters.files.editing import Change, parsed, plain_bytes
from storyrod.adapters.files.workshop_editing import START
from storyrod.adapters.web._desk import Desk, desk_of
from storyrod.adapters.web._folder import files_of, tables_in
from storyrod.adapters.web._shelf import Shelf
from storyrod.adapters.web._worked import Worked, version_of
from storyrod.faults import Fault, JobError, raise_if_any

if TYPE_CHECKING:
    from storyrod.model.workshop import Workshop

OWN: Final = "workshop"
"""The workshop file that the page makes at the first change, beside the jobs."""


@dataclass(frozen=True, slots=True, kw_only=True)
class User:
    """A job of the folder, and the workshop file it names; nothing where it uses the packaged one."""

    job: str
    title: str
    named: str


class WorkshopShelf(Shelf):
    """The workshop files of one folder, kept as its jobs are: with every earlier text of each."""

    def names(self) -> tuple[str, ...]:
        """Return the names of all workshop files here, the page's own first, whether it is there yet or not."""
        named = {Path(user.named).stem for user in users_in(self.folder) if _lies_here(user.named)}
        found = set()
        for path in files_of(self.folder):
            if ("workshop" in path.stem or path.stem in named) and not _has_cases(path):
                found.add(path.stem)
        return (OWN, *sorted(found - {OWN}, key=str.casefold))

    def path(self, name: str) -> Path:
        """Return the path of a workshop file of this folder.

        Raises:
            JobError: there is no such workshop file; a name is only ever looked up.
        """
        path = self.folder / f"{name}.toml"
        if name not in self.names() or (
            (path.exists() or path.is_symlink()) and path not in set(files_of(self.folder))
        ):
            raise JobError(
                Fault(
                    code="workshop-missing",
                    field="",
                    found=f'no workshop file "{name[:60]}" beside the jobs',
                    allowed="one of the list",
                    do="It may have been moved or renamed: look in the folder of the jobs.",
                )
            )
        return path

    def text(self, name: str) -> str:
        """Return a workshop file's text as it is on disk now, or that with which it will begin."""
        if not self.path(name).exists():
            return START
        return super().text(name)

    def save(self, name: str, text: str, *, base: str) -> None:
        """Write a new text; the file is made where it is not there yet."""
        with self._lock:
            if not self.path(name).exists():
                self.folder.mkdir(parents=True, exist_ok=True)
                write_text_safely(self.path(name), START)
            super().save(name, text, base=base)

    def step(self, name: str, by: int) -> str:
        """Go one text back or forward; nothing happens before the file is made."""
        return super().step(name, by) if self.path(name).exists() else START


def workshops_of(request: Request) -> WorkshopShelf:
    """Return the app's workshop files."""
    state = request.app.state
    if not hasattr(state, "workshops"):
        settings = desk_of(request).settings
        state.workshops = WorkshopShelf(settings.jobs, settings.home)
    shelf = state.workshops
    assert isinstance(shelf, WorkshopShelf)  # noqa: S101  # put there above
    return shelf


def read_of(text: str, name: str) -> tuple[Workshop | None, tuple[Fault, ...]]:
    """Return the workshop of a text, or why it cannot be read."""
    try:
        return workshop_from_text(text, name=f"{name}.toml"), ()
    except JobError as error:
        return None, error.faults


def users_in(folder: Path) -> tuple[User, ...]:
    """Return the jobs of a folder with the workshop that each names, as the alphabet has them."""
    found = []
    for path in sorted(files_of(folder), key=lambda p: p.stem.casefold()):
        tables = tables_in(path)
        if tables is not None and "cases" in tables:
            title, named = tables.get("title"), tables.get("workshop")
            found.append(
                User(
                    job=path.stem,
                    title=title if isinstance(title, str) and title.strip() else path.stem,
                    named=named.strip() if isinstance(named, str) else "",
                )
            )
    return tuple(found)


def uses(user: User, name: str) -> bool:
    """Return whether a job uses the workshop file of that name."""
    return _lies_here(user.named) and Path(user.named).name == f"{name}.toml"


def _lies_here(named: str) -> bool:
    return bool(named) and Path(named).parent == Path()


def _has_cases(path: Path) -> bool:
    return "cases" in (tables_in(path) or {})


def let_use(desk: Desk, shelf: WorkshopShelf, name: str, chosen: Callable[[User], bool]) -> tuple[str, ...]:
    """Let the chosen jobs use a workshop file, which is made where it is not there yet; return their names.

    Raises:
        JobError: a job cannot be changed.
        StaleError: a job is being changed at this moment.
    """
    if not shelf.path(name).exists():
        write_text_safely(shelf.path(name), START)
    changed = []
    for user in users_in(desk.settings.jobs):
        if chosen(user) and not uses(user, name):
            text = desk.shelf.text(user.job)
            new = edit_job(text, [Change(path="workshop", value=f"{name}.toml")])
            desk.shelf.save(user.job, new, base=version_of(text))
            desk.live.tell_from_thread(user.job, {"kind": "job", "version": version_of(new)})
            changed.append(user.job)
    return tuple(changed)


def change_workshop_of(desk: Desk, shelf: WorkshopShelf, worked: Worked, make: Callable[[str], str]) -> None:
    """Write the next text of the workshop file that a job uses; one that uses none uses the maker's own from now on.

    Raises:
        JobError: the text would be wrong where it was not before; nothing was written to it.
        StaleError: a file was changed at this very moment.
    """
    assert worked.read is not None  # noqa: S101  # asked only of jobs that were read
    path = worked.read.workshop_path
    if path is None:
        let_use(desk, shelf, OWN, lambda user: user.job == worked.name)
    name = path.stem if path is not None else OWN
    before = shelf.text(name)
    after = make(before)
    raise_if_any(new_faults(before, after, name))
    shelf.save(name, after, base=version_of(before))
    tell_users(desk, name)


def new_faults(before: str, after: str, name: str) -> tuple[Fault, ...]:
    """Return the faults of a text that the one before did not have: what was wrong before is mended one by one."""
    known = {(f.code, f.field, f.found) for f in read_of(before, name)[1]}
    return tuple(f for f in read_of(after, name)[1] if (f.code, f.field, f.found) not in known)


def tell_users(desk: Desk, name: str) -> None:
    """Tell the open pages of the jobs that use a workshop file that it has changed."""
    version = version_on_disk(desk.settings.jobs / f"{name}.toml")
    for user in users_in(desk.settings.jobs):
        if uses(user, name) and desk.is_news(user.job, version):
            desk.live.tell_from_thread(user.job, {"kind": "workshop"})


def version_on_disk(path: Path) -> str:
    """Return the version of a workshop file as it lies on the disk; nothing where it cannot be read."""
    try:
        return version_of(plain_bytes(path).decode("utf-8"))
    except (OSError, ValueError):
        return ""


def workshop_of(text: str) -> str:
    """Return the name of the workshop file beside the jobs that a job's text names; nothing where it names none."""
    try:
        named = parsed(text).get("workshop")
    except ValueError:
        return ""
    found = named.strip() if isinstance(named, str) else ""
    return found if _lies_here(found) else ""
