"""Figures that carry load or set a cutter, changed by a tenth one at a time: some test must notice each.

`python -m benchmarks.mutants.mutants [--only WORD] [--share N/M] [--tests FILE ...]` changes every number in the
modules of `CARRYING` and runs the tests that import the module, in a process each; so too every figure of the packaged
methods and workshop that sets a cutter or bears a load, with the tests of `data.TRIED_WITH`. A table tells how many
were noticed, and each that was not with its line; it returns 1 where there is one. Linux and macOS: each process is a
fork of this one.
"""

from __future__ import annotations

import argparse
import ast
import contextlib
import importlib.abc
import importlib.machinery
import importlib.util
import io
import os
import re
import signal
import sys
import time
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from types import CodeType, ModuleType
from typing import Any, Final

from benchmarks.mutants.data import TRIED_WITH, DataMutant, data_mutants_of, is_noticed_in_data

ROOT: Final = Path(__file__).resolve().parents[2]
SOURCE: Final = ROOT / "src"

CARRYING: Final = {
    "storyrod.carcass._worktop": "where a worktop's screws stand, their slots and bite",
    "storyrod.carcass._feet": "where feet and clips stand",
    "storyrod.carcass._hung": "where screws go through a rail into the wall",
    "storyrod.carcass._clothes_rails": "where sockets of a clothes rail stand",
    "storyrod.soundness._overhang": "who sits on an overhang, and what it bears",
    "storyrod.soundness._feet": "how many feet carry",
    "storyrod.soundness._hanging": "screws into the wall",
    "storyrod.soundness._clothes_rails": "what hangs on a clothes rail",
    "storyrod.trade.boards": "density, stiffness and strength of boards",
    "storyrod.trade.creep": "how much more a board sags in time",
    "storyrod.trade.woods": "stiffness, gravity and movement of woods",
    "storyrod.trade.moisture": "how wet wood gets in a room's air",
    "storyrod.trade.strength": "what screws and dowels hold",
    "storyrod.trade.lead_hole": "holes for screws in solid wood",
    "storyrod.trade.noise": "the noise of a day",
    "storyrod.trade.lifting": "what a person may lift",
    "storyrod.trade.bush": "guide bushes and the cutters in them",
    "storyrod.trade.stack": "errors that add up",
    "storyrod.soundness._joints": "what a joint carries",
    "storyrod.soundness._loads": "what stands on a shelf",
    "storyrod.soundness._tipping": "pushes and pulls that tip a case",
    "storyrod.soundness._wall": "where a case is fixed to the wall",
    "storyrod.soundness._section": "sections of shelves and lippings",
    "storyrod.soundness._plate": "backs and bottoms, loaded as plates",
    "storyrod.soundness._racking": "what keeps a case square",
    "storyrod.soundness._carry": "what bears on what",
    "storyrod.soundness._balance": "moments about the front of a case",
    "storyrod.soundness._span": "sag by formula, and the greatest span",
    "storyrod.soundness._weights": "what is lifted, and by how many",
    "storyrod.model.thresholds": "what is reckoned with, and from where on it is told",
}
"""Modules whose numbers carry load or set a cutter, and what they are about."""

ROUNDING: Final = frozenset({"round", "range"})
"""Numbers in these calls are digits and counts."""


@dataclass(frozen=True, slots=True)
class Mutant:
    """One number of a module, changed by a tenth."""

    module: str
    path: Path
    line: int
    was: float
    source: str

    def __str__(self) -> str:
        text = self.path.read_text(encoding="utf-8").splitlines()[self.line - 1].strip()
        return f"{self.path.relative_to(ROOT)}:{self.line}: {self.was:g} in {text[:90]}"


class _Numbers(ast.NodeVisitor):
    """Gathers the numbers of a module: not its indices, digits and counts."""

    def __init__(self) -> None:
        self.found: list[ast.Constant] = []

    def visit_Constant(self, node: ast.Constant) -> None:
        if isinstance(node.value, (int, float)) and not isinstance(node.value, bool) and node.value:
            self.found.append(node)

    def visit_Subscript(self, node: ast.Subscript) -> None:
        self.visit(node.value)

    def visit_Call(self, node: ast.Call) -> None:
        digits = isinstance(node.func, ast.Name) and node.func.id in ROUNDING
        self.visit(node.func)
        for one in (
            node.args[:1] if digits and isinstance(node.func, ast.Name) and node.func.id == "round" else node.args
        ):
            if not (digits and isinstance(one, ast.Constant)):
                self.visit(one)
        for word in node.keywords:
            self.visit(word.value)


def mutants_of(module: str) -> Iterator[Mutant]:
    """Yield the module once for every number in it, that number a tenth greater."""
    path = SOURCE.joinpath(*module.split(".")).with_suffix(".py")
    text = path.read_text(encoding="utf-8")
    lines = text.splitlines(keepends=True)
    numbers = _Numbers()
    numbers.visit(ast.parse(text))
    for node in numbers.found:
        line = lines[node.lineno - 1].encode()
        assert isinstance(node.value, (int, float))
        changed = line[: node.col_offset] + repr(node.value * 1.1).encode() + line[node.end_col_offset :]
        source = "".join([*lines[: node.lineno - 1], changed.decode(), *lines[node.lineno :]])
        yield Mutant(module, path, node.lineno, float(node.value), source)


