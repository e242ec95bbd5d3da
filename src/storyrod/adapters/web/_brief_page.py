"""The brief's page put together: which case, what is chosen, its drawing, and the pieces that change."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Any, Final
from urllib.parse import quote, urlencode

from storyrod.adapters.web import _brief_drawing as drawing
from storyrod.adapters.web._brief_chosen import Chosen, Step, chosen_of, tree
from storyrod.adapters.web._brief_fields import FieldGroup, Paper
from storyrod.adapters.web._brief_groups import case_groups
from storyrod.adapters.web._brief_job import job_groups
from storyrod.adapters.web._desk import Desk
from storyrod.adapters.web._render import drawn, fragment
from storyrod.adapters.web._worked import Worked
from storyrod.faults import Fault

if TYPE_CHECKING:
    from markupsafe import Markup


LEAST_PX: Final = 320
MOST_PX: Final = 2400


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """How the brief is looked at: which case, its fronts or its openings, what is chosen, and the room there is."""

    case: int = 0
    fronts: bool = False
    at: str = ""
    room: tuple[float, float] = drawing.ROOM_PX

    @staticmethod
    def of(told: Mapping[str, Any], room: str = "") -> View:
        """Return the view that an address, or the page's script, tells; what makes no sense is as usual."""
        case = str(told.get("case", "0"))
        return View(
            case=int(case) if case.isdecimal() and len(case) < 6 else 0,
            fronts=told.get("show") == "fronts",
            at=str(told.get("at", ""))[:400],
            room=_room(str(told.get("room", "") or room)),
        )

    def address(self, job: str, **other: object) -> str:
        """Return the address of this view, or of one that differs in what is named."""
        told = {"case": self.case, "show": "fronts" if self.fronts else "", "at": self.at} | other
        query = urlencode({k: v for k, v in told.items() if v not in {"", 0}})
        return f"/job/{quote(job)}/brief" + (f"?{query}" if query else "")


def _room(told: str) -> tuple[float, float]:
    wide, _, high = told.partition("x")
    if not (wide.isdecimal() and high.isdecimal() and len(told) < 12):
        return drawing.ROOM_PX
    return (min(max(int(wide), LEAST_PX), MOST_PX), min(max(int(high), LEAST_PX), MOST_PX))


@dataclass(frozen=True, slots=True, kw_only=True)
class CaseTab:
    """A case to choose: its code and name, and how many faults stand in it."""

    number: int
    word: str
    href: str
    here: bool
    faults: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """The drawing, with what the page's script must know to let borders be dragged."""

    svg: Markup
    beside: Markup
    stale: bool
    words: str
    partings: str
    openings: str
    scale: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Brief:
    """All that the brief's page shows."""

    worked: Worked
    view: View
    paper: Paper
    tabs: tuple[CaseTab, ...]
    chosen: Chosen
    tree: tuple[Step, ...]
    case_groups: tuple[FieldGroup, ...]
    job_groups: tuple[FieldGroup, ...]
    figure: Figure | None

    @property
    def readable(self) -> bool:
        """Whether the file is TOML, so that its fields can be asked."""
        return bool(self.paper.raw)

    def href(self, **other: object) -> str:
        """Return the address of this view with something else."""
        return self.view.address(self.worked.name, **other)


def brief_of(desk: Desk, worked: Worked, view: View, refused: tuple[Fault, ...] = ()) -> Brief:
    """Return the brief as it is looked at; what was `refused` is told where it was wanted."""
    paper = Paper.of(worked, refused)
    count = len(paper.cases)
    number = min(view.case, max(count - 1, 0))
    view = View(case=number, fronts=view.fronts, at=view.at, room=view.room)
    shown = drawing.drawable(desk, worked, number)
    case = shown.case if shown is not None else None
    chosen = chosen_of(paper, number, view.at, case)
    wanted = chosen.group
    return Brief(
        worked=worked,
        view=view,
        paper=paper,
        tabs=_tabs(paper, worked, view),
        chosen=chosen,
        tree=tree(paper, number, view.at) if count else (),
        case_groups=case_groups(paper, number, wanted) if count else (),
        job_groups=job_groups(paper) if paper.raw else (),
        figure=_figure(shown, view, worked) if shown is not None else None,
    )


def _tabs(paper: Paper, worked: Worked, view: View) -> tuple[CaseTab, ...]:
    tabs = []
    for number, case in enumerate(paper.cases):
        code, name = case.get("code"), case.get("name")
        words = [str(code) if isinstance(code, str) and code else str(number + 1)]
        words += [name] if isinstance(name, str) and name else []
        own = sum(f.field.startswith(f"cases[{number}]") for f in worked.known)
        href = view.address(worked.name, case=number, at="")
        tabs.append(CaseTab(number=number, word=" ".join(words), href=href, here=number == view.case, faults=own))
    return tuple(tabs)


def _figure(shown: drawing.Drawable, view: View, worked: Worked) -> Figure:
    case = shown.case
    front, beside = drawing.drawings(
        shown, view.case, fronts=view.fronts, chosen=view.at, faults=worked.known, room=view.room
    )
    borders = [] if shown.stale else [p.told(front) for p in drawing.partings(case, view.case)]
    return Figure(
        svg=drawn(front, "elevation"),
        beside=drawn(beside, "depth"),
        stale=shown.stale,
        words=" ".join(front.notes),
        partings=json.dumps(borders, separators=(",", ":")),
        openings=json.dumps({o.id: o.cause for o in case.built.openings}, separators=(",", ":")),
        scale=front.unit / drawing.PX_PER_MM,
    )


def pieces(desk: Desk, worked: Worked, told: Mapping[str, Any]) -> dict[str, str]:
    """Return every piece of the brief's page that a change may alter."""
    brief = brief_of(desk, worked, View.of(told))
    made = {
        name: fragment(f"brief_{name.removeprefix('brief-').replace('-', '_')}.html", brief=brief)
        for name in ("brief-cases", "brief-figure", "brief-chosen", "brief-tree")
    }
    for group in (*brief.case_groups, *brief.job_groups):
        made[f"group-{group.key}"] = _group_drawn(group, brief.href())
    return made


@lru_cache(maxsize=128)
def _group_drawn(group: FieldGroup, href: str) -> str:
    """Return a group of fields as a script is given it: without the version, which a script knows itself.

    So a group that an edit has not touched is what it was: not drawn anew here, and left alone in the page.
    """
    return fragment("brief_group.html", group=group, href=href, base="")
