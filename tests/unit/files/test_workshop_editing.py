"""Editing a workshop file: only what differs from the packaged one is written, and everything can be put back."""

from __future__ import annotations

import contextlib
import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from storyrod.adapters.files import packaged_workshop, workshop_from_text
from storyrod.adapters.files.workshop_editing import (
    GROUPS,
    START,
    Group,
    Sort,
    group_of,
    is_written,
    items_of,
    left_out,
    placed,
    put_back,
    remove_item,
    set_item,
)
from storyrod.adapters.files.workshop_words import Asked, value_of, words_of
from storyrod.faults import Fault, JobError
from tests.places import EXAMPLES

CHOIR = (EXAMPLES / "choir-workshop.toml").read_text(encoding="utf-8")


def group(key: str) -> Group:
    found = group_of(key)
    assert found is not None
    return found


def test_the_text_to_begin_with_is_the_packaged_workshop() -> None:
    read = workshop_from_text(START, name="workshop.toml")

    assert read.cutters == packaged_workshop().cutters
    assert read.methods == packaged_workshop().methods
    assert read.name == "My workshop"


def test_one_figure_is_written_alone() -> None:
    text = set_item(START, group("saw"), "", {"kerf": 2.2, "trim": 10, "offcut_length": 300})

    assert tomllib.loads(text)["saw"] == {"kerf": 2.2}


def test_a_known_item_is_written_whole_and_its_neighbours_stay_packaged() -> None:
    text = set_item(START, group("times"), "drill a hole", {"usual": 0.25})
    items = {i.code: i for i in items_of(text, group("times"))}

    assert tomllib.loads(text)["times"] == {"drill a hole": {"low": 0.1, "usual": 0.25, "high": 0.35}}
    assert items["drill a hole"].own == {"usual"}
    assert items["trial joint"].own == frozenset()
    assert workshop_from_text(text, name="w").minutes("drill a hole") == 0.25


def test_an_owned_list_is_written_whole_at_its_first_change() -> None:
    text = set_item(START, group("cutters"), "drill 8", {"reach": 70})
    read = workshop_from_text(text, name="w")

    assert [c.code for c in read.cutters] == [c.code for c in packaged_workshop().cutters]
    assert next(c.reach for c in read.cutters if c.code == "drill 8") == 70


def test_an_item_taken_off_the_shelf_can_be_put_back() -> None:
    text = remove_item(START, group("cutters"), "drill 2")

    assert left_out(text, group("cutters")) == ("drill 2",)
    back = put_back(text, group("cutters"), "drill 2")
    assert left_out(back, group("cutters")) == ()


def test_bushes_are_told_by_their_number() -> None:
    text = set_item(START, group("bushes"), "3", {"diameter": 40})
    text = set_item(text, group("bushes"), "0", {"bore": 13.5})
    text = remove_item(text, group("bushes"), "1")

    bushes = [(b.diameter, b.bore) for b in workshop_from_text(text, name="w").bushes]
    assert bushes == [(17, 13.5), (30, 26), (40, None)]


@pytest.mark.parametrize("key", [g.key for g in GROUPS])
def test_every_group_can_be_put_back_whole(key: str) -> None:
    if key == "general":
        return
    assert tomllib.loads(put_back(CHOIR, group(key))).get(key) is None
    assert not is_written(put_back(CHOIR, group(key)), group(key))


def test_all_that_is_put_back_leaves_nothing_behind() -> None:
    text = set_item(START, group("saw"), "", {"kerf": 2.2})
    text = set_item(text, group("times"), "drill a hole", {"usual": 0.25})
    text = set_item(text, group("packers"), "", {"packers": [1, 2], "template_thickness": 12})
    text = put_back(text, group("saw"), field="kerf")
    text = put_back(text, group("times"), "drill a hole", "usual")
    text = put_back(text, group("packers"))

    assert text == START


def test_comments_stay_where_a_maker_wrote_them() -> None:
    text = set_item(CHOIR, group("handling"), "", {"bench_length": 1900})
    text = set_item(text, group("cutters"), "drill 9", {"kind": "drill", "diameter": 9, "reach": 70})

    comments = [line for line in CHOIR.split("\n") if line.startswith("#")]
    assert [line for line in text.split("\n") if line.startswith("#")] == comments


def test_in_a_file_in_inches_packaged_lengths_keep_their_unit() -> None:
    text = set_item('units = "in"\n', group("cutters"), "drill 8", {"reach": 3})
    read = {c.code: c for c in workshop_from_text(text, name="w").cutters}

    assert read["drill 8"].reach == pytest.approx(76.2)
    assert read["drill 8"].diameter == 8
    assert read["saw blade 250"].reach == 80


def test_what_is_not_there_can_not_be_taken_out() -> None:
    with pytest.raises(JobError, match="no such item"):
        remove_item(START, group("cutters"), "drill 99")


@pytest.mark.parametrize(
    ("field", "place"),
    [
        ('cutters."drill 2".reach', ("cutters", "drill 2", "reach")),
        ("bushes[1].bore", ("bushes", "1", "bore")),
        ("saw.kerf", ("saw", "", "kerf")),
        ("packers", ("packers", "", "packers")),
        ("template_thickness", ("packers", "", "template_thickness")),
        ("runners", ("runners", "", "")),
        ("", ("", "", "")),
    ],
)
def test_a_fault_is_told_at_its_field(field: str, place: tuple[str, str, str]) -> None:
    at = placed(Fault(code="range", field=field, found="", allowed="", do=""))

    assert (at.group, at.code, at.field) == place


def test_every_packaged_value_is_shown_and_read_back_the_same() -> None:
    for one in GROUPS:
        for item in items_of(START, one):
            for asked in one.fields:
                if asked.name in item.values and asked.kind is not Asked.FLAG:
                    written = item.values[asked.name]
                    shown = words_of(asked, written)
                    back = value_of(asked, shown)
                    same = words_of(asked, back) == shown if asked.kind is Asked.SHARE else back == written
                    assert same, (one.key, item.code, asked.name)


_WORDS = st.one_of(
    st.sampled_from(["", "12", "0,5", '23 5/8"', "1, 2, 3", "drill", "yes", "\u202e", "]", '"', "\\"]), st.text()
)


@settings(max_examples=60)
@given(data=st.data())
def test_whatever_is_typed_is_read_or_told_and_never_breaks_the_file(data: st.DataObject) -> None:
    one = data.draw(st.sampled_from([g for g in GROUPS if g.sort is not Sort.LISTED]))
    asked = data.draw(st.sampled_from(one.fields))
    code = "" if one.sort in {Sort.FIGURES, Sort.TOP} else "a new one"
    words = data.draw(_WORDS.filter(lambda w: "\x00" not in w and not any(0xD800 <= ord(c) < 0xE000 for c in w)))
    text = set_item(CHOIR, one, code, {asked.name: value_of(asked, words)})

    tomllib.loads(text)
    with contextlib.suppress(JobError):
        workshop_from_text(text, name="w")
