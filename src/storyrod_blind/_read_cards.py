"""Set-up cards and the steps of the assembly, as printed."""

from __future__ import annotations

import re

from storyrod_blind._chapter import CARD, TOGETHER, Chapter
from storyrod_blind._length import Unit
from storyrod_blind._paper import Card, Paper, Placing, Step

_STEP = re.compile(r"^(\d+)\. (.+)$")
_STEP_SIZE = 11.0  # pt: a step's heading is larger than its words
_DASH = "\u2013"
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
            work += [Placing(row["mark"], _numbers(row["marks"]), " ".join(row.cells)) for row in table.rows]
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
    number, title, words = 0, "", list[str]()
    for page in chapter.pages:
        for run in page.runs:
            begun = _STEP.match(run.text) if run.is_bold and run.size >= _STEP_SIZE else None
            if begun:
                if number:
                    paper.steps.append(_step(code, number, title, words))
                number, title, words = int(begun[1]), begun[2], []
            elif number:
                words.append(run.text)
    if number:
        paper.steps.append(_step(code, number, title, words))
    for table in chapter.tables:
        if table.has("step"):
            for row in table.rows:
                told = " ".join(row.cells[1:])
                first = re.match(r"\d+", row["step"])
                paper.steps.append(Step(code, int(first[0]) if first else 0, told, told, told))


def _step(code: str, number: int, title: str, words: list[str]) -> Step:
    """Return a step; what is done stands before the list of what to mind."""
    until = words.index(_DASH) if _DASH in words else len(words)
    return Step(code, number, title, " ".join(words[:until]), " ".join(words))
