"""What may be asked about a field, and how what was typed is written."""

from __future__ import annotations

import pytest

from storyrod.adapters.files._tables import table_of
from storyrod.adapters.files.asking import Asked, about, as_shown, names_in, typed, understood, usual_words
from storyrod.faults import JobError
from storyrod.measure.length import Unit
from storyrod.model.job import Job


@pytest.mark.parametrize(
    ("path", "kind", "usual"),
    [
        ("title", Asked.TEXT, ""),
        ("units", Asked.CHOICE, "mm"),
        ("mark_to", Asked.LENGTH, "0.5 mm"),
        ("cases[3].plinth.setback", Asked.LENGTH, "40 mm"),
        ("cases[0].inside.rows[1].columns[0].holds", Asked.CHOICE, ""),
        ("cases[0].inside.rows[1].parted", Asked.FLAG, "yes"),
        ("cases[0].inside.rows[1].height", Asked.SIZE, ""),
        ("boards.birch18.kind", Asked.CHOICE, ""),
        ("note", Asked.LINES, ""),
        ("use.sag_limit", Asked.NUMBER, "240"),
    ],
)
def test_fields_are_known_by_their_path(path: str, kind: Asked, usual: str) -> None:
    told = about(path)

    assert told is not None
    assert told.kind is kind
    assert told.words
    assert usual_words(told, Unit.MM) == usual


@pytest.mark.parametrize("path", ["", "nowhere", "cases[0].inside", "cases[0].nothing", "boards", "[3]", 'a."b'])
def test_what_is_no_field_is_none(path: str) -> None:
    assert about(path) is None


def test_every_plain_field_at_the_top_can_be_asked() -> None:
    asked = {name for name in table_of(Job) if about(name) is not None}

    assert {"title", "customer", "currency", "paper", "units", "mark_to", "note"} <= asked


@pytest.mark.parametrize(
    ("path", "words", "value"),
    [
        ("title", " 2026 ", "2026"),
        ("cases[0].width", "600", 600),
        ("cases[0].width", "590.5", 590.5),
        ("cases[0].width", '23 5/8"', '23 5/8"'),
        ("cases[0].width", "590,5", "590,5"),
        ("cases[0].inside.rows[0].load_kg", "12,5", 12.5),
        ("cases[0].inside.rows[0].load_kg", "many", "many"),
        ("cases[0].inside.rows[0].parted", "false", False),
        ("fraction", "16", 16),
        ("boards.b.kind", "mdf", "mdf"),
        ("cases[0].width", "9" * 40, "9" * 40),
        ("cases[0].width", "-5", -5),
        ("cases[0].width", "1e9", "1e9"),
        ("cases[0].width", "٣", "٣"),
    ],
)
def test_what_is_typed_is_written_as_its_field_wants_it(path: str, words: str, value: object) -> None:
    assert typed(path, words) == value
    assert type(typed(path, words)) is type(value)


@pytest.mark.parametrize(
    ("path", "written", "asked"),
    [
        ("cases[0].back", {}, ("kind",)),
        ("cases[0].back", {"kind": "none"}, ("kind",)),
        ("cases[0].back", {"kind": "applied"}, ("kind", "board")),
        ("cases[0].back", {"kind": "rebated"}, ("kind", "board", "in_top", "in_base", "clearance")),
        ("cases[0].back", {"kind": "roted"}, ("kind", "board", "inset", "in_top", "in_base", "clearance")),
        (
            "cases[0].fronts",
            {},
            ("kind", "board", "gap", "reveal", "at_top", "at_bottom", "at_left", "at_right", "matching_grain"),
        ),
        (
            "cases[0].fronts",
            {"kind": "inset"},
            ("kind", "board", "gap", "at_top", "at_bottom", "at_left", "at_right", "back", "matching_grain"),
        ),
        ("cases[1].inside.rows[0].hand_hold", {"kind": "scoop"}, ("kind", "length", "height", "corner")),
        ("boards.ply", {}, ("name", "kind", "thickness", "measured", "grain", "edging")),
        ("nowhere", {}, ()),
    ],
)
def test_a_table_is_asked_for_the_fields_that_matter(
    path: str, written: dict[str, str], asked: tuple[str, ...]
) -> None:
    assert names_in(path, written) == asked


def test_fields_that_are_seldom_needed_are_asked_apart() -> None:
    assert names_in("boards.ply", {}, seldom=True)[0] == "spread"
    assert set(names_in("use", {}, seldom=True)).isdisjoint(names_in("use", {}))


def test_lengths_are_understood_aloud() -> None:
    assert understood("cases[0].width", '23 5/8"', Unit.MM) == "= 600.08 mm"
    assert understood("cases[0].width", "600", Unit.MM) == ""
    assert understood("cases[0].width", "60 cm", Unit.MM) == "= 600 mm"
    assert understood("cases[0].width", "600 mm", Unit.INCH) == '= 23.622" (600 mm)'
    assert understood("cases[0].inside.rows[0].height", "2 parts", Unit.MM) == ""
    assert understood("title", "600", Unit.MM) == ""
    with pytest.raises(JobError):
        understood("cases[0].width", "wide", Unit.MM)


def test_values_are_shown_as_they_were_typed() -> None:
    assert [as_shown(v) for v in (None, True, 600, 590.5, '23 5/8"', [1])] == [
        "",
        "true",
        "600",
        "590.5",
        '23 5/8"',
        "a list",
    ]
