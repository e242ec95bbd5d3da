"""Every file of a job that can be taken away: what each is, and how its bytes are made."""

from __future__ import annotations

import copy
import io
import zipfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import partial
from typing import Final

from storyrod.adapters.printing._kept import kept, kept_or_made
from storyrod.adapters.printing._plan_files import plan_files
from storyrod.drawing import Figures
from storyrod.model.job import Paper
from storyrod.model.mark import PanelSetOut
from storyrod.planning import Plan
from storyrod.telling.file_names import case_names, jig_names, panel_names, sheet_names
from storyrod.telling.purposes import Purpose, Tell, Wishes, unheard


class Shelf(StrEnum):
    """Under which heading a file stands."""

    PRINT = "To print"
    LISTS = "Lists"
    PANELS = "Panels"
    SHEETS = "Sheets"
    JIGS = "Jigs"
    ROUND = "In the round"
    OWN = "Your own files"


@dataclass(frozen=True, slots=True, kw_only=True)
class Texts:
    """The maker's own files, as they are written."""

    job_name: str
    job: str
    workshop_name: str
    workshop: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Download:
    """One file.

    Attributes:
        name: its path in the archive, and in addresses.
        what: what it is, in a few words.
        group: what it belongs to (a panel, a sheet, a case), so that files of one thing stand together.
        kept: what was made of the very same before, if it is there; only for what a typesetter makes, which is done in
            a process of its own.
    """

    name: str
    what: str
    shelf: Shelf
    make: Callable[[], bytes]
    group: str = ""
    kept: Callable[[], bytes | None] | None = None


ALL: Final = "everything.zip"

_KINDS: Final = {
    "pdf": "application/pdf",
    "csv": "text/csv; charset=utf-8",
    "json": "application/json",
    "svg": "image/svg+xml",
    "dxf": "image/vnd.dxf",
    "glb": "model/gltf-binary",
    "stl": "model/stl",
    "step": "model/step",
    "toml": "application/toml",
    "zip": "application/zip",
}

_LISTS: Final = {
    "cutting-list.csv": "cutting list (CSV)",
    "connectors.csv": "connectors and hardware (CSV)",
    "buying-list.csv": "buying list (CSV)",
    "saw-list.csv": "the saw's list, step by step (CSV)",
    "plan.json": "the whole plan as data (JSON)",
}


def media_type(name: str) -> str:
    """Return what kind of file a name stands for."""
    return _KINDS[name.rpartition(".")[2]]


def own_files(texts: Texts) -> Iterator[Download]:
    """Yield the maker's own files: they can be taken away whatever is wrong with them."""
    job, workshop = texts.job.encode(), texts.workshop.encode()
    yield Download(name=texts.job_name, what="the job file", shelf=Shelf.OWN, make=lambda: job)
    yield Download(name=texts.workshop_name, what="the workshop file", shelf=Shelf.OWN, make=lambda: workshop)


def plan_downloads(plan: Plan, wishes: Wishes, tell: Tell = unheard) -> Iterator[Download]:
    """Yield every file that is made from a plan, printed things first; `tell` hears how far a printed one is."""
    from storyrod.adapters.solid import has_step

    yield from _printed(plan, wishes, tell)
    titles = _Titles(plan)
    for file in plan_files(plan, step=has_step()):
        yield titles.of(file.name, file.make)
    yield from _full_size(plan, titles)


def made_of(plan: Plan, name: str, texts: Texts, wishes: Wishes, tell: Tell = unheard) -> bytes:
    """Return the bytes of one file by its name, or of everything; `tell` hears how far it is."""
    if name == ALL:
        return everything(plan, texts, wishes, tell)
    return next(d for d in plan_downloads(plan, wishes, tell) if d.name == name).make()


def everything(plan: Plan, texts: Texts, wishes: Wishes, tell: Tell = unheard) -> bytes:
    """Return all files in one archive, but for the book: it repeats the other papers. Same files, same bytes."""
    from storyrod.adapters.packet import PRINTS

    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as archive:
        book = PRINTS[Purpose.BOOK].file
        files = tuple(f for f in (*own_files(texts), *plan_downloads(plan, wishes)) if f.name != book)
        for done, file in enumerate(files):
            tell(done, len(files))
            archive.writestr(zipfile.ZipInfo(file.name), file.make(), zipfile.ZIP_DEFLATED)
    return made.getvalue()


