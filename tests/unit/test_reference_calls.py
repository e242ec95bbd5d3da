"""What the reference tests call of the source, the source itself calls: it is what is reckoned with."""

from __future__ import annotations

import ast
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

from tests.places import ROOT

SOURCE = ROOT / "src" / "storyrod"
REFERENCE = ROOT / "tests" / "reference"


def tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def used_in(node: ast.AST) -> Iterator[str]:
    for inner in ast.walk(node):
        if isinstance(inner, ast.Name) and isinstance(inner.ctx, ast.Load):
            yield inner.id
        elif isinstance(inner, ast.Attribute):
            yield inner.attr


def never_called() -> set[str]:
    """Return the functions and classes of the source that nothing in it uses, nor anything that is used itself."""
    users: defaultdict[str, set[str | None]] = defaultdict(set)
    known: set[str] = set()
    for path in SOURCE.rglob("*.py"):
        for top in tree(path).body:
            owner = top.name if isinstance(top, (ast.FunctionDef, ast.AsyncFunctionDef, ast.ClassDef)) else None
            known |= {owner} if owner else set()
            if not isinstance(top, (ast.Import, ast.ImportFrom)):
                for name in set(used_in(top)) - {owner}:
                    users[name].add(owner)
    idle: set[str] = set()
    while more := {n for n in known - idle if users[n] <= idle}:
        idle |= more
    return idle


def test_the_source_itself_calls_what_the_reference_tests_call() -> None:
    idle = never_called()
    told = [
        f"{path.name}: {name.name}"
        for path in sorted(REFERENCE.glob("*.py"))
        for node in ast.walk(tree(path))
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("storyrod")
        for name in node.names
        if name.name in idle
    ]

    assert told == [], "a check of what nothing reckons with: use it, or leave it out"
