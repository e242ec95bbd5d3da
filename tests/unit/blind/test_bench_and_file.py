"""The bench page and plan.json held against the paper: they say the same, and one that is altered is noticed."""

from __future__ import annotations

import copy
import os
import re
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from storyrod.adapters.output import plan_document
from storyrod.adapters.web import Settings, make_app
from storyrod.adapters.web._settings import local_hosts
from storyrod_blind import FindingKind
from storyrod_blind._bench import check_bench
from storyrod_blind._bench_page import read_bench
from storyrod_blind._finding import Finding
from storyrod_blind._paper import Paper
from storyrod_blind._plan_file import check_plan_file
from storyrod_blind._read import read_paper
from tests.kept import example_plan
from tests.places import EXAMPLES
from tests.unit.blind.papers import example_pages
from tests.unit.blind.test_examples import NAMES

BENCHED = NAMES if os.environ.get("STORYROD_BLIND") == "whole" else ["first-box", "music-stand-shelf-inches"]
"""Examples whose bench page and plan.json are read too: one in each unit, and all with STORYROD_BLIND=whole."""
EXAMPLE = "music-stand-shelf-inches"
ADDRESS = "http://127.0.0.1:8021"
K = FindingKind


@cache
def paper_of(name: str) -> Paper:
    return read_paper(example_pages(name))


@cache
def document_of(name: str) -> dict[str, Any]:
    return plan_document(example_plan(name))


@pytest.fixture(scope="module")
def bench_of(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], str]:
    """The bench page of an example as the server sends it."""
    root: Path = tmp_path_factory.mktemp("bench")
    settings = Settings(jobs=root / "jobs", home=root / "home", hosts=local_hosts(8021), polling_s=0.05)
    settings.jobs.mkdir()

    @cache
    def page(name: str) -> str:
        for file in (name, "choir-workshop"):
            text = (EXAMPLES / f"{file}.toml").read_text(encoding="utf-8")
            (settings.jobs / f"{file}.toml").write_text(text, encoding="utf-8")
        with TestClient(make_app(settings), base_url=ADDRESS) as client:
            answer = client.get(f"/job/{name}/bench")
        assert answer.status_code == 200
        return answer.text

    return page


def told(findings: list[Finding]) -> str:
    return "\n".join(f"{f.kind.name} {f.about}: {f.words} {f.by_mm:+.4f}" for f in findings)


@pytest.mark.parametrize("name", BENCHED)
def test_the_bench_page_says_what_the_paper_says(name: str, bench_of: Callable[[str], str]) -> None:
    bench = read_bench(bench_of(name))
    found = list(check_bench(paper_of(name), bench))
    cuts = [r for c in bench.cards.values() for g in c.groups for r in g.rows if r.label.isdigit()]

    assert len(cuts) == len(paper_of(name).cuts)
    assert not found, told(found)


def test_at_the_bench_glue_is_spread_before_the_move_that_closes_on_it(bench_of: Callable[[str], str]) -> None:
    steps = [s for c in example_plan(EXAMPLE).assembly.cases for s in c.steps if s.glue]
    page = bench_of(EXAMPLE)

    assert steps
    for step in steps:
        told = page[page.index(f">step {step.number}<") :]
        assert told.index("to spread and close") < told.index(f'class="placed">{step.text[:20]}')


def test_cover_and_bench_page_of_an_inch_job_say_how_its_decimals_are_set(bench_of: Callable[[str], str]) -> None:
    said = example_plan(EXAMPLE).job.lengths.explained
    cover = " ".join(" ".join(r.text for r in example_pages(EXAMPLE)[0].runs).split())

    assert "Set decimals to the thousandth" in said
    assert said in cover
    assert said in bench_of(EXAMPLE)


@pytest.mark.parametrize("name", BENCHED)
def test_plan_json_says_what_the_paper_says(name: str) -> None:
    found = list(check_plan_file(paper_of(name), document_of(name)))

    assert not found, told(found)


# --- it is not fooled ------------------------------------------------------------------------------------------------

