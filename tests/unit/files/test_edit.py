"""Fields change, and everything else of the maker's file stays as it was, comments and all."""

from __future__ import annotations

import copy
import difflib
import tomllib
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storyrod.adapters.files._values import Value
from storyrod.adapters.files.editing import Act, Change, edit_job
from storyrod.faults import JobError
from tests.places import EXAMPLES

ROOM = (EXAMPLES / "rehearsal-room.toml").read_text(encoding="utf-8")


def changed_lines(before: str, *changes: Change) -> list[str]:
    """Return the lines taken out and put in, marked - and +."""
    after = edit_job(before, changes)
    diff = difflib.unified_diff(before.splitlines(), after.splitlines(), lineterm="", n=0)
    return [line for line in diff if line[:3] not in {"---", "+++"} and line[:2] != "@@"]


def test_a_figure_changes_and_its_comment_stays() -> None:
    assert changed_lines(ROOM, Change(path="boards.birch18.measured", value=17.9)) == [
        "-measured = 17.7    # what the callipers say: every size follows from this",
        "+measured = 17.9    # what the callipers say: every size follows from this",
    ]


def test_a_row_of_a_list_changes_in_its_line() -> None:
    (old, new) = changed_lines(ROOM, Change(path="cases[0].inside.columns[0].rows[1].height", value="2 parts"))

    assert old == '-    { height = 150, holds = "drawer", parted = false, name = "programmes" },'
    assert new == '+    { height = "2 parts", holds = "drawer", parted = false, name = "programmes" },'


def test_a_row_is_taken_out() -> None:
    change = Change(path="cases[0].inside.columns[0].rows[1]", act=Act.DELETE)

    assert changed_lines(ROOM, change) == [
        '-    { height = 150, holds = "drawer", parted = false, name = "programmes" },'
    ]


def test_a_row_is_put_in() -> None:
    change = Change(path="cases[0].inside.columns[0].rows[0]", act=Act.INSERT, value={"height": 90, "holds": "drawer"})

    assert changed_lines(ROOM, change) == ['+    {height = 90, holds = "drawer"},']


def test_a_table_that_is_not_there_yet_is_made() -> None:
    changes = changed_lines(ROOM, Change(path="limits.skin", value=2.5))

    assert [c for c in changes if c != "+"] == ["+[limits]", "+skin = 2.5"]


def test_a_whole_column_and_a_whole_table_go() -> None:
    after = edit_job(
        ROOM,
        [
            Change(path="cases[0].inside.columns[1]", act=Act.DELETE),
            Change(path="cases[0].plinth", act=Act.DELETE),
        ],
    )

    case = tomllib.loads(after)["cases"][0]
    assert len(case["inside"]["columns"]) == 1
    assert "plinth" not in case
    assert "# Dowels hold everything" in after


@pytest.mark.parametrize(
    "change",
    [
        Change(path="cases[3].width", value=1),
        Change(path="cases[0].inside.columns[7]", act=Act.DELETE),
        Change(path="cases[0].inside.columns[7]", value={}),
        Change(path="cases[0].inside.columns[7]", act=Act.INSERT, value={}),
        Change(path="title", act=Act.INSERT, value=1),
        Change(path="titel", act=Act.DELETE),
        Change(path="title.short", value=1),
        Change(path="title[0]", value=1),
        Change(path="boards[0]", value=1),
        Change(path="", value=1),
    ],
    ids=lambda c: f"{c.act}-{c.path}",
)
def test_a_place_that_is_not_there_is_told(change: Change) -> None:
    with pytest.raises(JobError) as caught:
        edit_job(ROOM, [change])

    assert [f.field for f in caught.value.faults] == [change.path]


def test_a_text_that_is_no_toml_is_told() -> None:
    with pytest.raises(JobError) as caught:
        edit_job("a = = 1", [Change(path="a", value=1)])

    assert caught.value.faults[0].code == "file-toml"


@st.composite
def changes(draw: st.DrawFn) -> tuple[dict[str, Any], list[Change]]:
    """Draw changes of the folder cabinet that a page might make, and what the file must say after them."""
    wanted = tomllib.loads(ROOM)
    made: list[Change] = []
    for _ in range(draw(st.integers(1, 4))):
        columns = wanted["cases"][0].setdefault("inside", {}).setdefault("columns", [])
        column = draw(st.integers(0, len(columns)))
        value: Value = draw(_OPENINGS)
        act = draw(st.sampled_from(list(Act))) if column < len(columns) else Act.INSERT
        path = f"cases[0].inside.columns[{column}]"
        if act is Act.SET:
            name, field = draw(st.sampled_from([("width", draw(_SIZES)), ("rows", [value, {}]), ("name", "é\"'#")]))
            columns[column][name] = copy.deepcopy(field)
            made.append(Change(path=f"{path}.{name}", value=field))
        elif act is Act.DELETE:
            del columns[column]
            made.append(Change(path=path, act=act))
        else:
            columns.insert(column, copy.deepcopy(value))
            made.append(Change(path=path, act=act, value=value))
    return wanted, made


_SIZES: st.SearchStrategy[Value] = st.integers(100, 900) | st.just("2 parts")
_OPENINGS: st.SearchStrategy[Value] = st.fixed_dictionaries(
    {},
    optional={
        "width": _SIZES,
        "holds": st.sampled_from(["drawer", "open"]),
        "rows": st.just([{}, {"columns": [{}, {}]}]),
        "hand_hold": st.just({"kind": "slot", "length": 90}),
    },
)  # fmt: skip


@given(case=changes())
def test_after_any_changes_the_file_says_just_what_was_wanted(case: tuple[dict[str, Any], list[Change]]) -> None:
    wanted, made = case

    after = edit_job(ROOM, made)

    assert tomllib.loads(after) == wanted
    for comment in ("# The folder cabinet of a community choir", "# what the callipers say", "# room for the toes"):
        assert comment in after
