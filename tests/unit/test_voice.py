"""How storyrod speaks: phrases that nobody says at a bench do not come back. They stand in a table of docs/voice.md."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from tests.places import ROOT

SOURCES = ROOT / "src" / "storyrod"
VOICE = (ROOT / "docs" / "voice.md").read_text(encoding="utf-8")
PHRASES = [row[0].strip() for row in re.findall(r"^\| ([^|]+) \| ([^|]+) \|$", VOICE, re.MULTILINE)][2:]

SHORT = re.compile(r"^\w+ \w+$")
"""A phrase of two words stands only as a whole text (a label): within a sentence it may be right."""


def texts_of(path: Path) -> Iterator[tuple[int, str]]:
    """Yield each text that may reach a maker, with its line: strings of code that are no docstring, words of pages."""
    text = path.read_text(encoding="utf-8")
    if path.suffix != ".py":
        yield from enumerate(text.splitlines(), start=1)
        return
    tree = ast.parse(text)
    docs = {
        id(node.body[0].value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef)
        and node.body
        and isinstance(node.body[0], ast.Expr)
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in docs:
            yield node.lineno, node.value


def holds(phrase: str, text: str) -> bool:
    """Whether a text says a phrase; a gap in it (a number) stands for any."""
    if SHORT.match(phrase):
        return f">{phrase}<" in text or text.strip() == phrase
    parts = [re.escape(p) for p in re.split(r"\d+", phrase)]
    return re.search(r"\S+".join(parts), text) is not None


def test_the_table_is_read() -> None:
    assert len(PHRASES) >= 10
    assert "To the page's matter" in PHRASES


@cache
def all_texts() -> tuple[tuple[str, str], ...]:
    """Return every text that may reach a maker, with its place."""
    kinds = ((SOURCES, (".py", ".html", ".js", ".toml", ".typ")), (ROOT / "examples", (".toml",)))
    return tuple(
        (f"{path.relative_to(ROOT)}:{line}", text)
        for folder, endings in kinds
        for path in sorted(folder.rglob("*"))
        if path.suffix in endings
        for line, text in texts_of(path)
    )


_BETWEEN = "\n\0\n"
"""Stands between texts: no phrase runs over it."""


@cache
def as_one() -> str:
    """Return all texts one after the other: to look through them at once takes a tenth of the time."""
    return _BETWEEN.join(text for _, text in all_texts())


@cache
def whole_texts() -> frozenset[str]:
    return frozenset(text.strip() for _, text in all_texts())


@pytest.mark.parametrize("phrase", PHRASES)
def test_a_phrase_does_not_come_back(phrase: str) -> None:
    if phrase in whole_texts() or holds(phrase, as_one()):
        assert [place for place, text in all_texts() if holds(phrase, text)] == []


def test_what_holds_a_phrase_holds_it_among_all() -> None:
    for _, text in all_texts()[::97]:
        phrase = text.strip()
        if phrase and not SHORT.match(phrase) and "\n" not in phrase and len(phrase) < 200:
            assert holds(phrase, text) == holds(phrase, as_one()), phrase


def test_such_a_phrase_would_be_found() -> None:
    assert holds("at 45 min in clamps", "Besides, at 7 min in clamps")
    assert holds("not said", "not said")
    assert not holds("not said", "it is not said whether")
