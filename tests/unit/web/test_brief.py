"""The brief without a browser: what it draws and asks, what is posted, and what hostile callers get."""

from __future__ import annotations

import json
import re
import tomllib
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.unit.web.conftest import AS_SCRIPT, Asked

COLUMN = "cases[0].inside.columns"


def written(asked: Asked, job: str) -> dict[str, Any]:
    return tomllib.loads(asked.job_file(job).read_text(encoding="utf-8"))


def act(asked: Asked, job: str, **what: Any) -> Any:
    body = {"base": asked.version(job), "stage": "brief", "act": what, "view": {"at": what.get("at", "")}}
    return asked.client.post(f"/job/{job}/change", json=body, headers=AS_SCRIPT)


def figure(answer: Any) -> str:
    return str(answer.json()["swap"]["brief-figure"])


def test_the_elevation_and_every_field_are_there_without_a_script(asked: Asked) -> None:
    job = asked.take("rehearsal-room")
    told = asked.client.get(f"/job/{job}/brief?at={COLUMN}[1]").text

    assert told.count('class="opening') == 5
    assert f'name="{COLUMN}[1].loose_shelves"' in told
    assert 'name="boards.birch18.measured" value="17.7"' in told
    assert 'name="cases[0].plinth.height" value="80"' in told
    assert "Usual: 3 mm" in told or 'value="3"' in told
    assert "<noscript>" in told


def test_a_change_brings_the_drawing_with_it(asked: Asked) -> None:
    job = asked.take("rehearsal-room")
    told = asked.change(job, {"path": "cases[0].width", "value": '43 5/16"'})

    assert told.status_code == 200
    assert "1100.1" in figure(told)
    assert written(asked, job)["cases"][0]["width"] == '43 5/16"'
    assert "= 1100.14 mm" in told.json()["swap"]["group-size"]


def test_a_fault_is_told_at_the_field_and_marked_on_the_last_drawing(asked: Asked) -> None:
    job = asked.take("rehearsal-room")
    asked.client.get(f"/job/{job}/brief")
    told = asked.change(job, {"path": f"{COLUMN}[0].rows[1].height", "value": "700"})
    swap = told.json()["swap"]

    assert "from before the fault" in swap["brief-figure"]
    assert 'class="fault-mark"' in swap["brief-figure"]
    assert "1000" in swap["brief-figure"]
    assert "Case A, column 1, rows" in swap["faults"]
    assert 'class="notch crossed"' in swap["rod"]
    page = asked.client.get(f"/job/{job}/brief?at={COLUMN}[0].rows[1]").text
    field = page.split(f'name="{COLUMN}[0].rows[1].height"')[1]
    assert field.startswith(' value="700"')
    assert "Found rows of" in field.split("</div>")[0]


def test_a_fault_in_one_case_leaves_the_others_as_they_are(asked: Asked) -> None:
    job = asked.take("rehearsal-room")
    act(asked, job, do="copy-case", case=0)
    asked.change(job, {"path": "cases[0].inside.columns[0].rows[1].height", "value": "700"})
    asked.change(job, {"path": "cases[1].width", "value": "1250"})
    first, second = (asked.client.get(f"/job/{job}/brief?case={n}").text for n in (0, 1))

    assert "from before the fault" in first
    assert "from before the fault" not in second
    assert ">1250<" in second


def test_the_last_drawing_is_found_among_earlier_texts(asked: Asked) -> None:
    job = asked.take("rehearsal-room")
    asked.change(job, {"path": "cases[0].width", "value": "1200"})
    asked.change(job, {"path": "cases[0].depth", "value": "none"})
    asked.client.app.app.state.desk.drawn.clear()  # type: ignore[attr-defined]  # as after a new start
    told = asked.client.get(f"/job/{job}/brief").text

    assert "from before the fault" in told
    assert ">1200<" in told


def test_a_field_emptied_is_left_out(asked: Asked) -> None:
    job = asked.take("rehearsal-room")
    asked.change(job, {"path": f"{COLUMN}[0].rows[0].height", "value": ""})
    asked.change(job, {"path": "cases[0].plinth.height", "value": ""})
    told = asked.change(job, {"path": "cases[0].fits.width", "value": ""})
    case = written(asked, job)["cases"][0]

    assert told.status_code == 200
    assert "height" not in case["inside"]["columns"][0]["rows"][0]
    assert "plinth" not in case
    assert "fits" not in case


def test_a_word_that_stands_for_a_table_becomes_one(asked: Asked) -> None:
    job = asked.take("first-box")
    asked.change(job, {"path": "cases[0].back", "value": "none"})
    asked.change(job, {"path": "cases[0].back.inset", "value": "8"})

    assert written(asked, job)["cases"][0]["back"] == {"kind": "none", "inset": 8}


