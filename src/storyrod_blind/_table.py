"""Tables of a page: a head over a strong rule, a row between each two rules, a cell under the head it lines up with."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from storyrod_blind._page import Page, Rule, Run, joined, lines_of

_BROKEN = re.compile("(?<=\\d)– (?=\\d)")  # a range of numbers that goes on in the cell's next line
_SAME_EDGE = 1.2  # pt by which the two ends of rules of one table may differ
_LINES_UP = 2.6  # pt within which a cell lines up with its head
_HEAD_LINE = 14.0  # pt from one line of a head to the next at the most
_HEAD_OVER = 9.0  # pt from the rule up to the last line of its head
_TITLE_OVER = 30.0  # pt from the head's rule up to the table's title


@dataclass(frozen=True, slots=True)
class Row:
    """One row: the text under each head, and the bold heading that it stands below, if any."""

    heads: tuple[str, ...]
    cells: tuple[str, ...]
    group: str
    page: int

    def __getitem__(self, head: str) -> str:
        """Return the text under a head (the first of that name), or nothing where the table has none."""
        return next((c for h, c in zip(self.heads, self.cells, strict=True) if h == head), "")


@dataclass(frozen=True, slots=True)
class Table:
    """A table as it is read, on one page or over several."""

    title: str
    heads: tuple[str, ...]
    rows: tuple[Row, ...]
    page: int
    last_group: str = ""

    def has(self, *heads: str) -> bool:
        """Whether it has all these heads."""
        return all(h in self.heads for h in heads)


def tables_of(pages: Sequence[Page]) -> list[Table]:
    """Return the tables of pages in order; one that goes on overleaf, its head repeated, is one table."""
    found: list[Table] = []
    for page in pages:
        for table in _on_page(page):
            if not table.title and found and found[-1].heads == table.heads:
                group = found[-1].last_group
                rows = tuple(replace(r, group=r.group or group) for r in table.rows)
                found[-1] = replace(found[-1], rows=found[-1].rows + rows, last_group=table.last_group or group)
            else:
                found.append(table)
    return found


@dataclass(frozen=True, slots=True)
class _Column:
    head: str
    x0: float
    x1: float


def _on_page(page: Page) -> Iterator[Table]:
    heads = [r for r in page.rules if r.is_head]
    for rule in heads:
        columns, top = _columns(page, rule)
        if not columns:
            continue
        yield _table(page, rule, columns, top)


def _columns(page: Page, rule: Rule) -> tuple[list[_Column], float]:
    """Return the columns by the head above a rule, and how high the head reaches."""
    above = [r for r in page.runs if r.y > rule.y and rule.x0 - 1 <= r.x0 and r.x1 <= rule.x1 + 1 and not r.is_bold]
    lines = lines_of(above)[::-1]
    if not lines or lines[0][0].y - rule.y > _HEAD_OVER:
        return [], rule.y
    columns = [_Column(r.text, r.x0, r.x1) for r in lines[0]]
    top = lines[0][0].y
    for line in lines[1:]:
        if line[0].y - top > _HEAD_LINE or not all(_nearest(r, columns, strict=True) is not None for r in line):
            break
        for run in line:
            at = _nearest(run, columns, strict=True)
            assert at is not None  # noqa: S101  # it was found for every run just above
            old = columns[at]
            columns[at] = _Column(f"{run.text} {old.head}", min(run.x0, old.x0), max(run.x1, old.x1))
        top = line[0].y
    return columns, top


def _table(page: Page, rule: Rule, columns: Sequence[_Column], top: float) -> Table:
    mine = [r.y for r in page.rules if _same_edges(r, rule) and r.y < rule.y and not r.is_head]
    below_next = [r.y for r in page.rules if r.is_head and _same_edges(r, rule) and r.y < rule.y]
    floor = max(below_next, default=-1.0)
    bounds = [rule.y, *(y for y in mine if y > floor)]
    group = ""
    rows: list[Row] = []
    heads = tuple(c.head for c in columns)
    for high, low in pairwise(bounds):
        runs = [r for r in page.runs if low < r.y < high and rule.x0 - 1 <= r.x0 and r.x1 <= rule.x1 + 1]
        if runs and all(run.is_bold for run in runs):  # a heading across the table, in one line or more
            group = " ".join(run.text for line in lines_of(runs) for run in line)
        elif runs:
            rows.append(Row(heads, _cells(runs, columns), group, page.number))
    return Table(_title(page, rule, top), heads, tuple(rows), page.number, group)


def _cells(runs: Sequence[Run], columns: Sequence[_Column]) -> tuple[str, ...]:
    cells: list[list[str]] = [[] for _ in columns]
    for line in lines_of(runs):
        for run in line:
            cells[_nearest(run, columns, strict=False) or 0].append(run.text)
    return tuple(_BROKEN.sub("–", joined(c)) for c in cells)


def _nearest(run: Run, columns: Sequence[_Column], *, strict: bool) -> int | None:
    """Return the column that a run lines up with, by its left or its right end; else the one it lies over most."""
    ends = [(min(abs(run.x0 - c.x0), abs(run.x1 - c.x1)), n) for n, c in enumerate(columns)]
    off, at = min(ends)
    if off <= _LINES_UP:
        return at
    if strict:
        return None
    over = [(min(run.x1, c.x1) - max(run.x0, c.x0), n) for n, c in enumerate(columns)]
    return max(over)[1]


def _title(page: Page, rule: Rule, top: float) -> str:
    over = [r for r in page.runs if top + 1.0 < r.y <= top + _TITLE_OVER and r.is_bold]
    lines = lines_of([r for r in over if rule.x0 - 3.0 < r.x0 and r.x1 < rule.x1 + 3.0])
    begun = [line for line in lines if abs(line[0].x0 - rule.x0) < 3.0]
    return " ".join(r.text for line in begun for r in line)


def _same_edges(one: Rule, other: Rule) -> bool:
    return abs(one.x0 - other.x0) <= _SAME_EDGE and abs(one.x1 - other.x1) <= _SAME_EDGE
