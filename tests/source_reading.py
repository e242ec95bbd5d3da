"""What the project's source says of itself: the codes of its faults and cautions, and its figures without a source.

Read from the syntax tree, so that nothing has to be run and no code escapes because nobody triggered it.
"""

from __future__ import annotations

import ast
import re
import tokenize
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

from tests.places import ROOT

PACKAGE = ROOT / "src" / "storyrod"

Functions = ast.FunctionDef | ast.AsyncFunctionDef

# The two that carry a code to a maker. Whatever hands a code on to them is found from here.
CARRIERS = ("Fault", "Caution")


@dataclass
class Codes:
    """Codes of faults and cautions: written out, made by a pattern (with `*`), and those that could not be read."""

    exact: dict[str, str] = field(default_factory=dict)
    families: dict[str, str] = field(default_factory=dict)
    unread: list[str] = field(default_factory=list)

    def knows(self, code: str) -> bool:
        return code in self.exact or any(of_family(code, f) for f in self.families)


def of_family(code: str, family: str) -> bool:
    pattern = ".+".join(re.escape(part) for part in family.split("*"))
    return re.fullmatch(pattern, code) is not None


@dataclass(frozen=True)
class Hander:
    """A function or class that hands a code on: where it stands among its arguments, and what it is if left out."""

    index: int
    default: ast.expr | None = None


@dataclass(frozen=True)
class Call:
    """One call in the source, with all functions and the class round it, the innermost last."""

    place: str
    module: Path
    call: ast.Call
    functions: tuple[Functions, ...]
    owner: str


@cache
def trees() -> dict[Path, ast.Module]:
    return {p: ast.parse(p.read_text(encoding="utf-8")) for p in sorted(PACKAGE.rglob("*.py"))}


@cache
def calls() -> tuple[Call, ...]:
    found: list[Call] = []

    def walk(node: ast.AST, module: Path, functions: tuple[Functions, ...], owner: str) -> None:
        for child in ast.iter_child_nodes(node):
            if isinstance(child, ast.Call):
                place = f"{module.relative_to(PACKAGE).as_posix()}:{child.lineno}"
                found.append(Call(place, module, child, functions, owner))
            if isinstance(child, Functions):
                walk(child, module, (*functions, child), owner)
            elif isinstance(child, ast.ClassDef):
                walk(child, module, functions, child.name)
            else:
                walk(child, module, functions, owner)

    for path, tree in trees().items():
        walk(tree, path, (), "")
    return tuple(found)


@cache
def calls_by_name() -> dict[str, list[Call]]:
    found: dict[str, list[Call]] = {}
    for call in calls():
        found.setdefault(name_of(call.call), []).append(call)
    return found


def name_of(call: ast.Call) -> str:
    func = call.func
    return func.id if isinstance(func, ast.Name) else func.attr if isinstance(func, ast.Attribute) else ""


@cache
def classes_with_code() -> dict[str, Hander]:
    """Classes that have a field `code`, with its place among their fields."""
    found = {}
    for tree in trees().values():
        for node in ast.walk(tree):
            if isinstance(node, ast.ClassDef):
                fields = [s for s in node.body if isinstance(s, ast.AnnAssign) and isinstance(s.target, ast.Name)]
                names = [s.target.id for s in fields if isinstance(s.target, ast.Name)]
                if "code" in names:
                    index = names.index("code")
                    found[node.name] = Hander(index, fields[index].value)
    return found


