"""The sheets' stage: stepping through the cuts, a longer search, and the rack of offcuts."""

from __future__ import annotations

import re
import time
from html import unescape
from typing import Any

import pytest

from storyrod.adapters.log import Offcut, open_log
from tests.unit.web.conftest import AS_SCRIPT, Asked


def one(asked: Asked, job: str, **query: object) -> str:
    told = asked.client.get(f"/job/{job}/sheets/one", params={k: str(v) for k, v in query.items()}, headers=AS_SCRIPT)
    assert told.status_code == 200
    return str(told.json()["swap"]["sheets-one"])


def way(html: str, name: str) -> str:
    """Return the address of a button: back, next or whole; nothing where it leads nowhere."""
    found = re.search(rf'href="([^"]*)" data-sheet data-way="{name}"', html)
    return unescape(found.group(1)) if found else ""


def on_rack(asked: Asked, job: str, **values: object) -> Any:
    return asked.client.post(f"/job/{job}/sheets/rack", json=values, headers=AS_SCRIPT)


def search(asked: Asked, job: str, **values: object) -> Any:
    return asked.client.post(f"/job/{job}/sheets/search", json=values, headers=AS_SCRIPT)


def done(asked: Asked, job: str) -> str:
    """Wait for the search to end; return what it says then."""
    for _ in range(6000):
        told = asked.client.get(f"/job/{job}/sheets/search", headers=AS_SCRIPT).json()
        if not told["searching"]:
            return str(told["swap"]["sheets-search"])
        time.sleep(0.05)
    raise AssertionError("the search did not end")


def test_every_step_is_walked_through_once_with_its_setting_and_pieces(asked: Asked) -> None:
    job = asked.take("low-units")
    html, seen, told = one(asked, job), list[str](), list[str]()
    while address := way(html, "next"):
        seen.append(address)
        answer = asked.client.get(address.replace("/sheets?", "/sheets/one?"), headers=AS_SCRIPT)
        html = answer.json()["swap"]["sheets-one"]
        assert "<svg" in html
        told.append(html)
    assert len(seen) == len(set(seen)) > 20
    assert "All is cut" in html
    words = "".join(told)
    assert 'class="figure-large">' in words
    assert "<dt>in hand</dt><dd>the sheet</dd>" in words
    assert "two people" in words
    labelled = set(re.findall(r"[A-Z]\d+ [a-z]", " ".join(re.findall(r"label it</dt><dd>(.*?)</dd>", words))))
    assert len(labelled) == 28  # every panel of the two cases, each by its mark


def test_a_board_is_stepped_through_in_its_one_list(asked: Asked) -> None:
    """From sheet to sheet within a step, and never back to an earlier step while the board is the same."""
    job = asked.take("low-units")
    html, walked = one(asked, job), list[tuple[str, int]]()
    while address := way(html, "next"):
        found = re.search(r"sheet=([\w-]+)-\d+(?:&step=(\d+))?", address)
        assert found is not None
        if found[2]:
            walked.append((found[1], int(found[2])))
        html = asked.client.get(address.replace("/sheets?", "/sheets/one?"), headers=AS_SCRIPT).json()["swap"][
            "sheets-one"
        ]
    first = [step for board, step in walked if board == walked[0][0]]
    assert walked == sorted(walked, key=lambda w: [b for b, _ in walked].index(w[0]))
    assert first == sorted(first)
    assert len(first) > len(set(first)) == max(first)


def test_the_list_is_there_for_either_saw(asked: Asked) -> None:
    job = asked.take("low-units")
    track, table = one(asked, job), one(asked, job, saw="table saw")
    assert "<td>rip, fence</td>" in table
    assert "<td>rip, fence</td>" not in track
    assert "<td>rip</td>" in track


@pytest.mark.parametrize(
    "query", [{"sheet": "<b>"}, {"step": "99999999999"}, {"step": "-1"}, {"saw": "axe"}, {"wide": "1e9"}]
)
def test_odd_addresses_show_the_whole_first_sheet(asked: Asked, query: dict[str, str]) -> None:
    job = asked.take("first-box")
    html = one(asked, job, **query)
    assert "<b>" not in html
    assert "Cut it step by step" in html


def test_a_longer_search_is_seen_and_kept_for_the_version(asked: Asked) -> None:
    job = asked.take("first-box")
    told = search(asked, job, seconds="1,5")
    assert told.status_code == 200
    assert "<progress" in told.json()["swap"]["sheets-search"]
    said = done(asked, job)
    assert "better was found" in said or "Found:" in said
    assert 'value="1.5"' in said
    assert "better was found" in asked.client.get(f"/job/{job}/sheets").text or "Found:" in said
    asked.change(job, {"path": "cases[0].width", "value": 420})
    assert "The layout was found in a search of a second" in asked.client.get(f"/job/{job}/sheets").text


def test_a_search_can_be_stopped_long_before_its_limit(asked: Asked) -> None:
    job = asked.take("low-units")
    assert search(asked, job, seconds=600).status_code == 200
    assert search(asked, job, stop=True).status_code == 200
    done(asked, job)  # gives up after half of the limit: a stop that does nothing would last for all of it


@pytest.mark.parametrize("seconds", ["", "0", "-5", "1e9", "nan", "ten", None, [1]])
def test_a_limit_that_is_none_is_told(asked: Asked, seconds: object) -> None:
    job = asked.take("first-box")
    told = search(asked, job, seconds=seconds)
    assert told.status_code == 422
    assert "1 to 600 seconds" in told.json()["faults"][0]["words"]