def tests_of(module: str) -> list[str]:
    """Return the test files that import a module, the reference tests first, and then those of its package."""
    package, _, name = module.rpartition(".")
    imports = re.compile(
        rf"from {re.escape(module)} import|from {re.escape(package)} import [^\n]*\b{re.escape(name)}\b"
    )
    found = [p for p in sorted((ROOT / "tests").rglob("test_*.py")) if imports.search(p.read_text(encoding="utf-8"))]
    whole = sorted((ROOT / "tests" / "unit" / package.rpartition(".")[2]).glob("test_*.py"))  # of the package it is in
    return [str(p) for p in dict.fromkeys([*found, *whole])]


class _Changed(importlib.machinery.SourceFileLoader):
    """Loads a module from the text of a mutant."""

    def __init__(self, mutant: Mutant) -> None:
        super().__init__(mutant.module, str(mutant.path))
        self.mutant = mutant

    def get_code(self, fullname: str) -> CodeType:  # noqa: ARG002 - as the import system calls it
        return compile(self.mutant.source, str(self.mutant.path), "exec")


class _Finder(importlib.abc.MetaPathFinder):
    """Finds the one module that is changed."""

    def __init__(self, mutant: Mutant) -> None:
        self.mutant = mutant

    def find_spec(
        self,
        fullname: str,
        path: Sequence[str] | None,  # noqa: ARG002 - as the import system calls it
        target: ModuleType | None = None,  # noqa: ARG002
    ) -> importlib.machinery.ModuleSpec | None:
        if fullname != self.mutant.module:
            return None
        return importlib.util.spec_from_file_location(fullname, self.mutant.path, loader=_Changed(self.mutant))


ALONE: Final = (
    "-q",
    "-x",
    "-p",
    "pytest_timeout",
    "-p",
    "no:cacheprovider",
    "-W",
    "ignore::pytest.PytestAssertRewriteWarning",
)
"""No plugin but what the project's settings name: each child starts sooner."""


def _status(child: int, limit_s: int | None) -> int:
    """Wait for a process, and end it where it takes longer than the limit; return what it ended with."""
    if limit_s is not None:
        until = time.monotonic() + limit_s
        while time.monotonic() < until:
            done, status = os.waitpid(child, os.WNOHANG)
            if done:
                return os.waitstatus_to_exitcode(status)
            time.sleep(0.1)
        os.kill(child, signal.SIGKILL)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def is_noticed(mutant: Mutant | None, tests: Sequence[str]) -> bool:
    """Whether a test fails with the mutant (or, without one, as things are); tried in a process of its own."""
    return tried(mutant, tests) != 0


def tried(mutant: Mutant | None, tests: Sequence[str], *, limit_s: int | None = None) -> int:
    """Return what the tests end with: 0 where all pass, below 0 where they were ended after `limit_s` seconds."""
    import hypothesis.strategies  # noqa: F401 - once, here, instead of in every child
    import pytest

    if not tests:
        return 1
    sys.stdout.flush()
    child = os.fork()
    if child:
        return _status(child, limit_s)
    status = 2
    with contextlib.suppress(BaseException), contextlib.redirect_stdout(io.StringIO()):
        if mutant is not None:
            sys.meta_path.insert(0, _Finder(mutant))
        sys.stderr = io.StringIO()
        status = int(pytest.main([*ALONE, *tests]))
    os._exit(status)


type Try = tuple[str, str, list[Mutant] | list[DataMutant], Callable[[Any], bool]]
"""A module or a file of data: its name, what it is about, its mutants, and whether one of them is noticed."""


def _asked_for(word: str, told: Sequence[str]) -> Iterator[Try]:
    """Yield each module and file of data with that word in its name, tried with the tests told or with its own."""
    for module, about in CARRYING.items():
        if word in module:
            tests = told or tests_of(module)
            yield module, about, list(mutants_of(module)), partial(is_noticed, tests=tests)
    for name in TRIED_WITH:  # after the modules: what is imported from here on is imported as it stands
        if word in name:
            about = "what a cutter is set by or a load hangs on"
            yield name, about, list(data_mutants_of(name)), partial(is_noticed_in_data, name=name)


def main(words: Sequence[str]) -> int:
    """Try the mutants that are asked for; return 1 where one went unnoticed."""
    told = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    told.add_argument("--only", default="", help="modules with this word in their name")
    told.add_argument("--share", default="1/1", help="every so many of them, as in 2/5: the second of every five")
    told.add_argument("--tests", nargs="*", default=[], help="tried with these test files alone, which is quicker")
    asked = told.parse_args(words)
    nth, of = (int(n) for n in asked.share.split("/"))
    sys.path.insert(0, str(ROOT))
    os.chdir(ROOT)
    os.environ["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"
    unnoticed: list[Mutant | DataMutant] = []
    counts: Counter[str] = Counter()
    for name, about, mutants, noticed in _asked_for(asked.only, asked.tests):
        if noticed(None):
            print(f"{name}: its tests do not pass as things are, or there are none")
            return 1
        for mutant in mutants[nth - 1 :: of]:
            counts[name] += 1
            if not noticed(mutant):
                unnoticed.append(mutant)
        missed = sum(m.module == name for m in unnoticed)
        print(f"{name:32} {about:52} {counts[name]:4} changed {counts[name] - missed:4} noticed", flush=True)
    print(f"{sum(counts.values())} changed, {len(unnoticed)} unnoticed")
    for mutant in unnoticed:
        print(f"  {mutant}")
    return 1 if unnoticed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
