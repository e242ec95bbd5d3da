"""Changes of shape: what a button on the elevation does to the file."""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from storyrod.adapters.files import reshaping, reshaping_stock
from storyrod.adapters.files.editing import Act, Change, edit_job
from storyrod.faults import JobError
from storyrod.measure.length import Unit

TEXT = """\
# A comment that stays.
units = "mm"
[boards.birch18]
kind = "plywood"
thickness = 18
[[cases]]
code = "A"
board = "birch18"
width = 600
height = 720
depth = 400

[cases.inside]
rows = [
    { height = 140, holds = "drawer", parted = false }, # pencils
    { columns = [{ width = "2 parts", loose_shelves = 2 }, { holds = "door" }] },
]
"""
INSIDE = "cases[0].inside"


def after(text: str, changes: list[Change]) -> dict[str, Any]:
    return tomllib.loads(edit_job(text, changes))


def raw(text: str = TEXT) -> dict[str, Any]:
    return tomllib.loads(text)


def inside(text: str, changes: list[Change]) -> dict[str, Any]:
    told: dict[str, Any] = after(text, changes)["cases"][0]["inside"]
    return told


def test_a_drawer_cut_into_rows_becomes_drawers_without_shelves_between() -> None:
    made = inside(TEXT, reshaping.cut(raw(), f"{INSIDE}.rows[0]", "rows", 3))["rows"][0]

    assert made["rows"] == [
        {"holds": "drawer", "parted": False},
        {"holds": "drawer", "parted": False},
        {"holds": "drawer"},
    ]
    assert made["height"] == 140
    assert "holds" not in made


def test_a_door_stays_before_what_it_is_cut_into() -> None:
    made = inside(TEXT, reshaping.cut(raw(), f"{INSIDE}.rows[1].columns[1]", "rows", 2))

    assert made["rows"][1]["columns"][1] == {"holds": "door", "rows": [{}, {}]}


def test_a_case_without_an_inside_can_be_cut() -> None:
    text = TEXT.split("[cases.inside]", maxsplit=1)[0]

    assert inside(text, reshaping.cut(raw(text), INSIDE, "columns", 2)) == {"columns": [{}, {}]}


@pytest.mark.parametrize(("into", "many"), [("heaps", 2), ("rows", 1), ("rows", 31), ("rows", -2)])
def test_what_can_not_be_cut_is_told(into: str, many: int) -> None:
    with pytest.raises(JobError):
        reshaping.cut(raw(), f"{INSIDE}.rows[0]", into, many)
    with pytest.raises(JobError, match="cut already"):
        reshaping.cut(raw(), INSIDE, "rows", 2)


def test_made_whole_it_is_as_before_it_was_cut() -> None:
    cut = edit_job(TEXT, reshaping.cut(raw(), f"{INSIDE}.rows[1].columns[1]", "rows", 2))

    assert after(cut, reshaping.make_whole(raw(cut), f"{INSIDE}.rows[1].columns[1]")) == raw()


def test_one_more_holds_the_same() -> None:
    made = inside(TEXT, reshaping.add_beside(raw(), f"{INSIDE}.rows[0]", after=True))

    assert made["rows"][1] == {"holds": "drawer", "parted": False}
    assert len(made["rows"]) == 3


def test_the_last_but_one_gone_the_opening_around_is_what_is_left() -> None:
    made = inside(TEXT, reshaping.remove(raw(), f"{INSIDE}.rows[1].columns[1]"))
    assert made["rows"][1] == {"loose_shelves": 2}

    whole = inside(TEXT, reshaping.remove(raw(), f"{INSIDE}.rows[0]"))
    assert whole == {"columns": raw()["cases"][0]["inside"]["rows"][1]["columns"]}


def test_partings_stay_where_they_are_when_openings_change_places() -> None:
    made = inside(TEXT, reshaping.move(raw(), f"{INSIDE}.rows[0]", 1))

    assert made["rows"][1]["holds"] == "drawer"
    assert made["rows"][0]["parted"] is False
    assert "parted" not in made["rows"][1]
    with pytest.raises(JobError, match="at the end"):
        reshaping.move(raw(), f"{INSIDE}.rows[0]", -1)


SIZES = st.lists(st.one_of(st.none(), st.integers(1, 5)), min_size=2, max_size=6)


