"""A new job begins with the boards of the last: kind, thickness, what the callipers said, sheets and price."""

from __future__ import annotations

import re
from typing import Any

from storyrod.adapters.files.editing import parsed
from storyrod.adapters.web._layout_pictures import layout_pictures
from storyrod.adapters.web._new_job import LAYOUTS
from tests.unit.web.conftest import Asked

LAST = """
title = "the last"
{units}
[boards.oak]
kind = "mdf"
thickness = {thick}
measured = {measured}
sheets = [{{ length = {length}, width = {width}, price = 41.5, copies = 2 }}]
[boards.thin]
kind = "plywood"
thickness = {thin}
measured = {thin_measured}
sheets = [{{ length = {length}, width = {width}, price = 22 }}]
[[cases]]
code = "A"
board = "oak"
width = {wide}
height = {wide}
depth = {wide}
"""
MM = {"thick": 16, "measured": 15.8, "length": 2440, "width": 1220, "thin": 6, "thin_measured": 5.6, "wide": 400}


def last(asked: Asked, units: str = "", **figures: object) -> None:
    asked.settings.jobs.mkdir(parents=True, exist_ok=True)
    asked.job_file("last").write_text(LAST.format(units=units, **(MM | figures)), encoding="utf-8")


def answers(asked: Asked, query: str = "") -> dict[str, str]:
    page = asked.client.get(f"/new{query}").text
    found = dict(re.findall(r'<input type="text"[^>]* name="(\w+)" value="([^"]*)"', page))
    kind = re.search(r"<option selected>([^<]+)</option>", page)
    return found | {"kind": kind[1] if kind else ""}


def made(asked: Asked, **sent: str) -> dict[str, Any]:
    told = {"width": "600", "height": "720", "depth": "400", "back": "applied", "holds": "open", **sent}
    answer = asked.client.post("/new", data=told, follow_redirects=False)
    assert answer.status_code == 303, answer.text
    name = answer.headers["location"].split("/")[2]
    boards: dict[str, Any] = parsed(asked.job_file(name).read_text(encoding="utf-8"))["boards"]
    return boards


def test_the_questions_begin_with_the_last_jobs_board(asked: Asked) -> None:
    assert answers(asked)["thickness"] == "18"
    last(asked)
    told = answers(asked)

    assert {k: told[k] for k in ("kind", "thickness", "measured", "price")} == {
        "kind": "mdf",
        "thickness": "16",
        "measured": "15.8",
        "price": "41.5",
    }
    assert answers(asked, "?units=in")["thickness"] == "3/4", "a length of another unit is not taken for one of this"


def test_boards_alike_come_with_sheets_and_measured_thickness(asked: Asked) -> None:
    last(asked)
    boards = made(asked, kind="mdf", thickness="16", measured="15.8", price="41.5")

    assert boards["board"]["measured"] == 15.8
    assert boards["board"]["sheets"] == [{"length": "2440 mm", "width": "1220 mm", "price": 41.5}]
    (thin,) = [b for c, b in boards.items() if c != "board"]
    assert thin["measured"] == 5.6
    assert thin["sheets"] == [{"length": 2440, "width": 1220, "price": 22}]


def test_another_price_or_board_is_what_was_answered(asked: Asked) -> None:
    last(asked)
    boards = made(asked, kind="mdf", thickness="16", price="50")
    assert boards["board"]["sheets"] == [{"length": "2440 mm", "width": "1220 mm", "price": 50}]

    last(asked)
    boards = made(asked, kind="plywood", thickness="16")
    assert "sheets" not in boards["board"]


def test_lengths_keep_their_unit_in_a_job_of_the_other(asked: Asked) -> None:
    """Sheets of 96 by 48 in, boards of 1/4 in (6.35 mm): the new job in mm has the sheets in inches, as they are."""
    last(asked, 'units = "in"', thick=0.75, measured=0.7, length=96, width=48, thin=0.25, thin_measured=0.22, wide=16)
    boards = made(asked, kind="mdf", thickness="19.05", units="mm", price="")

    assert boards["board"]["sheets"] == [{"length": "96 in", "width": "48 in", "price": 41.5}]


def test_every_layout_has_a_picture_of_its_own(asked: Asked) -> None:
    pictures = layout_pictures()
    assert set(pictures) == {x.key for x in LAYOUTS}
    assert len(set(pictures.values())) == len(LAYOUTS)
    page = asked.client.get("/new").text
    for picture in pictures.values():
        assert picture in page
    assert pictures["drawers"].count('class="front"') == 2
    assert pictures["three"].count('class="front"') == 3
    assert pictures["doors"].count('class="loose"') == 2