PAGES: dict[str, tuple[str, str, FindingKind]] = {
    "a setting": (r"<dt>depth stop</dt><dd>[^<]+", "<dt>depth stop</dt><dd>1/2&#34;", K.BENCH_OFF),
    "a setting that is not there": (r"<div[^>]*><dt>cutter</dt><dd>[^<]+</dd></div>", "", K.BENCH_MISSING),
    "a card that is not there": (r'data-card="S5"', 'data-card="S55"', K.BENCH_MISSING),
    "a mark's place": (r'<span class="what">\d+ ', '<span class="what">9', K.BENCH_OFF),
    "a mark that is not there": (r'<span class="label">4</span>', '<span class="label"></span>', K.BENCH_MISSING),
    "where a straight edge is": (r"straight edge at \d+", "straight edge at 99", K.BENCH_OFF),
    "walls": (r"walls at (\d)", r"walls at 9\1", K.BENCH_OFF),
    "which way round a jig lies": (r", jig turned over", "", K.BENCH_OFF),
    "when a jig is changed over": (r"first change over its", "admire its", K.BENCH_MISSING),
    "a step that is not there": (r">step 7<", ">then<", K.BENCH_MISSING),
    "screws": (r"Drive \d+ ×", "Drive some", K.BENCH_MISSING),
    "what is clamped": (r"Clamp across", "Look across", K.BENCH_MISSING),
    "what is glued": (r"Glue J1", "Wash J1", K.BENCH_MISSING),
    "how many clamps": (r"1 person, 8 clamps", "1 person, 2 clamps", K.BENCH_OFF),
    "what a step does": (r"Lower the base straight", "Lower the base aslant", K.BENCH_OFF),
    "a joint of a step": (r">J19 closed<", ">closed<", K.BENCH_MISSING),
    "the page's unit": (r"in inches", "in hands", K.PAGE_WITHOUT_UNIT),
}


@pytest.mark.parametrize("name", PAGES)
def test_a_bench_page_that_says_otherwise_is_noticed(name: str, bench_of: Callable[[str], str]) -> None:
    pattern, instead, kind = PAGES[name]
    page = bench_of(EXAMPLE)
    head, cards = page[: page.index('id="card-S4"')], page[page.index('id="card-S4"') :]
    altered = re.sub(pattern, instead, head if "inches" in pattern else cards, count=1)
    altered = altered + cards if "inches" in pattern else head + altered

    assert altered != page
    assert kind in {f.kind for f in check_bench(paper_of(EXAMPLE), read_bench(altered))}


def _setting(key: str, by: float) -> Callable[[dict[str, Any]], None]:
    def change(document: dict[str, Any]) -> None:
        setup = next(s for s in document["setups"] if s["setting"] and s["setting"].get(key))
        setup["setting"][key] += by

    return change


def _place(key: str) -> Callable[[dict[str, Any]], None]:
    def change(document: dict[str, Any]) -> None:
        places = [p for s in document["setups"] for o in s["operations"] for p in o["places"] if p[key]]
        places[0][key] = [x + 1 for x in places[0][key]] if isinstance(places[0][key], list) else places[0][key] + 1

    return change


def _panel(key: str) -> Callable[[dict[str, Any]], None]:
    def change(document: dict[str, Any]) -> None:
        document["panels"][0][key] += 0.1

    return change


def _mark(document: dict[str, Any]) -> None:
    hole = next(
        f for p in document["panels"] for f in p["features"] if f["kind"] == "hole" and f["face"] == "face side"
    )
    hole["marked"]["v"] += 0.1


def _less(document: dict[str, Any]) -> None:
    next(o for s in document["setups"] for o in s["operations"] if o["marks"])["marks"].pop()


def _no_set_up(document: dict[str, Any]) -> None:
    document["setups"] = [s for s in document["setups"] if s["id"] != "S4"]


FILES: dict[str, Callable[[dict[str, Any]], None]] = {
    "a depth": _setting("depth", 0.5),
    "a fence": _setting("fence", 0.5),
    "a cutter": lambda d: d["setups"][3]["setting"].update(cutter_name="drill 99"),
    "walls": _place("walls"),
    "ends": _place("ends"),
    "a straight edge": _place("straight_edge"),
    "a panel's length": _panel("length"),
    "a panel's thickness": _panel("thickness"),
    "a mark's place": _mark,
    "a mark that no set-up has": _less,
    "a set-up that is not there": _no_set_up,
}


@pytest.mark.parametrize("name", FILES)
def test_a_plan_json_that_says_otherwise_is_noticed(name: str) -> None:
    document = copy.deepcopy(document_of(EXAMPLE))
    FILES[name](document)
    honest = {(f.about, f.words) for f in check_plan_file(paper_of(EXAMPLE), document_of(EXAMPLE))}

    new = [f for f in check_plan_file(paper_of(EXAMPLE), document) if (f.about, f.words) not in honest]
    assert {f.kind for f in new} == {K.FILE_OFF}