@settings(max_examples=100)
@given(SIZES, st.data())
def test_a_border_comes_to_lie_where_it_was_dragged(kinds: list[int | None], data: st.DataObject) -> None:
    """Openings of given sizes and such that share the rest: only the two at the border change, wherever it goes."""
    total = 100.0 * len(kinds)
    given_mm = [60.0 if k is None else None for k in kinds]
    if None not in given_mm:
        given_mm[-1] = None
    parts = sum(k or 1 for k, g in zip(kinds, given_mm, strict=True) if g is None)
    rest = total - sum(g for g in given_mm if g is not None)
    sizes = [g if g is not None else rest * (k or 1) / parts for k, g in zip(kinds, given_mm, strict=True)]
    rows = [
        {} if g is None and not k else {"height": f"{k} parts"} if g is None else {"height": g}
        for k, g in zip(kinds, given_mm, strict=True)
    ]
    told = {"cases": [{"inside": {"rows": rows}}]}
    at = data.draw(st.integers(0, len(sizes) - 2))
    both = sizes[at] + sizes[at + 1]
    to = data.draw(st.floats(10, both - 10)) if both > 20 else None
    if to is None:
        return
    for change in reshaping.part_at(told, f"{INSIDE}.rows[{at}]", sizes, to, Unit.MM):
        row = int(change.path.split("rows[")[1].split("]")[0])
        rows[row]["height"] = change.value  # type: ignore[assignment]

    shares = [float(str(r.get("height", "1 parts")).split()[0]) for r in rows if isinstance(r.get("height", ""), str)]
    left = total - sum(float(r["height"]) for r in rows if not isinstance(r.get("height", ""), str))
    now = [
        float(r["height"])
        if not isinstance(r.get("height", ""), str)
        else left * float(str(r.get("height") or "1 parts").split()[0]) / sum(shares)
        for r in rows
    ]
    wanted = [*sizes[:at], to, both - to, *sizes[at + 2 :]]
    assert now == pytest.approx(wanted, abs=1e-3)


def test_a_border_leaves_both_some_room() -> None:
    with pytest.raises(JobError, match="10 to 270"):
        reshaping.part_at(raw(), f"{INSIDE}.rows[0]", (140, 140), 275, Unit.MM)
    with pytest.raises(JobError):
        reshaping.part_at(raw(), f"{INSIDE}.rows[1]", (140, 140), 100, Unit.MM)


@pytest.mark.parametrize(
    ("to", "written"),
    [
        (25.4 * 23.625, '23 5/8"'),
        (25.4 * 23.625 + 0.004, '23 5/8"'),  # but for a hair
        (390.0, "390 mm"),  # no fraction: nothing is lost to the last digit of an inch
    ],
)
def test_sizes_of_an_inch_job_are_written_as_fractions_where_they_are_some(to: float, written: str) -> None:
    (change,) = reshaping.resize("cases[0].width", to, Unit.INCH)

    assert change.value == written


def test_cases_are_added_copied_and_removed() -> None:
    two = edit_job(TEXT, reshaping.add_case(raw(), 0))
    three = edit_job(two, reshaping.add_case(raw(two), None))
    cases = raw(three)["cases"]

    assert [c["code"] for c in cases] == ["A", "B", "C"]
    assert cases[1] == cases[0] | {"code": "B"}
    assert cases[2]["board"] == "birch18"
    assert three.startswith("# A comment that stays.")
    assert raw(edit_job(three, reshaping.remove_case(raw(three), 1)))["cases"] == [cases[0], cases[2]]
    with pytest.raises(JobError, match="the only case"):
        reshaping.remove_case(raw(), 0)


def test_a_board_gets_a_code_of_its_own() -> None:
    made = after(TEXT, reshaping_stock.add_board(raw(), "Birch 12!", "plywood", 12))

    assert made["boards"]["birch-12"] == {"kind": "plywood", "thickness": 12}
    for code in ("", "birch18", "!!"):
        with pytest.raises(JobError):
            reshaping_stock.add_board(raw(), code, "plywood", 12)


@pytest.mark.parametrize("path", ["", "cases", "cases[7].inside", "title", "cases[0].inside.rows[9]", "x[", "rows[0]"])
def test_an_opening_that_is_not_there_is_told(path: str) -> None:
    acts: tuple[Callable[[], object], ...] = (
        lambda: reshaping.move(raw(), path, 1),
        lambda: reshaping.remove(raw(), path),
        lambda: reshaping.make_whole(raw(), path),
        lambda: reshaping.part_at(raw(), path, (1, 2), 50, Unit.MM),
    )
    for act in acts:
        with pytest.raises(JobError):
            act()


def test_an_edging_and_sheets_are_added() -> None:
    made = edit_job(TEXT, reshaping_stock.add_edging(raw(), "Birch tape", 0.6))
    made = edit_job(made, reshaping_stock.add_sheet(raw(made), "birch18"))
    again = edit_job(made, reshaping_stock.add_sheet(raw(made), "birch18"))

    assert raw(made)["edgings"] == {"birch-tape": {"thickness": 0.6}}
    assert raw(made)["boards"]["birch18"]["sheets"] == [{"length": 2440, "width": 1220}]
    assert len(raw(again)["boards"]["birch18"]["sheets"]) == 2
    with pytest.raises(JobError):
        reshaping_stock.add_sheet(raw(made), "nowhere")


