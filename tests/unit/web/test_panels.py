"""Panels: the cutting list, what is bought, and the case as data for the live view."""

from __future__ import annotations

import re
from typing import Any

import pytest

from storyrod.adapters.files import read_job
from storyrod.planning import Plan
from tests.places import EXAMPLES
from tests.unit.web.conftest import AS_SCRIPT, Asked


def cells(page: str, table: str) -> list[list[str]]:
    """Return the words of a table's rows."""
    body = page.split(f'id="{table}"')[1].split("</table>", maxsplit=1)[0]
    rows = re.findall(r"<tr data-panel.*?</tr>", body, re.DOTALL)
    return [[re.sub(r"<[^>]+>", "", c) for c in re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row)] for row in rows]


def test_the_cutting_list_tells_every_panel_of_the_case(asked: Asked) -> None:
    job = asked.take("first-box")

    told = asked.client.get(f"/job/{job}/panels").text

    rows = cells(told, "cutting-table")
    assert [r[:2] for r in rows] == [
        ["A1", "left side"],
        ["A2", "right side"],
        ["A3", "top"],
        ["A4", "base"],
        ["A5", "shelf 1"],
    ]
    assert rows[0][2:6] == ["1", "300 × 250", "300 × 250", "17.7"]
    assert rows[2][3] == "364.6 × 250"  # 400 less two boards of 17.7
    assert f"/job/{job}/set-out?panel=A.side-left" in told
    assert "dowel 8 x 35" in told
    assert "As it stands" in told or "as it stands" in told  # drawn for who runs no script


def test_each_case_has_its_page_and_copies_are_counted(asked: Asked) -> None:
    job = asked.take("low-units")
    plan = plan_of("low-units")

    for case in plan.details.cases:
        code = case.built.case.code
        told = asked.client.get(f"/job/{job}/panels?case={code}").text
        rows = cells(told, "cutting-table")
        assert [r[0] for r in rows] == [p.mark for p in case.panels]
        assert {r[2] for r in rows} == {str(case.built.case.count)}
    assert asked.client.get(f"/job/{job}/panels?case=Q").status_code == 422


def test_the_case_as_data_is_the_case(asked: Asked) -> None:
    job = asked.take("hymn-book-unit")
    plan = plan_of("hymn-book-unit")
    (case,) = plan.details.cases
    code = case.built.case.code

    data = asked.client.get(f"/job/{job}/panels/{code}/model.json?steps=1", headers=AS_SCRIPT).json()

    panels = {p["id"]: p for p in data["panels"]}
    assert list(panels) == [p.id for p in case.panels]
    for panel in case.panels:
        told = panels[panel.id]
        assert told["low"] == pytest.approx([panel.box.low.x, panel.box.low.y, panel.box.low.z], abs=1e-3)
        assert told["high"] == pytest.approx([panel.box.high.x, panel.box.high.y, panel.box.high.z], abs=1e-3)
        assert bool(told["cuts"]) is bool(case.on(panel.id))
    assert [j["number"] for j in data["joints"]] == [j.number for j in case.joints]
    assert [s["number"] for s in data["steps"]] == [s.number for s in plan.assembly.case(code).steps]


def test_steps_as_data_bring_every_panel_once(asked: Asked) -> None:
    """Within the case each panel stands, or comes, in the last step; what comes was not standing before."""
    job = asked.take("rehearsal-room")

    data = asked.client.get(f"/job/{job}/panels/A/model.json?steps=1", headers=AS_SCRIPT).json()

    last = data["steps"][-1]
    assert {*last["standing"], *last["moving"]} == {p["id"] for p in data["panels"]}
    for step in data["steps"]:
        assert not set(step["standing"]) & set(step["moving"])
        assert len(step["lies"]) == 3
        assert bool(step["legs"]) is (step["kind"] not in {"turn", "fittings"})


def test_a_job_that_can_not_be_built_is_told_in_words(asked: Asked) -> None:
    job = asked.take("first-box")
    path = asked.job_file(job)
    path.write_text(path.read_text(encoding="utf-8").replace("width = 400", "width = 20"), encoding="utf-8")

    for stage in ("panels", "set-out", "assembly"):
        answer = asked.client.get(f"/job/{job}/{stage}")
        assert answer.status_code == 200
        assert "width" in answer.text
        assert 'id="model"' not in answer.text
    data = asked.client.get(f"/job/{job}/panels/A/model.json", headers=AS_SCRIPT)
    assert data.status_code == 422
    assert data.json()["faults"]


def test_what_can_not_be_put_together_is_drawn_with_the_reason(asked: Asked, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where no order of assembly exists, the panels are still shown, as far as they are known, and why."""
    from storyrod.faults import Fault, JobError

    def refuse(*_: Any, **__: Any) -> Any:
        raise JobError(
            Fault(code="shut-out", field="cases[0]", found="shelf 1 shut out", allowed="an order", do="Free it.")
        )

    monkeypatch.setattr("storyrod.assembly.plan_assembly", refuse)
    job = asked.take("first-box")

    told = asked.client.get(f"/job/{job}/panels").text
    assert "Drawn as far as it goes" in told
    assert "shelf 1 shut out" in told
    assert len(cells(told, "cutting-table")) == 5
    assert asked.client.get(f"/job/{job}/panels/A/model.json", headers=AS_SCRIPT).status_code == 200
    for stage in ("set-out", "assembly"):
        answer = asked.client.get(f"/job/{job}/{stage}")
        assert answer.status_code == 200
        assert "shelf 1 shut out" in answer.text


def test_names_are_shown_as_they_are_written_never_run(asked: Asked) -> None:
    job = asked.take("first-box")
    path = asked.job_file(job)
    text = path.read_text(encoding="utf-8")
    name = next(line for line in text.splitlines() if line.startswith("name ="))
    path.write_text(text.replace(name, 'name = "<script>alert(1)</script>"', 1), encoding="utf-8")

    for stage in ("panels", "set-out", "assembly", "assembly/print", "set-out/rods"):
        assert "<script>alert" not in asked.client.get(f"/job/{job}/{stage}").text
    drawn = asked.client.get(f"/job/{job}/panels/A/apart.svg")
    assert drawn.headers["content-type"].startswith("image/svg+xml")
    assert "<script" not in drawn.text


def plan_of(example: str) -> Plan:
    """Return the plan of an example."""
    read = read_job(EXAMPLES / f"{example}.toml")
    return Plan(read.job, read.workshop)


def test_each_stage_tells_the_next(asked: Asked) -> None:
    job = asked.take("first-box")
    after = {"brief": "panels", "panels": "joints", "bench": "costs", "costs": "print"}
    for stage, following in after.items():
        told = asked.client.get(f"/job/{job}/{stage}").text
        onward = told.split('class="onward')[1].split("</p>")[0]
        assert f'href="/job/{job}/{following}"' in onward
    assert 'class="onward' not in asked.client.get(f"/job/{job}/print").text
