"""Set-up cards and the steps of the assembly, as printed."""

from __future__ import annotations

import re

from storyrod_blind._chapter import CARD, TOGETHER, Chapter
from storyrod_blind._length import Unit
from storyrod_blind._page import Run, joined
from storyrod_blind._paper import Card, Paper, Placing, Step
from storyrod_blind._table import Row, Table

_STEP = re.compile(r"^(\d+)\. (.+)$")
_STEP_SIZE = 11.0  # pt: a step's heading is larger than its words
_BESIDE = 3.0  # pt from the margin from which on words stand beside a step's picture
_DASH = "\u2013"
_SAME_FOR = "The same for "
JOINT = re.compile(r"\bJ\d+\b")
_CLOSED = re.compile(r"\((?:J\d+(?:, | and )?)+\)")
_HANDS = re.compile(r"\bNeeds (\d+ pe[^.]*)\.")
_NUMBERS = re.compile(r"(\d+)(?:\u2013(\d+))?")


def read_card(paper: Paper, chapter: Chapter, unit: Unit) -> None:
    """Read one set-up card."""
    match = CARD.match(chapter.title)
    assert match is not None  # noqa: S101  # only cards come here
    settings: dict[str, str] = {}
    work: list[Placing] = []
    for table in chapter.tables:
        if table.has("set", "to"):
            settings |= {row["set"]: row["to"] for row in table.rows}
        elif table.has("mark", "placed from", "marks"):
            work += [
                Placing(mark, _numbers(row["marks"]), " ".join(row.cells), row.group)
                for row in table.rows
                for mark in row["mark"].split(", ")
            ]
    page = chapter.pages[0].number
    paper.cards.append(Card(match[1], chapter.title, settings, tuple(work), chapter.text, page, unit))


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
    number, title, words, margin = 0, "", list[Run](), 0.0
    for page in chapter.pages:
        for run in page.runs:
            begun = _STEP.match(run.text) if run.is_bold and run.size >= _STEP_SIZE else None
            if begun:
                if number:
                    paper.steps.append(_step(code, number, title, words))
                number, title, words, margin = int(begun[1]), begun[2], [], run.x0
            elif number and _is_other(run):
                paper.steps.append(_step(code, number, title, words))
                number = 0
            elif number and run.x0 - margin > _BESIDE:
                words.append(run)  # the picture's own note stands under it, at the margin
    if number:
        paper.steps.append(_step(code, number, title, words))
    for table in chapter.tables:
        if table.has("step", "what"):
            paper.steps += [_alike(code, table, row) for row in table.rows]
    paper.steps.sort(key=lambda s: (s.case, s.number))


def _is_other(run: Run) -> bool:
    """Whether a run is the title of something that is no step: of a table of alike steps, of the wall, of undoing."""
    return run.is_bold and (run.size >= _STEP_SIZE or run.text.startswith(_SAME_FOR))


def _step(code: str, number: int, title: str, runs: list[Run]) -> Step:
    """Return a step; what is done stands before the list of what to mind, and both are set in from the rest."""
    words = [r.text for r in runs]
    until = words.index(_DASH) if _DASH in words else len(words)
    done, said = joined(words[:until]), joined(words)
    told = joined([r.text for r in runs if abs(r.x0 - runs[0].x0) < _BESIDE])
    closed, hands = _CLOSED.search(done), _HANDS.search(said)
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
