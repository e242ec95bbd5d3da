"""No sentence that a maker reads is a key: nothing is told apart by how words begin, end, or what they hold.

A side, a cause, an act or a thing to tick is a value of its own beside its words; so words may be said better, or in
another language, and nothing else changes.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pytest

from tests.places import ROOT

SOURCE: Final = ROOT / "src" / "storyrod"

_SENTENCES: Final = frozenset(
    {"why", "text", "what", "found", "allowed", "do", "claim", "where", "reference", "content", "title", "hands"}
    | {"direction", "sums", "words", "about", "way_name", "tool_name", "cutter_name", "panel_name", "trial"}
)
"""Fields of values that hold words for people."""

_TAKES_APART: Final = frozenset(
    {"startswith", "endswith", "removeprefix", "removesuffix", "partition", "rpartition", "split", "rsplit", "find"}
)

_MAY: Final = {
    "adapters/files/_lines.py": "the text of a file, which is read letter by letter",
}


def taken_apart(source: str) -> Iterator[int]:
    """Yield the line of each place where words of a value are taken apart or looked into."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
            if node.func.attr in _TAKES_APART and _is_sentence(node.func.value):
                yield node.lineno
        elif isinstance(node, ast.Compare) and any(isinstance(o, ast.In | ast.NotIn) for o in node.ops):
            words = isinstance(node.left, ast.Constant) and isinstance(node.left.value, str)
            if words and any(_is_sentence(c) for c in node.comparators):
                yield node.lineno


def _is_sentence(node: ast.expr) -> bool:
    return isinstance(node, ast.Attribute) and node.attr in _SENTENCES


@pytest.mark.parametrize(
    "source",
    ['f.why.startswith("runner of")', '"drill" in s.cutter_name', 'x.text.rpartition(" with ")[2]'],
)
def test_words_taken_apart_are_found(source: str) -> None:
    assert list(taken_apart(source)) == [1]


def test_no_words_are_taken_apart_to_know_what_they_are_of() -> None:
    found = {
        f"{path.relative_to(SOURCE).as_posix()}:{line}"
        for path in _modules()
        for line in taken_apart(path.read_text(encoding="utf-8"))
        if path.relative_to(SOURCE).as_posix() not in _MAY
    }

    assert found == set()


def test_what_may_do_it_does_it() -> None:
    for name in _MAY:
        assert list(taken_apart((SOURCE / name).read_text(encoding="utf-8"))), f"{name} no longer needs leave"


def _modules() -> Iterator[Path]:
    yield from sorted(SOURCE.rglob("*.py"))