def test_texts_stay_texts_and_numbers_numbers(asked: Asked) -> None:
    job = asked.take("first-box")
    asked.change(job, {"path": "title", "value": "2026"}, {"path": "mark_to", "value": "0.25"})

    assert (written(asked, job)["title"], written(asked, job)["mark_to"]) == ("2026", 0.25)


def test_a_dragged_border_is_one_change(asked: Asked) -> None:
    job = asked.take("rehearsal-room")
    told = act(asked, job, do="part", at=f"{COLUMN}[0]", to=500)

    assert told.json()["back"] == 1
    assert written(asked, job)["cases"][0]["inside"]["columns"][0]["width"] == 500
    assert "500 ×" in figure(told)
    assert act(asked, job, do="resize", at="cases[0].height", to=900).status_code == 200
    assert written(asked, job)["cases"][0]["height"] == 900


def test_borders_are_told_where_they_are_drawn(asked: Asked) -> None:
    job = asked.take("rehearsal-room")
    told = asked.client.get(f"/job/{job}/brief/pieces", headers=AS_SCRIPT)
    match = re.search(r'data-partings="([^"]*)"', figure(told))
    assert match
    borders = json.loads(match[1].replace("&#34;", '"'))

    assert [b["at"] for b in borders] == [
        f"{COLUMN}[0]",
        *(f"{COLUMN}[0].rows[{n}]" for n in range(3)),
        "cases[0].width",
        "cases[0].height",
    ]
    divider = borders[0]
    assert divider["high"] - divider["low"] == pytest.approx(17.7)
    assert divider["before"] + divider["after"] + 3 * 17.7 == pytest.approx(1000)


@pytest.mark.parametrize(
    ("do", "at", "chosen"),
    [
        ("cut-rows", f"{COLUMN}[1]", f"{COLUMN}[1]"),
        ("add-after", f"{COLUMN}[0].rows[0]", f"{COLUMN}[0].rows[1]"),
        ("move-after", f"{COLUMN}[0]", f"{COLUMN}[1]"),
        ("move-before", f"{COLUMN}[1]", f"{COLUMN}[0]"),
        ("remove", f"{COLUMN}[0].rows[2]", f"{COLUMN}[0]"),
        ("whole", f"{COLUMN}[0]", f"{COLUMN}[0]"),
    ],
)
def test_after_an_act_what_was_moved_or_made_is_chosen(asked: Asked, do: str, at: str, chosen: str) -> None:
    job = asked.take("rehearsal-room")
    told = act(asked, job, do=do, at=at, many=2)

    assert told.status_code == 200
    assert told.json()["at"] == chosen
    assert f'data-at="{chosen}"' in told.json()["swap"]["brief-chosen"]


def test_boards_and_edgings_are_added(asked: Asked) -> None:
    job = asked.take("first-box")
    assert act(asked, job, do="add-board", code="birch12", kind="plywood", thickness='1/2"').status_code == 200
    assert act(asked, job, do="add-edging", code="oak", thickness="2").status_code == 200
    told = act(asked, job, do="add-sheet:birch12")

    assert written(asked, job)["boards"]["birch12"]["thickness"] == '1/2"'
    assert written(asked, job)["edgings"]["oak"] == {"thickness": 2}
    assert 'name="boards.birch12.sheets[0].price"' in told.json()["swap"]["group-boards"]
    assert told.json()["faults"] == []


def test_sheet_sizes_are_rows_of_their_own(asked: Asked) -> None:
    job = asked.take("first-box")
    code = next(iter(written(asked, job)["boards"]))
    before = len(written(asked, job)["boards"][code].get("sheets", []))
    act(asked, job, do=f"add-sheet:{code}")
    told = act(asked, job, do=f"add-sheet:{code}")
    last = f"boards.{code}.sheets[{before + 1}]"

    assert f'name="{last}.price"' in told.json()["swap"]["group-boards"]
    assert asked.change(job, {"path": f"{last}.price", "value": "12.50"}).status_code == 200
    act(asked, job, do=f"remove-sheet:boards.{code}.sheets[{before}]")
    assert written(asked, job)["boards"][code]["sheets"][before]["price"] == 12.5
    asked.client.post(f"/job/{job}/step", json={"by": -1}, headers=AS_SCRIPT)
    assert len(written(asked, job)["boards"][code]["sheets"]) == before + 2


