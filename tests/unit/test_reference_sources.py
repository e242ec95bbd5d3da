"""One file a source: each reference file opens with its source and where in it the figures stand; a page lists them."""

from __future__ import annotations

import ast
import re
from functools import cache

import pytest

from tests.places import ROOT

FILES = sorted((ROOT / "tests" / "reference").glob("test_*.py"))
HEAD = re.compile(r"Source: (?P<source>\S.{8,}?)\.\n\nWhere: (?P<where>\S.{3,})", re.DOTALL)
PLACE = re.compile(r"no book|page not noted|memory|\b(tables?|chapter|part|p\.) ?\S*\d|\b(its|their|the) \w+|`")
"""A table, page or part of a source, named; or that it is in no book, or that the page was not noted."""


@cache
def heads() -> dict[str, tuple[str, str]]:
    """Return source and place of each file, on one line each."""
    found = {}
    for path in FILES:
        told = ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))) or ""
        match = HEAD.fullmatch(told)
        assert match is not None, f"{path.name} opens with no `Source: ….` and `Where: …`"
        found[path.name] = (" ".join(match["source"].split()), " ".join(match["where"].split()))
    return found


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.stem)
def test_a_file_opens_with_its_one_source(path: object) -> None:
    name = getattr(path, "name", "")
    source, where = heads()[name]

    assert "Source:" not in source + where
    assert not source.startswith("Source")
    assert PLACE.search(where), f"{name}: which table, page or row?"


def test_no_source_has_two_files() -> None:
    sources = [source for source, _ in heads().values()]

    assert len(set(sources)) == len(sources)


def test_the_page_of_sources_lists_them_all() -> None:
    page = (ROOT / "docs" / "sources.md").read_text(encoding="utf-8")
    rows = dict(re.findall(r"^\| (.+?) \| \[`(test_\w+)`\]", page, re.MULTILINE))

    assert {f"{file}.py": source for source, file in rows.items()} == {f: s for f, (s, _) in heads().items()}


def test_figures_that_once_had_no_check_have_one() -> None:
    """Lead holes, what an unmeasured board does to a width, and the noise of a day."""
    wanted = {"E6": "canadian_wood_council_screws", "F3": "en_315_plywood", "L1": "hse_noise_woodworking"}
    wanted |= {"F4": "en_315_plywood", "L2": "hse_noise_woodworking"}
    for row, stem in wanted.items():
        text = (ROOT / "tests" / "reference" / f"test_{stem}.py").read_text(encoding="utf-8")
        assert re.search(rf"def test_(\w+_)?{row.lower()}_", text), row
