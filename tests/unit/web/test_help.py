"""Help at hand: its words are those of the docs, and every page leads to it."""

from __future__ import annotations

import re
from html import unescape

from storyrod.adapters.web._glossary import chapters
from storyrod.adapters.web._stages import STAGES
from tests.places import ROOT
from tests.unit.web.conftest import Asked


def test_the_words_are_those_of_the_docs(asked: Asked) -> None:
    docs = (ROOT / "docs" / "glossary.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| (?!word|---)(.+?) \| (.+?) \|$", docs, re.MULTILINE)
    page = unescape(asked.client.get("/help").text)

    assert sum(len(c.words) for c in chapters()) == len(rows) > 100
    assert all(c.words for c in chapters())
    assert '<dt>datum end <span class="secondary">(our word)</span></dt>' in page
    assert "<dd>the panel that closes the box above</dd>" in page
    assert "*" not in page.split('<div class="help-matter">')[1].split("</main>")[0]


def test_the_panel_has_what_the_page_has(asked: Asked) -> None:
    whole, part = asked.client.get("/help").text, asked.client.get("/help?part=1").text

    assert part.strip() in whole
    assert part.lstrip().startswith('<div class="help-matter">')
    for stage in STAGES:
        assert f"<dt>{stage.name}</dt><dd>{stage.about}</dd>" in part


def test_every_page_leads_to_it(asked: Asked) -> None:
    job = asked.take("first-box")
    for address in ("/", "/workshop", f"/job/{job}/brief", f"/job/{job}/bench"):
        assert 'id="help-button"' in asked.client.get(address).text, address