def test_a_board_that_is_used_is_refused_at_its_field(asked: Asked) -> None:
    job = asked.take("rehearsal-room")
    before = asked.job_file(job).read_text(encoding="utf-8")
    told = act(asked, job, do="remove-board:birch18")

    assert told.status_code == 422
    assert told.json()["faults"][0]["field"] == "boards.birch18"
    assert "case A" in told.json()["faults"][0]["words"]
    page = asked.client.post(f"/job/{job}/brief", data={"do": "remove-board:birch18", "base": asked.version(job)})
    part = page.text.split('<fieldset class="part" id="part-boards-birch18"')[1].split("</fieldset>")[0]
    assert '<p class="wrong">Found a board that is used: case A' in part
    assert asked.job_file(job).read_text(encoding="utf-8") == before
    act(asked, job, do="add-board", code="spare")
    assert act(asked, job, do="remove-board:spare").status_code == 200
    assert "spare" not in written(asked, job)["boards"]


def test_the_other_page_is_told_what_was_done(asked: Asked) -> None:
    job = asked.take("rehearsal-room")
    base = asked.version(job)
    asked.change(
        job, {"path": "cases[0].width", "value": "1100"}, {"path": "customer", "value": "the <b>choir"}, base=base
    )
    told = asked.change(job, {"path": "cases[0].height", "value": "900"}, base=base)

    assert told.status_code == 409
    assert told.json()["did"] == ["Customer: the choir became the <b>choir", "Case A, width: 1000 became 1100"]


def test_forms_do_without_a_script(asked: Asked) -> None:
    job = asked.take("rehearsal-room")
    page = asked.client.get(f"/job/{job}/brief?at={COLUMN}[1]").text
    form = page.split('<section id="brief-chosen"')[1].split("</section>")[0]
    sent = dict(re.findall(r'<input type="(?:hidden|text|number)"[^>]* name="([^"]+)" value="([^"]*)"', form))
    sent |= {f"{COLUMN}[1].loose_shelves": "3", f"{COLUMN}[1].holds": "door", f"{COLUMN}[1].hinged": "right"}
    before = asked.job_file(job).read_text(encoding="utf-8")
    told = asked.client.post(f"/job/{job}/brief?at={COLUMN}[1]", data=sent, follow_redirects=False)

    assert told.status_code == 303
    after = asked.job_file(job).read_text(encoding="utf-8")
    assert [b for a, b in zip(before.splitlines(), after.splitlines(), strict=True) if a != b] == ["loose_shelves = 3"]
    again = asked.client.post(f"/job/{job}/brief?at={COLUMN}[1]", data=sent | {f"{COLUMN}[1].name": "psalms"})
    assert again.status_code == 409
    assert "psalms" in again.text


def test_an_act_by_form_that_can_not_be_is_told(asked: Asked) -> None:
    job = asked.take("first-box")
    told = asked.client.post(f"/job/{job}/brief", data={"do": "remove-case", "case": "0", "base": asked.version(job)})

    assert told.status_code == 200
    assert "the only case" in told.text


def test_the_text_is_written_with_its_faults_told_by_line(asked: Asked) -> None:
    job = asked.take("first-box")
    text = asked.job_file(job).read_text(encoding="utf-8").replace("width = 400", "width = 4")
    sent = {"text": text.replace("\n", "\r\n"), "base": asked.version(job)}
    told = asked.client.post(f"/job/{job}/text", data=sent)

    assert "faults in line" in told.text
    assert asked.job_file(job).read_text(encoding="utf-8") == text
    stale = asked.client.post(f"/job/{job}/text", data=sent | {"text": "title = 'mine </textarea><script>'"})
    assert stale.status_code == 409
    assert "mine &lt;/textarea&gt;&lt;script&gt;" in stale.text
    assert asked.job_file(job).read_text(encoding="utf-8") == text


def test_a_file_that_is_no_toml_leads_to_its_text(asked: Asked) -> None:
    job = asked.take("first-box")
    asked.client.get(f"/job/{job}/brief")
    asked.job_file(job).write_text("title = ", encoding="utf-8")
    told = asked.client.get(f"/job/{job}/brief").text

    assert f'href="/job/{job}/text">Fix it as text' in told
    assert "from before the fault" in told
    assert "brief-chosen" not in told
    assert asked.client.get(f"/job/{job}/brief/pieces", headers=AS_SCRIPT).status_code == 200


def test_a_length_is_understood_while_it_is_typed(asked: Asked) -> None:
    job = asked.take("first-box")

    def told(value: str) -> Any:
        at = {"path": "cases[0].width", "value": value}
        return asked.client.get(f"/job/{job}/brief/understood", params=at, headers=AS_SCRIPT).json()

    assert told('23 5/8"')["told"] == "= 600.08 mm"
    assert told("23 5/")["wrong"]
    assert asked.client.get(f"/job/{job}/brief/understood", headers=AS_SCRIPT).status_code == 200