class Reader:
    """Follows codes from where they reach a maker back to where they are written."""

    def __init__(self) -> None:
        self.codes = Codes()
        self.waiting: list[tuple[str, Hander]] = [(name, classes_with_code()[name]) for name in CARRIERS]
        self.followed: set[tuple[str, int]] = set()

    def read(self) -> Codes:
        while self.waiting:
            name, hander = self.waiting.pop()
            if (name, hander.index) in self.followed:
                continue
            self.followed.add((name, hander.index))
            for call in calls_by_name().get(name.split("/")[-1], ()):
                if self._same_module(name, call):
                    self._argument(call, hander)
        return self.codes

    def _same_module(self, name: str, call: Call) -> bool:
        """A private function is known in its own module only: `/path/_fault` stands for that of one module."""
        return "/" not in name or str(call.module) == name.rsplit("/", 1)[0]

    def _argument(self, call: Call, hander: Hander) -> None:
        for keyword in call.call.keywords:
            if keyword.arg == "code":
                self._resolve(keyword.value, call)
                return
        arguments = call.call.args
        if hander.index < len(arguments):
            self._resolve(arguments[hander.index], call)
        elif hander.default is not None:
            self._resolve(hander.default, call)

    def _resolve(self, value: ast.expr, call: Call) -> None:
        match value:
            case ast.Constant(value=str(code)):
                self.codes.exact.setdefault(code, call.place)
            case ast.IfExp(body=body, orelse=orelse):
                self._resolve(body, call)
                self._resolve(orelse, call)
            case ast.JoinedStr(values=parts):
                family = "".join(p.value if isinstance(p, ast.Constant) else "*" for p in parts)  # type: ignore[misc]
                self.codes.families.setdefault(family, call.place)
            case ast.Name(id=name):
                self._resolve_name(name, call)
            case ast.Attribute(value=ast.Name(id=name), attr="code"):
                self._resolve_field(name, call)
            case ast.Subscript(slice=ast.Constant(value="code")):
                self._follow_dicts()
            case _:
                self.codes.unread.append(f"{call.place}: {ast.unparse(value)}")

    def _resolve_name(self, name: str, call: Call) -> None:
        """A parameter is followed to the callers, a local name to what it is set from, a constant to its value."""
        for function in reversed(call.functions):
            place = parameter(function, name)
            if place is not None:
                private = function.name.startswith("_")
                self.waiting.append((f"{call.module}/{function.name}" if private else function.name, place))
                return
            written = [*assigned(function, name), *looped(function, trees()[call.module], name)]
            if written:
                for value in written:
                    self._resolve(value, call)
                return
        for value in assigned(trees()[call.module], name):
            self._resolve(value, call)
            return
        self.codes.unread.append(f"{call.place}: {name}")

    def _resolve_field(self, name: str, call: Call) -> None:
        """`self.code` or `reason.code`: whatever makes that class gives the code."""
        kind = call.owner if name == "self" else annotation(call.functions, name)
        known = classes_with_code().get(kind)
        if known is None:
            self.codes.unread.append(f"{call.place}: {name}.code")
        else:
            self.waiting.append((kind, known))

    def _follow_dicts(self) -> None:
        """A code read from a dict: every dict written with a key "code" may be the one."""
        for call in calls():
            for argument in (*call.call.args, *(k.value for k in call.call.keywords)):
                if isinstance(argument, ast.Dict):
                    for key, value in zip(argument.keys, argument.values, strict=True):
                        if isinstance(key, ast.Constant) and key.value == "code" and name_of(call.call) != "cast":
                            self._resolve(value, call)


def parameter(function: Functions, name: str) -> Hander | None:
    """Return where a parameter stands among the arguments of a call, and its default."""
    positional = [*function.args.posonlyargs, *function.args.args]
    names = [a.arg for a in positional]
    is_method = bool(names) and names[0] in {"self", "cls"}
    if name in names:
        from_end = len(names) - names.index(name)
        defaults = function.args.defaults
        default = defaults[-from_end] if from_end <= len(defaults) else None
        return Hander(names.index(name) - is_method, default)
    keyword_only = [a.arg for a in function.args.kwonlyargs]
    if name in keyword_only:
        return Hander(len(names) + 99, function.args.kw_defaults[keyword_only.index(name)])
    return None


def assigned(scope: Functions | ast.Module, name: str) -> Iterator[ast.expr]:
    """Yield what a name is set to; where a tuple is unpacked from a table, the first words of the table's tuples."""
    for node in ast.walk(scope):
        targets = (
            node.targets if isinstance(node, ast.Assign) else [node.target] if isinstance(node, ast.AnnAssign) else []
        )
        for target in targets:
            value = node.value  # type: ignore[attr-defined]
            if isinstance(target, ast.Name) and target.id == name and value is not None:
                yield value
            if isinstance(target, ast.Tuple) and isinstance(target.elts[0], ast.Name) and target.elts[0].id == name:
                yield from tabled(scope)


def tabled(scope: Functions | ast.Module) -> Iterator[ast.expr]:
    for node in ast.walk(scope):
        if isinstance(node, ast.Tuple) and node.elts and isinstance(node.elts[0], ast.Constant):
            first = node.elts[0].value
            if isinstance(first, str) and re.fullmatch(r"[a-z]+(-[a-z]+)*", first):
                yield node.elts[0]


def looped(function: Functions, module: ast.Module, name: str) -> Iterator[ast.expr]:
    """Yield what a name stands for in a loop over a table of tuples, `for words, name in TABLE:`, row by row."""
    for node in ast.walk(function):
        if isinstance(node, ast.For) and isinstance(node.target, ast.Tuple) and isinstance(node.iter, ast.Name):
            names = [one.id if isinstance(one, ast.Name) else "" for one in node.target.elts]
            if name in names:
                for table in assigned(module, node.iter.id):
                    rows = table.elts if isinstance(table, ast.Tuple | ast.List) else []
                    yield from (row.elts[names.index(name)] for row in rows if isinstance(row, ast.Tuple))


def annotation(functions: tuple[Functions, ...], name: str) -> str:
    for function in reversed(functions):
        for argument in (*function.args.posonlyargs, *function.args.args, *function.args.kwonlyargs):
            if argument.arg == name and isinstance(argument.annotation, ast.Name):
                return argument.annotation.id
    return ""