def test_a_piece_is_put_on_the_rack_used_and_taken_off(asked: Asked) -> None:
    job = asked.take("first-box")
    assert "The rack is empty" in asked.client.get(f"/job/{job}/sheets").text
    put = on_rack(asked, job, act="put", code="K1", board="birch18", length="900", width="60 cm")
    assert put.status_code == 200, put.text
    told = asked.client.get(f"/job/{job}/sheets").text
    assert "K1" in told
    assert "cut up first" in told
    twice = on_rack(asked, job, act="put", code="K1", board="birch18", length="900", width="600")
    assert twice.status_code == 422
    assert on_rack(asked, job, act="take", code="K1").status_code == 200
    assert "The rack is empty" in asked.client.get(f"/job/{job}/sheets").text
    assert on_rack(asked, job, act="take", code="K1").status_code == 422


def test_a_piece_of_the_workshop_file_can_be_taken_off_too(asked: Asked) -> None:
    job = asked.take("low-units")
    assert 'data-take="R1"' in asked.client.get(f"/job/{job}/sheets").text
    assert on_rack(asked, job, act="take", code="R1").status_code == 200
    told = asked.client.get(f"/job/{job}/sheets").text
    assert 'data-take="R1"' not in told
    assert "offcut R1" not in told


def test_forms_work_without_scripts(asked: Asked) -> None:
    job = asked.take("first-box")
    piece = {"act": "put", "code": "K1", "board": "birch18", "length": "900", "width": "600"}
    answer = asked.client.post(f"/job/{job}/sheets/rack", data=piece, follow_redirects=False)
    assert (answer.status_code, answer.headers["location"]) == (303, f"/job/{job}/sheets#rack-head")
    assert 'data-take="K1"' in asked.client.get(f"/job/{job}/sheets").text
    stop = asked.client.post(f"/job/{job}/sheets/search", data={"stop": "yes"}, follow_redirects=False)
    assert stop.status_code == 303


def test_what_is_wrong_with_a_piece_is_told_all_at_once(asked: Asked) -> None:
    job = asked.take("first-box")
    told = on_rack(asked, job, act="put", code="", board="<b>", length="x", width="-4").json()["faults"]
    assert [f["field"] for f in told] == ["code", "board", "length", "width"]
    assert on_rack(asked, job, act="burn").status_code == 422
    assert on_rack(asked, job, act="put", code="x" * 99, board="birch18", length="9", width="9").status_code == 422


def test_confirming_moves_the_rack_once_and_keeps_the_layout(asked: Asked) -> None:
    job = asked.take("first-box")
    on_rack(asked, job, act="put", code="K1", board="birch18", length="900", width="620")
    before = asked.client.get(f"/job/{job}/sheets").text
    assert "Take these off the rack" in before
    layout = re.search(r"<svg.*?</svg>", before, flags=re.DOTALL)
    cut = on_rack(asked, job, act="cut")
    assert cut.status_code == 200, cut.text
    assert "Off the rack: K1" in cut.json()["said"]
    after = asked.client.get(f"/job/{job}/sheets").text
    assert "confirmed as cut" in after
    assert 'data-take="K1"' not in after
    assert re.search(r"<svg.*?</svg>", after, flags=re.DOTALL).group(0) == layout.group(0)  # type: ignore[union-attr]
    with open_log(asked.settings.log) as log:
        assert "K1" not in [o.code for o in log.rack()]
        assert log.rack()
    again = on_rack(asked, job, act="cut")
    assert "before" in again.json()["said"]


def test_an_offcut_that_another_job_took_is_not_cut_again(asked: Asked) -> None:
    job = asked.take("first-box")
    on_rack(asked, job, act="put", code="K1", board="birch18", length="900", width="620")
    asked.client.get(f"/job/{job}/sheets")
    with open_log(asked.settings.log) as log:
        log.put_offcut(Offcut(code="K1", board="birch18", length=900.0, width=620.0), here=False)
    told = asked.client.get(f"/job/{job}/sheets").text
    assert "offcut K1" not in told


def test_what_would_change_is_worked_out_behind_the_page(asked: Asked) -> None:
    job = asked.take("first-box")
    assert 'data-changing="yes"' in asked.client.get(f"/job/{job}/sheets").text
    told: dict[str, Any] = {"changing": True}
    while told["changing"]:
        told = asked.client.get(f"/job/{job}/sheets/changes", headers=AS_SCRIPT).json()
        time.sleep(0.05)
    assert "1 mm less kerf" in told["swap"]["sheets-changes"]


def test_sheets_that_can_not_be_laid_out_say_why_and_the_rack_stays(asked: Asked) -> None:
    job = asked.take("first-box")
    asked.change(job, {"path": "cases[0].width", "value": 3000})
    page = asked.client.get(f"/job/{job}/sheets")
    assert page.status_code == 200
    assert "cannot be laid out yet" in page.text
    assert "The rack of offcuts" in page.text
    assert on_rack(asked, job, act="cut").status_code == 422
    assert search(asked, job, seconds=2).status_code == 422


def test_a_file_that_can_not_be_read_shows_its_faults(asked: Asked) -> None:
    job = asked.take("first-box")
    asked.job_file(job).write_text("title = 'x'\ncases = 3\n", encoding="utf-8")
    assert asked.client.get(f"/job/{job}/sheets").status_code == 200
    assert on_rack(asked, job, act="put").status_code == 422
    assert search(asked, job, seconds=2).status_code == 422


def test_words_of_the_maker_are_only_words(asked: Asked) -> None:
    job = asked.take("first-box")
    put = on_rack(asked, job, act="put", code="<script>alert(1)</script>", board="birch18", length="900", width="60")
    assert put.status_code == 200
    told = asked.client.get(f"/job/{job}/sheets").text
    assert "<script>alert" not in told
