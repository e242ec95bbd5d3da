"""The print stage: every file read back, and what is not there or not proven refused in words."""

from __future__ import annotations

import io
import json
import re
import sys
import time
import xml.etree.ElementTree as ET
import zipfile
from functools import partial
from html import unescape
from pathlib import Path
from typing import Any
from urllib.parse import quote

import pytest
from ezdxf.filemanagement import read
from pypdf import PdfReader

from storyrod.adapters.packet import PRINTS
from storyrod.adapters.printing import Order, StoppedError, make_ready, media_type
from storyrod.adapters.printing._parent import MOST_MADE, PRESS
from storyrod.telling.purposes import Tell
from tests.unit.web.conftest import AS_SCRIPT, Asked


def links(asked: Asked, job: str) -> list[str]:
    """Return the names of all files that the page offers as plain links."""
    told = asked.client.get(f"/job/{job}/print?all=1").text
    return [unescape(name) for name in re.findall(rf'href="/job/{job}/files/([^"]*)"', told)]


def taken(asked: Asked, job: str, name: str) -> bytes:
    answer = asked.client.get(f"/job/{job}/files/{name}")
    assert answer.status_code == 200, (name, answer.text[:300])
    assert answer.headers["content-type"].startswith(media_type(name.partition("?")[0]).partition(";")[0])
    assert f'filename="{job}' in answer.headers["content-disposition"] or name.endswith(".toml")
    return bytes(answer.content)


def test_every_plain_file_reads_back(asked: Asked) -> None:
    job = asked.take("first-box")
    names = [n for n in links(asked, job) if not n.endswith(".pdf")]
    assert len(names) > 15
    for name in names:
        data = taken(asked, job, name)
        if name.endswith(".dxf"):
            assert not read(io.StringIO(data.decode())).audit().errors
        elif name.endswith(".svg"):
            assert ET.fromstring(data).tag.endswith("svg")
        elif name.endswith(".json"):
            assert json.loads(data)["panels"]
        elif name.endswith(".glb"):
            assert data.startswith(b"glTF")
        else:
            assert data


def test_a_panel_at_full_size_has_its_own_size(asked: Asked) -> None:
    job = asked.take("first-box")
    drawn = taken(asked, job, "panels/A.side-left.full-size.svg").decode()
    width = float(re.search(r'width="([\d.]+)mm"', drawn).group(1))  # type: ignore[union-attr]
    assert width > 300


def test_the_printed_things_have_pages(asked: Asked) -> None:
    job = asked.take("first-box")
    few = PdfReader(io.BytesIO(taken(asked, job, "book.pdf?part=cover&part=rods")))
    assert 2 <= len(few.pages) < 8
    assert float(few.pages[0].mediabox.width) == pytest.approx(595.3, abs=1)
    packet = PdfReader(io.BytesIO(taken(asked, job, "packet.pdf")))
    assert len(packet.pages) > 8
    rods = PdfReader(io.BytesIO(taken(asked, job, "rods.pdf?paper=A3")))
    assert max(float(rods.pages[0].mediabox.width), float(rods.pages[0].mediabox.height)) == pytest.approx(
        1190.6, abs=1
    )
    paper = PdfReader(io.BytesIO(taken(asked, job, "quotation.pdf?without=yes"))).pages[0].extract_text()
    assert "Peg box" in paper
    assert "This price is without" in paper


def test_a_quotation_without_prices_is_refused(asked: Asked) -> None:
    job = asked.take("first-box")
    answer = asked.client.get(f"/job/{job}/files/quotation.pdf")

    assert answer.status_code == 422
    assert "no price for 1 sheet of 18 mm plywood" in answer.text
    assert "a sheet costs" in asked.client.get(f"/job/{job}/print?all=1").text
    other = asked.take("hymn-book-unit")
    assert taken(asked, other, "quotation.pdf").startswith(b"%PDF")


def test_labels_begin_where_the_page_was_left_off(asked: Asked) -> None:
    job = asked.take("first-box")
    labels = PdfReader(io.BytesIO(taken(asked, job, "labels.pdf?labels=a4-21&used=20")))
    assert len(labels.pages) == 2


