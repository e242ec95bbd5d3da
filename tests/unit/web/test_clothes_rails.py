"""A clothes rail on the page: chosen for an opening, changed, taken away, and told in words where it is looked at."""

from __future__ import annotations

from storyrod.adapters.files.editing import Act, Change
from storyrod.adapters.web._acts import settled, tables_of
from storyrod.adapters.web._brief_chosen import chosen_of
from storyrod.adapters.web._brief_fields import Asking, Paper

AT = "cases[0].inside.rows[1]"


def paper(row: str) -> Paper:
    raw = tables_of(f'[[cases]]\ncode = "A"\nboard = "b"\n[cases.inside]\nrows = [{{}}, {row}]\n')
    return Paper(raw=raw, faults=(), rails=("rail 25", "rail 30"), rail="rail 25")


def asked(row: str) -> dict[str, Asking]:
    more = chosen_of(paper(row), 0, AT, None).more
    return {a.path.rpartition(".")[2]: a for a in more if ".clothes_rail." in a.path}


def test_an_opening_without_one_is_offered_its_kinds() -> None:
    fields = asked("{}")

    assert list(fields) == ["kind"]
    assert fields["kind"].options == (("", "none"), ("rail 25", "rail 25"), ("rail 30", "rail 30"))


def test_one_that_is_there_shows_its_figures() -> None:
    fields = asked("{ clothes_rail = { height = 900 } }")

    assert list(fields) == ["kind", "height", "from_front", "load_kg"]
    assert fields["height"].value == "900"
    assert fields["kind"].options == (("", "rail 25 (usual)"), ("rail 30", "rail 30"), ("none", "none"))
    assert asked('{ clothes_rail = "rail 30" }')["kind"].value == "rail 30"


def test_an_opening_with_a_drawer_or_loose_shelves_is_offered_none() -> None:
    assert asked('{ holds = "drawer" }') == asked("{ loose_shelves = 2 }") == {}


def test_the_kind_none_takes_the_rail_away() -> None:
    raw = paper("{ clothes_rail = { height = 900 } }").raw

    gone = settled(raw, [Change(path=f"{AT}.clothes_rail.kind", value="none")])
    assert gone == [Change(path=f"{AT}.clothes_rail", act=Act.DELETE)]
    assert settled(paper("{}").raw, [Change(path=f"{AT}.clothes_rail.kind", value="none")]) == []


def test_a_word_alone_becomes_a_table_before_its_height_is_set() -> None:
    raw = paper('{ clothes_rail = "rail 30" }').raw

    made = settled(raw, [Change(path=f"{AT}.clothes_rail.height", value=800)])
    assert made == [
        Change(path=f"{AT}.clothes_rail", value={"kind": "rail 30"}),
        Change(path=f"{AT}.clothes_rail.height", value=800),
    ]