@cache
def read_codes() -> Codes:
    """Return every code of a fault or caution that the source can tell."""
    return Reader().read()


# Figures without a source

MARK = re.compile(r"common\s+practice|rule\s+of\s+thumb|from\s+memory|unsourced|no\s+source", re.IGNORECASE)


@dataclass(frozen=True)
class Unsourced:
    """One remark in the source that a figure has no source: the file, and the constant, function or table it is on."""

    file: str
    owner: str
    line: int

    def __str__(self) -> str:
        return f"`{self.owner}` ({self.file}, line {self.line})"


@cache
def unsourced() -> list[Unsourced]:
    """Return every remark that a figure has no source, each owner once."""
    found: dict[tuple[str, str], Unsourced] = {}
    for path in sorted(PACKAGE.rglob("*")):
        name = path.relative_to(PACKAGE).as_posix()
        if path.suffix == ".py":
            remarks = in_python(path, name)
        elif path.suffix == ".toml":
            remarks = in_toml(path, name)
        else:
            continue
        for one in remarks:
            found.setdefault((one.file, one.owner), one)
    return list(found.values())


def in_python(path: Path, name: str) -> Iterator[Unsourced]:
    tree = trees()[path]
    owned = list(owners(tree))
    docstrings = [
        (node.lineno, node.value.value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant) and isinstance(node.value.value, str)
    ]
    for line, text in (*docstrings, *comment_blocks(path)):
        for match in MARK.finditer(text):
            at = line + text[: match.start()].count("\n")
            yield Unsourced(name, owner_at(owned, at, line), at)
            break


def owners(tree: ast.Module) -> Iterator[tuple[int, int, str]]:
    """Yield the first and last line of everything with a name, the docstring below a constant included."""
    for node in ast.walk(tree):
        body = getattr(node, "body", None)
        if not isinstance(body, list):
            continue
        for n, one in enumerate(body):
            last = getattr(one, "end_lineno", 0)
            if isinstance(one, ast.Assign | ast.AnnAssign):
                after = body[n + 1] if n + 1 < len(body) else None
                if isinstance(after, ast.Expr) and isinstance(after.value, ast.Constant):
                    last = after.end_lineno or last
                target = one.targets[0] if isinstance(one, ast.Assign) else one.target
                yield one.lineno, last, ast.unparse(target)
            elif isinstance(one, ast.FunctionDef | ast.ClassDef):
                yield one.lineno, last, one.name


def owner_at(owned: list[tuple[int, int, str]], line: int, start: int) -> str:
    """Return the innermost named thing at a line, or else the next one below (a comment above a constant)."""
    inside = [o for o in owned if o[0] <= line <= o[1]]
    if inside:
        return min(inside, key=lambda o: o[1] - o[0])[2]
    below = [o for o in owned if o[0] >= start]
    return min(below)[2] if below and start > 1 else "(the whole module)"


def comment_blocks(path: Path) -> Iterator[tuple[int, str]]:
    """Yield comments, those of lines that follow each other as one text."""
    block: list[str] = []
    first = last = 0
    with path.open("rb") as source:
        for token in tokenize.tokenize(source.readline):
            if token.type == tokenize.COMMENT:
                if block and token.start[0] == last + 1:
                    block.append(token.string.lstrip("# "))
                else:
                    if block:
                        yield first, "\n".join(block)
                    block, first = [token.string.lstrip("# ")], token.start[0]
                last = token.start[0]
    if block:
        yield first, "\n".join(block)


def in_toml(path: Path, name: str) -> Iterator[Unsourced]:
    """Comments of a data file, each belonging to the table that follows it, or in which it stands at a line's end."""
    lines = path.read_text(encoding="utf-8").splitlines()
    block: list[str] = []
    table, first = "(the whole file)", 0
    for number, line in enumerate([*lines, "[end]"], start=1):
        code, _, comment = line.partition("#")
        header = re.match(r"\s*\[+\s*(.+?)\s*\]+", code)
        if header:
            table = told_table(header[1])
        if not code.strip() and comment:
            first = first if block else number
            block.append(comment.strip())
            continue
        if code.strip():
            if block and MARK.search("\n".join(block)):
                yield Unsourced(name, table, first)
            block = []
        if code.strip() and comment and MARK.search(comment):
            yield Unsourced(name, table, number)


def told_table(header: str) -> str:
    """Return the table's name as far as it is told in the pages: `methods.dowels`, `runners`, `times`."""
    path = next(iter_paths(tomllib.loads(f"[{header}]")))
    return ".".join(path[:2]) if path[0] == "methods" else path[0]


def iter_paths(table: dict[str, object], before: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    for key, value in table.items():
        if isinstance(value, dict) and value:
            yield from iter_paths(value, (*before, key))
        else:
            yield (*before, key)
