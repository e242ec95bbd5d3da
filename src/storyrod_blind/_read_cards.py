"""Set-up cards and the steps of the assembly, as printed."""

from __future__ import annotations

import re
from collections.abc import Iterator

from storyrod_blind._chapter import CARD, TOGETHER, Chapter
from storyrod_blind._length import Unit
from storyrod_blind._page import Page, Run, joined
from storyrod_blind._paper import Card, Paper, Placing, Step
from storyrod_blind._table import Row, Table

_STEP = re.compile(r"^(\d+)\. (.+)$")
_STEP_SIZE = 11.0  # pt: a step's heading is larger than its words
_BESIDE = 3.0  # pt from the margin from which on words stand beside a step's picture
_DASH = "\u2013"
_SAME_FOR = "The same for "
JOINT = re.compile(r"\bJ\d+\b")
_CLOSED = re.compile(r"\((?:J\d+(?:, | and )?)+\)")
_ACT = re.compile(r"(?<=\.) (?=[A-Z])")
_BEFOREHAND = ("Fit ", "Glue ")
"""How those lines of a step begin that say what is done to joints before they close."""
_HANDS = re.compile(r"\bNeeds (\d+ pe[^.]*)\.")
_NUMBERS = re.compile(r"(\d+)(?:\u2013(\d+))?")
_THEN = ", then "


def read_card(paper: Paper, chapter: Chapter, unit: Unit) -> None:
    """Read one set-up card, or one that several set-ups share: each is what all have, with its own row of settings."""
    match = CARD.match(chapter.title)
    assert match is not None  # noqa: S101  # only cards come here
    settings: dict[str, str] = {}
    work: list[Placing] = []
    for table in chapter.tables:
        if table.has("set", "to"):
            settings |= {row["set"]: row["to"] for row in table.rows}
        elif table.has("mark", "placed from", "marks"):
            work += [
                placing for row in table.rows for mark in row["mark"].split(", ") for placing in _placings(mark, row)
            ]
    page = chapter.pages[0].number
    ids = match[1].split(" + ")
    if len(ids) == 1:
        paper.cards.append(Card(ids[0], chapter.title, settings, tuple(work), chapter.text, page, unit))
        return
    own = {row["set-up"]: row for t in chapter.tables if t.has("set-up", "makes") for row in t.rows}
    for name in ids:
        row = own[name]
        apart = {head: cell for head, cell in zip(row.heads[2:], row.cells[2:], strict=True) if cell}
        mine = tuple(p for p in work if p.group.partition(",")[0] == name)
        paper.cards.append(Card(name, f"{name}: {row['makes']}", settings | apart, mine, chapter.text, page, unit))


def _placings(mark: str, row: Row) -> Iterator[Placing]:
    """Yield the work on a panel of a row; at several places, one after the other, that at each: `datum end, then …`."""
    places, marks = row["placed from"].split(_THEN), row["marks"].split(_THEN)
    if len(places) != len(marks):
        yield Placing(mark, _numbers(row["marks"]), " ".join(row.cells), row.group)
        return
    for place, numbers in zip(places, marks, strict=True):
        changed = {"placed from": place, "marks": numbers}
        words = " ".join(changed.get(h, c) for h, c in zip(row.heads, row.cells, strict=True))
        yield Placing(mark, _numbers(numbers), words, row.group)


def _numbers(words: str) -> tuple[int, ...]:
    """Return the marks of `1–6, 9 (J12)`; the joint in brackets is none of them."""
    found: list[int] = []
    for first, last in _NUMBERS.findall(re.sub(r"\(.*?\)", "", words)):
        found += range(int(first), int(last or first) + 1)
    return tuple(found)


def read_steps(paper: Paper, chapter: Chapter) -> None:
    """Read the steps of one case: those with a heading of their own, and those told in a table as alike."""
    match = TOGETHER.match(chapter.title)
    assert match is not None  # noqa: S101  # only assemblies come here
    code = match["case"]
    number, title, words, beside, margin = 0, "", list[Run](), list[Run](), 0.0
    for page in chapter.pages:
        for run in _between_foot_and_head(page):
            begun = _STEP.match(run.text) if run.is_bold and run.size >= _STEP_SIZE else None
            if begun:
                if number:
                    paper.steps.append(_step(code, number, title, words, beside))
                number, title, words, beside, margin = int(begun[1]), begun[2], [], [], run.x0
            elif number and _is_other(run):
                paper.steps.append(_step(code, number, title, words, beside))
                number = 0
            elif number:  # under the picture stand its own note and what the step takes
                (words if run.x0 - margin > _BESIDE else beside).append(run)
    if number:
        paper.steps.append(_step(code, number, title, words, beside))
    for table in chapter.tables:
        if table.has("step", "what"):
            paper.steps += [_alike(code, table, row) for row in table.rows]
    paper.steps.sort(key=lambda s: (s.case, s.number))


def _between_foot_and_head(page: Page) -> Iterator[Run]:
    """Yield what stands between: a step that goes on overleaf has the page's foot and head among its words else."""
    yield from (run for run in page.runs if page.foot < run.y < page.head)


def _is_other(run: Run) -> bool:
    """Whether a run is the title of something that is no step: of a table of alike steps, of the wall, of undoing."""
    return run.is_bold and (run.size >= _STEP_SIZE or run.text.startswith(_SAME_FOR))


def _step(code: str, number: int, title: str, runs: list[Run], beside: list[Run]) -> Step:
    """Return a step; what is done stands before the list of what to watch for, and both are set in from the rest.

    Of what is done, fitting and gluing close no joint.
    """
    words = [r.text for r in runs]
    until = words.index(_DASH) if _DASH in words else len(words)
    acts = [act for act in _ACT.split(joined(words[:until])) if not act.startswith(_BEFOREHAND)]
    done, said = " ".join(acts), joined(words)
    told = joined([r.text for r in runs if abs(r.x0 - runs[0].x0) < _BESIDE])
    closed, hands = _CLOSED.search(done), _HANDS.search(f"{joined([r.text for r in beside])} {said}")
    joints = tuple(JOINT.findall(closed[0])) if closed else ()
    return Step(code, number, title, done, said, told=told, joints=joints, hands=hands[1] if hands else "")


def _alike(code: str, table: Table, row: Row) -> Step:
    """Return a step that is told in a table: what it belongs to stands over its rows, or in the table's title."""
    told = " ".join(row.cells[1:])
    first = re.match(r"\d+", row["step"])
    body = (row.group or table.title.rpartition(_SAME_FOR)[2]).lower()
    joints = tuple(JOINT.findall(row["joints"]))
    number = int(first[0]) if first else 0
    return Step(code, number, row["what"], told, told, body=body, joints=joints, hands=row["people and clamps"])
