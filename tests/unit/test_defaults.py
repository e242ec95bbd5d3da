"""A usual figure stands in one place: where two have the same name and figure, one of them is taken from the other."""

from __future__ import annotations

import ast
from collections import defaultdict
from collections.abc import Iterator

from tests.source_reading import PACKAGE

PLAIN = {0.0, 1.0, 2.0, -1.0}
"""Figures that say nothing by themselves."""

OTHERS = {
    "accuracy": "of a time study: a constant, and the usual value of a word for it in the same module",
    "cross": "half the width of a cross on two kinds of tile",
    "dust": "of two stages that know nothing of each other",
    "exchanged": "shares of two searches, each tuned for itself",
    "flush": "of two stages that know nothing of each other",
    "fraction": "of an inch: the job's, and that of a figure which is shown without a job",
    "from_end": "a hinge from a door's end, and a wall fixing from a panel's",
    "grid": "of a pattern, and of what is needed, told apart to a hundredth",
    "hair": "panels that touch in earnest, and rooms for hands that meet",
    "limit_s": "seconds for a search, told at the stage's door and at its inner one",
    "most": "scales of a drawing, and arrows of a step",
    "most_faults": "of a file, and of a table of readings",
    "most_kept": "of plans, and of ticks",
    "most_reasons": "of a comparison, and of a choice",
    "parts": "of an inch, the finest that is shown",
    "px_per_mm": "on a screen for one drawing, and for another",
    "room": "for two pictures",
    "rounds": "of two searches",
    "share": "of a time study: a constant, and the usual value of a word for it in the same module",
    "status": "of an answer of the page",
}
"""Names that stand for other things in other places, or for one that two stages may not share, with why."""


def test_a_usual_figure_stands_in_one_place() -> None:
    places: dict[tuple[str, float], set[str]] = defaultdict(set)
    for path in sorted(PACKAGE.rglob("*.py")):
        for name, value, line in figures(ast.parse(path.read_text(encoding="utf-8"))):
            places[name, value].add(f"{path.relative_to(PACKAGE).as_posix()}:{line}")
    twice = {name: sorted(where) for (name, value), where in places.items() if len(where) > 1 and value not in PLAIN}

    assert {n: w for n, w in twice.items() if n not in OTHERS} == {}, "take the figure from one of them"
    assert set(OTHERS) - set(twice) == set(), "these stand once now: take them out of the list"


def figures(tree: ast.Module) -> Iterator[tuple[str, float, int]]:
    """Yield the name, figure and line of each constant, usual value of a field and usual value of an argument."""
    for node in ast.walk(tree):
        if isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name):
            yield from _figure(node.target.id, node.value)
        elif isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Name):
            yield from _figure(node.targets[0].id, node.value)
        elif isinstance(node, ast.FunctionDef | ast.Lambda):
            asked = node.args
            plain = [*asked.posonlyargs, *asked.args]
            last = plain[len(plain) - len(asked.defaults) :]
            for arg, usual in [
                *zip(last, asked.defaults, strict=True),
                *zip(asked.kwonlyargs, asked.kw_defaults, strict=True),
            ]:
                yield from _figure(arg.arg, usual)


def _figure(name: str, value: ast.expr | None) -> Iterator[tuple[str, float, int]]:
    if isinstance(value, ast.Constant) and isinstance(value.value, int | float) and not isinstance(value.value, bool):
        yield name.lower().lstrip("_"), float(value.value), value.lineno
