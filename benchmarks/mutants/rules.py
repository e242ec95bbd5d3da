"""Rules taken out and turned round, one at a time: a stage or a checker with one thing changed must fail a test.

`python -m benchmarks.mutants.rules STAGE ... [--many N] [--seed S] [--limit SECONDS]` draws N places of each stage
(`setout`, `joinery`, `_check` for every module with that in its name, ...) at which cosmic-ray's operators change
something (a sign, a comparison, a number by one, a loop that never runs), or at which a condition never holds: a rule
taken out. Each is tried with the tests that import the module, those of its stage, and those of whole jobs. What only
differs in its types, its docstrings or by a memo left out is not drawn. A table tells how many were noticed, and each
that was not with its line. It returns 1 where there is one. Linux and macOS; `pip install cosmic-ray` beforehand.
"""

from __future__ import annotations

import argparse
import ast
import itertools
import os
import random
import sys
import time
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any, Final

from benchmarks._needs import NotHereError
from benchmarks.mutants.mutants import ROOT, SOURCE, Mutant, tests_of, tried

WHOLE_JOBS: Final = ("tests/unit/test_hand_worked_jobs.py", "tests/golden", "tests/unit/test_plan_properties.py")
"""Tried after a stage's own tests."""

LEFT_OUT: Final = frozenset({"VariableReplacer", "VariableInserter", "ExceptionReplacer"})
"""Operators that want arguments, or change what is caught to what nothing raises."""

MEMO: Final = frozenset({"cache", "lru_cache", "cached_property", "dataclass", "override", "staticmethod"})
"""Decorators whose absence no plan shows: it is slower, or two values are compared by what they are."""


class _Bare(ast.NodeTransformer):
    """Takes types, docstrings and memos off, which no test can see."""

    def visit_AnnAssign(self, node: ast.AnnAssign) -> ast.AST:
        node.annotation = ast.Constant(None)
        return self.generic_visit(node)

    def visit_FunctionDef(self, node: ast.FunctionDef) -> ast.AST:
        node.returns = None
        node.decorator_list = [d for d in node.decorator_list if _name(d) not in MEMO]
        return self.generic_visit(node)

    def visit_ClassDef(self, node: ast.ClassDef) -> ast.AST:
        node.decorator_list = [d for d in node.decorator_list if _name(d) not in MEMO]
        return self.generic_visit(node)

    def visit_arg(self, node: ast.arg) -> ast.AST:
        node.annotation = None
        return node

    def visit_TypeAlias(self, node: ast.TypeAlias) -> None:
        """A name of a type."""

    def visit_If(self, node: ast.If) -> ast.AST | None:
        return None if _name(node.test) == "TYPE_CHECKING" else self.generic_visit(node)

    def visit_Expr(self, node: ast.Expr) -> ast.AST | None:
        return None if isinstance(node.value, ast.Constant) else self.generic_visit(node)

    def visit_Assert(self, node: ast.Assert) -> None:
        """What is told to the type checker."""


def _name(node: ast.expr) -> str:
    return ast.unparse(node).split("(")[0].rpartition(".")[2]


def _seen(source: str) -> str | None:
    """Return what a test can see of a source; None where it is no Python."""
    try:
        return ast.dump(_Bare().visit(ast.parse(source)))
    except SyntaxError:
        return None


type _Place = tuple[Path, str, int]
"""A module, an operator by its name (`taken out` is our own), and the how-manieth of its changes there."""


def _conditions(source: str) -> list[ast.expr]:
    """Return every condition of a module, each of which may be made never to hold: a rule taken out."""
    found: list[ast.expr] = []
    for node in ast.walk(ast.parse(source)):
        found += [node.test] if isinstance(node, (ast.If, ast.IfExp)) else []
        found += node.ifs if isinstance(node, ast.comprehension) else []
    return found


def _without(source: str, test: ast.expr) -> str:
    starts = [0]
    for line in source.encode().splitlines(keepends=True):
        starts.append(starts[-1] + len(line))
    assert test.end_lineno is not None
    assert test.end_col_offset is not None
    data = source.encode()
    begin, end = starts[test.lineno - 1] + test.col_offset, starts[test.end_lineno - 1] + test.end_col_offset
    return (data[:begin] + b"(False)" + data[end:]).decode()