def test_later_faults_are_asked_for_apart(asked: Asked) -> None:
    job = asked.take("rehearsal-room")
    text = (
        asked.job_file(job)
        .read_text(encoding="utf-8")
        .replace("length = 2440, width = 1220", "length = 700, width = 500")
    )
    asked.job_file(job).write_text(text, encoding="utf-8")
    page = asked.client.get(f"/job/{job}/brief").text
    assert 'class="notch crossed"' not in page
    told = asked.client.get(f"/job/{job}/checked?stage=brief", headers=AS_SCRIPT).json()

    assert {f["code"] for f in told["faults"]} == {"part-too-large"}
    crossed = re.findall(r'<a href="/job/[^/]+/([\w-]+)" class="notch crossed"', told["swap"]["rod"])
    assert crossed == ["sheets"]


def test_ticks_fill_the_notches(asked: Asked) -> None:
    job = asked.take("first-box")
    asked.client.app.app.state.desk.shares = lambda _: {"bench": 0.25, "set-out": 7.0}  # type: ignore[attr-defined]
    page = asked.client.get(f"/job/{job}/brief").text

    assert "25 %" in page
    assert "100 %" in page


@pytest.mark.parametrize(
    "query",
    [
        "case=99",
        "case=-1",
        "case=9999999999999999999",
        "case=٣",
        "at=cases[0].inside.rows[99]",
        "at=cases[0].inside.hand_hold",
        "at=cases[9].inside",
        "at=%3Cscript%3Ealert(1)%3C/script%3E",
        "at=../../etc/passwd",
        "at=A.nothing",
        "room=0x0",
        "room=99999x99999",
        "room=axb",
        "show=%00",
    ],
)
def test_an_odd_address_shows_the_brief_all_the_same(asked: Asked, query: str) -> None:
    job = asked.take("rehearsal-room")
    for path in ("brief", "brief/pieces"):
        told = asked.client.get(f"/job/{job}/{path}?{query}", headers={"accept": "text/html"})
        assert told.status_code == 200
        shown = "".join(told.json()["swap"].values()) if path.endswith("pieces") else told.text
        assert "<script>alert" not in shown


def test_script_in_a_title_is_shown_as_text(asked: Asked) -> None:
    job = asked.take("rehearsal-room")
    evil = '"><script>alert(1)</script>'
    for path in ("title", "cases[0].name", f"{COLUMN}[1].name"):
        assert asked.change(job, {"path": path, "value": evil}).status_code == 200
    for path in ("/", f"/job/{job}/brief?at={COLUMN}[1]", f"/job/{job}/text"):
        assert "<script>alert" not in asked.client.get(path).text


ODD_PARTS: tuple[object, ...] = (0, -1, 10**9, "x" * 99, None, 1e400)
ODD_SIZES: tuple[object, ...] = (None, "", -5, 1e308, [])


@pytest.mark.parametrize(
    "act_sent",
    [
        {},
        {"do": "burn"},
        {"do": "part", "at": "x", "to": "NaN"},
        {"do": "resize", "at": "title", "to": 5},
        {"do": "copy-case", "case": 7},
        {"do": "add-board", "code": ""},
        *({"do": "cut-rows", "at": f"{COLUMN}[1]", "many": m} for m in ODD_PARTS),
        *({"do": "part", "at": f"{COLUMN}[0]", "to": t} for t in ODD_SIZES),
        *({"do": d, "at": "cases[0].inside"} for d in ("remove", "move-before", "add-after")),
    ],
)
def test_acts_that_can_not_be_change_nothing(asked: Asked, act_sent: dict[str, Any]) -> None:
    job = asked.take("rehearsal-room")
    before = asked.job_file(job).read_text(encoding="utf-8")
    body = json.dumps({"base": asked.version(job), "act": act_sent, "view": {"case": [], "at": 3, "room": {}}})
    headers = {"content-type": "application/json", **AS_SCRIPT}
    told = asked.client.post(f"/job/{job}/change", content=body, headers=headers)

    many = act_sent.get("many", 2)
    if act_sent.get("do") == "cut-rows" and many not in {0, -1, 10**9}:
        assert told.status_code == 200  # what is no number is taken as two
        return
    assert told.status_code == 422
    assert asked.job_file(job).read_text(encoding="utf-8") == before


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.sampled_from(["title", "cases[0].width", "cases[0].count", "units", "cases[0].edged"]), st.text(max_size=20))
def test_whatever_is_typed_the_page_stands(asked: Asked, path: str, value: str) -> None:
    job = asked.take("first-box")
    told = asked.change(job, {"path": path, "value": value})

    assert told.status_code in {200, 422}
    assert asked.client.get(f"/job/{job}/brief").status_code == 200
    tomllib.loads(asked.job_file(job).read_text(encoding="utf-8"))