def on_paper(plan: Plan, paper: Paper | None) -> Plan:
    """Return the same plan to be printed on another paper; its version stays, for nothing that is made changes."""
    if paper is None or paper is plan.job.paper:
        return plan
    plan.version  # noqa: B018  # kept before the job is another
    other = copy.copy(plan)
    other.job = replace(plan.job, paper=paper)
    return other


def _printed(plan: Plan, wishes: Wishes, tell: Tell) -> Iterator[Download]:
    from storyrod.adapters.packet import prints_of

    other = on_paper(plan, wishes.paper)
    for one, why_not in prints_of(plan, tuple(Purpose), wishes):
        if not why_not:
            whose = plan if one.purpose is Purpose.LABELS else other
            make = partial(kept_or_made, whose, one.file, wishes, partial(one.make, whose, wishes, tell))
            yield Download(
                name=one.file,
                what=one.about,
                shelf=Shelf.PRINT,
                make=make,
                kept=partial(kept, whose, one.file, wishes),
            )


class _Titles:
    """Says in words what each file of a plan is."""

    def __init__(self, plan: Plan) -> None:
        panels = (out.panel for c in plan.set_out.cases for out in c.panels)
        self.names = panel_names(plan)
        jigs, sheets, cases = jig_names(plan), sheet_names(plan), case_names(plan)
        self.panels = {self.names[p.id]: f"{p.mark} {p.name}" for p in panels}
        self.jigs = {jigs[j.id]: j.name for j in plan.machining.jigs}
        self.sheets = {sheets[s.name]: s.name for s in plan.sheets.sheets}
        self.cases = {cases[c.code]: f"case {c.code}, {c.name}" for c in plan.job.cases}

    def of(self, name: str, make: Callable[[], bytes]) -> Download:
        """Return a file of `plan_files` with its words."""
        folder, _, last = name.rpartition("/")
        stem, _, kind = last.rpartition(".")
        if folder == "panels":
            return self._panel(name, stem, kind, make)
        if folder == "jigs":
            what = f"full size, {kind.upper()}"
            return Download(name=name, what=what, shelf=Shelf.JIGS, make=make, group=self.jigs[stem])
        if folder == "sheets":
            what = "full size, DXF" if kind == "dxf" else "drawn to scale, SVG"
            return Download(name=name, what=what, shelf=Shelf.SHEETS, make=make, group=self.sheets[stem])
        if stem in self.cases:
            what = {"glb": "model to look at, GLB", "stl": "model to print, STL"}.get(kind, f"solid, {kind.upper()}")
            return Download(name=name, what=what, shelf=Shelf.ROUND, make=make, group=self.cases[stem])
        return Download(name=name, what=_LISTS[name], shelf=Shelf.LISTS, make=make)

    def _panel(self, name: str, stem: str, kind: str, make: Callable[[], bytes]) -> Download:
        panel, face = stem, ""
        while panel not in self.panels:
            panel, _, last = panel.rpartition(".")
            face = f"{last} {face}".strip()
        what = "full size, DXF" if kind == "dxf" else "set-out to scale, SVG"
        if face:
            what = f"{what}, {face.replace('-', ' ')}"
        return Download(name=name, what=what, shelf=Shelf.PANELS, make=make, group=self.panels[panel])


def _full_size(plan: Plan, titles: _Titles) -> Iterator[Download]:
    """Yield each panel as a drawing at full size: to be printed at 100 % and pasted on, or sent to a plotter."""
    figures = Figures.of_job(plan.job)
    for case in plan.set_out.cases:
        for out in case.panels:
            stem = titles.names[out.panel.id]

            yield Download(
                name=f"panels/{stem}.full-size.svg",
                what="full size, SVG",
                shelf=Shelf.PANELS,
                make=partial(_true_size, out, figures),
                group=titles.panels[stem],
            )


def _true_size(out: PanelSetOut, figures: Figures) -> bytes:
    from storyrod.adapters import svg
    from storyrod.drawing import panel_true_size

    return svg.write(replace(panel_true_size(out, figures=figures), unit=1.0)).encode()