def _operators() -> dict[str, Any]:
    try:
        from cosmic_ray.operators.provider import OperatorProvider
    except ImportError:
        raise NotHereError("cosmic-ray is not installed: `.venv/bin/pip install cosmic-ray`.") from None
    provider = OperatorProvider()
    # Whether two numbers are one object is nothing that a plan hangs on.
    return {name: provider[name]() for name in provider if name not in LEFT_OUT and "_Is" not in name}


def _places_of(path: Path) -> Iterator[_Place]:
    """Yield every place of a module at which something can be changed."""
    from cosmic_ray.ast import ast_nodes, get_ast

    source = path.read_text(encoding="utf-8")
    for n, _ in enumerate(_conditions(source)):
        yield path, "taken out", n
    nodes = list(ast_nodes(get_ast(source)))
    for name, operator in _operators().items():
        for n, _ in enumerate(p for node in nodes for p in operator.mutation_positions(node)):
            yield path, name, n


def _mutant_at(place: _Place) -> Mutant | None:
    """Return a module changed at a place; None where no test could see it."""
    from cosmic_ray.mutating import mutate_code

    path, name, n = place
    source = path.read_text(encoding="utf-8")
    text = (
        _without(source, _conditions(source)[n]) if name == "taken out" else mutate_code(source, _operators()[name], n)
    )
    if text is None or _seen(text) in {None, _seen(source)}:
        return None
    was, now = source.splitlines(), text.splitlines()
    line = next(i for i, (a, b) in enumerate(zip(was, now, strict=False)) if a != b)
    return Mutant(".".join(path.relative_to(SOURCE).with_suffix("").parts), path, line + 1, 0.0, text)


def _drawn(paths: Sequence[Path], many: int, seed: int) -> list[Mutant]:
    places = [place for path in paths for place in _places_of(path)]
    random.Random(seed).shuffle(places)
    seen = (m for place in places if (m := _mutant_at(place)) is not None)
    return list(itertools.islice(seen, many))


def _told(mutant: Mutant) -> str:
    was = mutant.path.read_text(encoding="utf-8").splitlines()
    now = mutant.source.splitlines()
    line = mutant.line - 1
    return f"{mutant.path.relative_to(ROOT)}:{mutant.line}: {was[line].strip()}  ->  {now[line].strip()}"


def _tests_for(mutant: Mutant) -> list[str]:
    whole = [str(ROOT / t) for t in WHOLE_JOBS]
    return list(dict.fromkeys([*tests_of(mutant.module), *whole]))


def main(words: Sequence[str]) -> int:
    """Try what is drawn; return 1 where one went unnoticed."""
    told = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    told.add_argument("stages", nargs="+", help="a stage's folder, or a part of a module's name")
    told.add_argument("--many", type=int, default=30, help="so many of each")
    told.add_argument("--seed", type=int, default=1)
    told.add_argument(
        "--limit",
        type=int,
        default=900,
        help="seconds for one; longer is counted apart",
    )
    asked = told.parse_args(words)
    sys.path.insert(0, str(ROOT))
    os.chdir(ROOT)
    os.environ["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"
    missed = 0
    for stage in asked.stages:
        folder = SOURCE / "storyrod" / stage
        paths = sorted(folder.glob("*.py")) if folder.is_dir() else sorted(SOURCE.rglob(f"*{stage}*.py"))
        ends = {"noticed": 0, "NOT noticed": 0, "not ended": 0}
        for mutant in _drawn(paths, asked.many, asked.seed):
            began = time.monotonic()
            status = tried(mutant, _tests_for(mutant), limit_s=asked.limit)
            end = "noticed" if status > 0 else "not ended" if status < 0 else "NOT noticed"
            ends[end] += 1
            print(f"  {end:11} {time.monotonic() - began:5.0f} s  {_told(mutant)}", flush=True)
        print(f"{stage:12} {', '.join(f'{n} {word}' for word, n in ends.items())}", flush=True)
        missed += ends["NOT noticed"]
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