def test_everything_comes_in_one_archive(asked: Asked) -> None:
    job = asked.take("first-box")
    wanted = {n for n in links(asked, job) if "?" not in n and not n.endswith(".pdf")} | {
        p.file for p in PRINTS.values()
    } - {"book.pdf", "quotation.pdf", "jigs.pdf"}
    with zipfile.ZipFile(io.BytesIO(taken(asked, job, "everything.zip"))) as archive:
        assert archive.testzip() is None
        assert set(archive.namelist()) == wanted
        assert archive.read("packet.pdf").startswith(b"%PDF")
        assert archive.read(f"{job}.toml").decode() == asked.job_file(job).read_text(encoding="utf-8")
        assert b"format = 1" in archive.read("workshop.toml")


@pytest.mark.parametrize(
    "name",
    [
        "nothing.pdf",
        "../first-box.toml",
        "..%2f..%2fetc%2fpasswd",
        "panels/../../../etc/passwd",
        "panels/",
        "%00",
        "PACKET.PDF",
        "C:%5Cwindows",
        "<script>alert(1)</script>",
    ],
)
def test_names_that_are_not_offered_are_not_there(asked: Asked, name: str) -> None:
    job = asked.take("first-box")
    answer = asked.client.get(f"/job/{job}/files/{name}")
    assert answer.status_code == 404
    assert "<script>alert" not in answer.text


def test_what_is_asked_wrongly_is_told_all_at_once(asked: Asked) -> None:
    job = asked.take("first-box")
    answer = asked.client.get(f"/job/{job}/files/packet.pdf?paper=A9&labels=none&used=-3")
    assert answer.status_code == 422
    for word in ("paper", "labels", "used"):
        assert f"{word}: found" in answer.text.lower()
    assert asked.client.get(f"/job/{job}/files/book.pdf?part=secrets").status_code == 422


def test_a_plan_with_faults_is_not_printed_but_its_file_can_be_taken(asked: Asked) -> None:
    job = asked.take("first-box")
    asked.change(job, {"path": "cases[0].depth", "value": 61})
    asked.change(job, {"path": "methods.corner", "value": "nothing like it"})
    page = asked.client.get(f"/job/{job}/print?all=1")
    assert page.status_code == 200
    assert "not printed yet" in page.text
    assert "packet.pdf" not in page.text
    assert asked.client.get(f"/job/{job}/files/packet.pdf").status_code == 422
    assert asked.client.get(f"/job/{job}/files/everything.zip").status_code == 422
    assert "nothing like it" in taken(asked, job, f"{job}.toml").decode()


def test_odd_names_of_jobs_make_safe_names_of_files(asked: Asked) -> None:
    asked.take("first-box")
    odd = 'Kiste "für" 50% Ö?'
    asked.job_file("first-box").rename(asked.settings.jobs / f"{odd}.toml")
    page = asked.client.get(f"/job/{quote(odd)}/print?all=1")
    link = re.search(r'href="([^"]*cutting-list.csv)"', page.text)
    assert link is not None
    answer = asked.client.get(unescape(link.group(1)))
    assert answer.status_code == 200
    told = answer.headers["content-disposition"]
    assert told.isascii()
    assert '"' not in told.split('filename="')[1].split('";')[0]
    assert "filename*=UTF-8''Kiste%20%22f%C3%BCr%22%2050%25%20%C3%96%3F-cutting-list.csv" in told


