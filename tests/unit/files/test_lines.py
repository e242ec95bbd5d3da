"""The line of every field, whatever way of writing TOML the maker prefers."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator

from hypothesis import given, settings
from hypothesis import strategies as st

from storyrod.adapters.files._lines import Path, find_lines, line_of, path_of, path_text
from storyrod.adapters.files.editing import job_to_toml
from storyrod.model.job import Job
from tests.strategies import jobs

MIXED = '''\
# a comment with [brackets] and "quotes"
title = "a # in text" # and a comment
note = """
two lines
= not a field
"""
single = \'\'\'x'y
z\'\'\'
a.b."c d".e = 1
list = [
    1, # one
    { x = 1, y = [2,
        3] },
]

[boards."birch 18"]
kind = 'plywood'
[[cases]]
code = "A"
[cases.inside]
[[cases.inside.rows]]
height = 1
[[cases.inside.rows]]
  [[cases.inside.rows.columns]]
  width = "1 part"
[[cases]]
code = "B"
inside = { rows = [{}, { height = 3 }] }
escaped = "a \\" quote and \\\\"
after = 1979-05-27T07:32:00Z
'''


def test_every_way_of_writing_is_followed() -> None:
    lines = find_lines(MIXED)

    wanted = {
        "title": 2,
        "note": 3,
        "single": 7,
        'a.b."c d".e': 9,
        "list[0]": 11,
        "list[1].x": 12,
        "list[1].y[1]": 13,
        'boards."birch 18".kind': 17,
        "cases[0].code": 19,
        "cases[0].inside.rows[0].height": 22,
        "cases[0].inside.rows[1].columns[0].width": 25,
        "cases[1].code": 27,
        "cases[1].inside.rows[1].height": 28,
        "cases[1].escaped": 29,
        "cases[1].after": 30,
    }
    assert {field: lines[path_of(field)] for field in wanted} == wanted


def test_a_field_that_is_not_written_is_found_at_the_table_around_it() -> None:
    lines = find_lines(MIXED)

    assert line_of(lines, path_of("cases[0].inside.rows[1].columns[0].height")) == 24
    assert line_of(lines, path_of("cases[1].plinth.height")) == 26
    assert line_of(lines, path_of("limits.skin")) is None


def test_a_path_is_read_as_it_is_written() -> None:
    path: Path = ("methods", "one-part keyhole connector", "sizes", 2, "receiving", 0, "depth")

    assert path_text(path) == 'methods."one-part keyhole connector".sizes[2].receiving[0].depth'
    assert path_of(path_text(path)) == path
    assert path_of("methods.one-part keyhole connector.rules") == ("methods", "one-part keyhole connector", "rules")


def _paths(value: object, path: Path = ()) -> Iterator[Path]:
    """Every field of a parsed text; a list of tables has no line of its own where each is written as `[[…]]`."""
    if isinstance(value, dict):
        for key, inner in value.items():
            yield (*path, key)
            yield from _paths(inner, (*path, key))
    elif isinstance(value, list):
        for index, inner in enumerate(value):
            yield (*path, index)
            yield from _paths(inner, (*path, index))


@settings(max_examples=25)
@given(job=jobs())
def test_every_field_of_a_written_job_has_its_line(job: Job) -> None:
    text = job_to_toml(job)
    lines, rows = find_lines(text), text.split("\n")

    for path in _paths(tomllib.loads(text)):
        if path in {("boards",), ("edgings",), ("cases",), ("joints",)}:
            continue
        key = path[-1]
        assert path in lines, path
        if isinstance(key, str):
            assert key in rows[lines[path] - 1]


@given(keys=st.lists(st.one_of(st.text(max_size=8), st.integers(0, 99)), min_size=1, max_size=4))
def test_any_key_is_found_again_in_a_path(keys: list[str | int]) -> None:
    path = (str(keys[0]), *keys[1:])

    assert path_of(path_text(path)) == path


def test_a_key_with_quotes_is_found() -> None:
    lines = find_lines('[boards."3/4\\" birch"]\nkind = "plywood"\n')

    assert lines[("boards", '3/4" birch', "kind")] == 2
