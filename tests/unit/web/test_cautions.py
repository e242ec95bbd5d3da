"""Cautions on the page: each at its stage, counted on the rod, with the change that mends it."""

from __future__ import annotations

import ast
import html
import json
import re
from pathlib import Path

import pytest

import storyrod
from storyrod.adapters.web._caution_stages import STAGE_OF_CAUTION
from storyrod.adapters.web._stages import STAGES
from tests.unit.web.conftest import AS_SCRIPT, Asked

SOURCES = Path(storyrod.__file__).parent
CODE = re.compile(r"[a-z]+(-[a-z]+)+|[a-z]{4,}")


def codes_in(path: Path) -> set[str]:
    """The codes of cautions that a module makes: of `Caution(code=...)` and of `making.caution("code", ...)`."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if not isinstance(node, ast.Call):
            continue
        name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
        if name == "Caution":
            said = [k.value for k in node.keywords if k.arg == "code"]
        elif name == "caution":
            said = node.args[:1]
        else:
            continue
        found |= {
            c.value
            for part in said
            for c in ast.walk(part)
            if isinstance(c, ast.Constant) and isinstance(c.value, str) and CODE.fullmatch(c.value)
        }
    return found


def test_every_caution_has_its_stage() -> None:
    made = set[str]().union(*(codes_in(p) for p in SOURCES.rglob("*.py")))

    assert len(made) > 20
    assert made <= set(STAGE_OF_CAUTION)
    assert set(STAGE_OF_CAUTION.values()) <= {s.key for s in STAGES}


def test_the_rod_counts_them_once_the_job_is_checked(asked: Asked) -> None:
    job = asked.take("robe-cupboard")
    before = asked.client.get(f"/job/{job}/brief").text
    told = asked.client.get(f"/job/{job}/checked?stage=set-ups", headers=AS_SCRIPT).json()["swap"]

    assert "caution<" not in before
    assert re.search(r"Will it stand\?</span><span class=\"count\">△ \d+<span class=\"unseen\"> cautions", told["rod"])
    assert 'data-caution="stopped-groove"' in told["cautions"]
    assert 'data-caution="sag-over-limit"' not in told["cautions"]


@pytest.mark.parametrize("code", ["sag-over-limit", "tip-over", "tip-fix-to-wall", "heavy-case", "racking-loose-back"])
def test_will_it_stand_shows_every_caution_of_standing(asked: Asked, code: str) -> None:
    job = asked.take("robe-cupboard")

    assert f'data-caution="{code}"' in asked.client.get(f"/job/{job}/stand").text


def test_a_button_makes_the_change_it_names(asked: Asked) -> None:
    job = asked.take("robe-cupboard")
    shown = asked.client.get(f"/job/{job}/stand").text
    button = re.search(r'data-change="([^"]+)">I will fix it to the wall', shown)
    assert button is not None
    changes = json.loads(html.unescape(button[1]))

    answer = asked.change(job, *changes)

    assert answer.json()["faults"] == []
    after = asked.client.get(f"/job/{job}/stand").text
    assert "I will fix it to the wall" not in after
    assert "You are fixing it to the wall." in after


def test_a_second_plinth_board_is_offered_where_it_mends_a_sag(asked: Asked) -> None:
    """The base that has a plinth in front alone sags; at the press of the button it no longer does."""
    job = asked.take("first-box")
    path = asked.job_file(job)
    path.write_text(
        """
format = 1
title = "Long low bench"
[boards.mdf]
name = "MDF"
kind = "mdf"
thickness = 18
measured = 18
sheets = [{ length = 2440, width = 1220 }]
[[cases]]
code = "B"
board = "mdf"
width = 1400
height = 500
depth = 400
plinth = { height = 80 }
back = { kind = "none" }
inside = { holds = "open", load_kg = 40 }
""",
        encoding="utf-8",
    )
    shown = asked.client.get(f"/job/{job}/stand").text
    button = re.search(r'data-change="([^"]+)">A second plinth board', shown)
    assert button is not None, shown
    assert "sags too much" in shown

    answer = asked.change(job, *json.loads(html.unescape(button[1])))

    assert answer.json()["faults"] == []
    assert "back_rail = true" in path.read_text(encoding="utf-8")
    assert "A second plinth board" not in asked.client.get(f"/job/{job}/stand").text