def test_a_child_that_is_ended_is_told(asked: Asked, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    job = asked.take("first-box")
    ending = tmp_path / "ending"
    ending.write_text(f"#!{sys.executable}\nraise SystemExit(1)\n", encoding="utf-8")
    ending.chmod(0o755)
    PRESS.close()
    monkeypatch.setattr("storyrod.adapters.printing._parent.sys.executable", str(ending))
    answer = asked.client.get(f"/job/{job}/files/rods.pdf")
    assert answer.status_code == 422
    assert "process that prints was ended" in answer.text


def test_print_opens_before_the_plan_is_checked(asked: Asked) -> None:
    """What is there at once prints the packet; all the rest comes by the page's script, or is asked for without one."""
    job = asked.take("first-box")
    page = asked.client.get(f"/job/{job}/print").text
    assert 'data-waiting="yes"' in page
    assert f'action="/job/{job}/making/packet.pdf"' in page
    assert not asked.desk.job(job).is_checked
    swapped = asked.client.get(f"/job/{job}/print/part").json()["swap"]
    assert "cutting-list.csv" in swapped["printing"]
    assert "data-waiting" not in swapped["printing"]
    assert 'data-waiting="yes"' not in asked.client.get(f"/job/{job}/print").text


def followed(asked: Asked, address: str) -> list[dict[str, Any]]:
    """Return what the tab of a paper is told, until nothing more is done for it."""
    told = [asked.client.get(address, headers=AS_SCRIPT).json()]
    while told[-1]["working"]:
        told.append(asked.client.get(address, headers=AS_SCRIPT).json())
        time.sleep(0.01)
    return told


def test_the_tab_of_a_paper_tells_how_far_it_is_and_goes_on_to_it(asked: Asked) -> None:
    job = asked.take("first-box")
    address = f"/job/{job}/making/packet.pdf?paper=A3"
    told = followed(asked, address)
    assert any(re.search(r'<progress [^>]*max="12" value="[1-9]', t["swap"]["making"]) for t in told)
    assert told[-1]["made"] == f"/job/{job}/files/packet.pdf?paper=A3"
    again = asked.client.get(address, follow_redirects=False)
    assert again.status_code == 303
    assert again.headers["location"] == told[-1]["made"]
    paper = asked.client.get(told[-1]["made"])
    assert paper.headers["content-disposition"].startswith("inline")
    assert float(PdfReader(io.BytesIO(paper.content)).pages[0].mediabox.width) == pytest.approx(841.9, abs=1)


def test_a_paper_that_is_stopped_is_not_made_until_it_is_asked_for_anew(asked: Asked) -> None:
    job = asked.take("first-box")
    address = f"/job/{job}/making/everything.zip"
    while "max=" not in asked.client.get(address, headers=AS_SCRIPT).json()["swap"]["making"]:
        time.sleep(0.01)
    stopped = asked.client.post(address, json={}, headers=AS_SCRIPT).json()
    assert "Stopped" in stopped["swap"]["making"]
    assert not stopped["working"]
    assert "Stopped" in asked.client.get(address, headers=AS_SCRIPT).json()["swap"]["making"]
    assert "Stopped" not in asked.client.get(address).text
    asked.client.post(address)
    assert asked.client.get(f"/job/{job}/files/labels.pdf").content.startswith(b"%PDF")  # the next paper is made


def test_a_paper_that_cannot_be_made_says_why_in_its_tab(asked: Asked) -> None:
    job = asked.take("first-box")
    told = followed(asked, f"/job/{job}/making/quotation.pdf")
    assert "no price for 1 sheet" in told[-1]["swap"]["making"]
    assert not told[-1]["made"]
    asked.change(job, {"path": "methods.corner", "value": "nothing like it"})
    assert "nothing like it" in asked.client.get(f"/job/{job}/making/packet.pdf").text
    assert asked.client.get(f"/job/{job}/making/nothing.pdf").status_code == 404
    assert asked.client.get(f"/job/{job}/making/packet.pdf?paper=A9").status_code == 422


def test_one_child_sets_several_papers_and_none_that_was_stopped() -> None:
    PRESS.close()
    make_ready()
    child = PRESS._child
    order = Order()
    order.stop()
    with pytest.raises(StoppedError):
        PRESS.make(partial(repeated, b"a"), order)
    heard: list[tuple[int, int]] = []
    assert PRESS.make(partial(repeated, b"b"), Order(lambda *told: heard.append(told))) == b"bb"
    assert heard == [(1, 2)]
    assert PRESS._child is child
    for _ in range(MOST_MADE - 1):
        PRESS.make(partial(repeated, b"c"), Order())
    assert PRESS._child is None


def repeated(word: bytes, tell: Tell) -> bytes:
    """Stand in for a paper."""
    tell(1, 2)
    return word * 2
