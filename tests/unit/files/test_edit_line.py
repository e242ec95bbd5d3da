"""Fields set in their own lines: quick, and never otherwise than the careful way."""

from __future__ import annotations

import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from storyrod.adapters.files._edit_line import set_in_lines
from storyrod.adapters.files._lines import path_of
from storyrod.adapters.files.editing import Change, edit_job

TEXT = """\
title = "A case" # its name
[[cases]]
code = 'A'
width = 600   # outside
plinth.height = 80
back = { kind = "applied", board = "thin" }
note = \"\"\"
width = 5
\"\"\"
[cases.inside]
rows = [
    { height = 140, holds = "drawer" },
    {},
]
"""


@pytest.mark.parametrize(
    ("path", "value", "line"),
    [
        ("cases[0].width", 612, "width = 612   # outside"),
        ("cases[0].width", '23 5/8"', 'width = "23 5/8\\""   # outside'),
        ("title", 'say "a"', 'title = "say \\"a\\"" # its name'),
        ("cases[0].code", "B", 'code = "B"'),
    ],
)
def test_a_plain_field_is_changed_in_its_line(path: str, value: str | int, line: str) -> None:
    edited = edit_job(TEXT, [Change(path=path, value=value)])

    assert line in edited.splitlines()
    assert len([1 for a, b in zip(edited.splitlines(), TEXT.splitlines(), strict=True) if a != b]) == 1


@pytest.mark.parametrize(
    "path", ["cases[0].plinth.height", "cases[0].back.kind", "cases[0].inside.rows[0].height", "cases[0].note"]
)
def test_what_does_not_stand_alone_is_left_to_the_careful_way(path: str) -> None:
    assert set_in_lines(TEXT, [(path_of(path), "12")]) is None
    at = tomllib.loads(edit_job(TEXT, [Change(path=path, value="12")]))
    here: object = at
    for key in path_of(path):
        here = here[key]  # type: ignore[index]
    assert here == "12"


@settings(max_examples=60)
@given(st.one_of(st.text(max_size=30), st.integers(-(10**6), 10**6), st.booleans(), st.floats(0, 1e6)))
def test_any_value_is_read_back(value: str | float) -> None:
    edited = edit_job(TEXT, [Change(path="cases[0].width", value=value)])

    assert tomllib.loads(edited)["cases"][0]["width"] == value
