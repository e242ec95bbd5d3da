"""What went wrong, on the page: from the panel to the rescue sheet, without a script."""

from __future__ import annotations

import re
from html import unescape
from typing import Any

import pytest

from storyrod.adapters.files.as_built import as_built_path, read_as_built
from tests.unit.web.conftest import Asked


@pytest.fixture
def job(asked: Asked) -> str:
    return asked.take("first-box")


def page(asked: Asked, address: str) -> str:
    """Return a page once nothing is looked for behind it any more."""
    for _ in range(100):
        text = unescape(asked.client.get(address).text)
        if 'http-equiv="refresh"' not in text:
            return text
    raise AssertionError("ways are looked for without end")


def send(asked: Asked, job: str, **said: Any) -> Any:
    return asked.client.post(f"/job/{job}/rescue", data=said, follow_redirects=False)


def record(asked: Asked, job: str) -> str:
    sent = send(asked, job, do="record", panel="A1", what="elsewhere", cuts=["J3"], along="5")
    assert sent.status_code == 303
    address: str = sent.headers["location"].partition("#")[0]
    return address


def test_from_the_wrong_hole_to_the_sheet_in_seven_taps(asked: Asked, job: str) -> None:
    brief = asked.job_file(job).read_bytes()
    marks = unescape(asked.client.get(f"/job/{job}/set-out?panel=A.side-left").text)
    first = re.search(r'href="([^"#]+)[^"]*">What went wrong here\?', marks)
    assert first
    kinds = page(asked, first[1])
    second = re.search(r'href="(\?[^"#]+)[^"]*">Cut beside its place', kinds)
    assert second
    form = page(asked, f"/job/{job}/rescue{second[1]}")
    assert 'name="cuts" value="J3"' in form
    assert 'name="along"' in form

    told = page(asked, record(asked, job))
    assert "A1: cuts J3 off by 5 mm along." in told
    assert "2 cuts for J3 in A1 left side 5 mm from where their mates are" in told
    codes = re.findall(r'name="codes" value="([^"]+)"', told)
    assert "shift A5 up 5 mm" in codes
    assert send(asked, job, do="take", case="A", codes="shift A5 up 5 mm").status_code == 303

    taken = page(asked, f"/job/{job}/rescue?case=A")
    sheet = re.search(r'href="([^"]+)">Rescue sheet', taken)
    assert sheet
    answer = asked.client.get(sheet[1])
    assert answer.headers["content-type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF")
    assert asked.job_file(job).read_bytes() == brief, "the brief stays what it is"


def test_what_was_recorded_is_taken_back_and_put_back(asked: Asked, job: str) -> None:
    record(asked, job)
    send(asked, job, do="undo", case="A")
    assert "Nothing is recorded yet." in page(asked, f"/job/{job}/rescue")
    assert len(read_as_built(asked.job_file(job)).slips) == 1, "it is kept, and counts no more"
    send(asked, job, do="redo", case="A")
    assert "A1: cuts J3 off by 5 mm along." in page(asked, f"/job/{job}/rescue")


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"do": "record", "panel": "B7", "what": "lost"}, "A1, A2, A3, A4, A5"),
        ({"do": "record", "panel": "A1", "what": "elsewhere", "cuts": ["1"], "along": "0"}, "a distance other than 0"),
        ({"do": "record", "panel": "A1", "what": "elsewhere", "cuts": ["1"], "along": "a bit"}, "a bit"),
        ({"do": "record", "panel": "A1", "what": "mislaid"}, "wrong end"),
        ({"do": "record", "panel": "A1", "what": "lost", "copy": "two"}, "a whole number"),
        ({"do": "take", "codes": "remake B7"}, "not among those there are now"),
        ({"do": "undo"}, "nothing to be taken back"),
        ({"do": "burn"}, "record, take, undo, redo"),
    ],
)
def test_what_cannot_be_so_is_told_on_the_page_and_not_kept(
    asked: Asked, job: str, said: dict[str, Any], words: str
) -> None:
    sent = send(asked, job, **said)

    assert sent.status_code == 422
    assert words in unescape(sent.text)
    assert not as_built_path(asked.job_file(job)).exists()


def test_a_sheet_wants_a_way_that_is_taken(asked: Asked, job: str) -> None:
    record(asked, job)
    answer = asked.client.get(f"/job/{job}/rescue/sheet.pdf", follow_redirects=False)
    assert (answer.status_code, answer.headers["location"]) == (303, f"/job/{job}/rescue#ways")


def test_a_file_that_cannot_be_understood_is_told_and_left_alone(asked: Asked, job: str) -> None:
    path = as_built_path(asked.job_file(job))
    path.parent.mkdir()
    path.write_text("slips = 3", encoding="utf-8")

    assert "as-built.toml" in unescape(asked.client.get(f"/job/{job}/rescue").text)
    assert send(asked, job, do="record", panel="A1", what="lost").status_code == 422
    assert path.read_text(encoding="utf-8") == "slips = 3"


def test_the_file_goes_with_the_job(asked: Asked, job: str) -> None:
    record(asked, job)
    asked.desk.shelf.rename(job, "peg-box")

    assert "A1: cuts J3 off by 5 mm along." in page(asked, "/job/peg-box/rescue")
