"""A new job from a few answers: what the page asks, what was answered, and the text that comes of it."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Final

from storyrod.adapters.files.editing import Change, NewJob, Value, edit_job, new_job_text
from storyrod.adapters.files.reshaping import path_in
from storyrod.adapters.files.workshop_editing import START, group_of, set_item
from storyrod.adapters.web._usual_boards import UsualBoards
from storyrod.faults import JobError
from storyrod.measure.length import MM_PER_INCH, Unit, parse_length
from storyrod.model.job import BackKind, BoardKind, Holds
from storyrod.trade.sold import commonest

type Inside = dict[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """A way the inside may be laid out to begin with.

    Attributes:
        title: what the job is called unless a title is typed; `{many}` is how many.
        many: what `how many` counts; nothing where there is nothing to count.
        usual: how many, unless set.
        drawers: whether drawer boxes are made.
    """

    key: str
    words: str
    title: str
    inside: Callable[[int, Unit], Inside]
    many: str = ""
    usual: int = 0
    drawers: bool = False


def _drawers(many: int) -> list[Inside]:
    rows: list[Inside] = [{"holds": "drawer", "parted": False} for _ in range(many - 1)]
    return [*rows, {"holds": "drawer"}]


def _stacked(many: int) -> Inside:
    return {"rows": _drawers(many)} if many > 1 else {"holds": "drawer"}


def _shallow(unit: Unit) -> int | float:
    return 4.5 if unit is Unit.INCH else 120


def _with_shelves(inside: Inside, many: int) -> Inside:
    return inside | ({"loose_shelves": many} if many else {})


LAYOUTS: Final = (
    Layout(key="drawers", words="drawers, one below the other", many="drawers", usual=2, drawers=True,
           title="Case with {many}", inside=lambda n, _: _stacked(max(n, 1))),
    Layout(key="three", words="two unequal drawers under a shallow full-width one", drawers=True,
           title="Case with three drawers",
           inside=lambda _, unit: {"rows": [
               {"height": _shallow(unit), "holds": "drawer"},
               {"columns": [{"width": "2 parts", "holds": "drawer"}, {"width": "3 parts", "holds": "drawer"}]},
           ]}),
    Layout(key="door", words="a door, loose shelves behind it", many="loose shelves", usual=2,
           title="Case with a door",
           inside=lambda n, _: _with_shelves({"holds": "door"}, n)),
    Layout(key="doors", words="a pair of doors, loose shelves behind them", many="loose shelves", usual=2,
           title="Case with a pair of doors",
           inside=lambda n, _: _with_shelves({"holds": "pair of doors"}, n)),
    Layout(key="drawer-doors", words="a drawer over a pair of doors", many="loose shelves", usual=1, drawers=True,
           title="Case with a drawer over doors",
           inside=lambda n, unit: {"rows": [
               {"height": _shallow(unit), "holds": "drawer"},
               _with_shelves({"holds": "pair of doors"}, n),
           ]}),
    Layout(key="drawers-door", words="drawers at the left, a door at the right", many="drawers", usual=3, drawers=True,
           title="Case with {many} and a door",
           inside=lambda n, _: {"columns": [_stacked(max(n, 1)), {"holds": "door", "hinged": "right"}]}),
    Layout(key="shelves", words="fixed shelves", many="shelves", usual=2, title="Case with {many}",
           inside=lambda n, _: {"rows": [{} for _ in range(n + 1)]} if n else {}),
    Layout(key="loose", words="loose shelves on pins", many="loose shelves", usual=2, title="Case with {many}",
           inside=lambda n, _: {"loose_shelves": max(n, 1)}),
    Layout(key="open", words="nothing: open", title="Open case", inside=lambda _, __: {}),
)  # fmt: skip

_ONE: Final = {"drawers": "drawer", "shelves": "shelf", "loose shelves": "loose shelf", "": ""}
"""One of what `how many` counts."""

MOST: Final = 12
"""Drawers or shelves that are asked for at once; more can be cut on the drawing."""


@dataclass(slots=True, kw_only=True)
class Answers:
    """What was typed, as it was typed, with what is wrong with it by the name of the question."""

    typed: dict[str, str]
    wrong: dict[str, str] = field(default_factory=dict)
    job: NewJob | None = None

    def __getitem__(self, name: str) -> str:
        return self.typed[name]

    @property
    def layout(self) -> Layout:
        """The layout that was chosen."""
        return next((x for x in LAYOUTS if x.key == self.typed["holds"]), LAYOUTS[0])

    @property
    def inch(self) -> bool:
        """Whether sizes are in inches."""
        return self.typed["units"] == "in"


_USUAL: Final = {
    "title": "",
    "units": "mm",
    "width": "600",
    "height": "720",
    "depth": "400",
    "kind": BoardKind.PLYWOOD.value,
    "thickness": "18",
    "measured": "",
    "plinth": "",
    "back": BackKind.APPLIED.value,
    "holds": "drawers",
    "many": "",
    "count": "1",
    "price": "",
    "rate": "",
    "currency": "",
}

_INCHES: Final = {"width": "24", "height": "30", "depth": "16", "thickness": "3/4"}

_FIELDS: Final = {
    "title": "title",
    "cases[0].width": "width",
    "cases[0].height": "height",
    "cases[0].depth": "depth",
    "cases[0].count": "count",
    "cases[0].plinth.height": "plinth",
    "cases[0].back": "back",
    "cases[0].back.kind": "back",
    path_in("boards", "board") + ".thickness": "thickness",
    path_in("boards", "board") + ".measured": "measured",
}


def answers_of(sent: Mapping[str, Any]) -> Answers:
    """Return the answers that were sent; what was left out is as usual."""
    units = "in" if sent.get("units") == "in" else "mm"
    usual = _USUAL | (_INCHES if units == "in" else {})
    typed = {k: str(sent.get(k, v)).strip()[:120] for k, v in usual.items()} | {"units": units}
    answers = Answers(typed=typed)
    unit = Unit.INCH if units == "in" else Unit.MM
    sizes = {k: _length(answers, k, unit) for k in ("width", "height", "depth", "thickness", "measured", "plinth")}
    many = _many(answers, "many", answers.layout.usual)
    count = _many(answers, "count", 1, most=1000)
    for name in ("price", "rate"):
        if typed[name] and not AMOUNT.fullmatch(typed[name]):
            answers.wrong[name] = f"Found {typed[name]}; allowed: an amount such as 62.50."
    if len(typed["currency"]) > MOST_CURRENCY:
        answers.wrong["currency"] = f"Found {len(typed['currency'])} characters; allowed: up to {MOST_CURRENCY}."
    if answers.wrong or any(sizes[k] is None for k in ("width", "height", "depth", "thickness")):
        return answers
    answers.typed["many"] = str(many) if answers.layout.many else ""
    answers.job = NewJob(
        title=typed["title"] or _title(answers.layout, many),
        unit=unit,
        width=sizes["width"] or 0.0,
        height=sizes["height"] or 0.0,
        depth=sizes["depth"] or 0.0,
        kind=BoardKind(typed["kind"]) if typed["kind"] in set(BoardKind) else BoardKind.PLYWOOD,
        thickness=sizes["thickness"] or 0.0,
        measured=sizes["measured"],
        holds=Holds.DRAWER if answers.layout.drawers else Holds.OPEN,
        plinth=sizes["plinth"],
        back=BackKind(typed["back"]) if typed["back"] in set(BackKind) else BackKind.NONE,
        count=max(count, 1),
    )
    return answers


def _title(layout: Layout, many: int) -> str:
    if many == 0 and not layout.drawers:
        return layout.title.format(many="no shelves")
    return layout.title.format(many=f"{many} {layout.many}" if many > 1 else f"1 {_ONE[layout.many]}")


def _length(answers: Answers, name: str, unit: Unit) -> float | None:
    words = answers.typed[name]
    if not words:
        if name not in {"measured", "plinth"}:
            answers.wrong[name] = "Fill this in."
        return None
    try:
        mm = parse_length(words, unit)
    except JobError as error:
        fault = error.faults[0]
        answers.wrong[name] = f"Found {fault.found}; allowed: {fault.allowed}."
        return None
    if name == "plinth" and mm == 0:
        return None
    return mm


def _many(answers: Answers, name: str, usual: int, most: int = MOST) -> int:
    words = answers.typed[name]
    if not words:
        return usual
    if not (words.isascii() and words.isdigit() and int(words) <= most):
        answers.wrong[name] = f"Found {words}; allowed: a whole number, 0 to {most}."
        return usual
    return int(words)


def text_of(answers: Answers, *, workshop: str = "", usual: UsualBoards | None = None) -> str:
    """Return the job file's text; it names the `workshop` file where there is one beside the jobs.

    Boards that the last job had, `usual`, come with their sheets and what the callipers said.

    Raises:
        JobError: an answer is wrong, as `wrong` tells.
    """
    if answers.job is None:
        raise JobError
    layout, unit = answers.layout, answers.job.unit
    many = int(answers.typed["many"] or layout.usual)
    text = new_job_text(replace(answers.job, workshop=workshop))
    changes = [Change(path="cases[0].inside", value=layout.inside(many, unit))]
    if answers.typed["price"]:
        size: dict[str, Value] = {**sheet_asked(unit), "price": as_amount(answers.typed["price"])}
        changes.append(Change(path=path_in("boards", "board") + ".sheets", value=[size]))
    if usual is not None:
        kept = not answers.typed["price"] or answers.typed["price"] == usual.typed.get("price")
        changes += [c for c in usual.changes(text, kept) if all(c.path != own.path for own in changes)]
    return edit_job(text, changes)


def sheet_asked(unit: Unit) -> dict[str, Value]:
    """Return the sheet whose price is asked, as a job file in this unit has it."""
    per = MM_PER_INCH if unit is Unit.INCH else 1.0
    length, width = (f"{size / per:g} {unit.value}" for size in commonest(unit))
    return {"length": length, "width": width}


def sheets_asked() -> str:
    """Return which sheet's price is asked in either unit."""
    sizes = (sheet_asked(unit) for unit in (Unit.MM, Unit.INCH))
    return " or ".join(f"{str(s['length']).split()[0]} \u00d7 {s['width']}" for s in sizes)


def workshop_text(answers: Answers) -> str:
    """Return the text of a first workshop file with the rate and currency that were answered; "" where none was."""
    rate, currency = answers.typed["rate"], answers.typed["currency"]
    told: dict[str, Value | None] = {}
    if rate:
        told["rate_per_hour"] = as_amount(rate)
    if currency:
        told["currency"] = currency
    group = group_of("money")
    return set_item(START, group, "", told) if told and group is not None else ""


AMOUNT: Final = re.compile(r"\d{1,7}([.,]\d{1,2})?")
MOST_CURRENCY: Final = 8


def as_amount(words: str) -> float:
    """Return an amount as the file has it."""
    return float(words.replace(",", "."))


def tell(answers: Answers, error: JobError) -> tuple[str, ...]:
    """Put each fault of the text at its question; return those that are about none."""
    rest = []
    for fault in error.faults:
        name = _FIELDS.get(fault.field)
        words = f"Found {fault.found}; allowed: {fault.allowed}. {fault.do}"
        if name is not None:
            answers.wrong.setdefault(name, words)
        else:
            rest.append(words)
    return tuple(rest)
