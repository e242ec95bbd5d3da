"""A wish file is read strictly, and what can be seen to be wrong is told before anything is searched for."""

from __future__ import annotations

import tomllib

import pytest
from jsonschema import Draft202012Validator

from storyrod.adapters.files._schema import wish_schema
from storyrod.adapters.files.wishing import catalogue, read_wish
from storyrod.faults import Fault, JobError
from storyrod.model.wish import Way
from tests.places import EXAMPLES
from tests.unit.wish import wishes


def faults(things: str, place: str = "width = 500\nheight = 900\ndepth = 400", more: str = "") -> list[Fault]:
    try:
        file = wishes.read(things, place, more)
    except JobError as error:
        return list(error.faults)
    with pytest.raises(JobError) as caught:
        wishes.proposing(file)
    return list(file.located(caught.value).faults)


def test_the_example_goes_through_its_schema_and_is_read() -> None:
    path = EXAMPLES / "wishes" / "choir-cupboard.toml"

    assert not list(Draft202012Validator(wish_schema()).iter_errors(tomllib.loads(path.read_text(encoding="utf-8"))))
    assert [(g.name, g.count) for g in read_wish(path).goods] == [
        ("choir folders", 30),
        ("hymn books", 50),
        ("reams of A4 paper", 6),
    ]


def test_every_thing_of_the_catalogue_has_a_source_and_may_be_put_somewhere() -> None:
    things = catalogue()

    assert len(things) > 45
    assert all(t.source and t.kg > 0 for t in things.values())
    assert {t.way for t in things.values()} == set(Way)
    assert len({t.name for t in things.values()}) == len(things)


def test_sizes_of_the_wish_stand_before_those_of_the_catalogue() -> None:
    (goods,) = wishes.read('[[things]]\nthing = "folder"\ncount = 3\nwidth = 55').goods

    assert (goods.width, goods.height, goods.depth, goods.kg) == (55, 318, 288, 2.6)


def test_a_thing_that_is_not_known_gets_the_nearest_name() -> None:
    (fault,) = faults('[[things]]\nthing = "hymbook"\ncount = 3')

    assert (fault.code, fault.field) == ("wish-thing", "things[0].thing")
    assert fault.do == 'Did you mean "hymn-book"?'


def test_a_thing_of_ones_own_needs_its_sizes() -> None:
    told = faults('[[things]]\nname = "drums"\ncount = 3\nwidth = 400')

    assert [f.field for f in told] == ["things[0].height", "things[0].depth"]


def test_nothing_to_put_in() -> None:
    (fault,) = faults("")

    assert (fault.code, fault.field) == ("wish-empty", "things")


def test_a_thing_larger_than_the_place() -> None:
    (fault,) = faults('[[things]]\nname = "a harp"\nwidth = 300\nheight = 1800\ndepth = 300\ncount = 1')

    assert (fault.code, fault.field, fault.line) == ("wish-too-large", "things[0].height", 11)
    # 900 less a plinth of 80, two boards of 18 and 20 for the hand.
    assert "up to 764 mm" in fault.allowed


def test_a_thing_too_wide_for_one_way_may_be_turned_in_a_drawer() -> None:
    long = '[[things]]\nname = "rods"\nwidth = 30\nheight = 30\ndepth = 420\ncount = 1\nreach = "drawer"'

    assert wishes.proposing(wishes.read(long)) is not None
    assert [f.code for f in faults(long.replace('"drawer"', '"open"'))] == ["wish-too-large"]


def test_a_place_smaller_than_a_board() -> None:
    told = faults(wishes.SHELVES, "width = 15\nheight = 900\ndepth = 400")

    assert ("wish-place", "place.width") in {(f.code, f.field) for f in told}
    assert "at least 80 mm" in told[0].allowed


def test_ten_thousand_folders() -> None:
    (fault,) = faults(wishes.SHELVES.replace("count = 8", "count = 10_000"))

    assert (fault.code, fault.field) == ("wish-too-many", "things[0].count")
    # 464 x 784 x 394 clear, 80 x 318 x 288 each: 19 by volume alone.
    assert fault.found == "10,000 folders"
    assert fault.allowed.startswith("fewer than 20:")


@pytest.mark.parametrize(
    ("look", "field"),
    [
        ("lines = true\ncolumns = 1", "look.lines"),
        ('drawers = "deeper"', "look.drawers"),
    ],
)
def test_looks_that_contradict_themselves_or_the_things(look: str, field: str) -> None:
    told = faults(wishes.SHELVES, more=f"[look]\n{look}")

    assert ("wish-look", field) in {(f.code, f.field) for f in told}


def test_what_does_not_hang_is_not_hung_and_what_hangs_not_put_in_a_drawer() -> None:
    folders = faults(wishes.SHELVES + 'reach = "hanging"')
    coats = faults('[[things]]\nthing = "jacket"\ncount = 3\nreach = "drawer"', "width=900\nheight=1800\ndepth=620")

    assert [f.code for f in folders] == ["wish-reach"]
    assert "wish-reach" in [f.code for f in coats]


def test_drawers_where_no_runner_is_short_enough() -> None:
    told = faults(wishes.MIXED, "width = 500\nheight = 900\ndepth = 250")

    assert "wish-runner" in [f.code for f in told]


def test_faults_of_boards_have_their_own_lines() -> None:
    with pytest.raises(JobError) as caught:
        wishes.read(wishes.SHELVES, head='board = "oak"')

    assert [(f.code, f.field) for f in caught.value.faults] == [("missing-board", "board")]