def test_more_sheets_than_anybody_buys_are_refused() -> None:
    text = TEXT
    for _ in range(reshaping_stock.MOST_SIZES):
        text = edit_job(text, reshaping_stock.add_sheet(raw(text), "birch18"))
    with pytest.raises(JobError, match="20 sizes"):
        reshaping_stock.add_sheet(raw(text), "birch18")


@pytest.mark.parametrize(
    "written",
    [
        "sheets = [{ length = 2440, width = 1220 }, { length = 1220, width = 610, price = 9 }]\n",
        (
            "[[boards.birch18.sheets]]\nlength = 2440\nwidth = 1220\n"
            "[[boards.birch18.sheets]]\nlength = 1220\nwidth = 610\nprice = 9\n"
        ),
    ],
)
def test_sizes_of_a_board_go_one_by_one(written: str) -> None:
    text = TEXT.replace("thickness = 18\n", f"thickness = 18\n{written}", 1)
    one = edit_job(text, reshaping_stock.remove_sheet(raw(text), "boards.birch18.sheets[0]"))
    none = edit_job(one, reshaping_stock.remove_sheet(raw(one), "boards.birch18.sheets[0]"))

    assert raw(one)["boards"]["birch18"]["sheets"] == [{"length": 1220, "width": 610, "price": 9}]
    assert "sheets" not in raw(none)["boards"]["birch18"]
    for path in ("boards.birch18.sheets[2]", "boards.birch18.sheets[x]", "boards.birch18.sheets", "cases[0]", ""):
        with pytest.raises(JobError):
            reshaping_stock.remove_sheet(raw(text), path)


def test_a_board_is_removed_where_nothing_is_made_of_it() -> None:
    two = edit_job(TEXT, reshaping_stock.add_board(raw(), "oak6", "plywood", 6))
    gone = edit_job(two, reshaping_stock.remove_board(raw(two), "oak6"))

    assert raw(gone) == raw()
    with pytest.raises(JobError, match="the only board"):
        reshaping_stock.remove_board(raw(), "birch18")
    with pytest.raises(JobError):
        reshaping_stock.remove_board(raw(two), "nowhere")


@pytest.mark.parametrize(
    ("path", "value", "told"),
    [
        ("cases[0].board", "oak6", "case A"),
        ("cases[0].back", {"kind": "applied", "board": "oak6"}, "case A (back)"),
        ("cases[0].inside", {"columns": [{}, {"rows": [{}, {}], "board": "oak6"}]}, "case A (inside)"),
        ("cases[0].drawers", {"bottom_board": "oak6"}, "case A (drawer bottoms)"),
        ("cases[0].loose_shelves", {"board": "oak6"}, "case A (loose shelves)"),
    ],
)
def test_a_board_that_is_used_is_refused_with_its_users(path: str, value: Any, told: str) -> None:
    text = edit_job(TEXT, reshaping_stock.add_board(raw(), "oak6", "plywood", 6))
    text = edit_job(text, [Change(path=path, value=value)])

    with pytest.raises(JobError) as refused:
        reshaping_stock.remove_board(raw(text), "oak6")
    assert refused.value.faults[0].field == "boards.oak6"
    assert told in refused.value.faults[0].found


def test_an_edging_is_removed_where_no_board_names_it() -> None:
    text = edit_job(TEXT, reshaping_stock.add_edging(raw(), "tape", 1))
    text = edit_job(text, [Change(path="boards.birch18.edging", value="tape")])
    with pytest.raises(JobError, match="board birch18"):
        reshaping_stock.remove_edging(raw(text), "tape")
    text = edit_job(text, [Change(path="boards.birch18.edging", act=Act.DELETE)])

    assert raw(edit_job(text, reshaping_stock.remove_edging(raw(text), "tape"))) == raw()


@pytest.mark.parametrize(
    ("rows", "changes"),
    [
        ("{ shelf_at = 500 }, {}", {"rows[0].shelf_at": 550}),
        ('{ shelf_at = "50 cm", height = 180 }, {}', {"rows[0].shelf_at": 550, "rows[0].height": 130}),
        ("{ shelf_at = 500 }, { height = 300 }", {"rows[0].shelf_at": 550, "rows[1].height": 350}),
    ],
)
def test_a_shelf_whose_height_is_written_is_dragged_by_that(rows: str, changes: dict[str, object]) -> None:
    """The row over it was 180 and becomes 130: the shelf goes 50 up."""
    told = tomllib.loads(f"[[cases]]\n[cases.inside]\nrows = [{rows}]\n")
    made = reshaping.part_at(told, f"{INSIDE}.rows[0]", (180, 300), 130, Unit.MM)

    assert {c.path.removeprefix(f"{INSIDE}."): c.value for c in made} == changes
